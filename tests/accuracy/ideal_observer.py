"""What somebody could know who knew the dice: the posterior under the very rates that made the axles.

No better judge is possible, so observations suffice where this one is sure. It is written from the rules of
``simulated_axles`` alone and uses nothing of ``donorbase.identity``.
"""

import math
from collections import Counter
from functools import cached_property

from simulated_axles import DESIGN, MEASURED, ODD, SAID, STRANGE, STRANGE_COUNTS, Cup, span

from donorbase.attributes import Attribute, Kind, attribute
from donorbase.facts import Fact, Known, Value
from donorbase.reference.catalogue import Variant
from donorbase.reference.odds import load_priors

IMPOSSIBLE = 1e-12
Chances = dict[Value, float]


class IdealObserver:
    """Knows one dice cup's rates, weights and rules."""

    def __init__(self, cup: Cup, none_share: float) -> None:
        self.cup, self.none_share = cup, none_share
        total = sum(cup.weights)
        self.prior = [weight / total for weight in cup.weights]
        self.true = [{n: self._chances(v, n) for n in {*SAID, *MEASURED}} for v in cup.variants]
        self.names = [[n for n in DESIGN if self.true[i].get(n)] for i in range(len(cup.variants))]

    @cached_property
    def pools(self) -> dict[tuple[str, str], Chances]:
        """How often each value stands in the catalogue, by end and attribute."""
        names, ends = {*SAID, *MEASURED}, ("front", "rear")
        return {(end, n): _shares(self.cup.pool(end, n)) for n in names for end in ends}

    def posterior(self, facts: tuple[Fact, ...]) -> dict[str | None, float]:
        """Probability of every variant, and of none (None)."""
        found: dict[str | None, float] = {}
        none = 0.0
        for place, variant in enumerate(self.cup.variants):
            plain = strange = 1.0
            odds = min(1.0, 5.0 / max(len(self.names[place]), 1))
            for fact in facts:
                likely = self._likely(fact, self.true[place].get(fact.attribute, {}), variant)
                plain *= likely
                other = odds if fact.attribute in self.names[place] else 0.0
                strange *= (1.0 - other) * likely + (other * self._strange(fact, variant) if other else 0.0)
            found[variant.key] = (1.0 - self.none_share) * self.prior[place] * plain
            none += self.none_share * self.prior[place] * strange
        found[None] = none
        total = sum(found.values())
        return {key: p / total for key, p in found.items()}

    def _chances(self, variant: Variant, name: str) -> Chances:
        known, end = attribute(name), variant.family.position
        if end not in known.ends:
            return {}
        if name == "years":
            return _years(variant)
        blank = {v: p / 2.0 for v, p in _shares(self.cup.of_kind(variant, name)).items()}
        factory = _shares(list(variant.all(name))) or blank
        if not factory:
            return {}
        changed = min(1.0, known.changed * self.cup.off[name])
        mixed = {v: (1.0 - changed) * p for v, p in factory.items()}
        for value, p in self.pools[end, name].items():
            mixed[value] = mixed.get(value, 0.0) + changed * p
        return mixed

    def _likely(self, fact: Fact, true: Chances, variant: Variant) -> float:
        """P(fact | the true value is spread so)."""
        known, end = attribute(fact.attribute), variant.family.position
        error = self._error(known, fact)
        if known.name == "years":
            return max(IMPOSSIBLE, sum(p * _said_year(fact.value, year, error) for year, p in true.items()))
        if known.kind in (Kind.LENGTH, Kind.RATIO):
            near = sum(p * self._density(fact, known, v) for v, p in true.items())
            wrong = sum(p * self._density(fact, known, v) for v, p in self.pools[end, known.name].items())
            wrong = self._or_odd(fact, wrong, variant)
        else:
            near = true.get(fact.value, 0.0)
            wrong = self._or_odd(fact, self.pools[end, known.name].get(fact.value, 0.0), variant)
            if fact.known is Known.MEASURED and known.kind is Kind.COUNT and isinstance(fact.value, int):
                off = {-2: 1, -1: 2, 1: 2, 2: 1}
                wrong = 0.2 * wrong + 0.8 * sum(true.get(fact.value + d, 0.0) * n / 6 for d, n in off.items())
        return max(IMPOSSIBLE, (1.0 - error) * near + error * wrong)

    def _or_odd(self, fact: Fact, told: float, variant: Variant) -> float:
        odd = fact.attribute in STRANGE or fact.attribute in STRANGE_COUNTS
        return (1.0 - ODD) * told + ODD * self._strange(fact, variant) if odd else told

    def _error(self, known: Attribute, fact: Fact) -> float:
        off = self.cup.off[known.name]
        if fact.known is Known.HEDGED:
            return 0.15
        if fact.known is Known.MEASURED:
            return off * (0.01 if known.kind in (Kind.LENGTH, Kind.RATIO) else known.miscount)
        return known.seller_error * off

    def _density(self, fact: Fact, known: Attribute, true: Value) -> float:
        tool = known.sd * min(1.3, self.cup.off[known.name]) if fact.known is Known.MEASURED else 0.03 * known.sd
        sd = math.hypot(self.cup.spread.get(known.name, 0.0), max(tool, 0.004))
        return math.exp(-0.5 * ((float(fact.value) - float(true)) / sd) ** 2) / sd / 2.5066

    def _strange(self, fact: Fact, variant: Variant) -> float:
        name = fact.attribute
        if name in STRANGE:
            low, high = STRANGE[name]
            return 1.0 / (high - low) if low <= float(fact.value) <= high else IMPOSSIBLE
        if name in STRANGE_COUNTS:
            return 1.0 / len(STRANGE_COUNTS[name]) if fact.value in STRANGE_COUNTS[name] else IMPOSSIBLE
        return self.pools[variant.family.position, name].get(fact.value, IMPOSSIBLE)


def _shares(values: list[Value]) -> Chances:
    return {value: n / len(values) for value, n in Counter(values).items()}


def _years(variant: Variant) -> Chances:
    first, last = span(variant)
    raw = {year: load_priors().of_year(year) for year in range(first, last + 1)}
    total = sum(raw.values())
    found = {year: 0.96 * w / total for year, w in raw.items()}
    return {first - 1: 0.02, last + 1: 0.02, **found}


def _said_year(said: Value, year: Value, error: float) -> float:
    off = int(said[0]) - int(year) if isinstance(said, tuple) else 0
    slips = Counter((-3, -2, -1, -1, 1, 1, 2, 3, -8, 8, -15, 15))
    return (1.0 - error if off == 0 else 0.0) + error * slips[off] / 12.0
