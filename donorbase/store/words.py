"""Words of the trade in the database: shipped ones, and those the user taught."""

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, delete, insert, select
from sqlmodel import col

from donorbase.reference.words import Word
from donorbase.store import settings
from donorbase.store.user_tables import WordRow
from donorbase.store.word_rows import meaning_text, word_of

_COLUMNS = ("origin", "phrase", "meaning", "note", "language", "basis")


def word_row(word: Word, added_at: datetime | None = None) -> dict[str, Any]:
    """The row of a word."""
    return {
        "origin": word.origin,
        "phrase": word.phrase,
        "meaning": meaning_text(word.meanings),
        "note": word.note,
        "language": word.language,
        "basis": word.basis,
        "added_at": added_at,
    }


def read_word_rows(connection: Connection) -> list[dict[str, Any]]:
    """The rows of all words, shipped before the user's, each in the order in which they came."""
    columns = [col(getattr(WordRow, name)) for name in _COLUMNS]
    query = select(*columns).order_by(col(WordRow.origin), col(WordRow.id))
    return [dict(row._mapping) for row in connection.execute(query)]


def read_words(connection: Connection, origin: str) -> tuple[Word, ...]:
    """The words of one origin, ``shipped`` or ``user``."""
    return tuple(word_of(row) for row in read_word_rows(connection) if row["origin"] == origin)


def add_words(connection: Connection, words: Iterable[Word], added_at: datetime) -> None:
    """Keep words of the user's, each in place of an earlier one of the same phrase."""
    rows = [word_row(word, added_at) for word in words]
    for row in rows:
        _forget(connection, row["phrase"])
        connection.execute(insert(WordRow).values(**row))
    if rows:
        settings.touch(connection)


def remove_word(connection: Connection, phrase: str) -> int:
    """Forget a phrase of the user's; how many were forgotten. Shipped words stay."""
    gone = _forget(connection, phrase)
    if gone:
        settings.touch(connection)
    return gone


def _forget(connection: Connection, phrase: str) -> int:
    own = select(col(WordRow.id), col(WordRow.phrase)).where(col(WordRow.origin) == "user")
    # casefold is done here: SQLite folds ASCII only.
    ids = [row.id for row in connection.execute(own) if row.phrase.casefold() == phrase.casefold()]
    connection.execute(delete(WordRow).where(col(WordRow.id).in_(ids)))
    return len(ids)
