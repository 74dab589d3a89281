"""Imports of many listings: what each was of and how far it came."""

from datetime import datetime
from typing import Any

from sqlalchemy import Connection, insert, select, update
from sqlmodel import col

from donorbase.store.listing_tables import GatheringRow
from donorbase.store.schema import table


def begin_gathering(connection: Connection, name: str, form: str, now: datetime) -> int:
    """A new import; its number."""
    row = {"name": name, "form": form, "begun_at": now, "added": 0, "known": 0, "faulty": 0}
    made = connection.execute(insert(GatheringRow).values(**row).returning(col(GatheringRow.id)))
    number: int = made.one().id
    return number


def note_gathering(connection: Connection, gathering_id: int, **values: Any) -> None:
    """Set how far an import came; ``ended_at`` where it is through."""
    connection.execute(update(GatheringRow).where(col(GatheringRow.id) == gathering_id).values(**values))


def read_gatherings(connection: Connection) -> list[dict[str, Any]]:
    """Every import, the newest first."""
    found = connection.execute(select(table("gathering")).order_by(col(GatheringRow.id).desc()))
    return [dict(row._mapping) for row in found]
