"""Listings as they were seen, and what was read in them: a column for each attribute, as the variants have.

A listing is the one thing that somebody offers; a sighting is one text of it at one address. A repost is another
sighting of the same listing. ``merged_into`` tells of a listing that turned out to be another one: its row stays,
so that the merging can be taken back. Nothing here is ever deleted.
"""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field

from donorbase.attributes import PAIRS, Kind, of_scope
from donorbase.facts import Known
from donorbase.store.columns import columns_of
from donorbase.store.naming import Row, in_order, one_of

# One of the columns is named float, as the trade names it; below it the type needs another name.
Number = float


class GatheringRow(Row, table=True):
    """One import of many listings: what it was of, and how far it came. ``ended_at`` is NULL until it was through."""

    __tablename__ = "gathering"
    id: int | None = Field(default=None, primary_key=True)
    name: str
    form: str
    begun_at: datetime
    ended_at: datetime | None = None
    added: int = 0
    known: int = 0
    faulty: int = 0


class ListingRow(Row, table=True):
    """One thing on offer, however often it was posted. Dates, price and place are those of its sightings."""

    __tablename__ = "listing"
    __table_args__ = (in_order("first_seen_on", "last_seen_on"),)
    id: int | None = Field(default=None, primary_key=True)
    first_seen_on: date
    last_seen_on: date = Field(index=True)
    price_usd: float | None = Field(default=None, index=True)
    distance_mi: float | None = None
    zip: str | None = None
    merged_into: int | None = Field(default=None, foreign_key="listing.id", ondelete="RESTRICT", index=True)
    made_at: datetime


class SightingRow(Row, table=True):
    """One text as it was seen at one address (``url``, empty where none was given).

    ``digest`` is the SHA-256 of the text, as that of a correction.
    """

    __tablename__ = "sighting"
    __table_args__ = (UniqueConstraint("digest", "url"), in_order("first_seen_on", "last_seen_on"))
    id: int | None = Field(default=None, primary_key=True)
    listing_id: int = Field(foreign_key="listing.id", ondelete="RESTRICT", index=True)
    digest: str
    url: str = ""
    source: str = ""
    title: str = ""
    zip: str | None = None
    distance_mi: float | None = None
    first_seen_on: date
    last_seen_on: date
    gathering_id: int | None = Field(default=None, foreign_key="gathering.id", ondelete="RESTRICT")
    added_at: datetime
    text: str


class AskedPriceRow(Row, table=True):
    """A price asked in a sighting from a day on; a row only where it is another than before."""

    __tablename__ = "asked_price"
    __table_args__ = (CheckConstraint("price_usd >= 0", name="price_not_negative"),)
    sighting_id: int = Field(foreign_key="sighting.id", ondelete="RESTRICT", primary_key=True)
    seen_on: date = Field(primary_key=True)
    price_usd: float


class ReadingRow(Row, table=True):
    """What a sighting says of the whole offer, and what it was read with: another ``read_with`` reads it anew."""

    __tablename__ = "reading"
    __table_args__ = tuple(one_of(a.name, a.values) for a in of_scope("offer") if a.kind is Kind.CHOICE and not a.many)
    sighting_id: int = Field(foreign_key="sighting.id", ondelete="RESTRICT", primary_key=True)
    read_with: str = Field(index=True)
    items: int

    offer: str | None = None
    price_usd: float | None = None
    mileage_mi: int | None = None
    vin: str | None = None
    distance_mi: int | None = None
    zip: str | None = None
    contact: bool | None = None


_SINGLE = [a for scope in ("item", "axle") for a in of_scope(scope) if not a.many]
_WORDS = [one_of(a.name, a.values) for a in _SINGLE if a.kind is Kind.CHOICE]
_PAIRS = [in_order(*columns_of(a)) for a in _SINGLE if a.kind in PAIRS]


class ListedItemRow(Row, table=True):
    """One thing of a sighting, counted from 1.

    NULL is not said, contradicted, or one of several that stand in ``listed_value``.
    """

    __tablename__ = "listed_item"
    __table_args__ = (*_WORDS, *_PAIRS, CheckConstraint("item > 0", name="item_counted_from_one"))
    sighting_id: int = Field(foreign_key="reading.sighting_id", ondelete="CASCADE", primary_key=True)
    item: int = Field(primary_key=True)

    kind: str | None = None
    part: str | None = None
    fits_years_first: int | None = None
    fits_years_last: int | None = None
    rebuilt: bool | None = None
    quantity: int | None = None

    family: str | None = None
    variant: str | None = None
    position: str | None = Field(default=None, index=True)
    years_first: int | None = Field(default=None, index=True)
    years_last: int | None = None
    donor_line: str | None = None
    rear_wheels: str | None = None
    drop: str | None = None
    pinion: str | None = None
    suspension: str | None = None
    locating: str | None = None

    ring_gear_in: Number | None = None
    gear_set: str | None = None
    pinion_splines: int | None = None

    inner_splines: int | None = None
    outer_splines: int | None = Field(default=None, index=True)
    splines: int | None = None
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


class ListedValueRow(Row, table=True):
    """A fact that is one of several, contradicted, or not plainly stated; of ``item`` 0: the whole offer.

    Words stand in ``text``, numbers in ``number`` (flags as 0 and 1, of a pair the first) and ``number_high``. A
    single fact that is hedged or inferred stands in its column too, a contradicted one only here.
    """

    __tablename__ = "listed_value"
    __table_args__ = (
        one_of("known", [str(known) for known in Known]),
        CheckConstraint("text IS NULL OR number IS NULL", name="one_value"),
    )
    sighting_id: int = Field(foreign_key="reading.sighting_id", ondelete="CASCADE", primary_key=True)
    item: int = Field(primary_key=True)
    attribute: str = Field(primary_key=True)
    place: int = Field(primary_key=True)
    known: str
    text: str | None = None
    number: Number | None = None
    number_high: Number | None = None
