"""An order of gears or of a locker held against the axle it is for: line by line go, stop or unclear."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import Attribute
from donorbase.engineering.teeth import usual_pair, written_ratio
from donorbase.facts import Value
from donorbase.reference.catalogue import GearSet, Variant
from donorbase.reference.wording import values_text
from donorbase.verdict.lights import Light, Line, measured, worst
from donorbase.verdict.order_case import case_lines
from donorbase.verdict.order_gears import gear_lines, likeliest_set, settled
from donorbase.verdict.order_locker import locker_lines
from donorbase.verdict.ordered import Order
from donorbase.verdict.prospect import Prospect, overlap
from donorbase.verdict.subjects import subject_of

_ABOUT_CASES = ("thick", "case", "spacer ring")
"""What a generation needs about its cases has a line of its own."""


@dataclass(frozen=True, slots=True)
class Ordered:
    """An order as looked over: ``lines``, what to write on it, and what to look at when the box comes.

    ``settle`` are the looks and questions that tell which generation of gears the axle has, best first.
    """

    axle: str
    lines: tuple[Line, ...]
    write: tuple[str, ...]
    on_arrival: tuple[str, ...]
    settle: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()

    @property
    def light(self) -> Light:
        """The worst of the lines."""
        return worst(self.lines)

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "axle": self.axle, "order": str(self.light), "lines": [line.as_json() for line in self.lines],
            "which_gears": list(self.settle), "write_on_the_order": list(self.write),
            "when_it_comes": list(self.on_arrival), "cautions": list(self.cautions),
        }  # fmt: skip


def look_over_order(order: Order, axle: Prospect) -> Ordered:
    """Every line of an order against the axle it is for."""
    gears = gear_lines(order, axle) if order.wants_gears else ()
    lines = (*_against_its_kind(axle), *gears, *case_lines(order, axle), *locker_lines(order, axle))
    return Ordered(named(axle), lines, tuple(_write(order, axle)), tuple(_on_arrival(order)))


_OWNERS_CHANGE = 0.1
"""What is changed as often as this tells nothing of which axle it is."""


def _against_its_kind(axle: Prospect) -> Iterator[Line]:
    """What was measured that no axle of the named kind has: it is another axle, or was changed or miscounted."""
    best = axle.best_variant()
    for name in dict.fromkeys(fact.attribute for fact in axle.axle_facts()) if best else ():
        subject, usual = subject_of(name), best.all(name) if best else ()
        strange = [value for value in measured(axle, name) if not any(_alike(value, u, subject) for u in usual)]
        if usual and strange and subject.changed < _OWNERS_CHANGE:
            why = f"{subject.title} {values_text(name, strange)} measured; its kind has {values_text(name, usual)}"
            basis = best.figures[name].basis if best else ""
            yield Line("the axle itself", Light.UNCLEAR, why, basis, f"Again: {subject.how}")


def _alike(one: Value, other: Value, subject: Attribute) -> bool:
    if isinstance(one, tuple) and isinstance(other, tuple):
        return overlap(one, other)
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return abs(one - other) <= 3 * subject.sd + 1e-6
    return one == other


def named(axle: Prospect) -> str:
    """The likeliest kind of an axle in words, with its chance where it is not sure."""
    best = axle.worlds()[0]
    if best.variant is None:
        return "none of the axles on record"
    title = f"{best.variant.key} ({best.variant.title})"
    return title if best.weight >= axle.rules.known.high else f"{title}, {best.weight:.0%}"


def _write(order: Order, axle: Prospect) -> Iterator[str]:
    """What an order to the counter must say, as far as the axle tells it."""
    gear_set, variant = likeliest_set(axle), axle.best_variant()
    if order.wants_gears and not settled(axle):
        yield "nothing yet: settle first which gears the axle has"
    elif order.wants_gears and gear_set:
        yield from _gear_words(order, gear_set)
        teeth = variant.get("pinion_splines") if variant else None
        if teeth:
            yield f"pinion of {teeth} splines, for the yoke that is on it: count them"
        small = [part.strip() for part in gear_set.needs.split(";") if not any(word in part for word in _ABOUT_CASES)]
        if small:
            yield f"with it, as this generation asks: {'; '.join(small)}; bearings and seals"
    if order.locker and variant:
        yield from _shaft_words(axle, variant)


def _gear_words(order: Order, gear_set: GearSet) -> Iterator[str]:
    if order.ratio:
        pair = usual_pair(order.ratio)
        yield f"ring and pinion {written_ratio(order.ratio)}" + (f", {pair} teeth" if pair else "")
    size = f"{gear_set.ring_gear_in:g}-in ring gear, " if gear_set.ring_gear_in else ""
    cut = f"{gear_set.cut} cut" if gear_set.cut != "not known" else "cut to be looked up by the pinion's height"
    yield f"{size}{cut}, of the generation {gear_set.key}"
    if gear_set.case_limits and order.case_ratio:
        yield f"to bolt to a case for {written_ratio(order.case_ratio)} ({gear_set.carrier_split})"


def _shaft_words(axle: Prospect, variant: Variant) -> Iterator[str]:
    name = "inner_splines" if axle.end == "front" else "splines"
    count = axle.overall(name).best
    if count is not None:
        yield f"differential for {count}-spline shafts"


def _on_arrival(order: Order) -> Iterator[str]:
    if order.wants_gears and not (order.ring_number and order.pinion_number):
        yield "compare the numbers etched on ring and pinion: a set is lapped together, and both bear the same number"
    if order.wants_gears:
        yield "count the teeth of both before anything is bolted"
    if order.locker:
        yield "push a shaft into the new side gears by hand before the differential goes in"
