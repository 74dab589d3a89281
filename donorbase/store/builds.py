"""Builds in the database, as their owners wrote them."""

from datetime import datetime
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update
from sqlmodel import col

from donorbase.store import settings
from donorbase.store.user_tables import BuildRow


def read_builds(connection: Connection) -> list[dict[str, Any]]:
    """The rows of all builds by name, with their times as ISO text."""
    columns = (BuildRow.name, BuildRow.toml, BuildRow.made_at, BuildRow.changed_at)
    found = connection.execute(select(*map(col, columns)).order_by(col(BuildRow.name)))
    return [
        {
            "name": r.name,
            "toml": r.toml,
            "made_at": r.made_at.isoformat(),
            "changed_at": r.changed_at.isoformat(),
        }
        for r in found
    ]


def keep_build(connection: Connection, name: str, toml: str, now: datetime) -> bool:
    """Keep a build under its name, in place of what stood there; whether it is new."""
    changed = connection.execute(update(BuildRow).where(col(BuildRow.name) == name).values(toml=toml, changed_at=now))
    if not changed.rowcount:
        connection.execute(insert(BuildRow).values(name=name, toml=toml, made_at=now, changed_at=now))
    settings.touch(connection)
    return not changed.rowcount


def forget_build(connection: Connection, name: str) -> bool:
    """Forget a build; whether there was one."""
    gone = connection.execute(delete(BuildRow).where(col(BuildRow.name) == name)).rowcount
    if gone:
        settings.touch(connection)
    return bool(gone)
