"""Shipped facts and words into the database, all or nothing; what is the user's own is never touched."""

from typing import Any

from sqlalchemy import Connection, delete, insert, select
from sqlmodel import col

from donorbase.reference.catalogue import Catalogue
from donorbase.reference.words import Word
from donorbase.store import settings
from donorbase.store.rows import SHIPPED_TABLES, Rows, rows_of
from donorbase.store.schema import table
from donorbase.store.user_tables import WordRow
from donorbase.store.words import word_row


def seed(connection: Connection, catalogue: Catalogue, words: tuple[Word, ...], fingerprint: str) -> None:
    """Replace every shipped row inside the caller's transaction, and remember what it was filled with."""
    for name in reversed(SHIPPED_TABLES):
        connection.execute(delete(table(name)))
    for name, rows in rows_of(catalogue).items():
        if rows:
            connection.execute(insert(table(name)), rows)
    connection.execute(delete(WordRow).where(col(WordRow.origin) == "shipped"))
    shipped = [word_row(word) for word in words]
    if shipped:
        connection.execute(insert(WordRow), shipped)
    settings.set_setting(connection, settings.FACTS, fingerprint)
    settings.touch(connection)


def read_shipped(connection: Connection) -> Rows:
    """Every shipped row as it lies in the database, by table."""
    found: dict[str, list[dict[str, Any]]] = {}
    for name in SHIPPED_TABLES:
        by_key = select(table(name)).order_by(*table(name).primary_key.columns)
        found[name] = [dict(row._mapping) for row in connection.execute(by_key)]
    return found
