"""The shelf: pulled parts, what happened to each, what holds it, what it measured."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint, text
from sqlmodel import Field

from donorbase.reference.shelf_words import EVENTS, HOLDS, JUDGED, SIDES
from donorbase.store.naming import Row, one_of

_OPEN = text("ended_by IS NULL")


class PartRow(Row, table=True):
    """Something pulled and owned, as it stands; how it came to that stands in the events.

    ``axle`` is what it is off, a variant or a family by its key, which a release may rename: no foreign key. NULL
    is not known. Money is in whole cents, so that shares add up. ``out_of`` is the part that it was split off.
    """

    __tablename__ = "part"
    __table_args__ = (
        UniqueConstraint("tag"),
        one_of("side", SIDES),
        CheckConstraint("cost_cents >= 0", name="cost_not_negative"),
        CheckConstraint("miles >= 0", name="miles_not_negative"),
    )
    id: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    tag: str
    kind: str = Field(index=True)
    side: str | None = None
    axle: str | None = Field(default=None, index=True)
    candidate_id: int | None = Field(default=None, foreign_key="candidate.id", ondelete="RESTRICT")
    out_of: int | None = Field(default=None, foreign_key="part.id", ondelete="RESTRICT", index=True)
    year: int | None = None
    miles: int | None = None
    place: str = ""
    cost_cents: int | None = None
    condition: str = ""
    made_at: datetime


class PartEventRow(Row, table=True):
    """Something that happened to a part, on a day, noted at a time; never changed or deleted.

    ``detail`` is JSON: the fields it changed, ``before`` and ``after``. ``undoes`` is the event it took back.
    """

    __tablename__ = "part_event"
    __table_args__ = (one_of("kind", EVENTS),)
    id: int | None = Field(default=None, primary_key=True)
    part_id: int = Field(foreign_key="part.id", ondelete="RESTRICT", index=True)
    kind: str
    happened_on: date
    noted_at: datetime
    who: str = ""
    note: str = ""
    detail: str = ""
    undoes: int | None = Field(default=None, foreign_key="part_event.id", ondelete="RESTRICT")


class PartHoldRow(Row, table=True):
    """What holds a part: a promise to a build or a person, or that it is sold, scrapped, in a build.

    At most one holds a part at a time, which the unique index over those that are not ended makes sure of, whoever
    writes. ``into_part`` is what it was assembled into. ``begun_by`` and ``ended_by`` are the events.
    """

    __tablename__ = "part_hold"
    __table_args__ = (
        one_of("kind", HOLDS),
        CheckConstraint("build IS NULL OR person IS NULL", name="one_holder"),
        CheckConstraint("price_cents >= 0", name="price_not_negative"),
        Index("ux_part_hold_open", "part_id", unique=True, sqlite_where=_OPEN, postgresql_where=_OPEN),
    )
    id: int | None = Field(default=None, primary_key=True)
    part_id: int = Field(foreign_key="part.id", ondelete="RESTRICT", index=True)
    kind: str
    build: str | None = None
    person: str | None = None
    into_part: int | None = Field(default=None, foreign_key="part.id", ondelete="RESTRICT", index=True)
    price_cents: int | None = None
    begun_by: int = Field(foreign_key="part_event.id", ondelete="RESTRICT", index=True)
    ended_by: int | None = Field(default=None, foreign_key="part_event.id", ondelete="RESTRICT", index=True)


class PartReadingRow(Row, table=True):
    """One thing measured on a part, with what it was measured with and how it was judged then.

    ``cast_limit`` is the limit that is cast on the part itself, where it was read off.
    """

    __tablename__ = "part_reading"
    __table_args__ = (one_of("judged", JUDGED),)
    id: int | None = Field(default=None, primary_key=True)
    part_id: int = Field(foreign_key="part.id", ondelete="RESTRICT", index=True)
    event_id: int = Field(foreign_key="part_event.id", ondelete="RESTRICT", index=True)
    measure: str
    amount: float
    unit: str
    instrument: str = ""
    cast_limit: float | None = None
    judged: str
    because: str = ""
