"""Works that may be killed at any moment: each says after every step that it is done, and what must then be so.

A step is acknowledged after its commit, so a killed work may have done one step more than it said, and that one
whole; never one less, and never a part of one.
"""

import json
import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date
from itertools import count, pairwise
from pathlib import Path
from typing import Any

from donorbase.services import gathering, rejudging, words
from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates, history
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.promising import Taking, release, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf import FIELDS, part_history, parts, steps_of
from donorbase.services.sources import Source
from donorbase.services.tending import move_part, note_part, undo_part
from donorbase.shelf.standing import standing
from donorbase.shipped import data_dir
from donorbase.store.engine import engine_of, writer
from donorbase.store.migrate import downgrade, revision_of
from donorbase.store.revision import newest_revision, revisions
from donorbase.store.soundness import faults_of

DAY = date(2026, 11, 1)
WHEN = Occasion(DAY, "owner")
_ADVERT = "Front axle off a 2008 line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side"
Say = Callable[[int], None]


def gather_in(house: House, desk: Desk, path: Path, say: Say = lambda _: None) -> None:
    """Import a file, saying after each batch how many of its rows are kept."""
    done = 0

    def progress(number: int) -> None:
        nonlocal done
        done += number
        say(done)

    gathering.gather(Keeper(house, desk, ("crawler",), "owner"), Source(path, "jsonl", DAY), progress)


@dataclass
class Importing:
    """A file of listings is imported in small batches."""

    name = "import"
    lasts_s = 1.5
    rows, batch = 600, 20

    def prepare(self, house: House, desk: Desk, folder: Path) -> None:
        add_build(house, data_dir() / "demo" / "crawler.toml")
        self.file = folder / "ads.jsonl"
        self.texts = [f"front axle, 8 lug, {3 + n % 2}.73 gears, ref {n}" for n in range(self.rows)]
        self.file.write_text("".join(json.dumps({"text": text, "price": 400}) + "\n" for text in self.texts))

    def work(self, house: House, desk: Desk, say: Say) -> None:
        gathering.AT_ONCE = self.batch
        gather_in(house, desk, self.file, say)

    def check(self, house: House, desk: Desk, said: int) -> None:
        kept = self._kept(house)
        assert len(kept) in (said, min(said + self.batch, self.rows)), (len(kept), said)
        assert sorted(kept) == sorted(self.texts[: len(kept)]), "each batch whole, in its order, none twice"
        gather_in(house, desk, self.file)
        assert sorted(self._kept(house)) == sorted(self.texts), "it goes on where it was stopped"

    def _kept(self, house: House) -> list[str]:
        """The texts that are listings, read, and candidates of the build."""
        with house.reading() as connection:
            query = (
                "SELECT text FROM sighting JOIN reading ON sighting_id = sighting.id"
                " JOIN candidate ON candidate.listing_id = sighting.listing_id"
            )
            return [row[0] for row in connection.exec_driver_sql(query)]


@dataclass
class Migrating:
    """A database of an earlier release is brought up to date."""

    name = "migration"
    lasts_s = 0.5
    chance: random.Random = field(default_factory=lambda: random.Random(7))

    def prepare(self, house: House, desk: Desk, folder: Path) -> None:
        words.add_word(house, "grazier 35", "donor_line=line-A")
        add_build(house, data_dir() / "demo" / "crawler.toml")
        self.was = (words.list_words(house), house.builds())
        house.close()
        self.earlier = self.chance.choice(revisions()[2:-1])
        engine = writer(engine_of(house.place, foreign_keys=False))
        with engine.begin() as connection:
            downgrade(connection, self.earlier)
        engine.dispose()

    def work(self, house: House, desk: Desk, say: Say) -> None:
        assert house.engine
        say(1)

    def check(self, house: House, desk: Desk, said: int) -> None:
        engine = engine_of(house.place)
        with engine.connect() as connection:
            found = revision_of(connection)
        engine.dispose()
        assert found in ([newest_revision()] if said else [self.earlier, newest_revision()])
        assert (words.list_words(house), house.builds()) == self.was
        if house.path:
            copies = list(house.path.parent.glob("*.backups/*.sqlite3"))
            assert [faults_of(copy) for copy in copies] == [()] * len(copies)


@dataclass
class Judging:
    """A build is changed to and fro, and its candidates judged anew each time."""

    name = "judging"
    lasts_s = 2.0
    limits = (2200, 200)

    def prepare(self, house: House, desk: Desk, folder: Path) -> None:
        self.toml = (data_dir() / "demo" / "crawler.toml").read_text("utf-8")
        self._want(house, 0)
        seen = [
            Seen(f"{_ADVERT}, {usd} dollars, ref {n}", DAY, price_usd=usd)
            for n, usd in enumerate((300.0, 900.0, 1500.0, 2500.0) * 8)
        ]
        Keeper(house, desk, ("crawler",), "owner").keep(seen)
        self.verdicts = []
        for round_ in (0, 1, 2):
            self._want(house, round_)
            rejudging.judge_due(house, desk)
            self.verdicts.append({c.id: c.verdict for c in candidates(house)})
        assert self.verdicts[0] == self.verdicts[2] != self.verdicts[1]

    def work(self, house: House, desk: Desk, say: Say) -> None:
        rejudging.AT_ONCE = 8
        for step in range(1, 1000):
            if step % 2:
                self._want(house, self._round(step))
            else:
                rejudging.judge_due(house, desk)
            say(step)

    def check(self, house: House, desk: Desk, said: int) -> None:
        rounds = {self._toml(n): n for n in (self._round(said), self._round(said + 1))}
        assert house.build("crawler").toml in rounds
        now = rounds[house.build("crawler").toml]
        wanted = self.verdicts[now % 2]
        if said % 2 == 0 and now == self._round(said):
            assert {c.id: c.verdict for c in candidates(house)} == wanted, "judged is judged"
        self._check_histories(house)
        rejudging.judge_due(house, desk)
        assert {c.id: c.verdict for c in candidates(house)} == wanted, "what was left is judged now"
        self._check_histories(house)

    def _round(self, step: int) -> int:
        """Which form the build has after a step: the odd ones change it, the even ones judge by it."""
        return max(2, 2 + (step - 1) // 2)

    def _check_histories(self, house: House) -> None:
        for one in candidates(house):
            told = [e.note.split(" -> ") for e in history(house, one.id).events if e.kind == "verdict"]
            assert all(earlier[1] == later[0] for earlier, later in pairwise(told)), told
            assert not told or told[-1][1] == one.verdict, "verdict and event come together"

    def _toml(self, round_: int) -> str:
        return self.toml.replace("landed_limit_usd = 2200", f"landed_limit_usd = {self.limits[round_ % 2]}")

    def _want(self, house: House, round_: int) -> None:
        house.keep_build("crawler", self._toml(round_))


@dataclass
class Tending:
    """Parts are pulled, moved, promised, released, noted of, and things are taken back."""

    name = "part changes"
    lasts_s = 1.0

    def prepare(self, house: House, desk: Desk, folder: Path) -> None:
        assert not parts(house)

    def work(self, house: House, desk: Desk, say: Say) -> None:
        """Each step is one event."""
        chance, tags, held, steps = random.Random(3), list[str](), set[str](), count(1)
        for number in range(3000):
            tag, what = chance.choice(tags or [""]), chance.choice(("take", "note", "move", "undo"))
            if number % 8 == 0:
                tags.append(pull(house, Pulled("rotor", place="shed"), WHEN).tag)
            elif what == "take" and tag not in held:
                take(house, tag, Taking("reserved", person="Kim"), WHEN)
                held.add(tag)
            elif what == "take":
                release(house, tag, WHEN)
                held.discard(tag)
            elif what == "note":
                note_part(house, tag, Occasion(DAY, "owner", f"note {number}"))
            else:
                move_part(house, tag, f"place {number}", WHEN)
            say(next(steps))
            if what == "undo" and number % 8:
                undo_part(house, tag, WHEN)
                say(next(steps))

    def check(self, house: House, desk: Desk, said: int) -> None:
        events = 0
        for part in parts(house):
            steps = steps_of(part_history(house, part.tag).events)
            made = standing(steps)
            assert {name: made.get(name) for name in FIELDS} == {name: getattr(part, name) for name in FIELDS}
            assert made["state"] == part.state
            events += len(steps)
        assert events in (said, said + 1), (events, said)


def works() -> Iterable[Any]:
    """One of each kind."""
    return (Importing(), Migrating(), Judging(), Tending())
