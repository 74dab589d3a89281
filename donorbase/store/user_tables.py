"""What is the user's own, which no release of shipped facts touches; what the database knows of itself."""

from datetime import UTC, datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field

from donorbase.store.naming import Row, one_of


def _now() -> datetime:
    return datetime.now(UTC)


class WordRow(Row, table=True):
    """A phrase and what it means. Shipped words and the user's own are told apart by ``origin``."""

    __tablename__ = "word"
    __table_args__ = (
        one_of("origin", ("shipped", "user")),
        UniqueConstraint("origin", "language", "phrase"),
    )
    id: int | None = Field(default=None, primary_key=True)
    origin: str
    phrase: str
    meaning: str
    note: str
    language: str
    basis: str
    added_at: datetime | None = None


class BuildRow(Row, table=True):
    """A build as its owner wrote it."""

    __tablename__ = "build"
    name: str = Field(primary_key=True)
    toml: str
    made_at: datetime = Field(default_factory=_now)
    changed_at: datetime = Field(default_factory=_now)


class PriorRow(Row, table=True):
    """How common the user holds a kind of axle to be, by pattern of variant keys."""

    __tablename__ = "own_prior"
    __table_args__ = (CheckConstraint("weight > 0", name="weight_positive"),)
    pattern: str = Field(primary_key=True)
    weight: float


class ClaimRow(Row, table=True):
    """What a seller said of one attribute of an axle, beside what was measured on it."""

    __tablename__ = "claim"
    id: int | None = Field(default=None, primary_key=True)
    axle: str = Field(index=True)
    attribute: str = Field(index=True)
    claimed: str
    measured: str
    agrees: bool
    noted_at: datetime = Field(default_factory=_now)


class CorrectionRow(Row, table=True):
    """A fact of one item of a listing as the user confirmed it or put it right, with the whole text.

    ``digest`` is of the text, which may be too long for an index.
    """

    __tablename__ = "correction"
    __table_args__ = (
        CheckConstraint("item > 0", name="item_counted_from_one"),
        one_of("known", ("stated", "measured")),
        UniqueConstraint("digest", "item", "attribute"),
    )
    id: int | None = Field(default=None, primary_key=True)
    digest: str
    text: str
    item: int
    attribute: str
    meaning: str
    known: str = Field(default="stated", sa_column_kwargs={"server_default": "stated"})
    noted_at: datetime = Field(default_factory=_now)


class RefusedPhraseRow(Row, table=True):
    """A phrase, case folded, that the user would not have learned."""

    __tablename__ = "refused_phrase"
    phrase: str = Field(primary_key=True)
    refused_at: datetime = Field(default_factory=_now)


class Setting(Row, table=True):
    """One thing the database knows of itself, such as the fingerprint of the facts it was filled with."""

    __tablename__ = "setting"
    name: str = Field(primary_key=True)
    value: str
