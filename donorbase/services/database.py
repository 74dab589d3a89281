"""What a database holds, where it lies, and whether it is whole."""

import sqlite3
from contextlib import closing
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from donorbase import __version__
from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue
from donorbase.services.house import House
from donorbase.shipped import data_fingerprint
from donorbase.store.backup import copies
from donorbase.store.file_check import check_place, in_words
from donorbase.store.picture import stamp_of
from donorbase.store.revision import newest_revision
from donorbase.store.server import database_of, hidden
from donorbase.store.soundness import faults_of

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
class Changed:
    """Who changed a row of what, and when (aware, UTC); ``before`` and ``after`` are empty where there was none.

    ``login`` is the name by which a server knows who it was, empty in a file.
    """

    noted_at: datetime
    who: str
    login: str
    of_table: str
    name: str
    before: str
    after: str

    @property
    def did(self) -> str:
        """What was done, in a word."""
        if not self.before or not self.after:
            return "added" if self.after else "removed"
        return "changed"

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        return asdict(self) | {"noted_at": self.noted_at.isoformat(), "did": self.did}


def changes(house: House, limit: int) -> tuple[Changed, ...]:
    """The newest changes of words, builds, rates and corrections, and the newest imports, newest first.

    Candidates and parts have histories of their own.
    """
    from donorbase.store.changes import read_changes

    with house.reading() as connection:
        rows = read_changes(connection, limit)
    return tuple(Changed(**{name: value for name, value in row.items() if name != "id"}) for row in rows)


def roles(house: House) -> str:
    """The rights of readers and members of a database on a server, as SQL for its owner; BadInput for a file."""
    if house.path:
        raise BadInput(f"{house.place} is a file", "Name a database on a server with --db.")
    from donorbase.store.roles import roles_sql

    return roles_sql(database_of(house.place))


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
    path, kept = house.path, copies(house.backups)
    if not path:
        from donorbase.store.server_look import look_at_server

        size, schema, facts, counts = look_at_server(house.place, _COUNTED)
        current = (schema, facts) == (newest_revision(), data_fingerprint())
        return Status(hidden(house.place), bool(schema), size, schema, newest_revision(), current, counts, kept)
    if not path.exists() or not check_place(path):
        return Status(str(path), False, 0, "", newest_revision(), False, {}, kept)
    stamp = stamp_of(path, __version__)
    current = stamp is not None and (stamp.revision, stamp.facts) == (newest_revision(), data_fingerprint())
    schema, counts = _inside(path)
    return Status(str(path), True, path.stat().st_size, schema, newest_revision(), current, counts, kept)


def _inside(path: Path) -> tuple[str, dict[str, int]]:
    uri = f"{path.absolute().as_uri()}?mode=ro"
    with in_words(path), closing(sqlite3.connect(uri, uri=True)) as connection:
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


def check(house: House) -> Soundness:
    """Whether all of it can be read, every reference leads somewhere, and the shipped facts are as shipped."""
    house.catalogue()
    if house.path:
        faults = list(faults_of(house.path))
    else:
        from donorbase.store.server_look import faults_on_server

        with house.reading() as connection:
            faults = list(faults_on_server(connection))
    if not faults:
        from donorbase.store.schema import lacking

        with house.reading() as connection:
            faults = lacking(connection)
    if not faults and house.fresh_catalogue() != load_catalogue():
        faults.append("the shipped facts in it were changed by hand")
    return Soundness(hidden(house.place), tuple(faults))
