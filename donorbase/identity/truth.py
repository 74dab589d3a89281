"""P(true value of an attribute | candidate, all facts): what belief and the next question rest on."""

from collections.abc import Sequence
from functools import lru_cache
from math import prod
from operator import mul

from donorbase.facts import Fact
from donorbase.identity.model import EVENTS, Column, Model, Weighed, event_of, own_share
from donorbase.identity.traits import Trait, Vector, mixed

_LEAST_SHARE = 1e-3
"""Relatives of an axle outside the catalogue that count for less are left out."""


class Told:
    """Facts, weighed once, from which the truth of any attribute can be reckoned."""

    def __init__(self, model: Model, facts: Sequence[Fact]) -> None:
        self.model, self.facts = model, tuple(facts)
        self.weighed = {one.name: one for one in model.weigh_all(facts)}
        self._resembles: list[tuple[int, float]] | None = None
        self._truths: dict[str, Truth] = {}

    def truth(self, name: str) -> "Truth":
        """The truth of one attribute."""
        if name not in self._truths:
            self._truths[name] = Truth(self, name)
        return self._truths[name]

    def resembles(self) -> list[tuple[int, float]]:
        """Variants that an axle outside the catalogue would most resemble, with shares that sum to 1."""
        if self._resembles is None:
            shares: list[float] = list(self.model.relative)
            for one in self.weighed.values():
                shares = list(map(mul, shares, one.relatives))
            total = sum(shares)
            kept = [(i, s) for i, s in enumerate(shares) if s >= _LEAST_SHARE * total]
            total = sum(s for _, s in kept)
            self._resembles = [(i, s / total) for i, s in kept]
        return self._resembles


@lru_cache(maxsize=64)
def told_of(model: Model, facts: tuple[Fact, ...]) -> Told:
    """The facts weighed; kept, for one set of facts is asked about many attributes."""
    return Told(model, facts)


class Truth:
    """One attribute's true value, variant by variant."""

    def __init__(self, told: Told, name: str) -> None:
        self.told, self.model = told, told.model
        self.trait: Trait = self.model.traits[name]
        self.one: Weighed | None = told.weighed.get(name) or self._unweighed(name)
        self.beside = self._beside(name)
        self.common = self._common(name)
        self.kept, self.gone = self._shares()

    def _unweighed(self, name: str) -> Weighed | None:
        """Facts of an attribute that tells no axles apart, but has a value all the same."""
        said = [f for f in self.told.facts if f.attribute == name]
        return self.model.weigh(name, said) if said else None

    @property
    def said(self) -> tuple[Fact, ...]:
        """The facts of the attribute itself; years that it is said to fit are none of them."""
        name = self.trait.attribute.name
        return tuple(f for f in self.one.facts if f.attribute == name) if self.one else ()

    def _beside(self, name: str) -> list[Weighed]:
        names = (other for other in EVENTS.get(event_of(name), ()) if other != name)
        return [self.told.weighed[other] for other in names if other in self.told.weighed]

    def _common(self, name: str) -> float:
        # A truck that is described wrongly leaves the true values of its own as they are.
        if event_of(name) == "donor":
            return 0.0
        facts = (fact for one in self.beside for fact in one.facts)
        return self.model.common_event([name, *(one.name for one in self.beside)], facts)

    def _shares(self) -> tuple[Column, Column]:
        """How likely the event that changes this attribute along with others did not happen, and did."""
        n = range(len(self.model.keys))
        if self.common == 0.0:
            return (1.0,) * len(n), (0.0,) * len(n)
        columns = [own_share(self.model, other, self.common) for other in self.beside]
        kept = tuple((1.0 - self.common) * prod(alone[i] for alone, _ in columns) for i in n)
        gone = tuple(self.common * prod(event[i] for _, event in columns) for i in n)
        return kept, gone

    def within(self, place: int) -> Vector:
        """P(value | variant, facts)."""
        trait = self.trait
        made, changed = trait.vectors[trait.factory[place]], trait.vectors[trait.changed[place]]
        own = max(0.0, trait.attribute.changed - self.common)
        kept, gone = self.kept[place] * (1.0 - own), self.kept[place] * own + self.gone[place]
        return self._seen(mixed(made, changed, gone / (kept + gone)), self.model.end[place])

    def outside(self) -> Vector:
        """The same for an axle of none of the variants: like the one that it resembles, or else anything."""
        name = self.trait.attribute.name
        mass = (0.0,) * (len(self.trait.atoms) + 2)
        for place, share in self.told.resembles():
            seen = self._seen(_kin_of(self.model, name, place), self.model.end[place])
            mass = tuple(m + share * v for m, v in zip(mass, seen, strict=True))
        return mass

    def _seen(self, vector: Vector, end: str) -> Vector:
        if self.one is None:
            return vector
        raw = [v * s for v, s in zip(vector, self.one.by_value[end], strict=True)]
        total = sum(raw)
        return tuple(r / total for r in raw)


@lru_cache(maxsize=20_000)
def _kin_of(model: Model, name: str, place: int) -> Vector:
    """P(value) of an axle that resembles a variant and is none of them; whatever is said of it, it is the same."""
    trait = model.traits[name]
    pair = trait.vectors[trait.factory[place]], trait.vectors[trait.changed[place]]
    return mixed(mixed(*pair, trait.attribute.changed), trait.broad[model.end[place]], model.differs(name))
