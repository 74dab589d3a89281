"""New texts -> the listings that are kept already and of which they are reposts.

Many texts are looked up at once: what they share is asked of the database once, and what comes earlier among
themselves is known beside it, as if each had been kept before the next was looked at.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from donorbase.facts import Reading
from donorbase.reposts.claims import Claims, claims_of
from donorbase.reposts.earlier import (
    LEAST_ANCHORS,
    MOST,
    Advert,
    Kept,
    find_earlier,
    keep,
)
from donorbase.reposts.sketch import slots_of, telling_of
from donorbase.services.desk import Desk
from donorbase.store import reposts as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

_FIRST_NEW = 1 << 40
"""Texts that are not kept yet are numbered from here, so that they count as later than any that is."""
_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class Known:
    """A listing of which a text is a repost: its number, the sighting it is most like, and how much."""

    listing_id: int
    sighting_id: int
    likeness: float


@dataclass(frozen=True, slots=True)
class Same:
    """What a text is a repost of: a kept sighting, or an earlier one of the same texts by its place from 0."""

    likeness: float
    sighting_id: int | None = None
    place: int | None = None


@dataclass(slots=True)
class _Shelf:
    """The earlier texts in the database, as far as they were asked for, and those that are to come to them."""

    connection: "Connection"
    desk: Desk
    counted: dict[int, int] = field(default_factory=dict)
    holders: dict[int, list[int]] = field(default_factory=dict)
    known: dict[int, Kept] = field(default_factory=dict)
    claimed: dict[int, tuple[Claims, str]] = field(default_factory=dict)
    more: Counter[int] = field(default_factory=Counter)
    added: dict[int, tuple[Sequence[int], Kept]] = field(default_factory=dict)

    def prepare(self, adverts: Sequence[Advert]) -> None:
        """Ask at once for the counts that will be asked for one by one."""
        self._count({slot for advert in adverts for slot in slots_of(advert.pairs)})

    def counts(self, slots: Sequence[int]) -> Sequence[int]:
        self._count(slots)
        return [self.counted[slot] for slot in slots]

    def sharing(self, anchors: Sequence[int]) -> Sequence[int]:
        met = Counter(key for anchor in set(anchors) for key in self.holders.get(anchor, ()))
        fresh = [(times, key) for key, times in met.items() if times >= LEAST_ANCHORS]
        shared = sorted([*fresh, *stored.sharing(self.connection, anchors, LEAST_ANCHORS, MOST)], reverse=True)
        found = [key for _, key in shared[:MOST]]
        self._know(found)
        return [key for key in found if key in self.known]

    def kept(self, key: int) -> Kept:
        return self.known[key]

    def claims(self, key: int) -> tuple[Claims, str]:
        if key not in self.claimed:
            _, text = stored.texts_of(self.connection, key)
            self.claimed[key] = claims_of(self.desk.read(text)), text
        return self.claimed[key]

    def add(self, key: int, slots: Sequence[int], anchors: Sequence[int], kept: Kept) -> None:
        self._count(slots)
        for slot in set(slots):
            self.counted[slot] += 1
            self.more[slot] += 1
        for anchor in set(anchors):
            self.holders.setdefault(anchor, []).append(key)
        self.known[key] = kept
        self.added[key] = anchors, kept

    def write(self, ids: Sequence[int]) -> None:
        """Keep what was added, in the order of the numbers of the sightings that it became."""
        stored.count_slots(self.connection, self.more)
        rows = [(i, anchors, kept) for i, (anchors, kept) in zip(ids, self.added.values(), strict=True)]
        stored.keep_anchors(self.connection, ((anchor, i) for i, anchors, _ in rows for anchor in set(anchors)))
        stored.keep_sketches(self.connection, ((i, kept.words, kept.telling) for i, _, kept in rows))

    def _count(self, slots: Iterable[int]) -> None:
        if new := [slot for slot in slots if slot not in self.counted]:
            self.counted |= dict.fromkeys(new, 0) | stored.counts_of(self.connection, new)

    def _know(self, keys: Iterable[int]) -> None:
        if new := [key for key in keys if key not in self.known]:
            self.known |= {key: Kept(*both) for key, both in stored.sketches_of(self.connection, new).items()}


class Reposts:
    """Looks texts up in one transaction, and keeps by what they are found."""

    def __init__(self, connection: "Connection", desk: Desk) -> None:
        self._connection, self._desk = connection, desk
        self._shelf = _Shelf(connection, desk)

    def fill(self) -> int:
        """Put texts on an empty shelf that were kept before there was one; how many."""
        missing = stored.unsketched(self._connection) if stored.is_empty(self._connection) else []
        for begin in range(0, len(missing), _AT_ONCE):
            shelf, part = _Shelf(self._connection, self._desk), missing[begin : begin + _AT_ONCE]
            for sighting_id, text in part:
                advert = Advert.of(text, price_of(self._desk.read(text)))
                keep(sighting_id, advert, telling_of(advert.pairs, shelf.counts(slots_of(advert.pairs))), shelf)
            shelf.write([sighting_id for sighting_id, _ in part])
        return len(missing)

    def look_up(self, texts: Sequence[str], readings: Sequence[Reading]) -> list[Same | None]:
        """What each text is a repost of, if of anything: of one that is kept, or of one before it."""
        self._shelf = shelf = _Shelf(self._connection, self._desk)
        adverts = [Advert.of(text, price_of(reading)) for text, reading in zip(texts, readings, strict=True)]
        shelf.prepare(adverts)
        found = []
        for place, (advert, reading) in enumerate(zip(adverts, readings, strict=True)):
            claims = claims_of(reading)
            shelf.claimed[_FIRST_NEW + place] = claims, advert.text
            telling, earlier = find_earlier(advert, claims, shelf)
            keep(_FIRST_NEW + place, advert, telling, shelf)
            best = earlier[0] if earlier and not earlier[0].parted_by else None
            found.append(_same(best.key, best.likeness.score) if best else None)
        return found

    def keep(self, sighting_ids: Sequence[int]) -> None:
        """Keep by what the texts that were looked up are found, now that they are sightings."""
        self._shelf.write(sighting_ids)

    def listing_of(self, sighting_id: int) -> int:
        """The listing of a sighting."""
        return stored.texts_of(self._connection, sighting_id)[0]


def _same(key: int, likeness: float) -> Same:
    return Same(likeness, place=key - _FIRST_NEW) if key >= _FIRST_NEW else Same(likeness, sighting_id=key)


def price_of(reading: Reading) -> float | None:
    """The price that a text names, which is no part of what it is known by."""
    said = reading.get("price_usd")
    return float(said) if isinstance(said, int | float) else None
