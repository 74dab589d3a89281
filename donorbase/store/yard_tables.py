"""Junkyards and the vehicles that stand in their rows."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field

from donorbase.store.naming import Row, in_order


class YardRow(Row, table=True):
    """A yard, by the name the user gives it."""

    __tablename__ = "yard"
    __table_args__ = (CheckConstraint("distance_mi >= 0", name="distance_not_negative"),)
    name: str = Field(primary_key=True)
    zip: str | None = None
    distance_mi: float | None = None
    listed_on: date
    """The day of its newest list."""
    made_at: datetime


class YardVehicleRow(Row, table=True):
    """A vehicle of a yard's list, as listed: its row, the words of its line, and what columns said of it.

    It is gone from the day of the first full list that lacks it. ``digest`` is of the words that tell it from others.
    """

    __tablename__ = "yard_vehicle"
    __table_args__ = (UniqueConstraint("yard", "digest"), in_order("first_seen_on", "last_seen_on"))
    id: int | None = Field(default=None, primary_key=True)
    yard: str = Field(foreign_key="yard.name", ondelete="RESTRICT", index=True)
    digest: str
    row: str
    space: str = ""
    stock: str = ""
    text: str
    year: int | None = None
    donor_line: str | None = None
    load_class: str | None = None
    rear_wheels: str | None = None
    set_on: date | None = None
    first_seen_on: date
    last_seen_on: date
    gone_on: date | None = None
