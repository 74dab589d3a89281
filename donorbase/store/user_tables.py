"""What is the user's own, which no release of shipped facts touches; what the database knows of itself."""

from datetime import UTC, datetime

from sqlalchemy import UniqueConstraint
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


class Setting(Row, table=True):
    """One thing the database knows of itself, such as the fingerprint of the facts it was filled with."""

    __tablename__ = "setting"
    name: str = Field(primary_key=True)
    value: str
