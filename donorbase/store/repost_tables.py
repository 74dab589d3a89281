"""By what a listing's text is found again when its axle is advertised anew.

All of it follows from the texts of the sightings; nothing here is the user's.
"""

from sqlalchemy import BigInteger
from sqlmodel import Field

from donorbase.store.naming import Row


class RepostCountRow(Row, table=True):
    """In how many sightings the pairs of words of one slot stand."""

    __tablename__ = "repost_count"
    slot: int = Field(primary_key=True)
    adverts: int


class RepostAnchorRow(Row, table=True):
    """A pair of words by which a sighting is found."""

    __tablename__ = "repost_anchor"
    anchor: int = Field(primary_key=True, sa_type=BigInteger)
    sighting_id: int = Field(foreign_key="sighting.id", ondelete="CASCADE", primary_key=True, index=True)


class RepostSketchRow(Row, table=True):
    """The words of a sighting and its telling pairs, as 8-byte numbers, the least byte first."""

    __tablename__ = "repost_sketch"
    sighting_id: int = Field(foreign_key="sighting.id", ondelete="CASCADE", primary_key=True)
    words: bytes
    telling: bytes
