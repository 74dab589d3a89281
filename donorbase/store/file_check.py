"""Whether a file can be donorbase's database, looked at before it is opened; errors of SQLite in words."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from donorbase.errors import BadDatabase, Damaged
from donorbase.store.private import make_private_folder

APPLICATION_ID = 0x646E7262
"""The letters dnrb: SQLite keeps it in the file's head, so that a stranger's database is known as such."""

_HEAD = b"SQLite format 3\0"
_RESTORE = "`donorbase db restore` puts a backup in its place, `donorbase db salvage` saves what can be read of it."
_ELSEWHERE = "Name another place with --db or DONORBASE_DB."


def check_place(path: Path) -> bool:
    """Whether a database lies at ``path`` (False: nothing or an empty file, so that one can be made).

    Raises BadDatabase for a folder, a file of another kind, or one that may not be read or written.
    """
    try:
        if path.is_dir():
            raise BadDatabase(f"{path} is a folder, not a database", _ELSEWHERE)
        if not path.exists():
            make_private_folder(path.parent)
        elif path.stat().st_size:
            _check_head(path)
            return True
    except OSError as wrong:
        raise BadDatabase(f"{path} cannot be used: {wrong.strerror or wrong}", _ELSEWHERE) from wrong
    _check_writable(path if path.exists() else path.parent)
    return False


def _check_head(path: Path) -> None:
    # Of a database that is open, this process closing a file of its own would drop the locks that its connections
    # hold (SQLite, "How To Corrupt An SQLite Database File", 2.2), and others would clear away what they still use.
    is_open = Path(f"{path}-shm").exists()
    if not (_is_ours(path) if is_open else _has_our_head(path) or _is_ours(path)):
        raise BadDatabase(f"{path} is a database of another program", _ELSEWHERE)
    _check_writable(path)
    _check_writable(path.parent)


def _has_our_head(path: Path) -> bool:
    """Whether a database bears our mark in its head. BadDatabase: it is none."""
    with path.open("rb") as file:
        head = file.read(72)
    if head[:16] != _HEAD:
        raise BadDatabase(f"{path} is not a database: it is another kind of file", _ELSEWHERE)
    # Bytes 68 to 71 of the head hold the application id (SQLite, "Database File Format", 1.3).
    return int.from_bytes(head[68:72], "big") == APPLICATION_ID


def _is_ours(path: Path) -> bool:
    """Whether it bears our mark after all, still in the write-ahead log, or was not filled yet by anybody."""
    with in_words(path), closing(sqlite3.connect(path)) as connection:
        (owner,) = connection.execute("PRAGMA application_id").fetchone()
        (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    return bool(owner == APPLICATION_ID or not tables)


def _check_writable(place: Path) -> None:
    if not os.access(place, os.W_OK):
        raise BadDatabase(f"{place} may not be written by you", f"Change its rights. {_ELSEWHERE}")


@contextmanager
def in_words(path: str | Path) -> Iterator[None]:
    """Turn what SQLite throws at us into BadDatabase with a next step."""
    try:
        yield
    except sqlite3.Error as wrong:
        raise in_plain(path, str(wrong)) from wrong


def in_plain(path: str | Path, wrong: str) -> BadDatabase:
    """The error that says what SQLite's words mean to the user."""
    said = wrong.lower()
    if "locked" in said or "busy" in said:
        return BadDatabase(f"{path} is in use by another program", "Let it finish, then run this again.")
    if "readonly" in said or "unable to open" in said or "attempt to write" in said:
        return BadDatabase(f"{path} cannot be opened for writing ({wrong})", _ELSEWHERE)
    if "disk" in said and "full" in said:
        return BadDatabase(f"the disk of {path} is full", "Make room, then run this again; nothing was lost.")
    if "i/o" in said:
        # A disk without room for SQLite's own small files says this, as a failing one does.
        room = "See whether its disk is full or failing; `donorbase db check` tells whether the file is whole."
        return BadDatabase(f"the disk of {path} cannot be read or written ({wrong})", room)
    if "malformed" in said or "not a database" in said or "corrupt" in said:
        return Damaged(f"{path} is damaged ({wrong})", _RESTORE)
    return BadDatabase(f"{path} cannot be used ({wrong})", _RESTORE)
