"""The names of constraints, and the metadata of all tables.

SQLite hardly knows ALTER: a constraint that a later migration must drop needs a name from the first one on.
"""

from collections.abc import Iterable
from typing import ClassVar

from sqlalchemy import CheckConstraint, MetaData
from sqlmodel import SQLModel

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class Row(SQLModel):
    """What all tables share. Table models do not validate: rows are checked before they come here."""

    metadata: ClassVar[MetaData] = MetaData(naming_convention=NAMES)


def one_of(column: str, words: Iterable[str]) -> CheckConstraint:
    """A CHECK that a column holds one of the words (or nothing, where it may be NULL)."""
    listed = ", ".join(f"'{word}'" for word in words)
    return CheckConstraint(f'"{column}" IN ({listed})', name=f"{column}_word")


def in_order(low: str, high: str) -> CheckConstraint:
    """A CHECK that a pair is not reversed; an end that is not known passes."""
    return CheckConstraint(f"{low} <= {high}", name=f"{low}_order")
