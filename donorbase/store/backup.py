"""Copies of the database: made in one step while others may write, checked, then put in place whole."""

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path

from donorbase.errors import BadDatabase, Damaged
from donorbase.store.file_check import check_place, in_words
from donorbase.store.private import make_private, make_private_folder

KEPT = 10
"""How many copies made before migrations, and how many made before imports, are kept."""


def backup_folder(path: Path) -> Path:
    """Where copies made by the program itself lie: beside the database."""
    return path.with_name(f"{path.name}.backups")


def copy_before_migration(path: Path, revision: str, now: datetime) -> Path:
    """A copy of a database that is about to be migrated; the oldest beyond the last ten are removed."""
    return _copy_before(path, "migration", f"-{revision}", now)


def copy_before_import(path: Path, now: datetime) -> Path:
    """A copy of a database into which many rows are about to go; the oldest beyond the last ten are removed."""
    return _copy_before(path, "import", "", now)


def _copy_before(path: Path, what: str, more: str, now: datetime) -> Path:
    target = name_before(backup_folder(path), f"{what}{more}", now)
    copy_to(path, target)
    drop_old(target.parent, what)
    return target


def name_before(folder: Path, what: str, now: datetime) -> Path:
    """Where a copy made before something goes."""
    return folder / f"{now:%Y%m%dT%H%M%S%f}-before-{what}.sqlite3"


def drop_old(folder: Path, what: str) -> None:
    """Remove the copies made before something, but the last ten."""
    for old in sorted(folder.glob(f"*-before-{what}*.sqlite3"))[:-KEPT]:
        old.unlink(missing_ok=True)


def copies(folder: Path) -> tuple[Path, ...]:
    """The copies that lie in a folder, oldest first."""
    return tuple(sorted(folder.glob("*.sqlite3")))


def restore_from(path: Path, source: Path) -> None:
    """Fill the database at ``path`` with what a copy holds, in one step and one transaction.

    Raises BadDatabase, with the database untouched, where the copy is damaged or no database of ours.
    """
    if not source.is_file() or not check_place(source):
        raise BadDatabase(f"{source} holds no database", "Name a backup; `donorbase db status` lists them.")
    with in_words(source), closing(sqlite3.connect(source)) as copy:
        found = copy.execute("PRAGMA integrity_check").fetchone()
        if found != ("ok",):
            raise BadDatabase(f"{source} is damaged: {found[0]}", "Name another backup.")
        with in_words(path), closing(sqlite3.connect(path)) as target:
            copy.backup(target)


def set_aside(path: Path, aside: Path, instead: Path) -> None:
    """Keep a damaged file with its log under another name, and put another database in its place.

    Stopped in the middle, there is at every moment a file at ``path``, and all that was there lies aside.
    """
    fresh = path.with_name(f"{path.name}.fresh")
    fresh.unlink(missing_ok=True)
    copy_to(instead, fresh)
    for end in ("", "-wal"):
        beside = path.with_name(f"{path.name}{end}")
        if beside.exists():
            copy = aside.with_name(f"{aside.name}{end}")
            make_private(copy)
            shutil.copyfile(beside, copy)
    # A log that is not of the file in place would be taken for its own.
    for end in ("-wal", "-shm"):
        path.with_name(f"{path.name}{end}").unlink(missing_ok=True)
    os.replace(fresh, path)


def copy_to(path: Path, target: Path) -> None:
    """A checked copy of the database at ``target``, which must not exist yet; whole, or nothing at all."""
    with made_whole(target) as part:
        _copy(path, part)


@contextmanager
def made_whole(target: Path) -> Iterator[Path]:
    """Where to write what shall be a file at ``target``, which must not exist yet; it stands there when all is done."""
    if target.exists():
        raise BadDatabase(f"{target} exists already", "Name a file that does not exist yet.")
    part = target.with_name(f"{target.name}.part")
    try:
        make_private_folder(target.parent)
        part.unlink(missing_ok=True)
        yield part
        os.replace(part, target)
    except OSError as wrong:
        raise BadDatabase(f"{target} cannot be written: {wrong.strerror}", "Name another place.") from wrong
    finally:
        part.unlink(missing_ok=True)


def _copy(path: Path, part: Path) -> None:
    make_private(part)
    with in_words(path), closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(part)) as copy:
        # In one step: a copy in several is begun anew by every write of another process.
        source.backup(copy)
        found = copy.execute("PRAGMA integrity_check").fetchone()
    if found != ("ok",):
        raise Damaged(f"the copy of {path} is damaged: {found}", "Look at `donorbase db check`.")
