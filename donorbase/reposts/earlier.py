"""A new advert -> the earlier one of the same axle, and why the others are not it.

What is known of the earlier ones stands on a shelf, in memory or in a database: how many adverts hold a pair of
words, which adverts an anchor leads to, and their texts. Looking one up takes as long whether a thousand stand
there or a hundred thousand: no more than ``MOST`` are looked at, those that share the most anchors.
"""

from array import array
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from donorbase.reposts.claims import Claims, parted_by
from donorbase.reposts.likeness import LEAST_RARE, Likeness, likeness, rare_share
from donorbase.reposts.sketch import (
    ANCHORS,
    SLOTS,
    numbers_of,
    pairs_of,
    slots_of,
    telling_of,
    whole_of,
    words_of,
)

MOST = 12
"""How many earlier adverts are looked at."""
LEAST_ANCHORS = 2
"""How many anchors two adverts must share to be looked at."""


@dataclass(frozen=True, slots=True)
class Advert:
    """A text made ready: its words without price and telephone as numbers, and the pairs of neighbours."""

    text: str
    words: frozenset[int]
    pairs: list[int]
    whole: tuple[int, int]

    @classmethod
    def of(cls, text: str, price_usd: float | None = None) -> "Advert":
        """The advert of a text, whose price is known from its reading."""
        numbers = numbers_of(words_of(text, price_usd))
        return cls(text, frozenset(numbers), list(pairs_of(numbers)), whole_of(numbers))


@dataclass(frozen=True, slots=True)
class Earlier:
    """An earlier advert: its key on the shelf, how alike, and the attribute that parts the two, if any."""

    key: int
    likeness: Likeness
    parted_by: str = ""


@dataclass(frozen=True, slots=True)
class Kept:
    """An advert as it stands on the shelf: its words, and the pairs that were telling when it came."""

    words: frozenset[int]
    telling: frozenset[int]


class Shelf(Protocol):
    """What is known of the earlier adverts."""

    def counts(self, slots: Sequence[int]) -> Sequence[int]:
        """In how many adverts each slot's pairs stand."""

    def sharing(self, anchors: Sequence[int]) -> Iterable[int]:
        """The keys of the ``MOST`` adverts that share the most anchors, at least ``LEAST_ANCHORS``."""

    def kept(self, key: int) -> Kept:
        """The advert of that key."""

    def claims(self, key: int) -> tuple[Claims, str]:
        """What the advert of that key claims, and its text."""

    def add(self, key: int, slots: Sequence[int], anchors: Sequence[int], kept: Kept) -> None:
        """Put an advert on the shelf and count its pairs."""


def find_earlier(advert: Advert, claims: Claims, shelf: Shelf) -> tuple[list[int], list[Earlier]]:
    """The advert's telling pairs, and the earlier ones that are alike enough, the most alike first.

    Those that a claim parts are among them, with the attribute: they are of another axle.
    """
    telling = telling_of(advert.pairs, shelf.counts(slots_of(advert.pairs)))
    mine = frozenset(telling)
    found = []
    for key in shelf.sharing(anchors_of(advert, telling)):
        kept = shelf.kept(key)
        rare, shared = rare_share(mine, kept.telling)
        if rare < LEAST_RARE and mine:
            continue
        alike = likeness(advert.words, kept.words, rare, shared)
        if alike.enough:
            theirs, text = shelf.claims(key)
            found.append(Earlier(key, alike, parted_by(theirs, claims, text, advert.text)))
    found.sort(key=lambda e: (bool(e.parted_by), -e.likeness.score, -e.key))
    return telling, found


def anchors_of(advert: Advert, telling: Sequence[int]) -> list[int]:
    """What the advert is found by: its first telling pairs, and the whole of its words."""
    return [*telling[:ANCHORS], *advert.whole]


def keep(key: int, advert: Advert, telling: Sequence[int], shelf: Shelf) -> None:
    """Put an advert on the shelf under a key."""
    shelf.add(key, slots_of(advert.pairs), anchors_of(advert, telling), Kept(advert.words, frozenset(telling)))


@dataclass(slots=True)
class Memory:
    """A shelf in memory, for many adverts at once."""

    counted: "array[int]" = field(default_factory=lambda: array("I", bytes(4 * SLOTS)))
    holders: dict[int, list[int]] = field(default_factory=dict)
    adverts: dict[int, Kept] = field(default_factory=dict)
    claimed: dict[int, tuple[Claims, str]] = field(default_factory=dict)
    counting: bool = True
    """Whether adverts are counted as they are added; not where all were counted before."""

    def count(self, slots: Iterable[int]) -> None:
        """Count one advert's slots."""
        counted = self.counted
        for slot in slots:
            counted[slot] += 1

    def counts(self, slots: Sequence[int]) -> Sequence[int]:
        """In how many adverts each slot's pairs stand."""
        counted = self.counted
        return [counted[slot] for slot in slots]

    def sharing(self, anchors: Sequence[int]) -> Iterable[int]:
        """The keys of the adverts that share the most anchors."""
        holders = self.holders
        met = Counter(key for anchor in anchors if anchor in holders for key in holders[anchor])
        shared = [(times, key) for key, times in met.items() if times >= LEAST_ANCHORS]
        if len(shared) > MOST:
            shared = sorted(shared, reverse=True)[:MOST]
        return [key for _, key in shared]

    def kept(self, key: int) -> Kept:
        """The advert of that key."""
        return self.adverts[key]

    def claims(self, key: int) -> tuple[Claims, str]:
        """What the advert of that key claims, and its text."""
        return self.claimed[key]

    def add(self, key: int, slots: Sequence[int], anchors: Sequence[int], kept: Kept) -> None:
        """Put an advert on the shelf."""
        if self.counting:
            self.count(slots)
        for anchor in anchors:
            self.holders.setdefault(anchor, []).append(key)
        self.adverts[key] = kept
