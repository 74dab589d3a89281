"""A new text -> the listing that is kept already and of which it is a repost."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from donorbase.facts import Reading
from donorbase.reposts.claims import Claims, claims_of
from donorbase.reposts.earlier import LEAST_ANCHORS, MOST, Advert, Earlier, Kept, find_earlier, keep
from donorbase.reposts.sketch import slots_of, telling_of
from donorbase.services.desk import Desk
from donorbase.store import reposts as stored

if TYPE_CHECKING:
    from collections.abc import Sequence

    from donorbase.store.engine import Connection


@dataclass(frozen=True, slots=True)
class Known:
    """A listing of which a text is a repost: its number, the sighting it is most like, and how much."""

    listing_id: int
    sighting_id: int
    likeness: float


@dataclass(slots=True)
class _Shelf:
    """The database as a shelf of earlier texts."""

    connection: "Connection"
    desk: Desk
    sketches: dict[int, tuple[frozenset[int], frozenset[int]]] = field(default_factory=dict)

    def counts(self, slots: "Sequence[int]") -> "Sequence[int]":
        return stored.counts_of(self.connection, slots)

    def sharing(self, anchors: "Sequence[int]") -> "Sequence[int]":
        found = stored.sharing(self.connection, anchors, LEAST_ANCHORS, MOST)
        self.sketches = stored.sketches_of(self.connection, found) if found else {}
        return [key for key in found if key in self.sketches]

    def kept(self, key: int) -> Kept:
        return Kept(*self.sketches[key])

    def claims(self, key: int) -> tuple[Claims, str]:
        _, text = stored.texts_of(self.connection, key)
        return claims_of(self.desk.read(text)), text

    def add(self, key: int, slots: "Sequence[int]", anchors: "Sequence[int]", kept: Kept) -> None:
        known = {"words": kept.words, "telling": kept.telling}
        stored.keep_sketch(self.connection, key, slots=slots, anchors=anchors, **known)


@dataclass(frozen=True, slots=True)
class Looked:
    """A text that was looked up: what it is a repost of, if anything, and what is needed to keep it."""

    advert: Advert
    telling: list[int]
    known: Known | None


class Reposts:
    """Looks texts up in one transaction, and keeps by what they are found."""

    def __init__(self, connection: "Connection", desk: Desk) -> None:
        self._shelf = _Shelf(connection, desk)

    def fill(self) -> int:
        """Put texts on the shelf that were kept before there was one; how many."""
        missing = stored.unsketched(self._shelf.connection)
        for sighting_id, text in missing:
            advert = Advert.of(text, price_of(self._shelf.desk.read(text)))
            telling = telling_of(advert.pairs, self._shelf.counts(slots_of(advert.pairs)))
            keep(sighting_id, advert, telling, self._shelf)
        return len(missing)

    def look_up(self, text: str, reading: Reading) -> Looked:
        """What a text is a repost of."""
        advert = Advert.of(text, price_of(reading))
        telling, found = find_earlier(advert, claims_of(reading), self._shelf)
        return Looked(advert, telling, self._known(found))

    def keep(self, sighting_id: int, looked: Looked) -> None:
        """Keep by what the text of a new sighting is found."""
        keep(sighting_id, looked.advert, looked.telling, self._shelf)

    def _known(self, found: list[Earlier]) -> Known | None:
        if not found or found[0].parted_by:
            return None
        listing_id, _ = stored.texts_of(self._shelf.connection, found[0].key)
        return Known(listing_id, found[0].key, found[0].likeness.score)


def price_of(reading: Reading) -> float | None:
    """The price that a text names, which is no part of what it is known by."""
    said = reading.get("price_usd")
    return float(said) if isinstance(said, int | float) else None
