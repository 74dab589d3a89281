"""A database that is there, migrated and filled with this release's facts, or a clear word on why not."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError, StatementError

from donorbase.errors import BadDatabase
from donorbase.store.backup import copy_before_migration
from donorbase.store.engine import engine_of, writer
from donorbase.store.file_check import check_place, in_plain, in_words
from donorbase.store.migrate import revision_of, upgrade
from donorbase.store.new_file import make_file
from donorbase.store.revision import newest_revision, revisions
from donorbase.store.roles import refuse_guests
from donorbase.store.server import hidden, in_server_words, is_server
from donorbase.store.server_backup import copy_server_before_migration
from donorbase.store.settings import FACTS, setting
from donorbase.store.soundness import refuse_damaged, was_left_open


def open_database(
    place: str, fingerprint: str, seed: Callable[[Connection], None], now: datetime, backups: Path | None = None
) -> Engine:
    """The engine of the database at ``place``, a path or a URL; made, migrated and seeded where need be.

    Before a migration it is copied: a file beside itself, a server into ``backups``. ``seed`` replaces the shipped
    rows; it is called where the database holds those of another
    ``fingerprint``. Raises BadDatabase; a database is then as it was before.
    """
    if not is_server(place):
        _prepare_file(Path(place), now)
    engine = engine_of(place)
    try:
        with spoken(place):
            if not _is_current(engine, fingerprint):
                _bring_up(place, fingerprint, seed, now, backups)
    except BaseException:
        engine.dispose()
        raise
    return engine


def _is_current(engine: Engine, fingerprint: str) -> bool:
    """Whether schema and shipped facts are those of this release: two plain SELECTs, no alembic."""
    with engine.connect() as connection:
        return revision_of(connection) == newest_revision() and setting(connection, FACTS) == fingerprint


def _bring_up(
    place: str, fingerprint: str, seed: Callable[[Connection], None], now: datetime, backups: Path | None
) -> None:
    """Migrate and seed in one transaction, looking again at what another process may have done meanwhile."""
    engine = writer(engine_of(place, foreign_keys=False))
    try:
        with engine.begin() as connection:
            current = revision_of(connection)
            _refuse_newer(place, current)
            refuse_guests(connection, place)
            if current != newest_revision():
                if current and backups and is_server(place):
                    copy_server_before_migration(connection, backups, current, now)
                upgrade(connection)
            if setting(connection, FACTS) != fingerprint:
                seed(connection)
    finally:
        engine.dispose()


def _refuse_newer(place: str, revision: str | None) -> None:
    if revision is not None and revision not in revisions():
        raise BadDatabase(
            f"{hidden(place)} was made by a newer release of donorbase"
            f" (schema {revision}, this one knows {newest_revision()})",
            "Update donorbase, or name another database with --db.",
        )


def _prepare_file(path: Path, now: datetime) -> None:
    """A new file in write-ahead mode with our mark; a copy of an old one that will be migrated."""
    with in_words(path):
        # First of all: whoever looks into the file takes the signs of a fall away.
        fell = was_left_open(path)
    if not check_place(path):
        make_file(path)
        return
    if fell:
        refuse_damaged(path)
    uri = f"{path.absolute().as_uri()}?mode=rw"
    with in_words(path), closing(sqlite3.connect(uri, uri=True)) as connection:
        row = None
        if connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'").fetchone():
            row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    if row is None:
        make_file(path)
    elif row[0] != newest_revision():
        _refuse_newer(str(path), row[0])
        copy_before_migration(path, row[0], now)


@contextmanager
def spoken(place: str) -> Iterator[None]:
    """Turn what the database throws into BadDatabase with a next step."""
    try:
        yield
    except DBAPIError as wrong:
        if is_server(place):
            raise in_server_words(place, wrong.orig or wrong) from wrong
        raise in_plain(place, str(wrong.orig)) from wrong
    except sqlite3.Error as wrong:
        raise in_plain(place, str(wrong)) from wrong
    except (StatementError, OverflowError, UnicodeEncodeError) as wrong:
        why = str(getattr(wrong, "orig", None) or wrong).partition("\n")[0]
        raise BadDatabase(f"{hidden(place)} holds what no database can ({why})", "Nothing was changed.") from wrong
