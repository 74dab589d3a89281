"""What the user put right in readings, kept with the text, and the phrases he refused to have learned."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from hashlib import sha256
from typing import Any

from sqlalchemy import Connection, delete, insert, select
from sqlmodel import col

from donorbase.store import settings
from donorbase.store.user_tables import CorrectionRow, RefusedPhraseRow


def read_corrections(connection: Connection) -> list[dict[str, Any]]:
    """Every correction, oldest first; ``meaning`` is text such as ``donor_line=line-A``, times are ISO text."""
    named = (CorrectionRow.text, CorrectionRow.item, CorrectionRow.attribute, CorrectionRow.meaning)
    columns = (*map(col, named), col(CorrectionRow.known), col(CorrectionRow.noted_at))
    found = connection.execute(select(*columns).order_by(col(CorrectionRow.id)))
    return [{**row._mapping, "noted_at": row.noted_at.isoformat()} for row in found]


def digest_of(text: str) -> str:
    """The SHA-256 of a listing's text, by which texts are found: hexadecimal."""
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def keep_corrections(
    connection: Connection,
    text: str,
    item: int,
    meanings: Mapping[str, str],
    now: datetime,
    known: str = "stated",
) -> None:
    """Keep meanings, by attribute, of one item of a listing; each replaces what was kept of that attribute."""
    drop_corrections(connection, text, item, meanings)
    same = {"digest": digest_of(text), "text": text, "item": item, "known": known, "noted_at": now}
    connection.execute(
        insert(CorrectionRow), [{**same, "attribute": name, "meaning": told} for name, told in meanings.items()]
    )


def drop_corrections(connection: Connection, text: str, item: int, names: Iterable[str]) -> None:
    """Forget what was kept of these attributes of one item."""
    of_item = (col(CorrectionRow.digest) == digest_of(text), col(CorrectionRow.item) == item)
    connection.execute(delete(CorrectionRow).where(*of_item, col(CorrectionRow.attribute).in_(list(names))))
    settings.touch(connection)


def read_refusals(connection: Connection) -> list[dict[str, Any]]:
    """The refused phrases, in small letters."""
    found = connection.execute(select(col(RefusedPhraseRow.phrase)).order_by(col(RefusedPhraseRow.phrase)))
    return [{"phrase": row.phrase} for row in found]


def refuse_phrase(connection: Connection, phrase: str, now: datetime) -> None:
    """Remember that a phrase is not to be learned."""
    lift_refusal(connection, phrase)
    connection.execute(insert(RefusedPhraseRow).values(phrase=phrase, refused_at=now))


def lift_refusal(connection: Connection, phrase: str) -> bool:
    """Forget that a phrase was refused; whether it was."""
    gone = connection.execute(delete(RefusedPhraseRow).where(col(RefusedPhraseRow.phrase) == phrase)).rowcount
    settings.touch(connection)
    return bool(gone)
