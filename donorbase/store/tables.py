"""The tables of shipped facts: families, gear sets, what fits and wears, donor lines, works.

They hold shipped rows only and are replaced whole when a release brings other facts. ``place`` keeps the
order of the data files. Variants have a file of their own.
"""

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field

from donorbase.attributes import attributes
from donorbase.reference.families import CONFIDENCES
from donorbase.reference.tables import FITS, INTERCHANGE_KINDS, SIGHT_NOTES
from donorbase.store.naming import Row, in_order, one_of
from donorbase.store.rows import FAMILY_NOTES

_POSITIONS = attributes()["position"].values


class Basis(Row, table=True):
    """Where figures come from, with a confidence; shared by all that have the same."""

    __tablename__ = "basis"
    __table_args__ = (one_of("confidence", CONFIDENCES), UniqueConstraint("confidence", "basis"))
    id: int | None = Field(default=None, primary_key=True)
    confidence: str
    basis: str


class FamilyRow(Row, table=True):
    """One design of axle, with what all its variants share unless they say otherwise."""

    __tablename__ = "family"
    __table_args__ = (one_of("position", _POSITIONS),)
    family: str = Field(primary_key=True)
    place: int
    name: str
    position: str
    donor_ok: bool
    housing: str
    pinion_support: str
    torque_class: str
    tire_guide_in: float | None = None
    refuse_reason: str
    ring_gear_in: float | None = None
    cover_bolts: int | None = None
    cover_shape: str | None = None
    basis_id: int = Field(foreign_key="basis.id", ondelete="RESTRICT", index=True)


class FamilyNote(Row, table=True):
    """A line of a family: how to recognise it, a strength, a weakness, a fault, a carrier split."""

    __tablename__ = "family_note"
    __table_args__ = (one_of("kind", FAMILY_NOTES),)
    family: str = Field(foreign_key="family.family", ondelete="CASCADE", primary_key=True)
    kind: str = Field(primary_key=True)
    place: int = Field(primary_key=True)
    text: str


class GearSetRow(Row, table=True):
    """A generation of ring and pinion. ``position`` is in words: some sets are of either end."""

    __tablename__ = "gear_set"
    gear_set: str = Field(primary_key=True)
    place: int
    position: str
    ring_gear_in: float | None = None
    cut: str
    deepest: float | None = None
    carrier_split: str
    needs: str
    note: str
    basis_id: int = Field(foreign_key="basis.id", ondelete="RESTRICT", index=True)


class GearRatio(Row, table=True):
    """A ratio that is sold for a gear set."""

    __tablename__ = "gear_ratio"
    __table_args__ = (CheckConstraint("ratio > 0", name="ratio_positive"),)
    gear_set: str = Field(foreign_key="gear_set.gear_set", ondelete="CASCADE", primary_key=True)
    place: int = Field(primary_key=True)
    ratio: float


class InterchangeRow(Row, table=True):
    """What fits what, what a conversion takes, what can be bought. Patterns, not keys, name the variants."""

    __tablename__ = "interchange"
    __table_args__ = (
        one_of("kind", INTERCHANGE_KINDS),
        one_of("fits", FITS),
        in_order("cost_low_usd", "cost_high_usd"),
        in_order("labor_low_h", "labor_high_h"),
    )
    id: str = Field(primary_key=True)
    place: int
    kind: str
    part: str
    source: str
    target: str
    fits: str
    condition: str
    parts_needed: str
    cost_low_usd: int | None = None
    cost_high_usd: int | None = None
    labor_low_h: float | None = None
    labor_high_h: float | None = None
    note: str
    work: str
    basis_id: int = Field(foreign_key="basis.id", ondelete="RESTRICT", index=True)


class WearRow(Row, table=True):
    """What to measure on a used part, and the limit, in the words of the source."""

    __tablename__ = "wear_point"
    id: str = Field(primary_key=True)
    place: int
    part: str
    applies_to: str
    what_to_measure: str
    new_value: str
    limit: str
    unit: str
    tool: str
    how: str
    meaning_if_out: str
    basis_id: int = Field(foreign_key="basis.id", ondelete="RESTRICT", index=True)


class LineRow(Row, table=True):
    """One maker's run of trucks."""

    __tablename__ = "donor_line"
    line: str = Field(primary_key=True)
    place: int
    basis: str


class LineSight(Row, table=True):
    """What a person sees on a donor line, under a heading."""

    __tablename__ = "donor_sight"
    line: str = Field(foreign_key="donor_line.line", ondelete="CASCADE", primary_key=True)
    place: int = Field(primary_key=True)
    heading: str
    text: str


class SightNoteRow(Row, table=True):
    """What to look at first to tell donor lines apart, and the traps."""

    __tablename__ = "sight_note"
    __table_args__ = (one_of("kind", SIGHT_NOTES),)
    place: int = Field(primary_key=True)
    kind: str
    text: str
    basis: str


class WorkRow(Row, table=True):
    """A word of work in a build file, with its range of cost and hours."""

    __tablename__ = "work"
    __table_args__ = (
        in_order("cost_low_usd", "cost_high_usd"),
        in_order("labor_low_h", "labor_high_h"),
    )
    word: str = Field(primary_key=True)
    place: int
    title: str
    cost_low_usd: int | None = None
    cost_high_usd: int | None = None
    labor_low_h: float | None = None
    labor_high_h: float | None = None
    basis_id: int = Field(foreign_key="basis.id", ondelete="RESTRICT", index=True)
