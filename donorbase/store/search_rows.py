"""What is known of sightings -> entries of the index: a name, a value, a thing, and the sightings that have it.

Values of the whole offer stand under thing 0, where what the listing says comes before what the text says. Prices,
miles and days, of which there are too many to list, are numbers of which each binary digit is a value.
"""

import re
from collections import defaultdict
from collections.abc import Sequence
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, select

from donorbase.attributes import Kind, attributes, of_scope
from donorbase.store.bits import digits
from donorbase.store.columns import columns_of
from donorbase.store.reading_rows import OFFER
from donorbase.store.schema import table

Entry = tuple[str, str, int]
"""Name, value, thing."""
Entries = dict[Entry, set[int]]

EVERY = ("", "", OFFER)
"""Every sighting that was put into the index."""
THING = "thing"
"""Sightings with a thing of that number; under 0 all that are found at all."""
SEEN, LISTING, STATE = "last_seen_on", "listing_id", "state"
MEASURED = ("price_usd", "mileage_mi", "distance_mi")
_CENTS = 100
_AT_ONCE = 500
_WORD = re.compile(r"[^\W\d_]{4,40}")

_L, _S, _C = (table(name).c for name in ("listing", "sighting", "candidate"))
_R, _I, _V = (table(name).c for name in ("reading", "listed_item", "listed_value"))


def slices_of(name: str) -> str:
    """The name under which the digits of a number stand."""
    return f"{name}#"


def number_of(value: float) -> int:
    """A price or miles as the whole number whose digits are kept."""
    return round(value * _CENTS)


def entries_of(connection: Connection, ids: Sequence[int]) -> Entries:
    """The entries of sightings, and the sightings themselves under ``EVERY``."""
    found: Entries = defaultdict(set)
    found[EVERY] |= set(ids)
    for begin in range(0, len(ids), _AT_ONCE):
        part = ids[begin : begin + _AT_ONCE]
        shown = _offers(connection, part, found)
        _things(connection, part, shown, found)
        _several(connection, part, shown, found)
        states = select(_S.id, _C.state).join(table("candidate"), _C.listing_id == _S.listing_id)
        for sighting_id, state in connection.execute(states.where(_S.id.in_(part))):
            found[STATE, state, OFFER].add(sighting_id)
    return found


def words_of(connection: Connection, ids: Sequence[int]) -> set[str]:
    """The words of the texts of sightings."""
    found: set[str] = set()
    for begin in range(0, len(ids), _AT_ONCE):
        part = select(_S.title, _S.text).where(_S.id.in_(ids[begin : begin + _AT_ONCE]))
        for title, text in connection.execute(part):
            found.update(_WORD.findall(f"{title} {text}".lower()))
    return found


def _offers(connection: Connection, ids: Sequence[int], found: Entries) -> set[int]:
    """Enter what is said of whole offers; the sightings of listings that were not joined to others."""
    places = {"distance_mi": func.coalesce(_L.distance_mi, _R.distance_mi), "zip": func.coalesce(_L.zip, _R.zip)}
    own = {name: _R[name] for a in of_scope("offer") for name in columns_of(a)}
    said = own | {"price_usd": _L.price_usd} | places
    query = (
        select(
            _S.id,
            _L.id.label(LISTING),
            _L.last_seen_on,
            _L.merged_into,
            *(column.label(name) for name, column in said.items()),
        )
        .join(table("listing"), _L.id == _S.listing_id)
        .join(table("reading"), _R.sighting_id == _S.id)
        .where(_S.id.in_(ids))
    )
    shown = set()
    for row in connection.execute(query).mappings():
        # Asked of the database, this would be looked up first, in an index that leads to nearly all listings.
        if row["merged_into"] is not None:
            continue
        one = row["id"]
        shown.add(one)
        found[THING, "", OFFER].add(one)
        _enter_number(found, SEEN, row[SEEN].toordinal(), one)
        _enter_number(found, LISTING, row[LISTING], one)
        for name in said:
            _enter(found, name, row[name], OFFER, one)
    return shown


def _things(connection: Connection, ids: Sequence[int], shown: set[int], found: Entries) -> None:
    columns = [column for column in table("listed_item").columns if column.name not in ("sighting_id", "item")]
    names = [column.name for column in columns]
    for one, item, *values in connection.execute(
        select(_I.sighting_id, _I.item, *columns).where(_I.sighting_id.in_(ids))
    ):
        if one not in shown:
            continue
        found[THING, "", item].add(one)
        for name, value in zip(names, values, strict=True):
            if value is not None:
                found[name, text_of(value), item].add(one)


def _several(connection: Connection, ids: Sequence[int], shown: set[int], found: Entries) -> None:
    """Enter the values that are several or not plainly stated; of pairs only what stands in columns counts."""
    query = select(_V.sighting_id, _V.item, _V.attribute, _V.text, _V.number)
    query = query.where(_V.sighting_id.in_(ids), _V.known != "contradicted")
    pairs = {a.name for a in attributes().values() if a.kind in (Kind.YEARS, Kind.RANGE)}
    for one, item, name, text, number in connection.execute(query):
        if one in shown and name not in pairs and (text is not None or number is not None):
            found[name, text_of(number if text is None else text), item].add(one)


def _enter(found: Entries, name: str, value: Any, item: int, one: int) -> None:
    if value is None:
        return
    if name in MEASURED:
        _enter_number(found, name, number_of(value), one)
    else:
        found[name, text_of(value), item].add(one)


def _enter_number(found: Entries, name: str, number: int, one: int) -> None:
    name = slices_of(name)
    found[name, "known", OFFER].add(one)
    for place in digits(number):
        found[name, str(place), OFFER].add(one)


def text_of(value: object) -> str:
    """A value as it stands in the index: numbers, and flags as 0 and 1, in the fewest digits."""
    if isinstance(value, date):
        return value.isoformat()
    return f"{float(value):.10g}" if isinstance(value, bool | int | float) else str(value)
