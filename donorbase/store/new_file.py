"""A new file for a database: for its owner alone, with our mark, in write-ahead mode."""

import sqlite3
import time
from contextlib import closing
from pathlib import Path

from donorbase.store.file_check import APPLICATION_ID, in_plain
from donorbase.store.private import make_private

_TRIES = 50
_WAIT_S = 0.1


def make_file(path: Path) -> None:
    """Make the file where there is none, set our mark, then write-ahead mode, once.

    In this order, so that the mark stands in the file itself and not in its log. Several processes may be at
    it: the switch answers busy at once, whatever the timeout.
    """
    make_private(path)
    for left in reversed(range(_TRIES)):
        try:
            with closing(sqlite3.connect(path, timeout=1)) as connection:
                if connection.execute("PRAGMA application_id").fetchone() != (APPLICATION_ID,):
                    connection.execute(f"PRAGMA application_id={APPLICATION_ID}")
                connection.execute("PRAGMA journal_mode=WAL")
            return
        except sqlite3.OperationalError as wrong:
            if left == 0 or "locked" not in str(wrong):
                raise in_plain(path, str(wrong)) from wrong
            time.sleep(_WAIT_S)
