"""A database on a server as a file, and back: the file is one of ours, whatever the server's own tools are."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection

from donorbase.store.backup import drop_old, made_whole, name_before
from donorbase.store.engine import engine_of, reader, writer
from donorbase.store.migrate import check_references, revision_of, upgrade
from donorbase.store.new_file import make_file
from donorbase.store.transfer import move_all


def copy_from_server(connection: Connection, target: Path) -> None:
    """All that a server holds in a file at ``target``, which must not exist yet; whole, or nothing at all."""
    with made_whole(target) as part:
        make_file(part)
        with filling(str(part)) as file:
            upgrade(file, revision_of(connection) or "head")
            move_all(connection, file)


def copy_server_before_migration(connection: Connection, folder: Path, revision: str, now: datetime) -> None:
    """All that a server holds, in its present schema, in a file; the oldest beyond the last ten are removed."""
    copy_from_server(connection, name_before(folder, f"migration-{revision}", now))
    drop_old(folder, "migration")


def fill_server(connection: Connection, source: Path) -> None:
    """Put what a file of the same schema holds in place of all that a server holds, in the caller's transaction."""
    engine = engine_of(source)
    try:
        with reader(engine).connect() as file:
            move_all(file, connection)
    finally:
        engine.dispose()


@contextmanager
def filling(place: str) -> Iterator[Connection]:
    """A transaction that fills a database, in whatever order; what refers to nothing at its end is refused."""
    engine = writer(engine_of(place, foreign_keys=False))
    try:
        with engine.begin() as connection:
            yield connection
            check_references(connection)
    finally:
        engine.dispose()
