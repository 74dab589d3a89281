"""Looking after the database: where it lies and what it holds, copies of it, its soundness."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from donorbase import __version__
from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue
from donorbase.services.house import House
from donorbase.shipped import data_fingerprint
from donorbase.store.backup import backup_folder, copies, copy_to, restore_from
from donorbase.store.file_check import check_place, in_words
from donorbase.store.picture import picture_path, stamp_of
from donorbase.store.revision import newest_revision
from donorbase.store.soundness import faults_of

_SERVER = "The database is on a server"
_COUNTED = {
    "variants": "variant",
    "families": "family",
    "own words": "word WHERE origin = 'user'",
    "builds": "build",
    "listings": "listing",
    "candidates": "candidate",
    "yard vehicles": "yard_vehicle",
}


@dataclass(frozen=True, slots=True)
class Status:
    """What is known of a database without changing it.

    ``schema`` is empty where there is no database yet; ``up_to_date`` tells whether schema and shipped facts
    are those of this release. ``counts`` are rows by name; ``backups`` lie oldest first.
    """

    place: str
    exists: bool
    size_bytes: int
    schema: str
    newest_schema: str
    up_to_date: bool
    counts: dict[str, int]
    backups: tuple[Path, ...]

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        names = ("place", "exists", "size_bytes", "schema", "newest_schema", "up_to_date", "counts")
        return {name: getattr(self, name) for name in names} | {"backups": [str(p) for p in self.backups]}


@dataclass(frozen=True, slots=True)
class Soundness:
    """What a check found; sound where there is no fault."""

    place: str
    faults: tuple[str, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        return {"place": self.place, "sound": self.sound, "faults": list(self.faults)}


def status(house: House) -> Status:
    """Where the database lies and what it holds; nothing is made or changed. BadDatabase where it is none."""
    path = _file(house)
    if not path.exists() or not check_place(path):
        return Status(str(path), False, 0, "", newest_revision(), False, {}, copies(path))
    stamp = stamp_of(path, __version__)
    current = stamp is not None and (stamp.revision, stamp.facts) == (newest_revision(), data_fingerprint())
    schema, counts = _inside(path)
    return Status(str(path), True, path.stat().st_size, schema, newest_revision(), current, counts, copies(path))


def _inside(path: Path) -> tuple[str, dict[str, int]]:
    with (
        in_words(path),
        closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as connection,
    ):
        known = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
        if "alembic_version" not in known:
            return "", {}
        (schema,) = connection.execute("SELECT max(version_num) FROM alembic_version").fetchone()
        counts = {
            title: connection.execute(f"SELECT count(*) FROM {rows}").fetchone()[0]
            for title, rows in _COUNTED.items()
            if rows.partition(" ")[0] in known
        }
    return schema or "", counts


def backup(house: House, target: Path | None = None) -> Path:
    """A checked copy of the database, at ``target`` or among the backups beside it; where it lies."""
    path = _opened_file(house)
    place = target or backup_folder(path) / f"{datetime.now(UTC):%Y%m%dT%H%M%S%f}.sqlite3"
    copy_to(path, place)
    return place


def restore(house: House, source: Path) -> Path:
    """Put what a copy holds in place of what is there; returns the copy that was made of the latter."""
    path = _opened_file(house)
    kept = backup(house)
    house.close()
    restore_from(path, source)
    picture_path(path).unlink(missing_ok=True)
    return kept


def check(house: House) -> Soundness:
    """Whether the file is whole, every reference leads somewhere, and the shipped facts are as shipped."""
    path = _opened_file(house)
    faults = list(faults_of(path))
    if not faults and house.fresh_catalogue() != load_catalogue():
        faults.append("the shipped facts in it were changed by hand")
    return Soundness(str(path), tuple(faults))


def _opened_file(house: House) -> Path:
    """The file of the database, made and brought up to date."""
    path = _file(house)
    house.catalogue()
    return path


def _file(house: House) -> Path:
    if house.path is None:
        raise BadInput(f"{_SERVER}, not in a file", "Use the server's own tools, such as pg_dump.")
    return house.path
