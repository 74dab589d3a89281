"""One thing on offer, seen as a donor for one end: its facts, what it may be, and what is believed of it.

Judging sums over what the axle may be (its worlds): the figures of one variant hang together, so that
requirements are judged together within each and not one by one.
"""

from dataclasses import dataclass, field, replace
from typing import Any

from donorbase.attributes import attribute, attributes
from donorbase.facts import Fact, Item, Known, Reading, Value
from donorbase.identity.axles import axles_of
from donorbase.identity.belief import attribute_belief
from donorbase.identity.identification import Belief, Candidate, Identification
from donorbase.identity.identify import identify
from donorbase.identity.model import bearing_on
from donorbase.reference.catalogue import Catalogue, GearSet, Variant
from donorbase.reference.judging import Hazard, Judging
from donorbase.reference.odds import Rates
from donorbase.verdict.ruined import understood
from donorbase.verdict.signs import marks
from donorbase.verdict.spec import ENDS

_LEAST = 0.004
"""Candidates less likely than this are left out of the sum; together they stay far below the limit of
knowing.
"""
_MOST_WORLDS = 16
_YEARS_FIT = 0.5
"""Stated years are held to where at least this much of what it may be was made in them."""
_YEARS_CLASH = 0.1
"""Below this much of it, the stated years contradict the rest of what is stated."""
_EITHER_END = 0.05
"""Where the text does not say front or rear, an end less likely than this is not looked at."""


Years = tuple[Any, Any]
"""First and last model year; None is an open end."""
_HEDGES = "hedges"
"""Where the axle without its hedged facts is kept, beside those silent on one attribute."""


@dataclass(frozen=True, slots=True)
class World:
    """What the axle may be (None: none of the catalogue's) and how likely, 0 to 1."""

    variant: Variant | None
    weight: float


@dataclass
class Prospect:
    """A thing on offer as a donor for one end."""

    item: int
    end: str
    kind: str
    facts: tuple[Fact, ...]
    reading: Reading
    identification: Identification
    catalogue: Catalogue
    rules: Judging
    rates: Rates
    usual: Rates
    taken: Identification
    """As identified with the seller taken at his word; ``identification`` holds his errors to be as usual."""
    _beliefs: dict[str, Belief] = field(default_factory=dict, repr=False)
    _silent: dict[str, "Prospect"] = field(default_factory=dict, repr=False)
    _overall: dict[str, Belief] = field(default_factory=dict, repr=False)
    _worlds: list[World] = field(default_factory=list, repr=False)
    _bearing: dict[str, tuple[Fact, ...]] = field(default_factory=dict, repr=False)
    _of_years: list[Variant | None] = field(default_factory=list, repr=False)
    _axle: tuple[Fact, ...] | None = field(default=None, repr=False)
    _marks: list[tuple[str, Hazard]] | None = field(default=None, repr=False)

    def worlds(self) -> list[World]:
        """The likely candidates, weights summing to 1; those of other years only where the stated ones fit
        nothing.
        """
        if not self._worlds:
            self._worlds.extend(self._likely_worlds())
        return self._worlds

    def _likely_worlds(self) -> list[World]:
        kept = [c for c in self.taken.candidates if c.probability >= _LEAST][:_MOST_WORLDS]
        kept = self._of_the_end(kept) or [self.taken.best]
        spans = self._stated_years()
        of_years = kept if spans is None else [c for c in kept if self._of_the_years(c.variant, spans)]
        if sum(c.probability for c in of_years) >= _YEARS_FIT * sum(c.probability for c in kept):
            kept = of_years
        total = sum(c.probability for c in kept)
        variants = self.catalogue.variants
        return [World(variants[c.variant] if c.variant else None, c.probability / total) for c in kept]

    def _of_the_end(self, candidates: list[Candidate]) -> list[Candidate]:
        """Those of the end that is plainly stated: nobody takes a front for a rear."""
        if not self.plainly("position"):
            return candidates
        variants = self.catalogue.variants
        return [c for c in candidates if not c.variant or variants[c.variant].family.position == self.end]

    def _of_the_years(self, key: str | None, spans: list[Years]) -> bool:
        made = self.catalogue.variants[key].get("years") if key else None
        return not isinstance(made, tuple) or any(overlap(made, span) for span in spans)

    def _stated_years(self) -> list[Years] | None:
        """The spans of model years that are plainly stated; None where no years are."""
        if not self.plainly("years"):
            return None
        return [(span[0], span[1]) for span in self.all("years") if isinstance(span, tuple)]

    def by_the_years(self) -> Variant | None:
        """The likeliest variant of the plainly stated years where the rest of the text tells of others; else
        None.
        """
        if not self._of_years:
            self._of_years.append(self._by_the_years())
        return self._of_years[0]

    def _by_the_years(self) -> Variant | None:
        spans = self._stated_years()
        if spans is None:
            return None
        named = [c for c in self.taken.candidates if c.variant]
        fitting = [c for c in named if self._of_the_years(c.variant, spans)]
        if not fitting:
            return None
        total = sum(c.probability for c in named)
        if sum(c.probability for c in fitting) >= _YEARS_CLASH * total:
            return None
        return self.catalogue.variants[str(fitting[0].variant)]

    def best_variant(self) -> Variant | None:
        """The likeliest variant of those that are one, None where nothing is likely."""
        return next((w.variant for w in self.worlds() if w.variant), None)

    def all(self, name: str) -> tuple[Value, ...]:
        """Every value that a fact gives for an attribute."""
        return tuple(fact.value for fact in self.facts if fact.attribute == name)

    def facts_of(self, name: str) -> tuple[Fact, ...]:
        """The facts that speak of an attribute."""
        return tuple(fact for fact in self.facts if fact.attribute == name)

    def plainly(self, name: str) -> bool:
        """Whether the attribute is stated (or measured), without a hedge and without a contradiction."""
        facts = self.facts_of(name)
        sure = {Known.STATED, Known.MEASURED, Known.INFERRED}
        return bool(facts) and all(fact.known in sure for fact in facts)

    @property
    def guessed(self) -> bool:
        """Whether something is said of the axle that nobody is sure of."""
        return any(fact.known is Known.HEDGED for fact in self.axle_facts())

    def without_hedges(self) -> "Prospect":
        """The same axle as if nobody had said what he was not sure of."""
        if _HEDGES not in self._silent:
            self._silent[_HEDGES] = self.with_facts(tuple(f for f in self.facts if f.known is not Known.HEDGED))
        return self._silent[_HEDGES]

    def contradicted(self, name: str) -> bool:
        """Whether the text says two things that cannot both be."""
        return any(fact.known is Known.CONTRADICTED for fact in self.facts_of(name))

    def silent_on(self, name: str) -> "Prospect":
        """The same axle as if nobody had spoken of that attribute."""
        if name not in self._silent:
            facts = tuple(fact for fact in self.facts if fact.attribute != name)
            self._silent[name] = self.with_facts(facts)
        return self._silent[name]

    def doubted(self) -> "Prospect":
        """The same thing with the seller's errors held to be as usual."""
        usual = identify(_axle_facts(self.facts), self.catalogue, rates=self.usual, explain=False)
        return self._anew(self.facts, usual, self.usual)

    def told(self, name: str, value: Value) -> "Prospect":
        """The same axle once an attribute has been measured."""
        others = tuple(fact for fact in self.facts if fact.attribute != name)
        return self.with_facts((*others, Fact(name, value, Known.MEASURED)))

    def with_facts(self, facts: tuple[Fact, ...]) -> "Prospect":
        """The same thing on offer with other facts."""
        taken = identify(_axle_facts(facts), self.catalogue, rates=self.rates, explain=False)
        return self._anew(facts, taken, self.rates)

    def _anew(self, facts: tuple[Fact, ...], taken: Identification, rates: Rates) -> "Prospect":
        fresh: dict[str, Any] = {"_beliefs": {}, "_silent": {}, "_overall": {}, "_bearing": {}, "_axle": None}
        return replace(self, facts=facts, taken=taken, rates=rates, _worlds=[], _of_years=[], **fresh)

    def belief(self, name: str, variant: Variant | None) -> Belief:
        """What is believed of an attribute if the axle is that variant (None: none of them)."""
        if variant:
            return by_kind(self, name, variant, self._bearing_on(name))
        if name not in self._beliefs:
            self._beliefs[name] = self._of_none(name)
        return self._beliefs[name]

    def _of_none(self, name: str) -> Belief:
        """What is believed of an axle that is none of the catalogue's: nothing where nothing is said."""
        if not self.facts_of(name):
            return Belief(name, (), 1.0)
        only = Identification((Candidate(None, 1.0),))
        return attribute_belief(name, self.axle_facts(), only, self.catalogue, self.rates)

    def _bearing_on(self, name: str) -> tuple[Fact, ...]:
        """The facts that bear on an attribute within one variant, whatever words gave them."""
        if name not in self._bearing:
            names = bearing_on(name, self.rates)
            self._bearing[name] = tuple(f for f in self.axle_facts() if f.attribute in names)
        return self._bearing[name]

    def overall(self, name: str) -> Belief:
        """What is believed of an attribute whatever the axle is."""
        if name not in self._overall:
            self._overall[name] = self._summed(name)
        return self._overall[name]

    def _summed(self, name: str) -> Belief:
        weights: dict[Value, float] = {}
        unknown = 0.0
        for world in self.worlds():
            belief = self.belief(name, world.variant)
            unknown += world.weight * belief.unknown
            for value, p in belief:
                weights[value] = weights.get(value, 0.0) + world.weight * p
        ranked = tuple(sorted(weights.items(), key=lambda pair: (-pair[1], str(pair[0]))))
        return Belief(name, ranked, unknown, bool(self.facts_of(name)))

    def axle_facts(self) -> tuple[Fact, ...]:
        """The facts that identify it, whatever words gave them."""
        if self._axle is None:
            self._axle = tuple(fact.wordless() for fact in _axle_facts(self.facts))
        return self._axle

    def marks(self) -> list[tuple[str, Hazard]]:
        """The marks of the offer that matter to its end."""
        if self._marks is None:
            self._marks = marks(understood(self.reading, self.rules), self.end, self.rules)
        return self._marks

    def gear_set(self, variant: Variant | None) -> GearSet | None:
        """The generation of ring and pinion of a variant, None where it is not known."""
        key = variant.get("gear_set") if variant else None
        return self.catalogue.gear_sets.get(str(key)) if key else None


_Kept = dict[tuple[str, str, tuple[Fact, ...]], Belief]

_KINDS: list[tuple[Catalogue, Rates, _Kept]] = []
"""What is believed of single variants by what is said, for the last catalogues and rates that were used."""
_MOST_KEPT = 50_000


def by_kind(prospect: Prospect, name: str, variant: Variant, facts: tuple[Fact, ...]) -> Belief:
    """What is believed of an attribute of a variant by the facts that bear on it: the same for every listing."""
    kept = _kinds(prospect.catalogue, prospect.rates)
    key = (name, variant.key, facts)
    if key not in kept:
        if len(kept) >= _MOST_KEPT:
            kept.clear()
        only = Identification((Candidate(variant.key, 1.0),))
        kept[key] = attribute_belief(name, facts, only, prospect.catalogue, prospect.rates)
    return kept[key]


def _kinds(catalogue: Catalogue, rates: Rates) -> _Kept:
    for of, under, kept in _KINDS:
        if of is catalogue and under is rates:
            return kept
    fresh: _Kept = {}
    _KINDS[:] = [*_KINDS[-7:], (catalogue, rates, fresh)]
    return fresh


_WORDS: list[tuple[Rates, Rates]] = []
"""The last rates that were softened: the identification keeps what it works out for each set of rates."""


def at_his_word(rates: Rates, rules: Judging) -> Rates:
    """Rates of error under which a plain statement is taken for true unless others speak strongly against
    it.
    """
    for usual, word in _WORDS:
        if usual is rates:
            return word
    word = _softened(rates, rules)
    _WORDS[:] = [*_WORDS[-3:], (rates, word)]
    return word


def _softened(rates: Rates, rules: Judging) -> Rates:
    part = rules.known.error_part
    times, plus = rates.known[Known.STATED]
    known = {**rates.known, Known.STATED: (times * part, plus * part)}
    return replace(rates, known=known, donor_wrong=rates.donor_wrong * part)


def prospects_of(
    number: int, item: Item, reading: Reading, catalogue: Catalogue, rules: Judging, rates: Rates
) -> list[Prospect]:
    """An item of a reading as donor: of one end, of both where it is a vehicle or where nobody says which."""
    kind = str(item.get("kind") or "axle")
    found = []
    for facts in axles_of(item):
        others = tuple(f for f in item.facts if f.attribute not in attributes() or _scope(f) != "axle")
        identification = identify(facts, catalogue, rates=rates, explain=False)
        word = at_his_word(rates, rules)
        taken = identify(facts, catalogue, rates=word, explain=False)
        for end in _ends(facts, identification, catalogue):
            found.append(
                Prospect(
                    number,
                    end,
                    kind,
                    (*facts, *others),
                    reading,
                    identification,
                    catalogue,
                    rules,
                    word,
                    rates,
                    taken,
                )
            )
    return found


def _ends(facts: tuple[Fact, ...], identification: Identification, catalogue: Catalogue) -> list[str]:
    stated = [str(f.value) for f in facts if f.attribute == "position"]
    if stated:
        return stated[:1]
    chance = dict.fromkeys(ENDS, 0.0)
    for candidate in identification.candidates:
        if candidate.variant:
            chance[catalogue.variants[candidate.variant].family.position] += candidate.probability
    return [end for end in ENDS if chance[end] > _EITHER_END] or list(ENDS)


def overlap(one: tuple[int | None, int | None], other: tuple[int | None, int | None]) -> bool:
    """Whether two spans of model years share a year; None is an open end."""
    (a, b), (c, d) = one, other
    return (a or 0) <= (d or 9999) and (c or 0) <= (b or 9999)


def _scope(fact: Fact) -> str:
    return attribute(fact.attribute).scope


def speaks_of_the_axle(fact: Fact) -> bool:
    """Whether a fact is of the axle itself and not of the offer or the thing in it."""
    return fact.attribute in attributes() and _scope(fact) == "axle"


def _axle_facts(facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
    return tuple(f for f in facts if speaks_of_the_axle(f))
