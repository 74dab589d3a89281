"""Whether a kind of axle, as it left the factory, can meet a requirement, and whether work that is accepted brings it.

A kind of which any fitted value meets a must can meet it; a figure that is not known neither meets nor fails.
"""

from collections.abc import Iterable, Iterator
from enum import StrEnum
from itertools import product

from donorbase.attributes import attributes
from donorbase.facts import Fact, Reading, Value
from donorbase.identity.identification import Candidate, Identification
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.reference.conditions import RATIO_SOLD
from donorbase.reference.judging import Judging, judging
from donorbase.reference.odds import load_rates
from donorbase.verdict.cures import options_for
from donorbase.verdict.pair import Side, judge_pair
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import ENDS, Build, Requirement
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import Finding, State
from donorbase.verdict.weigh import chance_in, sold

ALWAYS_SO = frozenset({"position", "donor"})
"""What holds of every kind that is counted."""
OF_THE_VEHICLE = frozenset({"brake_fluid_enough", "parking_brake"})
"""What the catalogue answers in words, or together with the vehicle."""
_PAIR_OF = {"ratio_mismatch_pct": "ratio", "bolt_circle_same": "bolt_circle_mm", "width_diff_in": "width_in"}


class Reach(StrEnum):
    """Whether a kind can meet a must: as it is, by work that is planned or accepted, not known, or not at all."""

    MEETS = "meets"
    WITH_WORK = "with work"
    NOT_KNOWN = "not known"
    FAILS = "fails"


def counted(requirement: Requirement, rules: Judging) -> bool:
    """Whether a requirement speaks of kinds of axle, so that the catalogue can answer it."""
    name, condition = requirement.subject, requirement.condition
    if name in (RATIO_SOLD, "price_usd", *OF_THE_VEHICLE, *_PAIR_OF):
        return True
    if name in ALWAYS_SO or name not in attributes() or attributes()[name].scope != "axle":
        return False
    return not (condition.only_forbids and all(str(word) in rules.unsaid for word in condition.forbids))


class Kinds:
    """The kinds of one end of a catalogue, each ready to be held against the musts of a build."""

    def __init__(self, build: Build, end: str, catalogue: Catalogue) -> None:
        self.build, self.end, self.catalogue, self.rules = build, end, catalogue, judging()
        self.other = ENDS[1 - ENDS.index(end)]
        self.variants = [v for v in catalogue.of_position(end) if v.family.donor_ok]
        self._prospects: dict[str, Prospect] = {}
        self._others: dict[str, tuple[Value, ...]] = {}

    def reach(self, requirement: Requirement, variant: Variant) -> Reach:
        """Whether the kind can meet it, by work where nothing else does."""
        found = self._as_it_is(requirement, variant)
        return Reach.WITH_WORK if found is Reach.FAILS and self._by_work(requirement, variant) else found

    def _as_it_is(self, requirement: Requirement, variant: Variant) -> Reach:
        name = requirement.subject
        if name in _PAIR_OF:
            return self._pair(requirement, variant)
        if name == "price_usd":
            return _priced(requirement, variant)
        if name == RATIO_SOLD or name in OF_THE_VEHICLE:
            return self._by_chance(requirement, variant)
        subject = subject_of(name)
        if variant.family.position not in subject.ends:
            return Reach.FAILS
        return _any(requirement.condition.share(value, subject) for value in values_of(name, variant))

    def _by_chance(self, requirement: Requirement, variant: Variant) -> Reach:
        """By the chance that judging gives it: a ratio that no list has may be sold where the list is not complete."""
        wanted = requirement.condition.wanted
        prospect = self._prospect(variant)
        if requirement.subject == RATIO_SOLD and isinstance(wanted, (int, float)):
            holds, unknown = sold(float(wanted), prospect, variant)
        else:
            holds, unknown = chance_in(requirement, prospect, variant, self.build)
        if holds + unknown <= self.rules.known.low:
            return Reach.FAILS
        return Reach.MEETS if holds >= 0.5 else Reach.NOT_KNOWN

    def _pair(self, requirement: Requirement, variant: Variant) -> Reach:
        """Against the other end that is there, or against any kind of it that could be bought."""
        attribute = _PAIR_OF[requirement.subject]
        own, others = variant.all(attribute), self._other_values(attribute)
        if not own or not others:
            return Reach.NOT_KNOWN
        return _any(self._agree(requirement, attribute, one, other) for one, other in product(own, others))

    def _agree(self, requirement: Requirement, attribute: str, one: Value, other: Value) -> float:
        sides = {self.end: Side(self.end, has={attribute: one}), self.other: Side(self.other, has={attribute: other})}
        finding = self._judged(requirement, sides)
        return float(finding is not None and finding.state is State.MEETS)

    def _other_values(self, attribute: str) -> tuple[Value, ...]:
        if attribute not in self._others:
            there = self.build.has.get(self.other, {})
            kinds = self.catalogue.of_position(self.other) if self.other in self.build.wants else ()
            bought = (value for kind in kinds if kind.family.donor_ok for value in kind.all(attribute))
            self._others[attribute] = (there[attribute],) if attribute in there else tuple(dict.fromkeys(bought))
        return self._others[attribute]

    def _by_work(self, requirement: Requirement, variant: Variant) -> bool:
        if requirement.subject not in _PAIR_OF:
            return bool(options_for(requirement, self._prospect(variant), self.build))
        other = Side(self.other, has=self.build.has.get(self.other, {}))
        sides = {self.end: Side(self.end, self._prospect(variant)), self.other: other}
        finding = self._judged(requirement, sides)
        return finding is not None and bool(finding.cured_by)

    def _judged(self, requirement: Requirement, sides: dict[str, Side]) -> Finding | None:
        found = judge_pair(self.build, sides["front"], sides["rear"], self.rules, frozenset())
        return next((f for f in found if f.requirement == requirement), None)

    def _prospect(self, variant: Variant) -> Prospect:
        """The kind as if it were on offer, of which nothing is said but what it is."""
        if variant.key not in self._prospects:
            sure = Identification((Candidate(variant.key, 1.0),))
            facts = (Fact("kind", "axle"), Fact("position", self.end))
            self._prospects[variant.key] = Prospect(
                0, self.end, "axle", facts, Reading("", (), ()), sure, self.catalogue, self.rules, load_rates(),
                load_rates(), sure,
            )  # fmt: skip
        return self._prospects[variant.key]


def values_of(name: str, variant: Variant) -> tuple[Value, ...]:
    """Every value that the factory fitted; a word that leaves the kind open stands for its kinds too."""
    if name in ("variant", "family"):
        return (variant.key if name == "variant" else variant.family.key,)
    wider = judging().wider
    return tuple(kind for value in variant.all(name) for kind in (value, *wider.get(str(value), ())))


def _any(shares: Iterable[float]) -> Reach:
    met = list(shares)
    return (Reach.MEETS if max(met) > 0 else Reach.FAILS) if met else Reach.NOT_KNOWN


def _priced(requirement: Requirement, variant: Variant) -> Reach:
    """By the usual asking prices of the kind: any of them will do."""
    span = variant.get("price_range_usd")
    if not isinstance(span, tuple):
        return Reach.NOT_KNOWN
    return _any(requirement.condition.share(price, subject_of("price_usd")) for price in _steps(span))


def _steps(span: tuple[Value, ...]) -> Iterator[float]:
    low, high = (float(v) for v in span if isinstance(v, (int, float)))
    yield from (low + (high - low) * n / 10 for n in range(11))
