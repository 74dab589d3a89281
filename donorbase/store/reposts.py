"""The shelf of earlier texts in the database: counted, found by their anchors, compared by their sketches."""

import sys
from array import array
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, bindparam, insert, select
from sqlalchemy.dialects import postgresql, sqlite

from donorbase.store.listing_tables import SightingRow
from donorbase.store.looked_up import looked_up
from donorbase.store.repost_tables import RepostAnchorRow, RepostCountRow, RepostSketchRow
from donorbase.store.schema import table

_COUNT, _ANCHOR, _SKETCH, _SIGHTING = (
    table(row.__tablename__) for row in (RepostCountRow, RepostAnchorRow, RepostSketchRow, SightingRow)
)
# Built once: building a statement costs more than what it finds.
_OF_SLOTS = looked_up("SELECT slot, adverts FROM repost_count WHERE slot")
_OF_ANCHORS = looked_up(
    "SELECT count(*), sighting_id FROM repost_anchor WHERE anchor",
    "GROUP BY sighting_id HAVING count(*) >= :least ORDER BY count(*) DESC, sighting_id DESC LIMIT :most",
)
_OF_KEYS = looked_up("SELECT sighting_id, words, telling FROM repost_sketch WHERE sighting_id")
_ADD_ANCHORS, _ADD_SKETCHES = insert(_ANCHOR), insert(_SKETCH)
_TEXT = select(_SIGHTING.c.listing_id, _SIGHTING.c.text).where(_SIGHTING.c.id == bindparam("id"))
_ANY = select(_SKETCH.c.sighting_id).limit(1)
_UNSKETCHED = (
    select(_SIGHTING.c.id, _SIGHTING.c.text)
    .join(_SKETCH, _SKETCH.c.sighting_id == _SIGHTING.c.id, isouter=True)
    .where(_SKETCH.c.sighting_id.is_(None))
    .order_by(_SIGHTING.c.id)
)


def counts_of(connection: Connection, slots: Sequence[int]) -> dict[int, int]:
    """In how many sightings the pairs of each slot stand; one that is not there in none."""
    return dict(_OF_SLOTS.rows(connection, slots))


def sharing(connection: Connection, anchors: Sequence[int], least: int, most: int) -> list[tuple[int, int]]:
    """How many of the anchors a sighting shares, and its number: at most so many, those with the most first."""
    return [(times, key) for times, key in _OF_ANCHORS.rows(connection, anchors, least=least, most=most)]


def sketches_of(connection: Connection, ids: Sequence[int]) -> dict[int, tuple[frozenset[int], frozenset[int]]]:
    """The words and the telling pairs of sightings."""
    return {key: (_numbers(words), _numbers(telling)) for key, words, telling in _OF_KEYS.rows(connection, ids)}


def keep_anchors(connection: Connection, rows: Iterable[tuple[int, int]]) -> None:
    """Keep by which pairs sightings are found: anchor and sighting."""
    # In their order, in which the index has them.
    if listed := [{"anchor": anchor, "sighting_id": one} for anchor, one in sorted(rows)]:
        connection.execute(_ADD_ANCHORS, listed)


def keep_sketches(connection: Connection, rows: Iterable[tuple[int, Iterable[int], Iterable[int]]]) -> None:
    """Keep the words and the telling pairs of sightings."""
    listed = [{"sighting_id": one, "words": _packed(words), "telling": _packed(few)} for one, words, few in rows]
    if listed:
        connection.execute(_ADD_SKETCHES, listed)


def count_slots(connection: Connection, more: Mapping[int, int]) -> None:
    """Count so many sightings more in each of the slots."""
    # In the order of the slots, so that two writers cannot wait for each other.
    if rows := [{"slot": slot, "adverts": number} for slot, number in sorted(more.items())]:
        connection.execute(_MORE[connection.dialect.name], rows)


def _one_more(dialect: Any) -> Any:
    adding = dialect.insert(_COUNT).values(slot=bindparam("slot"), adverts=bindparam("adverts"))
    counted = {"adverts": _COUNT.c.adverts + adding.excluded.adverts}
    return adding.on_conflict_do_update(index_elements=["slot"], set_=counted)


_MORE = {"sqlite": _one_more(sqlite), "postgresql": _one_more(postgresql)}


def is_empty(connection: Connection) -> bool:
    """Whether no sighting is on the shelf."""
    return connection.execute(_ANY).first() is None


def unsketched(connection: Connection) -> list[tuple[int, str]]:
    """The sightings that are not on the shelf, with their texts: those kept by an older release."""
    return [(row.id, row.text) for row in connection.execute(_UNSKETCHED)]


def texts_of(connection: Connection, sighting_id: int) -> tuple[int, str]:
    """The listing of a sighting, and its text."""
    row = connection.execute(_TEXT, {"id": sighting_id}).one()
    return row.listing_id, row.text


def _packed(numbers: Iterable[int]) -> bytes:
    packed = array("q", sorted(numbers))
    if sys.byteorder == "big":
        packed.byteswap()
    return packed.tobytes()


def _numbers(packed: bytes) -> frozenset[int]:
    found = array("q", bytes(packed))
    if sys.byteorder == "big":
        found.byteswap()
    return frozenset(found)
