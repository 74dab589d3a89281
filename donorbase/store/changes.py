"""What changed of the user's own words, builds, rates and corrections inside a transaction, written down with it."""

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, insert, select, text
from sqlmodel import col

from donorbase.store.change_table import ChangeRow
from donorbase.store.schema import table

Own = Mapping[tuple[str, str], str]
"""The user's rows as JSON, by table and name."""

_NAMED_BY = {
    "word": ("phrase",), "build": ("name",), "own_prior": ("pattern",), "claim": ("axle", "attribute"),
    "correction": ("digest", "item", "attribute"), "refused_phrase": ("phrase",),
}  # fmt: skip
_LEFT_OUT = ("id", "text", "added_at", "made_at", "changed_at", "noted_at", "refused_at")
"""Numbers and times of rows change whenever they are written; the text of a listing is named by its digest."""


def read_own(connection: Connection) -> Own:
    """The user's rows as they are now."""
    found = {}
    for name, keys in _NAMED_BY.items():
        of = table(name)
        query = select(*(column for column in of.columns if column.name not in _LEFT_OUT))
        if "origin" in of.columns:
            query = query.where(of.c.origin == "user")
        for row in connection.execute(query):
            told = dict(row._mapping)
            found[name, " ".join(str(told[key]) for key in keys if told[key] != "")] = json.dumps(
                told, ensure_ascii=False
            )
    return found


def note_changes(connection: Connection, before: Own, who: str, now: datetime) -> None:
    """Write down how the user's rows differ from what they were."""
    after = read_own(connection)
    keys = [key for key in {**before, **after} if before.get(key) != after.get(key)]
    for of_table, name in keys:
        key = of_table, name
        note_change(connection, of_table, name, before.get(key, ""), after.get(key, ""), who=who, now=now)


def note_change(
    connection: Connection, of_table: str, name: str, before: str, after: str, *, who: str, now: datetime
) -> None:
    """Write down one change."""
    login = ""
    if connection.dialect.name == "postgresql":
        login = str(connection.execute(text("SELECT session_user")).scalar())
    row = {"noted_at": now, "who": who, "login": login, "of_table": of_table, "name": name}
    connection.execute(insert(ChangeRow).values(**row, before=before, after=after))


def read_changes(connection: Connection, limit: int) -> list[dict[str, Any]]:
    """The newest changes, newest first."""
    query = select(table("change")).order_by(col(ChangeRow.id).desc()).limit(limit)
    return [dict(row._mapping) for row in connection.execute(query)]
