"""Listings into the database, one or thousands at a time, each kept once for each build.

A text seen again, at the same address or at none, is the same sighting: its days and its price are brought up to
date and nothing is doubled. Another text, or the same at another address, is a listing of its own unless it is a
repost: the same axle advertised again. Then it is another sighting of that listing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from functools import cached_property
from typing import TYPE_CHECKING, Any

from donorbase.facts import Reading
from donorbase.services.corrected import plain_text
from donorbase.services.desk import Desk
from donorbase.services.grounds import read_with
from donorbase.services.house import House
from donorbase.services.reposting import Known, Reposts, Same
from donorbase.store import candidates as kept
from donorbase.store import sightings as stored
from donorbase.store.corrections import digest_of
from donorbase.store.reading_rows import ReadingRows
from donorbase.store.search_index import MANY_DUE, put_in

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

PLACEHOLDERS_USD = frozenset({0.0, 1.0})
"""Prices put into a site's form by those who will not name one: common practice. What the text says counts then."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A listing as it was seen on a day; ``distance_mi`` is one way, ``price_usd`` that of the site's own field."""

    text: str
    seen_on: date
    source: str = ""
    url: str = ""
    title: str = ""
    zip: str | None = None
    distance_mi: float | None = None
    price_usd: float | None = None

    @property
    def plain(self) -> str:
        """The text as it is kept: line ends of one kind, no blank ends."""
        return plain_text(self.text)

    @property
    def digest(self) -> str:
        """By which the text is known again."""
        return digest_of(self.plain)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a listing: where it is kept, whether its text is new, which candidates it is and which are new."""

    listing_id: int
    sighting_id: int
    is_new: bool
    candidates: Mapping[str, int]
    new_candidates: tuple[int, ...]
    repost_of: Known | None = None
    """The sighting that a new text repeats."""


@dataclass(frozen=True)
class Keeper:
    """Keeps listings for builds (by name); ``who`` stands in the events."""

    house: House
    desk: Desk
    builds: tuple[str, ...]
    who: str = ""
    note: str = ""
    gathering_id: int | None = None
    now: datetime = field(default_factory=lambda: datetime.now(UTC))

    @cached_property
    def read_with(self) -> str:
        """What the listings are read with."""
        return read_with(self.house, self.desk.this_year)

    def keep(self, seen: Sequence[Seen]) -> tuple[Outcome, ...]:
        """Keep listings in one transaction, all or none; what became of each, in order."""
        once: dict[stored.Key, Seen] = {}
        for one in seen:
            once.setdefault((one.digest, one.url), one)
        with self.house.reading() as connection:
            known = {digest for digest, _ in stored.find_sightings(connection, [d for d, _ in once])}
        # Reading takes longest and needs no lock.
        readings = {one.digest: self.desk.read(one.plain) for one in once.values() if one.digest not in known}
        with self.house.keeping() as connection:
            batch = _Batch(self, connection, readings)
            batch.place(list(once.values()))
            batch.mark_seen(seen)
            outcomes = batch.outcomes(seen)
            put_in(connection, MANY_DUE)
            return outcomes


class _Batch:
    """One transaction of keeping."""

    def __init__(self, keeper: Keeper, connection: "Connection", readings: Mapping[str, Reading]) -> None:
        self.keeper, self.connection, self.readings = keeper, connection, readings
        self.found: dict[str, dict[str, dict[str, Any]]] = {}
        self.new: set[int] = set()
        self.reposts: dict[int, Known] = {}
        self.shelf = Reposts(connection, keeper.desk)

    def place(self, seen: Sequence[Seen]) -> None:
        """Make listings and sightings of all that is not known yet."""
        for (digest, url), row in stored.find_sightings(self.connection, [s.digest for s in seen]).items():
            self.found.setdefault(digest, {})[url] = row
        fresh = []
        for one in seen:
            if self.sighting_of(one) is None:
                fresh.append(one)
                self.found.setdefault(one.digest, {})[one.url] = {}
        readings = [self.readings.get(one.digest) or self.keeper.desk.read(one.plain) for one in fresh]
        prices = [asked_usd(one, reading) for one, reading in zip(fresh, readings, strict=True)]
        self._insert(fresh, readings, prices)

    def sighting_of(self, one: Seen) -> dict[str, Any] | None:
        """The sighting that a listing is: of the same text, at the same address or at none."""
        same = self.found.get(one.digest, {})
        if one.url in same:
            return same[one.url]
        return next(iter(same.values()), None) if not one.url else same.get("")

    def _insert(self, fresh: Sequence[Seen], readings: Sequence[Reading], prices: Sequence[float | None]) -> None:
        if not fresh:
            return
        self.shelf.fill()
        same = self.shelf.look_up([one.plain for one in fresh], readings)
        rows = self._rows(fresh, prices, same)
        ids = stored.add_sightings(self.connection, rows)
        self.shelf.keep(ids)
        self.reposts |= {i: _known(one, row, ids) for i, one, row in zip(ids, same, rows, strict=True) if one}
        read = ReadingRows()
        for sighting_id, row, reading in zip(ids, rows, readings, strict=True):
            read.add(sighting_id, reading, self.keeper.read_with)
            self.found[row["digest"]][row["url"]] = {**row, "id": sighting_id}
        stored.add_readings(self.connection, read)
        priced = [
            {"sighting_id": i, "seen_on": s.seen_on, "price_usd": usd}
            for i, s, usd in zip(ids, fresh, prices, strict=True)
            if usd is not None
        ]
        stored.add_prices(self.connection, priced)
        self.new.update(ids)
        self._tell_reposts(zip(ids, fresh, prices, strict=True))

    def _rows(
        self, fresh: Sequence[Seen], prices: Sequence[float | None], same: Sequence[Same | None]
    ) -> list[dict[str, Any]]:
        """The rows of new sightings, each of a new listing, or of the one of which it is a repost."""
        now, rows = self.keeper.now, list[dict[str, Any]]()
        new = [_listing_row(s, usd, now) for s, usd, one in zip(fresh, prices, same, strict=True) if one is None]
        made = iter(stored.add_listings(self.connection, new))
        for seen, one in zip(fresh, same, strict=True):
            if one is None:
                listing_id = next(made)
            elif one.sighting_id is not None:
                listing_id = self.shelf.listing_of(one.sighting_id)
            else:
                listing_id = rows[one.place or 0]["listing_id"]
            rows.append(_sighting_row(seen, listing_id, self.keeper.gathering_id, now))
        return rows

    def _tell_reposts(self, made: Iterable[tuple[int, Seen, float | None]]) -> None:
        """Bring listings that were advertised again up to date, and tell it in the events of their candidates."""
        again = [(self.reposts[i], one, usd) for i, one, usd in made if i in self.reposts]
        for known, one, usd in again:
            prices = stored.prices_of(self.connection, known.listing_id)
            before = [p["price_usd"] for p in prices if p["sighting_id"] == known.sighting_id]
            changed = usd is not None and before[-1:] != [usd]
            told = f"advertised again; {price_note(before[-1] if before else None, usd)}" if usd and changed else ""
            ids = [row["id"] for row in kept.kept_for(self.connection, [known.listing_id]).values()]
            events = [
                self._event(i, kind="repost", note=told or "advertised again", happened_on=one.seen_on) for i in ids
            ]
            kept.add_events(self.connection, events)
        listings = {known.listing_id for known, _, _ in again}
        stored.refresh_listings(self.connection, listings)
        kept.judge_anew(self.connection, listings)

    def mark_seen(self, seen: Iterable[Seen]) -> None:
        """Widen the days of what was known, and keep places and prices that changed."""
        changed = {}
        for one in seen:
            sighting = self.sighting_of(one) or {}
            days = (sighting["first_seen_on"], sighting["last_seen_on"])
            if not days[0] <= one.seen_on <= days[1]:
                stored.seen_again(self.connection, sighting["id"], one.seen_on)
                sighting |= {"first_seen_on": min(days[0], one.seen_on), "last_seen_on": max(days[1], one.seen_on)}
                changed[sighting["listing_id"]] = True
            if sighting["id"] not in self.new and stored.set_place(self.connection, sighting["id"], _place(one)):
                changed[sighting["listing_id"]] = True
                kept.judge_anew(self.connection, [sighting["listing_id"]])
            if sighting["id"] not in self.new and one.price_usd is not None and not _placeholder(one.price_usd):
                self._price(sighting, one, changed)
        stored.refresh_listings(self.connection, changed)

    def _price(self, sighting: Mapping[str, Any], one: Seen, changed: dict[int, bool]) -> None:
        usd = one.price_usd or 0.0
        before = stored.keep_price(self.connection, sighting["id"], one.seen_on, usd)
        if before != usd:
            listing_id = sighting["listing_id"]
            changed[listing_id] = True
            ids = [row["id"] for row in kept.kept_for(self.connection, [listing_id]).values()]
            told = {"kind": "price", "note": price_note(before, usd), "happened_on": one.seen_on}
            kept.add_events(self.connection, [self._event(i, **told) for i in ids])
            kept.judge_anew(self.connection, [listing_id])

    def outcomes(self, seen: Sequence[Seen]) -> tuple[Outcome, ...]:
        """Keep each listing for every build, and say what became of it."""
        sightings = [self.sighting_of(one) or {} for one in seen]
        listing_ids = list(dict.fromkeys(s["listing_id"] for s in sightings))
        there = {key: row["id"] for key, row in kept.kept_for(self.connection, listing_ids).items()}
        days = {s["listing_id"]: one.seen_on for s, one in zip(reversed(sightings), reversed(seen), strict=True)}
        missing = [(i, b) for i in listing_ids for b in self.keeper.builds if (i, b) not in there]
        made = kept.add_candidates(self.connection, [_candidate_row(i, b, self.keeper.now) for i, b in missing])
        told = {"kind": "added", "state_to": "watching", "note": self.keeper.note}
        kept.add_events(
            self.connection,
            [self._event(n, happened_on=days[i], **told) for n, (i, _) in zip(made, missing, strict=True)],
        )
        there |= zip(missing, made, strict=True)
        fresh, answers = set(made), []
        for sighting in sightings:
            listing_id = sighting["listing_id"]
            ours = {b: there[listing_id, b] for b in self.keeper.builds}
            new = tuple(i for i in ours.values() if i in fresh)
            is_new, known = sighting["id"] in self.new, self.reposts.get(sighting["id"])
            answers.append(Outcome(listing_id, sighting["id"], is_new, ours, new, known if is_new else None))
            # A text that stands twice in one batch is new once.
            self.new.discard(sighting["id"])
            fresh -= set(new)
        return tuple(answers)

    def _event(self, candidate_id: int, **told: Any) -> dict[str, Any]:
        empty = {"state_to": None, "note": ""}
        return empty | told | {"candidate_id": candidate_id, "noted_at": self.keeper.now, "who": self.keeper.who}


def asked_usd(seen: Seen, reading: Reading) -> float | None:
    """What is asked: the price of the site's field, else that of the text; None where none is named."""
    if seen.price_usd is not None and not _placeholder(seen.price_usd):
        return seen.price_usd
    said = reading.get("price_usd")
    return float(said) if isinstance(said, int | float) else None


def price_note(before: float | None, now: float) -> str:
    """The words of a changed price."""
    return f"asks {now:,.0f} USD" if before is None else f"asks {now:,.0f} USD, before {before:,.0f}"


def _known(one: Same, row: Mapping[str, Any], ids: Sequence[int]) -> Known:
    sighting_id = ids[one.place or 0] if one.sighting_id is None else one.sighting_id
    return Known(row["listing_id"], sighting_id, one.likeness)


def _place(seen: Seen) -> dict[str, Any]:
    """Where it is and where it stands, as far as that is told."""
    told = {"distance_mi": seen.distance_mi, "zip": seen.zip, "url": seen.url, "source": seen.source}
    return {name: value for name, value in told.items() if value not in (None, "")}


def _placeholder(usd: float) -> bool:
    return usd in PLACEHOLDERS_USD


def _listing_row(seen: Seen, usd: float | None, now: datetime) -> dict[str, Any]:
    days = {"first_seen_on": seen.seen_on, "last_seen_on": seen.seen_on}
    place = {"distance_mi": seen.distance_mi, "zip": seen.zip}
    return {**days, **place, "price_usd": usd, "made_at": now}


def _sighting_row(seen: Seen, listing_id: int, gathering_id: int | None, now: datetime) -> dict[str, Any]:
    given = {n: getattr(seen, n) for n in ("digest", "url", "source", "title", "zip", "distance_mi")}
    days = {"first_seen_on": seen.seen_on, "last_seen_on": seen.seen_on}
    ours = {"listing_id": listing_id, "gathering_id": gathering_id, "added_at": now, "text": seen.plain}
    return {**given, **days, **ours}


def _candidate_row(listing_id: int, build: str, now: datetime) -> dict[str, Any]:
    return {"listing_id": listing_id, "build": build, "state": "watching", "made_at": now, "changed_at": now}
