"""Axles, sellers and measurers out of a dice cup, made without the identification that they test.

It knows the catalogue's figures and how often people err, but none of the tables of ``donorbase.identity``.
Every run draws its own rates: each error rate of the data is multiplied by a factor between a half and two,
and each variant's commonness by one between two thirds and one and a half, so that the model is never told
the truth about them.
"""

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass

from donorbase.attributes import Attribute, Kind, attribute, of_scope
from donorbase.facts import Fact, Known, Value
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.reference.odds import load_priors, load_rates

# How often a seller says it at all (common practice, after ordinary adverts).
SAID = {
    "position": 0.97, "years": 0.75, "load_class": 0.5, "rear_wheels": 0.4, "lugs": 0.6, "bolt_circle_mm":
    0.5, "ring_gear_in": 0.3, "ratio": 0.6, "differential": 0.3, "knuckle": 0.35, "drop": 0.35, "pinion":
    0.15, "float": 0.4, "brakes": 0.5, "suspension": 0.4, "inner_splines": 0.2, "outer_splines": 0.25,
    "splines": 0.25, "width_in": 0.15, "cover_bolts": 0.35, "hubs": 0.3, "donor_line": 0.3, "abs": 0.1,
    "caliper_pistons": 0.1,
}  # fmt: skip
# How often a person with tape and caliper beside the axle takes it.
MEASURED = {
    "position": 1.0, "lugs": 0.9, "bolt_circle_mm": 0.8, "cover_bolts": 0.7, "ring_gear_in": 0.4, "ratio":
    0.4, "knuckle": 0.8, "drop": 0.8, "pinion": 0.6, "float": 0.8, "brakes": 0.8, "suspension": 0.6, "hubs":
    0.5, "inner_splines": 0.25, "outer_splines": 0.5, "splines": 0.4, "shaft_dia_in": 0.3, "width_in": 0.5,
    "tube_in": 0.4, "rear_wheels": 0.5, "years": 0.4, "donor_line": 0.4, "hub_bore_mm": 0.2, "joint_cap_in":
    0.3,
}  # fmt: skip
DESIGN = (
    "ring_gear_in", "cover_bolts", "lugs", "bolt_circle_mm", "inner_splines", "outer_splines", "splines",
    "knuckle", "shaft_dia_in", "tube_in", "width_in", "hub_bore_mm", "joint_cap_in",
)  # fmt: skip
STRANGE = {
    "ring_gear_in": (6.5, 14.5), "bolt_circle_mm": (98.0, 290.0), "width_in": (50.0, 80.0), "tube_in": (2.0,
    5.0), "shaft_dia_in": (1.0, 2.2), "hub_bore_mm": (55.0, 220.0), "joint_cap_in": (0.9, 1.9),
}  # fmt: skip
STRANGE_COUNTS = {
    "cover_bolts": (8, 9, 11, 13, 15, 16), "lugs": (4, 5, 6, 8, 10), "inner_splines": (16, 24, 32, 36, 39),
    "outer_splines": (16, 24, 28, 34, 39), "splines": (16, 23, 26, 36, 39),
}  # fmt: skip

ODD = 0.4
"""Of mistakes in a figure, the share that names no axle's figure at all; the others name another axle's."""


@dataclass(frozen=True)
class Simulated:
    """One axle: which variant it is (None: none of them), what it truly has, and what was said or
    measured."""

    key: str | None
    true: dict[str, Value]
    facts: tuple[Fact, ...]


class Cup:
    """The dice cup: one world of sellers, with its own rates."""

    def __init__(self, catalogue: Catalogue, seed: int) -> None:
        self.catalogue, self.dice = catalogue, random.Random(seed)
        self.variants = list(catalogue.variants.values())
        self.off = {a.name: math.exp(self.dice.uniform(-math.log(2), math.log(2))) for a in of_scope("axle")}
        self.weights = [self._weight(variant) for variant in self.variants]
        self.spread = load_rates().spread

    def _weight(self, variant: Variant) -> float:
        priors = load_priors()
        first, last = span(variant)
        years = sum(priors.of_year(year) for year in range(first, last + 1))
        return priors.of_variant(variant.key) * years * math.exp(self.dice.uniform(-0.405, 0.405))

    def axles(self, count: int, none_share: float) -> Iterator[Simulated]:
        """That many axles; of ``none_share`` of them the catalogue knows nothing."""
        for _ in range(count):
            yield self.axle(none=self.dice.random() < none_share)

    def axle(self, none: bool = False) -> Simulated:
        """One axle as an advert or a person with a tape tells of it."""
        variant = self.dice.choices(self.variants, self.weights)[0]
        true = self.truth(variant)
        if none:
            self.make_strange(true, variant)
        table = self.dice.choice((SAID, SAID, MEASURED))
        told = [name for name in table if name in true and self.dice.random() < table[name]]
        measured = table is MEASURED
        facts = tuple(self._fact(name, true[name], variant.family.position, measured) for name in told)
        return Simulated(None if none else variant.key, true, facts)

    def truth(self, variant: Variant) -> dict[str, Value]:
        """What one axle of the variant has: as made, or as an owner changed it."""
        end = variant.family.position
        found: dict[str, Value] = {}
        for name in sorted({*SAID, *MEASURED}):
            known = attribute(name)
            if end not in known.ends:
                continue
            pool = variant.all(name) or self._relatives(variant, name)
            if not pool:
                continue
            value = self.dice.choice(pool)
            if self.dice.random() < known.changed * self.off[name]:
                value = self.dice.choice(self.pool(end, name))
            found[name] = self.own(known, value)
        found["years"] = self.year(variant)
        return found

    def own(self, known: Attribute, value: Value) -> Value:
        """The figure of one axle, about that of its kind."""
        spread = self.spread.get(known.name, 0.0)
        return self.dice.gauss(float(value), spread) if spread and isinstance(value, int | float) else value

    def year(self, variant: Variant) -> Value:
        """The model year of one axle, as its papers say: now and then half a year slips."""
        first, last = span(variant)
        priors = load_priors()
        years = range(first, last + 1)
        year = self.dice.choices(years, [priors.of_year(y) for y in years])[0]
        if self.dice.random() < 0.04:
            year = self.dice.choice((first - 1, last + 1))
        return (year, year)

    def _relatives(self, variant: Variant, name: str) -> list[Value]:
        """For a blank figure what half of its kind may have; an axle without a beam has no such thing to
        tell of."""
        return self.of_kind(variant, name) if self.dice.random() < 0.5 else []

    def of_kind(self, variant: Variant, name: str) -> list[Value]:
        """Values of the family; else of axles of that end and load class."""
        family = [v for other in self.variants if other.family is variant.family for v in other.all(name)]
        if family or not variant.family.donor_ok:
            return family
        kind = (variant.family.position, variant.all("load_class")[:1])
        alike = (o for o in self.variants if (o.family.position, o.all("load_class")[:1]) == kind)
        return [v for other in alike for v in other.all(name)]

    def pool(self, end: str, name: str) -> list[Value]:
        """All values of an attribute at one end, as often as they stand in the catalogue."""
        return [v for other in self.variants if other.family.position == end for v in other.all(name)]

    def make_strange(self, true: dict[str, Value], variant: Variant) -> None:
        """Another maker's axle: like a known one, with three to seven design figures of its own."""
        names = [name for name in DESIGN if name in true]
        for name in self.dice.sample(names, min(len(names), self.dice.randint(3, 7))):
            if name in STRANGE or name in STRANGE_COUNTS:
                true[name] = self.odd(name)
            else:
                true[name] = self.dice.choice(self.pool(variant.family.position, name))

    def odd(self, name: str) -> Value:
        """A value that may stand in no catalogue."""
        if name in STRANGE:
            return round(self.dice.uniform(*STRANGE[name]), 2)
        return self.dice.choice(STRANGE_COUNTS[name])

    def _fact(self, name: str, true: Value, end: str, measured: bool) -> Fact:
        known = attribute(name)
        if measured:
            return Fact(name, self.measured(known, true, end), Known.MEASURED)
        value, error = self._rounded(known, true), known.seller_error * self.off[name]
        hedged = self.dice.random() < 0.08
        if self.dice.random() < (0.15 if hedged else error):
            value = self._mistaken(known, value, end)
        return Fact(name, value, Known.HEDGED if hedged else Known.STATED)

    def measured(self, known: Attribute, true: Value, end: str) -> Value:
        """What a person with the tool reads off."""
        if known.kind in (Kind.LENGTH, Kind.RATIO) and isinstance(true, int | float):
            if self.dice.random() < 0.01 * self.off[known.name]:
                return self._mistaken(known, true, end)
            return round(self.dice.gauss(float(true), known.sd * min(1.3, self.off[known.name])), 3)
        if self.dice.random() < known.miscount * self.off[known.name]:
            if known.kind is Kind.COUNT and isinstance(true, int) and self.dice.random() < 0.8:
                return true + self.dice.choice((-2, -1, -1, 1, 1, 2))
            return self._mistaken(known, true, end)
        return true

    def _rounded(self, known: Attribute, true: Value) -> Value:
        """A seller's number: the nearest that the trade speaks of, or as he measured it."""
        if known.kind not in (Kind.LENGTH, Kind.RATIO) or not isinstance(true, int | float):
            return true
        steps = {"bolt_circle_mm": 0.1, "ring_gear_in": 0.05, "width_in": 0.25, "ratio": 0.01}
        step = steps.get(known.name, 0.01)
        if known.name == "bolt_circle_mm":
            named = self.pool("front", known.name) + self.pool("rear", known.name)
            near = min(named, key=lambda v: abs(float(v) - true))
            return near if abs(float(near) - true) < 0.6 else round(true, 1)
        return round(round(true / step) * step, 3)

    def _mistaken(self, known: Attribute, true: Value, end: str) -> Value:
        if known.name == "years" and isinstance(true, tuple):
            off = self.dice.choice((-3, -2, -1, -1, 1, 1, 2, 3, -8, 8, -15, 15))
            return (true[0] + off, true[0] + off)
        if self.dice.random() < ODD and known.name in {*STRANGE, *STRANGE_COUNTS}:
            return self.odd(known.name)
        others = [v for v in self.pool(end, known.name) if v != true] or list(known.values)
        return self.dice.choice(others) if others else true


def span(variant: Variant) -> tuple[int, int]:
    """First and last model year, open ends closed."""
    pair = variant.get("years")
    assert isinstance(pair, tuple)
    return int(pair[0] or 1945), int(pair[1] or 2026)
