"""The shelf of earlier texts in the database: counted, found by their anchors, compared by their sketches."""

import sys
from array import array
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, bindparam, func, insert, select
from sqlalchemy.dialects import postgresql, sqlite

from donorbase.store.listing_tables import SightingRow
from donorbase.store.repost_tables import RepostAnchorRow, RepostCountRow, RepostSketchRow
from donorbase.store.schema import table

_COUNT, _ANCHOR, _SKETCH, _SIGHTING = (
    table(row.__tablename__) for row in (RepostCountRow, RepostAnchorRow, RepostSketchRow, SightingRow)
)
# Built once: building a statement costs more than what it finds.
_OF_SLOTS = select(_COUNT.c.slot, _COUNT.c.adverts).where(_COUNT.c.slot.in_(bindparam("slots", expanding=True)))
_OF_ANCHORS = (
    select(_ANCHOR.c.sighting_id)
    .where(_ANCHOR.c.anchor.in_(bindparam("anchors", expanding=True)))
    .group_by(_ANCHOR.c.sighting_id)
    .having(func.count() >= bindparam("least"))
    .order_by(func.count().desc(), _ANCHOR.c.sighting_id.desc())
    .limit(bindparam("most"))
)
_OF_KEYS = select(_SKETCH).where(_SKETCH.c.sighting_id.in_(bindparam("ids", expanding=True)))
_UNSKETCHED = (
    select(_SIGHTING.c.id, _SIGHTING.c.text)
    .join(_SKETCH, _SKETCH.c.sighting_id == _SIGHTING.c.id, isouter=True)
    .where(_SKETCH.c.sighting_id.is_(None))
    .order_by(_SIGHTING.c.id)
)


def counts_of(connection: Connection, slots: Sequence[int]) -> list[int]:
    """In how many sightings the pairs of each slot stand."""
    found: dict[int, int] = {row.slot: row.adverts for row in connection.execute(_OF_SLOTS, {"slots": list(slots)})}
    return [found.get(slot, 0) for slot in slots]


def sharing(connection: Connection, anchors: Sequence[int], least: int, most: int) -> list[int]:
    """The sightings that share at least so many of the anchors, those with the most first, at most so many."""
    asked = {"anchors": list(anchors), "least": least, "most": most}
    return list(connection.execute(_OF_ANCHORS, asked).scalars())


def sketches_of(connection: Connection, ids: Iterable[int]) -> dict[int, tuple[frozenset[int], frozenset[int]]]:
    """The words and the telling pairs of sightings."""
    found = connection.execute(_OF_KEYS, {"ids": list(ids)})
    return {row.sighting_id: (_numbers(row.words), _numbers(row.telling)) for row in found}


def keep_sketch(
    connection: Connection,
    sighting_id: int,
    *,
    slots: Iterable[int],
    anchors: Iterable[int],
    words: Iterable[int],
    telling: Iterable[int],
) -> None:
    """Keep by what a sighting is found, and count its pairs."""
    count_slots(connection, slots)
    rows: list[Mapping[str, Any]] = [{"anchor": one, "sighting_id": sighting_id} for one in set(anchors)]
    connection.execute(insert(_ANCHOR), rows)
    sketch = {"sighting_id": sighting_id, "words": _packed(words), "telling": _packed(telling)}
    connection.execute(insert(_SKETCH), [sketch])


def count_slots(connection: Connection, slots: Iterable[int]) -> None:
    """Count one sighting more in each of the slots."""
    dialect = postgresql if connection.dialect.name == "postgresql" else sqlite
    adding = dialect.insert(_COUNT).values(slot=bindparam("slot"), adverts=1)
    one_more = adding.on_conflict_do_update(index_elements=["slot"], set_={"adverts": _COUNT.c.adverts + 1})
    # In the order of the slots, so that two writers cannot wait for each other.
    if rows := [{"slot": slot} for slot in sorted(set(slots))]:
        connection.execute(one_more, rows)


def unsketched(connection: Connection) -> list[tuple[int, str]]:
    """The sightings that are not on the shelf, with their texts: those kept by an older release."""
    return [(row.id, row.text) for row in connection.execute(_UNSKETCHED)]


def texts_of(connection: Connection, sighting_id: int) -> tuple[int, str]:
    """The listing of a sighting, and its text."""
    asked = select(_SIGHTING.c.listing_id, _SIGHTING.c.text).where(_SIGHTING.c.id == sighting_id)
    row = connection.execute(asked).one()
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
