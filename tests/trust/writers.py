"""Eight at once, each writing as fast as it can: nothing is lost, nothing is overwritten unseen, nobody is turned away.

The long form, which keeps a report: `python -m tests.trust.writers --seconds 60`, on a file, or on the server named by
DONORBASE_TEST_URL.
"""

import argparse
import multiprocessing
import tempfile
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

from donorbase.services import words
from donorbase.services.database import check
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf import part_history, parts
from donorbase.services.tending import move_part, note_part

from .kills import ready_desk
from .report import keep_report

DAY = date(2026, 11, 1)
PROCESSES = 8


@dataclass
class Done:
    """What one writer was told is done, what it was refused, and how long a move and anything took at most."""

    who: str
    moves: int = 0
    others: Counter[str] = field(default_factory=Counter)
    refused: list[str] = field(default_factory=list)
    longest_move_s: float = 0.0
    longest_s: float = 0.0


_HANDED: dict[str, Any] = {}
"""What every writer is given: the desk, and the gate that opens when all are ready."""


def write(place: str, who: str, shared: str, seconds: float) -> Done:
    """Move one part that all move, and do all else that writes, as often as time allows."""
    done, turn = Done(who), 0
    house = House(place)
    assert house.engine
    keeper = Keeper(house, _HANDED["desk"], (), who)
    when = Occasion(DAY, who)
    turns = {
        31: ("notes", lambda: note_part(house, shared, Occasion(DAY, who, f"note {turn}"))),
        32: ("parts", lambda: pull(house, Pulled("rotor", place=who), when)),
        33: ("listings", lambda: keeper.keep([Seen(f"front axle, 8 lug, {who} {turn}", DAY)])),
        34: ("words", lambda: words.add_word(house, f"{who} says {turn}", "lugs=8")),
        35: ("builds", lambda: house.keep_build(f"{who} {turn}", "name = 'x'")),
    }
    _HANDED["gate"].wait(60)
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        turn += 1
        # The rarer ones draw the picture anew, which takes longest.
        name, act = turns.get(turn % 40, ("", None))
        began = time.monotonic()
        try:
            if act:
                act()
                done.others[name] += 1
            else:
                move_part(house, shared, f"{who} {turn}", when)
                done.moves += 1
        except Exception as wrong:
            done.refused.append(f"{type(wrong).__name__}: {wrong}")
        took = time.monotonic() - began
        done.longest_s = max(done.longest_s, took)
        done.longest_move_s = max(done.longest_move_s, 0 if act else took)
    house.close()
    return done


def write_at_once(place: str, seconds: float) -> list[Done]:
    """Let eight write at the same database for a time, and check that it holds what each was told is done."""
    with closing(House(place)) as house:
        shared = pull(house, Pulled("knuckle", side="left"), Occasion(DAY, "owner")).tag
    _HANDED["desk"] = ready_desk()
    fork = multiprocessing.get_context("fork")
    _HANDED["gate"] = fork.Barrier(PROCESSES)
    asked = [(place, f"writer {n}", shared, seconds) for n in range(PROCESSES)]
    with fork.Pool(PROCESSES) as pool:
        told = pool.starmap(write, asked, chunksize=1)
    refused = [line for one in told for line in one.refused]
    assert not refused, refused[:3]
    with closing(House(place)) as house:
        _check(house, shared, told)
    return told


def _check(house: House, shared: str, told: list[Done]) -> None:
    assert check(house).sound
    events = part_history(house, shared).events
    moves = [event for event in events if event.kind == "moved"]
    assert Counter(event.who for event in moves) == Counter({one.who: one.moves for one in told if one.moves})
    assert all(later.before["place"] == earlier.after["place"] for earlier, later in pairwise(moves)), (
        "each began from what the one before left"
    )
    others: Counter[str] = sum((one.others for one in told), Counter())
    with house.reading() as connection:
        listings = connection.exec_driver_sql("SELECT count(*) FROM sighting").scalar()
    kept = {
        "notes": sum(event.kind == "note" for event in events), "parts": len(parts(house)) - 1, "listings": listings,
        "words": len(words.list_words(house)), "builds": len(house.builds()),
    }  # fmt: skip
    assert kept == {name: others[name] for name in kept}


def main() -> None:
    """The long form."""
    from tests.conftest import SERVER, Databases

    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seconds", type=float, default=60)
    seconds = asked.parse_args().seconds
    databases = Databases()
    with tempfile.TemporaryDirectory() as folder:
        told = write_at_once(databases.new(Path(folder)), seconds)
        databases.drop_all()
    changes = sum(one.moves + one.others.total() for one in told)
    move_s, any_s = max(one.longest_move_s for one in told), max(one.longest_s for one in told)
    lines = [
        f"{PROCESSES} processes wrote for {seconds:.0f} s: {changes} changes, {changes / seconds:.0f} a second.",
        "None was refused, none lost, and none of them overwrote what it had not seen.",
        f"Moving a part, with the wait for the others, took {move_s:.2f} s at most; anything,",
        f"with the picture of words and builds drawn anew, {any_s:.2f} s.",
    ]
    keep_report("writers-postgresql" if SERVER else "writers", lines)


if __name__ == "__main__":
    main()
