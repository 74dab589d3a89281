"""One thing on offer -> the axles in it, each with the facts that speak of it."""

from collections.abc import Iterator

from donorbase.attributes import attribute
from donorbase.facts import Fact, Item, Known, Value, axle_facts

_ONE_END: dict[str, str] = {
    "cover_bolts": "rear", "ring_gear_in": "rear", "float": "rear", "splines": "rear", "shaft_dia_in": "rear",
    "knuckle": "front", "hubs": "front", "drop": "front", "pinion": "front", "inner_splines": "front",
    "outer_splines": "front", "joint": "front", "joint_cap_in": "front", "disconnect": "front",
}  # fmt: skip
"""The end that people mean when they say it of a whole vehicle (common practice); what stands not here is
said of both: years, class, wheels, ratio, lugs."""
_NOT_SHARED = frozenset({"position", "width_in", "tube_in", "weight_lb", "gawr_lb", "differential"})
"""Of a whole vehicle these say nothing about either axle."""
_SPRINGS_OF = "front"
"""Springs are spoken of where they differ from leaf, and that is at the front."""


def axles_of(item: Item) -> tuple[tuple[Fact, ...], ...]:
    """The facts of each axle in an item: one set for an axle or a part of one, two (front, rear) for a
    vehicle.

    A vehicle's facts go to the end that they can speak of, to both where they speak of both; each set
    carries its position. Years that a thing is said to fit go along.
    """
    facts = tuple(f for f in _told(item))
    if item.get("kind") != "vehicle":
        return (facts,)
    return tuple(_of_end(facts, end) for end in ("front", "rear"))


def _told(item: Item) -> tuple[Fact, ...]:
    own = tuple(axle_facts(item))
    said = {f.attribute for f in own}
    fits = (f for f in item.facts if f.attribute == "fits_years")
    return (*own, *fits, *(fact for fact in _by_parts(item) if fact.attribute not in said))


_SHOWN_BY: dict[Value, tuple[str, Value]] = {
    "locking-hub": ("hubs", "locking"),
    "unit-bearing": ("hub_bearing", "unit-bearing"),
    "knuckle": ("position", "front"),
}
"""What a part that comes along, or is said to be missing, tells of its axle (common practice)."""


def _by_parts(item: Item) -> Iterator[Fact]:
    named = {f.value: f for f in item.facts if f.attribute in ("has", "missing")}
    for part, (name, value) in _SHOWN_BY.items():
        if part in named:
            yield Fact(name, value, Known.INFERRED, named[part].spans)


def _of_end(facts: tuple[Fact, ...], end: str) -> tuple[Fact, ...]:
    return (Fact("position", end), *(f for f in facts if _goes_to(f, end)))


def _goes_to(fact: Fact, end: str) -> bool:
    name = fact.attribute
    if name in _NOT_SHARED:
        return False
    if name == "suspension":
        return end == _SPRINGS_OF
    if name == "brakes":
        # Discs came at the front first: of a whole vehicle they say nothing of the rear.
        return end == ("rear" if fact.value == "drum" else "front")
    if name in _ONE_END:
        return _ONE_END[name] == end
    return name == "fits_years" or end in attribute(name).ends
