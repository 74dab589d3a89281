"""The engine, set so that a database keeps its promises: transactions begin when said, foreign keys hold.

SQLite's driver would begin a transaction by itself, and only before some statements: what was read before a write
would then lie outside of it, and updates of two writers be lost. So the driver is kept from it and every
transaction begins with a BEGIN of ours; one that will write begins IMMEDIATE, since a reading one that wants
to write later is refused at once whatever the timeout.

A server would let two writers read the same row and each write what follows from it, the second over the first.
There one that will write first takes a lock that is one for the whole database, so that writers come one after
the other as they do on a file; who only reads never waits.
"""

import random
import sqlite3
import time
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event

from donorbase.store.server import is_server, server_url

__all__ = ["BUSY_MS", "Connection", "Engine", "engine_of", "reader", "writer"]

BUSY_MS = 30_000
"""How long a writer waits for others before it gives up."""
_WRITER_LOCK = 0x646E7262
"""The number of the lock: the letters dnrb."""
_CONNECT_S = 10


def engine_of(place: str | Path, *, foreign_keys: bool = True, busy_ms: int = BUSY_MS) -> Engine:
    """An engine on a SQLite file, or on PostgreSQL by URL; BadDatabase where the URL names no such server.

    ``foreign_keys=False`` is for migrations: rebuilding a parent table of a file would empty its children.
    """
    if is_server(place):
        limit = {"connect_timeout": _CONNECT_S, "application_name": "donorbase"}
        engine = create_engine(server_url(str(place)), pool_pre_ping=True, connect_args=limit)
        _listen_to_server(engine, busy_ms)
    else:
        engine = create_engine(f"sqlite:///{place}")
        _listen_to_file(engine, foreign_keys, busy_ms)
    return engine


def _listen_to_file(engine: Engine, foreign_keys: bool, busy_ms: int) -> None:
    @event.listens_for(engine, "connect")
    def _connect(dbapi: Any, _record: Any) -> None:
        dbapi.isolation_level = None
        cursor = dbapi.cursor()
        cursor.execute(f"PRAGMA busy_timeout={busy_ms}")
        cursor.execute(f"PRAGMA foreign_keys={'ON' if foreign_keys else 'OFF'}")
        # FULL: what was acknowledged outlives a power cut as well, for about a third of the small commits a second.
        cursor.execute("PRAGMA synchronous=FULL")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        if _meant(connection) == "write":
            _begin_writing(connection, busy_ms)
        else:
            connection.exec_driver_sql("BEGIN DEFERRED")


def _begin_writing(connection: Connection, busy_ms: int) -> None:
    """Begin as a writer once those at work are done.

    SQLite itself would look only ten times a second, while others come and go: of eight some waited for seconds.
    """
    driver, until = connection.connection.driver_connection, time.monotonic() + busy_ms / 1000
    assert driver is not None
    driver.execute("PRAGMA busy_timeout=0")
    try:
        while time.monotonic() < until:
            try:
                driver.execute("BEGIN IMMEDIATE")
                return
            except sqlite3.OperationalError as wrong:
                if "locked" not in str(wrong):
                    break
                time.sleep(random.uniform(0.001, 0.01))
    finally:
        driver.execute(f"PRAGMA busy_timeout={busy_ms}")
    connection.exec_driver_sql("BEGIN IMMEDIATE")


def _listen_to_server(engine: Engine, busy_ms: int) -> None:
    first = {
        "write": f"SET LOCAL lock_timeout = {busy_ms}; SELECT pg_advisory_xact_lock({_WRITER_LOCK})",
        "read": "SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY",
    }

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        if command := first.get(_meant(connection)):
            connection.exec_driver_sql(command)


def _meant(connection: Connection) -> str:
    return str(connection.get_execution_options().get("meant_to", ""))


def writer(engine: Engine) -> Engine:
    """The same engine, whose transactions are those of one who will write."""
    return engine.execution_options(meant_to="write")


def reader(engine: Engine) -> Engine:
    """The same engine, whose transactions see one state of the database and change nothing."""
    return engine.execution_options(meant_to="read")
