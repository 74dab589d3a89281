"""The engine, set so that SQLite keeps its promises: transactions begin when said, foreign keys hold.

The driver would begin a transaction by itself, and only before some statements: what was read before a write
would then lie outside of it, and updates of two writers be lost. So the driver is kept from it and every
transaction begins with a BEGIN of ours; one that will write begins IMMEDIATE, since a reading one that wants
to write later is refused at once whatever the timeout.
"""

from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event

__all__ = ["BUSY_MS", "Connection", "Engine", "engine_of", "writer"]

BUSY_MS = 10_000
"""How long a writer waits for another before it gives up."""


def engine_of(place: str | Path, *, foreign_keys: bool = True, busy_ms: int = BUSY_MS) -> Engine:
    """An engine on a SQLite file, or on another database by URL.

    ``foreign_keys=False`` is for migrations: rebuilding a parent table would empty its children.
    """
    url = place if isinstance(place, str) and "://" in place else f"sqlite:///{place}"
    engine = create_engine(url)
    if engine.dialect.name == "sqlite":
        _listen(engine, foreign_keys, busy_ms)
    return engine


def _listen(engine: Engine, foreign_keys: bool, busy_ms: int) -> None:
    @event.listens_for(engine, "connect")
    def _connect(dbapi: Any, _record: Any) -> None:
        dbapi.isolation_level = None
        cursor = dbapi.cursor()
        cursor.execute(f"PRAGMA busy_timeout={busy_ms}")
        cursor.execute(f"PRAGMA foreign_keys={'ON' if foreign_keys else 'OFF'}")
        cursor.execute("PRAGMA synchronous=NORMAL")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        mode = connection.get_execution_options().get("sqlite_begin", "DEFERRED")
        connection.exec_driver_sql(f"BEGIN {mode}")


def writer(engine: Engine) -> Engine:
    """The same engine, whose transactions are those of one who will write."""
    return engine.execution_options(sqlite_begin="IMMEDIATE")
