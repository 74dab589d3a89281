"""The variants: a column for each attribute an axle has one of, a row for each of several values."""

from sqlalchemy import CheckConstraint
from sqlmodel import Field

from donorbase.attributes import Kind, attributes, of_scope
from donorbase.store.columns import columns_of
from donorbase.store.naming import Row, in_order, one_of

# One of the columns is named float, as the trade names it; below it the type needs another name.
Number = float

_WORDS = [one_of(a.name, a.values) for a in of_scope("axle") if a.kind is Kind.CHOICE and not a.many]
_PAIRS = [in_order(*columns_of(a)) for a in of_scope("axle") if a.kind in (Kind.YEARS, Kind.RANGE)]


class VariantRow(Row, table=True):
    """One generation or option of a family. NULL is not known, or lies in ``variant_value``."""

    __tablename__ = "variant"
    __table_args__ = (*_WORDS, *_PAIRS)
    variant: str = Field(primary_key=True)
    family: str = Field(foreign_key="family.family", ondelete="CASCADE", index=True)
    place: int
    title: str
    brake_note: str
    hub_note: str

    position: str | None = Field(default=None, index=True)
    years_first: int | None = Field(default=None, index=True)
    years_last: int | None = None
    donor_line: str | None = Field(default=None, index=True)
    rear_wheels: str | None = None
    drop: str | None = None
    pinion: str | None = None
    suspension: str | None = None
    locating: str | None = None

    ring_gear_in: Number | None = Field(default=None, index=True)
    gear_set: str | None = Field(default=None, foreign_key="gear_set.gear_set", ondelete="RESTRICT", index=True)
    pinion_splines: int | None = None

    inner_splines: int | None = None
    outer_splines: int | None = Field(default=None, index=True)
    splines: int | None = Field(default=None, index=True)
    shaft_dia_in: Number | None = None
    joint: str | None = None
    disconnect: str | None = None

    knuckle: str | None = None
    hub_bearing: str | None = None
    lugs: int | None = None
    bolt_circle_mm: Number | None = Field(default=None, index=True)
    stud: str | None = None
    hub_bore_mm: Number | None = None
    float: str | None = None

    caliper_pistons: int | None = None
    caliper_piston_mm: Number | None = None
    rotor_dia_mm: Number | None = None
    rotor_new_mm: Number | None = None
    rotor_min_mm: Number | None = None
    drum_dia_in: Number | None = None
    drum_max_in: Number | None = None
    parking_brake: str | None = None
    min_wheel_in: Number | None = None

    width_in: Number | None = None
    width_range_low_in: Number | None = None
    width_range_high_in: Number | None = None
    tube_in: Number | None = None
    tube_wall_in: Number | None = None
    perch_pad_in: Number | None = None

    gawr_low_lb: Number | None = None
    gawr_high_lb: Number | None = None
    weight_low_lb: Number | None = None
    weight_high_lb: Number | None = None
    price_range_low_usd: int | None = None
    price_range_high_usd: int | None = None

    cover_bolts: int | None = None
    cover_shape: str | None = None


_VALUE_WORDS = [
    CheckConstraint(
        f"attribute <> '{a.name}' OR text IN ({', '.join(repr(word) for word in a.values)})",
        name=f"{a.name}_word",
    )
    for a in attributes().values()
    if a.scope == "axle" and a.kind is Kind.CHOICE
]


class VariantValue(Row, table=True):
    """One of several values that were fitted: words in ``text``, numbers in ``number``, flags as 0 and 1."""

    __tablename__ = "variant_value"
    __table_args__ = (*_VALUE_WORDS, CheckConstraint("(text IS NULL) <> (number IS NULL)", name="one_value"))
    variant: str = Field(foreign_key="variant.variant", ondelete="CASCADE", primary_key=True)
    attribute: str = Field(primary_key=True)
    place: int = Field(primary_key=True)
    text: str | None = None
    number: Number | None = None


class VariantBasis(Row, table=True):
    """Where the figure of one attribute comes from; a row stands for every figure that is known."""

    __tablename__ = "variant_basis"
    variant: str = Field(foreign_key="variant.variant", ondelete="CASCADE", primary_key=True)
    attribute: str = Field(primary_key=True)
    basis_id: int = Field(foreign_key="basis.id", ondelete="RESTRICT", index=True)


class VariantNote(Row, table=True):
    """A remark on a variant."""

    __tablename__ = "variant_note"
    variant: str = Field(foreign_key="variant.variant", ondelete="CASCADE", primary_key=True)
    place: int = Field(primary_key=True)
    text: str
