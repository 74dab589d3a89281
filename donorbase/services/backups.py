"""Copies of the database, putting one back, and what can be saved of a file that is damaged."""

import shutil
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from donorbase.errors import BadDatabase, BadInput, Damaged
from donorbase.services.database import check
from donorbase.services.house import House
from donorbase.store.backup import copies, copy_before_import, copy_to, restore_from, set_aside
from donorbase.store.picture import picture_path
from donorbase.store.revision import revisions


@dataclass(frozen=True, slots=True)
class Saved:
    """What could be saved of a damaged file, in ``target``: rows by table, and what was lost of which."""

    target: Path
    saved: dict[str, int]
    torn: dict[str, int | None]
    refused: dict[str, int]
    unlinked: dict[str, int]
    dropped: dict[str, int]
    newest_backup: Path | None

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        newest = str(self.newest_backup) if self.newest_backup else None
        return asdict(self) | {"target": str(self.target), "newest_backup": newest}


def backup(house: House, target: Path | None = None) -> Path:
    """A checked copy of the database in a file, at ``target`` or among its backups; where it lies."""
    house.catalogue()
    place = target or house.backups / f"{_moment()}.sqlite3"
    with house.watch("Copying the database"):
        if house.path:
            copy_to(house.path, place)
        else:
            from donorbase.store.server_backup import copy_from_server

            with house.reading() as connection:
                copy_from_server(connection, place)
    return place


def backup_before_import(house: House) -> Path | None:
    """The copy made before many rows go into a file; None on a server, whose owner keeps copies of all of it."""
    if not house.path:
        return None
    with house.watch("Copying the database first"):
        return copy_before_import(house.path, datetime.now(UTC))


def restore(house: House, source: Path) -> Path:
    """Put what a copy holds in place of what is there; where the latter lies then.

    The copy is first tried on a copy of its own: opened, brought up to this release and checked. BadDatabase, and
    nothing was changed, where it does not stand that.
    """
    with house.watch("Trying the copy and putting it in place"), _tried(house, source) as trial:
        kept = _put_by(house, trial)
        if house.path:
            restore_from(house.path, trial)
            picture_path(house.path).unlink(missing_ok=True)
        else:
            from donorbase.store.server_backup import fill_server

            with house.keeping() as connection:
                fill_server(connection, trial)
    house.close()
    return kept


@contextmanager
def _tried(house: House, source: Path) -> Iterator[Path]:
    """A copy of a backup that was opened by this release, brought up to date and found whole."""
    folder = house.backups / f"trial-{_moment()}"
    trial = folder / "trial.sqlite3"
    if not source.is_file() or not source.stat().st_size:
        raise BadDatabase(f"{source} holds no database", "Name a backup; `donorbase db status` lists them.")
    try:
        try:
            copy_to(source, trial)
            with closing(House(trial)) as tried:
                found = check(tried)
        except BadDatabase as wrong:
            raise BadDatabase(
                f"{source} cannot be restored: {wrong.what.replace(str(trial), 'it')}",
                "Nothing was changed. Name another backup; `donorbase db status` lists them.",
            ) from wrong
        if not found.sound:
            raise BadDatabase(f"{source} is not sound: {found.faults[0]}", "Nothing was changed. Name another backup.")
        yield trial
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _put_by(house: House, trial: Path) -> Path:
    """What was there before: a backup, or the file itself, set aside, where it is too damaged for one to be made."""
    try:
        return backup(house)
    except Damaged:
        if not house.path:
            raise
        house.close()
        aside = house.path.with_name(f"{house.path.name}.damaged-{_moment()}")
        set_aside(house.path, aside, trial)
        return aside
    finally:
        house.close()


def salvage(house: House, target: Path | None = None) -> Saved:
    """Save what can be read of a damaged file into a new one, which is then opened and checked.

    The damaged file stays as it is. BadDatabase where nothing can be read of it.
    """
    from donorbase.store.salvage import salvage_file

    if not house.path:
        raise BadInput("the database is on a server", "Whoever looks after the server restores it.")
    if not house.path.is_file():
        raise BadInput(f"there is no file {house.path}", "Name the damaged file with --db.")
    place = target or house.path.with_name(f"{house.path.name}.salvaged-{_moment()}.sqlite3")
    if place.exists():
        raise BadInput(f"{place} exists already", "Name a file that does not exist yet.")
    house.close()
    with house.watch("Reading what can be read"):
        done = salvage_file(house.path, place)
    with closing(House(place)) as made:
        found = check(made)
    if not found.sound:
        raise BadDatabase(f"what was saved is not sound: {found.faults[0]}", f"It lies in {place}.")
    return Saved(place, **asdict(done), newest_backup=next(reversed(copies(house.backups)), None))


def migrate_back(house: House, revision: str) -> Path:
    """Take the schema back to that of an earlier release, for a program of that release; where the backup lies.

    What only later releases know of is lost from the database and stays in the backup.
    """
    from donorbase.store.migrate import downgrade
    from donorbase.store.opening import spoken
    from donorbase.store.server_backup import filling

    if revision not in revisions():
        raise BadDatabase(f"there is no schema {revision!r}", f"Schemas go from {revisions()[0]} to {revisions()[-1]}.")
    kept = backup(house)
    house.close()
    with spoken(house.place), filling(house.place) as connection:
        downgrade(connection, revision)
    return kept


def _moment() -> str:
    return f"{datetime.now(UTC):%Y%m%dT%H%M%S%f}"
