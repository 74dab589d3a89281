"""What can still be read of a damaged file, row by row, into a new one.

SQLite stops a query at the first page that it cannot read. Here the numbers of a table's rows are halved around such a
page until only the rows on it are left out. Indices are not used, since they may be what is damaged.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from donorbase.errors import BadDatabase
from donorbase.store.engine import engine_of, writer
from donorbase.store.file_check import in_words
from donorbase.store.migrate import upgrade
from donorbase.store.new_file import make_file
from donorbase.store.revision import newest_revision, revisions
from donorbase.store.rows import SHIPPED_TABLES
from donorbase.store.schema import copied
from donorbase.store.settings import FACTS

_PROBES = 200_000
"""How often a table is tried around what cannot be read."""
_NO_END = 2**24
"""Taken for the last number of a table where that cannot be read."""
_LEFT_OUT = {"word": "origin = 'user'", "setting": f"name <> '{FACTS}'"}
"""Shipped rows come from this release anyway."""


@dataclass(slots=True)
class Salvaged:
    """What was saved: rows by table, and of which tables how many could not be read or kept.

    ``torn`` counts the numbers of rows that could not be read, None where not even their number is known.

    ``unlinked`` are references to rows that are lost, taken out of rows that do without them; ``dropped`` are rows
    that are nothing without the row that is lost.
    """

    saved: dict[str, int] = field(default_factory=dict)
    torn: dict[str, int | None] = field(default_factory=dict)
    refused: dict[str, int] = field(default_factory=dict)
    unlinked: dict[str, int] = field(default_factory=dict)
    dropped: dict[str, int] = field(default_factory=dict)


def salvage_file(damaged: Path, target: Path) -> Salvaged:
    """Fill a new file with what can be read of a damaged one; it then has the damaged one's schema.

    BadDatabase where not even the list of its tables can be read.
    """
    done = Salvaged()
    with in_words(target), closing(sqlite3.connect(damaged)) as source:
        names, revision = _head(source, damaged)
        _make(target, revision)
        with closing(sqlite3.connect(target)) as new:
            for name in names:
                _save(source, new, name, done)
            _mend(new, done)
            new.commit()
    return done


def _head(source: sqlite3.Connection, damaged: Path) -> tuple[list[str], str]:
    try:
        found = source.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name").fetchall()
    except sqlite3.DatabaseError as wrong:
        raise BadDatabase(
            f"nothing of {damaged} can be read ({wrong})", f"Restore one of the backups in {damaged}.backups."
        ) from wrong
    names = [name for (name,) in found if copied(name) and not name.startswith("sqlite_")]
    try:
        row = source.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError:
        row = None
    revision = row[0] if row and row[0] in revisions() else newest_revision()
    return [name for name in names if name not in (*SHIPPED_TABLES, "alembic_version")], revision


def _make(target: Path, revision: str) -> None:
    make_file(target)
    engine = writer(engine_of(target, foreign_keys=False))
    with engine.begin() as connection:
        upgrade(connection, revision)
    engine.dispose()


def _save(source: sqlite3.Connection, new: sqlite3.Connection, name: str, done: Salvaged) -> None:
    there = {row[1] for row in new.execute(f'PRAGMA table_info("{name}")')}
    columns = [row[1] for row in source.execute(f'PRAGMA table_info("{name}")') if row[1] in there]
    listed = ", ".join(f'"{column}"' for column in columns)
    insert = f'INSERT INTO "{name}" (rowid, {listed}) VALUES ({", ".join("?" * (len(columns) + 1))})'
    done.saved[name] = 0
    for row in _rows(source, name, f"rowid, {listed}", done):
        try:
            new.execute(insert, row)
            done.saved[name] += 1
        except sqlite3.Error:
            # What was read is no such row any more.
            done.refused[name] = done.refused.get(name, 0) + 1


def _rows(source: sqlite3.Connection, name: str, columns: str, done: Salvaged) -> Iterator[tuple[object, ...]]:
    only = _LEFT_OUT.get(name, "1")
    query = f'SELECT {columns} FROM "{name}" NOT INDEXED WHERE rowid BETWEEN ? AND ? AND {only}'
    ranges, probes = [_ends(source, name)], 0
    while ranges:
        low, high = ranges.pop()
        try:
            rows = source.execute(query, (low, high)).fetchall()
        except sqlite3.DatabaseError:
            probes += 1
            if low == high or probes > _PROBES:
                lost = done.torn.get(name, 0)
                done.torn[name] = None if lost is None or high == _NO_END else lost + high - low + 1
            else:
                middle = (low + high) // 2
                ranges += [(middle + 1, high), (low, middle)]
            continue
        yield from rows


def _ends(source: sqlite3.Connection, name: str) -> tuple[int, int]:
    """The first and the last number of a table's rows; the widest that can be where they cannot be read."""
    ends = []
    for which, otherwise in (("min", 0), ("max", _NO_END)):
        try:
            found = source.execute(f'SELECT {which}(rowid) FROM "{name}" NOT INDEXED').fetchone()[0]
            ends.append(otherwise if found is None else int(found))
        except sqlite3.DatabaseError:
            ends.append(otherwise)
    return ends[0], max(ends)


def _mend(new: sqlite3.Connection, done: Salvaged) -> None:
    """Take out references to rows that are lost; where a row is nothing without it, the row goes too."""
    while lost := new.execute("PRAGMA foreign_key_check").fetchall():
        for name, row_id, _, which in lost:
            keys = new.execute(f'PRAGMA foreign_key_list("{name}")').fetchall()
            column = next(key[3] for key in keys if key[0] == which)
            needed = any(row[1] == column and (row[3] or row[5]) for row in new.execute(f'PRAGMA table_info("{name}")'))
            change, told = (
                (f'DELETE FROM "{name}"', done.dropped) if needed
                else (f'UPDATE "{name}" SET "{column}" = NULL', done.unlinked)
            )  # fmt: skip
            new.execute(f"{change} WHERE rowid = ?", (row_id,))
            told[name] = told.get(name, 0) + 1
