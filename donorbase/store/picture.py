"""A picture of the database's rows in a file beside it, for commands that only read.

It spares them the libraries of the store. It is only taken for the present state when the stamp in its first
line (schema, fingerprint of the shipped facts, random mark of the last change, release) equals the one read
from the database a moment ago, and its rows have the digest that stands there too; else it is as if it were
not there. Losing it loses nothing.
"""

import json
import os
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing, suppress
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from donorbase.store.private import make_private
from donorbase.store.rows import Rows

FORM = 2
"""Raised whenever the form of the file changes."""

_STAMP = """
SELECT (SELECT version_num FROM alembic_version),
       (SELECT value FROM setting WHERE name = 'shipped_facts'),
       (SELECT value FROM setting WHERE name = 'state')
"""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a picture must agree in with the database to be of its present state."""

    revision: str
    facts: str
    state: str
    release: str
    form: int = FORM


def picture_path(path: Path) -> Path:
    """Where the picture of a database lies."""
    return path.with_name(f"{path.name}.picture.json")


def stamp_of(path: Path, release: str) -> Stamp | None:
    """The stamp of the database at ``path``; None where it cannot be had, whatever the reason.

    Whoever then opens the database in full says the reason.
    """
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as connection:
            row = connection.execute(_STAMP).fetchone()
    except sqlite3.Error:
        return None
    return Stamp(row[0], row[1], row[2], release) if row and all(row) else None


def write_picture(path: Path, stamp: Stamp, rows: Rows) -> None:
    """Write the picture, whole or not at all; where it cannot be written, commands are slower, no more."""
    body = "\n".join(json.dumps(_packed(table)) for table in rows.values()).encode()
    head = json.dumps({**asdict(stamp), "digest": _digest(body), "tables": list(rows)}).encode()
    target = picture_path(path)
    part = target.with_name(f"{target.name}.{os.getpid()}.part")
    with suppress(OSError):
        try:
            make_private(part)
            part.write_bytes(head + b"\n" + body)
            os.replace(part, target)
        finally:
            part.unlink(missing_ok=True)


def read_picture(path: Path, stamp: Stamp) -> Rows | None:
    """The rows of a picture with that very stamp; None where there is no such picture."""
    try:
        head, _, body = picture_path(path).read_bytes().partition(b"\n")
        told = dict(json.loads(head))
        tables = told.pop("tables")
        if told != {**asdict(stamp), "digest": _digest(body)}:
            return None
    except (OSError, ValueError, TypeError, KeyError):
        # Cut short or not ours: it is made anew from the database.
        return None
    return _Pictured(dict(zip(tables, body.split(b"\n"), strict=True)))


class _Pictured(Mapping[str, list[dict[str, Any]]]):
    """The rows of a picture, each table made when it is first asked for: most commands need few."""

    def __init__(self, lines: Mapping[str, bytes]) -> None:
        self._lines = lines
        self._made: dict[str, list[dict[str, Any]]] = {}

    def __getitem__(self, table: str) -> list[dict[str, Any]]:
        if table not in self._made:
            self._made[table] = _unpacked(json.loads(self._lines[table]))
        return self._made[table]

    def __iter__(self) -> Iterator[str]:
        return iter(self._lines)

    def __len__(self) -> int:
        return len(self._lines)


def _digest(body: bytes) -> str:
    return sha256(body).hexdigest()


def _packed(rows: list[dict[str, Any]]) -> dict[str, Any]:
    columns = list(rows[0]) if rows else []
    return {"columns": columns, "rows": [[row[column] for column in columns] for row in rows]}


def _unpacked(packed: dict[str, Any]) -> list[dict[str, Any]]:
    return [dict(zip(packed["columns"], row, strict=True)) for row in packed["rows"]]
