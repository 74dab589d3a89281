"""Kept listings by conditions and words -> the ones that contradict nothing, those that meet most first.

A condition is met, contradicted, or not said of each thing in a listing; each of the three is a set of sightings, had
from the index (``search_index.py``) for all listings at once. Which words stand in which text is known by the database:
a file by its index of words (FTS5), a server by its index of three letters (pg_trgm).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select

from donorbase.reference.conditions import Condition
from donorbase.store.bits import counted, exactly, greatest, numbers_of, written
from donorbase.store.schema import table
from donorbase.store.search_index import Index, load
from donorbase.store.search_rows import LISTING, SEEN, STATE, THING, slices_of
from donorbase.store.search_sets import Truth, names_asked, truth_of
from donorbase.store.search_texts import fit_of, holding

_L, _S, _C = (table(name).c for name in ("listing", "sighting", "candidate"))
_AT_ONCE = 500
_FITTED = 600
"""Of so many, the newest, that meet equally much and hold as many words, it is worked out how well the words fit."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A condition, or with ``denied`` that it must not be so."""

    condition: Condition
    denied: bool = False

    @property
    def plain_kind(self) -> bool:
        """Whether it asks for an axle, as nearly everything is one."""
        return self.condition.attribute == "kind" and self.condition.words == ("axle",)


@dataclass(frozen=True, slots=True)
class Words:
    """Words of the query, each with the other spellings that will do; ``denied`` must not stand in the text."""

    wanted: tuple[tuple[str, ...], ...] = ()
    denied: tuple[tuple[str, ...], ...] = ()


def search_listings(
    connection: Connection, asked: Sequence[Asked], words: Words, states: Sequence[str] = (), limit: int = 20
) -> list[dict[str, Any]]:
    """Listings that contradict nothing that was asked, each once: listing_id, sighting_id, met (True or not for each).

    Those that meet most conditions come first, then those that have most of the words, then those whose words fit
    best (bm25, on a file), then the newest. That a thing is an axle, as nearly all are, counts no more than a word.
    One that meets nothing and has none of the words is left out.
    """
    names = {name for one in asked for name in names_asked(one.condition)}
    index = load(connection, names | {THING, slices_of(SEEN), slices_of(LISTING)} | ({STATE} if states else set()))
    wanted = [holding(connection, each) for each in words.wanted]
    among = index.one(THING, "", 0)
    for each in words.denied:
        among &= ~holding(connection, each)
    if states:
        among &= _any(index.one(STATE, state, 0) for state in states)
    if wanted and not asked:
        among &= _any(wanted)
    layers = [_layer(index, item, among, asked, wanted) for item in _things(index)]
    needed = 1 if words.wanted or not all(one.denied for one in asked) else 0
    order = _Order(connection, index, words.wanted)
    found: dict[int, dict[str, Any]] = {}
    for tier in _tiers(layers, needed):
        for listing_id, sighting_id in order.newest(_any(tier), limit):
            if listing_id not in found:
                layer = next(one for one, held in zip(layers, tier, strict=True) if held >> sighting_id & 1)
                met = [bool(each >> sighting_id & 1) for each in layer.met]
                found[listing_id] = {"listing_id": listing_id, "sighting_id": sighting_id, "met": met}
            if len(found) == limit:
                return list(found.values())
    return list(found.values())


@dataclass(frozen=True, slots=True)
class _Layer:
    """The things of one number: those that contradict nothing, which of them meet each condition, and how many of
    the conditions, and of conditions and words, each has (by binary digits)."""

    left: int
    met: list[int]
    told: list[int]
    total: list[int]
    most_told: int
    most_total: int


def _things(index: Index) -> list[int]:
    return [0, *(item for item in index.items(THING) if item)]


def _layer(index: Index, item: int, among: int, asked: Sequence[Asked], wanted: Sequence[int]) -> _Layer:
    truths = [_turned(truth_of(one.condition, index, item), one.denied) for one in asked]
    # An offer of which no thing was read is one thing of which nothing is said.
    left = index.one(THING, "", item) & among if item else among & ~_any(index.values(THING, 1).values())
    left &= ~_any(truth.wrong for truth in truths)
    met = [truth.meets & left for truth in truths]
    told = [held for held, one in zip(met, asked, strict=True) if not one.plain_kind]
    total = [*met, *(held & left for held in wanted)]
    return _Layer(left, met, counted(told), counted(total), len(told), len(total))


def _turned(truth: Truth, denied: bool) -> Truth:
    return Truth(truth.wrong, truth.meets) if denied else truth


def _tiers(layers: Sequence[_Layer], needed: int) -> Iterator[list[int]]:
    """The sightings that meet most, then those that meet less, by layer; of each its best thing alone."""
    done = 0
    for told in range(max(layer.most_told for layer in layers), -1, -1):
        same = [exactly(layer.told, told, layer.left) for layer in layers]
        if not any(same):
            continue
        for total in range(max(layer.most_total for layer in layers), max(told, needed) - 1, -1):
            tier = [exactly(one.total, total, held) & ~done for one, held in zip(layers, same, strict=True)]
            if any(tier):
                yield tier
                done |= _any(tier)


def _any(sets: Any) -> int:
    found = 0
    for one in sets:
        found |= one
    return found


class _Order:
    """Sightings that meet equally much, in the order in which they are shown."""

    def __init__(self, connection: Connection, index: Index, wanted: Sequence[Sequence[str]]) -> None:
        self.connection, self.wanted = connection, wanted
        self.seen, self.listing = (self._digits(index, slices_of(name)) for name in (SEEN, LISTING))

    @staticmethod
    def _digits(index: Index, name: str) -> list[int]:
        values = index.values(name, 0)
        places = [int(place) for place in values if place != "known"]
        return [values.get(str(place), 0) for place in range(max(places, default=-1) + 1)]

    def newest(self, sightings: int, limit: int) -> Iterator[tuple[int, int]]:
        """Listing and sighting, some at a time: by fit, then the newest, then by number."""
        while sightings:
            piece = self._first(sightings, _FITTED if self.wanted else 2 * limit)
            sightings &= ~piece
            yield from self._sorted(numbers_of(piece))

    def _first(self, sightings: int, count: int) -> int:
        """The ones that were seen last, and among those of one day the ones of the lowest numbers."""
        ahead, alike = greatest(self.seen, sightings, count)
        lowest, next_ = greatest(self.listing, alike, count - ahead.bit_count(), least=True)
        return ahead | lowest | next_

    def _sorted(self, ids: Sequence[int]) -> list[tuple[int, int]]:
        fit = fit_of(self.connection, self.wanted, ids)
        seen, listing = written(self.seen, ids), written(self.listing, ids)
        order = sorted(ids, key=lambda one: (fit.get(one, 0.0), -seen[one], listing[one], one))
        return [(listing[one], one) for one in order]


def shown_of(connection: Connection, listing_ids: Sequence[int]) -> dict[int, dict[str, Any]]:
    """What is shown of listings: price_usd, distance_mi, last_seen_on, and their candidates (id, build, state)."""
    found: dict[int, dict[str, Any]] = {}
    for begin in range(0, len(listing_ids), _AT_ONCE):
        part = listing_ids[begin : begin + _AT_ONCE]
        columns = (_L.id, _L.price_usd, _L.distance_mi, _L.last_seen_on)
        for row in connection.execute(select(*columns).where(_L.id.in_(part))):
            found[row.id] = {**row._mapping, "candidates": []}
        kept = select(_C.id, _C.listing_id, _C.build, _C.state).where(_C.listing_id.in_(part)).order_by(_C.id)
        for row in connection.execute(kept):
            found[row.listing_id]["candidates"].append({"id": row.id, "build": row.build, "state": row.state})
    return found
