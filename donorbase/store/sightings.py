"""Texts of listings as they were seen: found by what they say and where, kept in bulk, priced, read."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from sqlalchemy import Connection, and_, bindparam, delete, insert, or_, select, update
from sqlmodel import col

from donorbase.store.listing_tables import (
    AskedPriceRow,
    ListedItemRow,
    ListedValueRow,
    ListingRow,
    ReadingRow,
    SightingRow,
)
from donorbase.store.reading_rows import ReadingRows
from donorbase.store.search_index import mark_due

_AT_ONCE = 500
"""Keys in one condition; SQLite allows 999 in old builds."""

# Built once: building a statement costs more than what it does.
_OF_DIGESTS = select(
    *(col(getattr(SightingRow, n)) for n in ("id", "listing_id", "digest", "url", "first_seen_on", "last_seen_on"))
).where(col(SightingRow.digest).in_(bindparam("digests", expanding=True)))
_ADD_LISTINGS = insert(ListingRow).returning(col(ListingRow.id), sort_by_parameter_order=True)
_ADD_SIGHTINGS = insert(SightingRow).returning(col(SightingRow.id), sort_by_parameter_order=True)
_ADD_READINGS = (insert(ReadingRow), insert(ListedItemRow), insert(ListedValueRow))
_ADD_PRICES = insert(AskedPriceRow)

Key = tuple[str, str]
"""The digest of a text, and its address."""


def find_sightings(connection: Connection, digests: Sequence[str]) -> dict[Key, dict[str, Any]]:
    """The sightings of these texts, by digest and address: id, listing_id, and the days."""
    found: dict[Key, dict[str, Any]] = {}
    for begin in range(0, len(digests), _AT_ONCE):
        for row in connection.execute(_OF_DIGESTS, {"digests": list(digests[begin : begin + _AT_ONCE])}).all():
            found[row.digest, row.url] = dict(row._mapping)
    return found


def add_listings(connection: Connection, rows: Sequence[Mapping[str, Any]]) -> list[int]:
    """New listings; their ids in the order of the rows."""
    return [row.id for row in connection.execute(_ADD_LISTINGS, [dict(row) for row in rows])] if rows else []


def add_sightings(connection: Connection, rows: Sequence[Mapping[str, Any]]) -> list[int]:
    """New sightings of listings that are there; their ids in the order of the rows."""
    return [row.id for row in connection.execute(_ADD_SIGHTINGS, [dict(row) for row in rows])] if rows else []


def seen_again(connection: Connection, sighting_id: int, day: date) -> bool:
    """Widen the days of a sighting and its listing to a day; whether that day is later than any before."""
    later = connection.execute(
        update(SightingRow)
        .where(col(SightingRow.id) == sighting_id, col(SightingRow.last_seen_on) < day)
        .values(last_seen_on=day)
    ).rowcount
    connection.execute(
        update(SightingRow)
        .where(col(SightingRow.id) == sighting_id, col(SightingRow.first_seen_on) > day)
        .values(first_seen_on=day)
    )
    return bool(later)


def set_place(connection: Connection, sighting_id: int, told: Mapping[str, Any]) -> bool:
    """Set what is told now of a sighting's place (``distance_mi``, ``zip``, ``url``, ``source``); whether it is new."""
    other = [or_(col(getattr(SightingRow, n)).is_(None), col(getattr(SightingRow, n)) != v) for n, v in told.items()]
    if not other:
        return False
    ours = (col(SightingRow.id) == sighting_id, or_(*other))
    return bool(connection.execute(update(SightingRow).where(*ours).values(**told)).rowcount)


def keep_price(connection: Connection, sighting_id: int, day: date, price_usd: float) -> float | None:
    """Keep what was asked in a sighting on a day, where it differs from before; the price that stood until then."""
    before = connection.execute(
        select(col(AskedPriceRow.price_usd))
        .where(col(AskedPriceRow.sighting_id) == sighting_id, col(AskedPriceRow.seen_on) <= day)
        .order_by(col(AskedPriceRow.seen_on).desc())
        .limit(1)
    ).scalar()
    if before != price_usd:
        drop_price(connection, sighting_id, day)
        connection.execute(
            insert(AskedPriceRow).values(sighting_id=sighting_id, seen_on=day, price_usd=price_usd),
        )
    return before


def price_on(connection: Connection, sighting_id: int, day: date) -> float | None:
    """The price that was noted in a sighting on that very day; None where none was."""
    of_day = (col(AskedPriceRow.sighting_id) == sighting_id, col(AskedPriceRow.seen_on) == day)
    return connection.execute(select(col(AskedPriceRow.price_usd)).where(*of_day)).scalar()


def drop_price(connection: Connection, sighting_id: int, day: date) -> None:
    """Forget what was asked in a sighting on one day."""
    of_day = (col(AskedPriceRow.sighting_id) == sighting_id, col(AskedPriceRow.seen_on) == day)
    connection.execute(delete(AskedPriceRow).where(*of_day))


def add_prices(connection: Connection, rows: Sequence[Mapping[str, Any]]) -> None:
    """First prices of new sightings."""
    if rows:
        connection.execute(_ADD_PRICES, [dict(row) for row in rows])


def keep_readings(connection: Connection, rows: ReadingRows) -> None:
    """What was read of sightings, in place of what had been read of them."""
    ids = [row["sighting_id"] for row in rows.readings]
    for begin in range(0, len(ids), _AT_ONCE):
        part = ids[begin : begin + _AT_ONCE]
        for table in (ListedValueRow, ListedItemRow, ReadingRow):
            connection.execute(delete(table).where(col(table.sighting_id).in_(part)))
    add_readings(connection, rows)
    mark_due(connection, sightings=ids)


def add_readings(connection: Connection, rows: ReadingRows) -> None:
    """What was read of new sightings."""
    for adding, listed in zip(_ADD_READINGS, (rows.readings, rows.items, rows.values), strict=True):
        if listed:
            connection.execute(adding, listed)


def refresh_listings(connection: Connection, listing_ids: Iterable[int]) -> None:
    """Set days, price and place of listings to those of their sightings: the newest that says something counts."""
    changed = set(listing_ids)
    mark_due(connection, listings=changed)
    for listing_id in changed:
        sightings = sightings_of(connection, listing_id)
        prices = prices_of(connection, listing_id)
        values: dict[str, Any] = {
            "first_seen_on": min(s["first_seen_on"] for s in sightings),
            "last_seen_on": max(s["last_seen_on"] for s in sightings),
            "price_usd": prices[-1]["price_usd"] if prices else None,
        }
        for name in ("distance_mi", "zip"):
            values[name] = next((s[name] for s in reversed(sightings) if s[name] is not None), None)
        connection.execute(update(ListingRow).where(col(ListingRow.id) == listing_id).values(**values))


def move_sightings(connection: Connection, ids: Sequence[int], listing_id: int) -> None:
    """Make sightings those of another listing."""
    ours = col(SightingRow.id).in_(list(ids))
    connection.execute(update(SightingRow).where(ours).values(listing_id=listing_id))
    mark_due(connection, sightings=ids)


def set_merged(connection: Connection, listing_id: int, into: int | None) -> None:
    """Say that a listing turned out to be another one, or that it is one of its own."""
    mark_due(connection, listings=[listing_id])
    connection.execute(update(ListingRow).where(col(ListingRow.id) == listing_id).values(merged_into=into))


def merged_into(connection: Connection, listing_id: int) -> int | None:
    """The listing that a listing turned out to be, None where it is one of its own."""
    ours = col(ListingRow.id) == listing_id
    return connection.execute(select(col(ListingRow.merged_into)).where(ours)).scalar()


def sightings_of(connection: Connection, listing_id: int) -> list[dict[str, Any]]:
    """Every sighting of a listing with its text, the one seen last at the end."""
    order = (col(SightingRow.last_seen_on), col(SightingRow.id))
    found = connection.execute(
        select(SightingRow.__table__).where(col(SightingRow.listing_id) == listing_id).order_by(*order)  # type: ignore[attr-defined]
    )
    return [dict(row._mapping) for row in found]


def prices_of(connection: Connection, listing_id: int) -> list[dict[str, Any]]:
    """Every price asked for a listing, oldest first: seen_on, price_usd, sighting_id."""
    columns = (AskedPriceRow.seen_on, AskedPriceRow.price_usd, AskedPriceRow.sighting_id)
    found = connection.execute(
        select(*map(col, columns))
        .join(SightingRow, col(SightingRow.id) == col(AskedPriceRow.sighting_id))
        .where(col(SightingRow.listing_id) == listing_id)
        .order_by(col(AskedPriceRow.seen_on), col(AskedPriceRow.sighting_id))
    )
    return [dict(row._mapping) for row in found]


def unread(connection: Connection, read_with: str, after: int, limit: int) -> list[dict[str, Any]]:
    """Sightings not read, or read with something else, in the order of their ids: id, listing_id and text."""
    stale = or_(col(ReadingRow.read_with).is_(None), col(ReadingRow.read_with) != read_with)
    found = connection.execute(
        select(col(SightingRow.id), col(SightingRow.listing_id), col(SightingRow.text))
        .join(ReadingRow, col(ReadingRow.sighting_id) == col(SightingRow.id), isouter=True)
        .where(and_(col(SightingRow.id) > after, stale))
        .order_by(col(SightingRow.id))
        .limit(limit)
    )
    return [dict(row._mapping) for row in found]
