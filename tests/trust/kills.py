"""Works killed at random moments: afterwards the database is whole and holds exactly what was acknowledged.

The long form, which keeps a report: `python -m tests.trust.kills --kills 300`.
"""

import argparse
import os
import random
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

from donorbase.services.database import check
from donorbase.services.desk import Desk
from donorbase.services.house import House

from .report import keep_report
from .works import works

_PATIENCE_S = 60


def ready_desk() -> Desk:
    """A desk with the shipped words, which has read once, so that those who are to be killed need not make it ready."""
    desk = Desk.as_shipped(2026)
    desk.read("front axle, 8 lug")
    return desk


def killed(work: Any, house: House, desk: Desk, chance: random.Random) -> tuple[int, bool]:
    """Let a work begin in a process of its own and kill it; what it acknowledged last, and whether it was at work."""
    said, says = os.pipe()
    child = os.fork()
    if not child:
        _work(work, house, desk, says)
    os.close(says)
    os.read(said, 8)  # it is about to begin
    time.sleep(chance.uniform(0, work.lasts_s))
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    with os.fdopen(said, "rb") as left:
        told = left.read()
    assert len(told) % 8 == 0
    last = int.from_bytes(told[-8:], "big")
    return last, os.WIFSIGNALED(status)


def _work(work: Any, house: House, desk: Desk, says: int) -> None:
    """Never returns. A number of eight bytes goes through a pipe whole or not at all."""

    def say(number: int) -> None:
        os.write(says, number.to_bytes(8, "big"))

    code = 1
    try:
        say(0)
        work.work(house, desk, say)
        code = 0
    finally:
        os._exit(code)


def kill_all(
    kills: int, seed: int, new_place: Callable[[Path], str], desk: Desk, tell: Callable[[str], None]
) -> dict[str, int]:
    """Kill works in turn, each on a database of its own, and check what is left; how many of each were at work."""
    chance, counts = random.Random(seed), {work.name: 0 for work in works()}
    turn = 0
    while sum(counts.values()) < kills:
        work = list(works())[turn % len(counts)]
        if isinstance(getattr(work, "chance", None), random.Random):
            work.chance.seed(f"{seed} {turn}")
        turn += 1
        assert turn < 3 * kills + 10, "the works end before they can be killed"
        with tempfile.TemporaryDirectory() as folder:
            place = new_place(Path(folder))
            with closing(House(place)) as house:
                work.prepare(house, desk, Path(folder))
            said, at_work = killed(work, House(place), desk, chance)
            with closing(House(place)) as house:
                found = check(house)
                assert found.sound, (work.name, seed, turn, found.faults)
                work.check(house, desk, said)
        counts[work.name] += at_work
        tell(f"{turn}: {work.name}, {'killed' if at_work else 'ended before'} after {said}")
    return counts


def main() -> None:
    """The long form, on files."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--kills", type=int, default=300)
    asked.add_argument("--seed", type=int, default=1)
    options = asked.parse_args()
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        template, desk = House(Path(folder) / "template.sqlite3"), ready_desk()
        template.catalogue()
        template.close()

        def new_place(place: Path) -> str:
            (place / "donorbase.sqlite3").write_bytes(Path(template.place).read_bytes())
            return str(place / "donorbase.sqlite3")

        counts = kill_all(options.kills, options.seed, new_place, desk, lambda line: print(line, file=sys.stderr))
    lines = [f"{number} in the middle of {name}" for name, number in counts.items()]
    lines += [
        f"{sum(counts.values())} killed by SIGKILL at random moments (seed {options.seed}),"
        f" in {time.monotonic() - began:.0f} s.",
        "After each: the database opened, its pages, indices and references were whole, and it held exactly what had",
        "been acknowledged, or that and the one step that was committed when the kill came between it and its word.",
    ]
    keep_report("kills", lines)


if __name__ == "__main__":
    main()
