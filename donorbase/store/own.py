"""What the user has found out himself: how common axles are around him, and what sellers said against what was so."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, delete, insert, select
from sqlmodel import col

from donorbase.store import settings
from donorbase.store.user_tables import ClaimRow, PriorRow

OWN_RATES = "own_rates"
"""The setting that says ``off`` where the user's own rates are not to count."""


def read_priors(connection: Connection) -> list[dict[str, Any]]:
    """The user's weights, by pattern."""
    found = connection.execute(select(col(PriorRow.pattern), col(PriorRow.weight)).order_by(col(PriorRow.pattern)))
    return [{"pattern": row.pattern, "weight": row.weight} for row in found]


def set_prior(connection: Connection, pattern: str, weight: float | None) -> bool:
    """Set a weight, or forget it (None); whether there was one before."""
    gone = connection.execute(delete(PriorRow).where(col(PriorRow.pattern) == pattern)).rowcount
    if weight is not None:
        connection.execute(insert(PriorRow).values(pattern=pattern, weight=weight))
    settings.touch(connection)
    return bool(gone)


def read_claims(connection: Connection) -> list[dict[str, Any]]:
    """Every claim beside what was measured, oldest first; times as ISO text."""
    columns = (ClaimRow.axle, ClaimRow.attribute, ClaimRow.claimed, ClaimRow.measured, ClaimRow.agrees)
    found = connection.execute(select(*map(col, columns), col(ClaimRow.noted_at)).order_by(col(ClaimRow.id)))
    return [{**row._mapping, "noted_at": row.noted_at.isoformat()} for row in found]


def keep_claims(connection: Connection, axle: str, rows: Sequence[dict[str, Any]], now: datetime) -> None:
    """Keep the claims of one axle, in place of what was kept of it before."""
    connection.execute(delete(ClaimRow).where(col(ClaimRow.axle) == axle))
    connection.execute(insert(ClaimRow), [{**row, "axle": axle, "noted_at": now} for row in rows])
    settings.touch(connection)


def forget_claims(connection: Connection, axle: str) -> bool:
    """Forget the claims of one axle; whether there were any."""
    gone = connection.execute(delete(ClaimRow).where(col(ClaimRow.axle) == axle)).rowcount
    settings.touch(connection)
    return bool(gone)
