"""Whether the file of a database is whole: asked for by its owner, and wherever it was not closed well."""

import sqlite3
from contextlib import closing
from pathlib import Path

from donorbase.errors import Damaged
from donorbase.store.file_check import in_words

MOST_FAULTS = 100
"""How many faults of a file are told."""


def faults_of(path: Path) -> tuple[str, ...]:
    """What is wrong in a file: pages and indices that are not whole, rows that refer to nothing."""
    with in_words(path), closing(sqlite3.connect(path)) as connection:
        try:
            found = connection.execute(f"PRAGMA integrity_check({MOST_FAULTS})").fetchall()
            lost = connection.execute("PRAGMA foreign_key_check").fetchmany(MOST_FAULTS)
        except sqlite3.DatabaseError as wrong:
            if "malformed" not in str(wrong):
                raise
            # A file can be too broken even to be looked through.
            return (str(wrong),)
    faults = [row[0] for row in found if row[0] != "ok"]
    faults += [f"row {row} of {table} refers to a row of {parent} that is not there" for table, row, parent, _ in lost]
    return tuple(faults)


def refuse_damaged(path: Path) -> None:
    """Damaged where a file is not whole."""
    if faults := faults_of(path):
        raise Damaged(
            f"{path} is damaged since it was last used: {faults[0]}",
            f"`donorbase db salvage` saves what can be read; backups lie in {path}.backups.",
        )


def was_left_open(path: Path) -> bool:
    """Whether a file was not closed well: a log lies beside it, and nobody works with it.

    Whoever closes a file last takes its write-ahead log away. One that still lies there belongs to somebody who is
    at work, or to nobody any more: a program that was killed, a computer that lost its power. Looking takes the log
    into the file.
    """
    log = path.with_name(f"{path.name}-wal")
    if not log.exists() or not log.stat().st_size:
        return False
    try:
        with closing(sqlite3.connect(path, timeout=0)) as alone:
            # A connection that wants the file for itself is refused while anybody else has it open, working or not.
            alone.execute("PRAGMA locking_mode=EXCLUSIVE")
            alone.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.OperationalError as wrong:
        if "locked" in str(wrong):
            return False
        raise
    except sqlite3.DatabaseError:
        return True
    return True
