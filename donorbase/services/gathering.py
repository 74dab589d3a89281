"""Many listings kept at once: looked through first, backed up, then kept some hundreds at a time.

What was kept stays kept whatever happens: the same import again goes on where the first one stopped, because a text
that is kept already is known again. Nothing is doubled, and nothing is kept of a source with faults unless asked.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path
from typing import Any

from donorbase.errors import BadInput
from donorbase.services.backups import backup_before_import
from donorbase.services.house import House
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.rejudging import Progress, unwatched
from donorbase.services.sources import Found, Source
from donorbase.store.gatherings import begin_gathering, note_gathering, read_gatherings

AT_ONCE = 500
"""Listings kept in one transaction: others wait for it at most some tenths of a second."""


@dataclass(frozen=True, slots=True)
class Looked:
    """A source looked through: how many listings of it can be used, how many not."""

    good: int
    faulty: int


@dataclass(frozen=True, slots=True)
class Gathered:
    """What an import did: texts that are new, texts known already, rows with faults, candidates that are new.

    ``reposts`` are the new texts of listings that were kept before.

    ``backup`` is the copy of the database made before it, None on a server.
    """

    added: int = 0
    known: int = 0
    faulty: int = 0
    candidates: int = 0
    reposts: int = 0
    backup: Path | None = None

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        found = {name: getattr(self, name) for name in ("added", "known", "faulty", "candidates", "reposts")}
        return found | {"backup": str(self.backup) if self.backup else None}


def look_through(source: Source, tell: Callable[[Found], None], progress: Progress = unwatched) -> Looked:
    """Read a source to its end and keep nothing; every row with a fault is told as it is met."""
    good = faulty = 0
    for found in source:
        progress(1)
        if found.seen is None:
            tell(found)
            faulty += 1
        else:
            good += 1
    return Looked(good, faulty)


def refuse_faults(looked: Looked, told: str, keep_good: bool, what: str = "listing") -> None:
    """BadInput where a source has faults and its good rows are not to be kept without them, or it holds nothing."""
    if looked.faulty and not keep_good:
        rows = "row" if looked.faulty == 1 else "rows"
        raise BadInput(
            f"{looked.faulty:,} {rows} of {told} cannot be used; nothing was kept",
            f"Mend them, or keep the other {looked.good:,} with --keep-good." if looked.good else "Mend them.",
        )
    if not looked.good:
        raise BadInput(f"{told} holds no {what}", f"Name a file of {what}s, or say what each column holds.")


def gather(keeper: Keeper, source: Source, progress: Progress = unwatched) -> Gathered:
    """Keep every good listing of a source for the builds of the keeper; rows with faults are left out and counted."""
    house, now = keeper.house, datetime.now(UTC)
    with house.keeping() as connection:
        number = begin_gathering(connection, source.told, source.form, now)
        house.tell(connection, "gathering", source.told, f"import {number}")
    done = Gathered(backup=backup_before_import(house))
    keeper = replace(keeper, gathering_id=number)
    for batch, faulty in _batches(source):
        outcomes = keeper.keep(batch)
        new = sum(outcome.is_new for outcome in outcomes)
        done = replace(
            done,
            added=done.added + new,
            known=done.known + len(batch) - new,
            faulty=done.faulty + faulty,
            reposts=done.reposts + sum(outcome.repost_of is not None for outcome in outcomes),
            candidates=done.candidates + sum(len(outcome.new_candidates) for outcome in outcomes),
        )
        progress(len(batch))
        _note(house, number, done)
    _note(house, number, done, ended_at=datetime.now(UTC))
    return done


def gatherings(house: House) -> tuple[dict[str, Any], ...]:
    """Every import, the newest first; ``ended_at`` is None where it was stopped."""
    with house.reading() as connection:
        return tuple(read_gatherings(connection))


def _batches(source: Source) -> Iterator[tuple[Sequence[Seen], int]]:
    rows = iter(source)
    while batch := list(islice(rows, AT_ONCE)):
        good = [found.seen for found in batch if found.seen is not None]
        yield good, len(batch) - len(good)


def _note(house: House, number: int, done: Gathered, **more: Any) -> None:
    counts = {"added": done.added, "known": done.known, "faulty": done.faulty}
    with house.keeping() as connection:
        note_gathering(connection, number, **counts, **more)
