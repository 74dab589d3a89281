"""Catalogue, rates and priors, made ready once for many identifications."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import log, sqrt
from operator import mul

from donorbase.errors import NotFound
from donorbase.facts import Fact, Known
from donorbase.identity.noise import Noise
from donorbase.identity.trait_tables import all_traits
from donorbase.identity.traits import ENDS, Trait, Vector
from donorbase.identity.weighing import weights
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.odds import Priors, Rates, load_priors, load_rates

EVENTS: Mapping[str, tuple[str, ...]] = {
    "donor": ("years", "donor_line", "load_class", "rear_wheels"),
    "wheel ends": ("lugs", "bolt_circle_mm", "stud", "hub_bore_mm", "hub_bearing"),
    "shafts": ("splines", "shaft_dia_in"),
    "brakes": ("brakes", "caliper_pistons", "caliper_piston_mm", "rotor_dia_mm", "drum_dia_in"),
    "springs": ("suspension", "perch_pad_in"),
}
"""Attributes that go wrong together: one truck taken for another, one set of hubs fitted. Facts of one event
count once where the event happened."""

Column = tuple[float, ...]
"""A number for each variant, in the catalogue's order."""

_EVENT_OF = {name: event for event, names in EVENTS.items() for name in names}
_DESIGN = frozenset({"family", "shafts", "knuckle_hub", "dimensions"})
"""Groups of figures that make a design."""
_FIXED = frozenset({"position"})
"""What an axle outside the catalogue shares with its nearest relative for certain."""


@dataclass(frozen=True, slots=True, eq=False)
class Weighed:
    """What the facts of one attribute say, as likelihoods by variant and of anything else.

    There is one for each set of facts, so that two are the same only where they are one.
    """

    trait: Trait
    facts: tuple[Fact, ...]
    by_value: Mapping[str, Vector]
    """P(facts | true value) by end."""
    most: Mapping[str, float]
    """The greatest of them, by end."""
    made: Column
    """Likelihood where the axle is as it left the factory."""
    changed: Column
    """Likelihood where an owner has changed it."""
    anything: Mapping[str, float]
    """Likelihood where the true value is drawn from all that there is, by end."""
    usual: Column
    """Likelihood with the usual share of changed ones."""
    logs: Column
    """Natural logarithms of ``usual``."""
    relatives: Column
    """Likelihood for an axle outside the catalogue, by the variant that it most resembles."""

    @property
    def name(self) -> str:
        """The attribute's name."""
        return self.trait.attribute.name

    def agreement(self, place: int) -> float:
        """How well the facts agree with any value that a variant was made with, 1 for one that they name."""
        vector = self.trait.factory[place]
        end = self.trait.ends_of[vector]
        return max(map(self.by_value[end].__getitem__, self.trait.usual[vector])) / self.most[end]

    def with_share(self, changed: float) -> Column:
        """Likelihood by variant where that share of axles has been changed."""
        return _blend(self.made, self.changed, changed)


def _blend(made: Column, changed: Column, share: float) -> Column:
    kept = 1.0 - share
    return tuple([kept * a + share * b for a, b in zip(made, changed, strict=True)])


class Model:
    """Tables for identification over one catalogue; read only once it is made."""

    def __init__(self, catalogue: Catalogue, rates: Rates, priors: Priors) -> None:
        self.catalogue, self.rates = catalogue, rates
        self.keys = tuple(catalogue.variants)
        self.place = {key: i for i, key in enumerate(self.keys)}
        self.end = tuple(v.family.position for v in catalogue.variants.values())
        self.traits = all_traits(catalogue, rates, priors)
        self.none = priors.none_of_these
        self.prior = self._prior(priors)
        self.log_prior = tuple(log(p * (1.0 - self.none)) for p in self.prior)
        roots = [sqrt(p) for p in self.prior]
        self.relative = tuple(root / sum(roots) for root in roots)
        self._noise: dict[tuple[str, str], Noise] = {}

    def _prior(self, priors: Priors) -> Column:
        years = self.traits["years"]
        raw = []
        for key, place in zip(self.keys, years.factory, strict=True):
            vector = years.vectors[place]
            # A variant weighs as much as its years together: each year's share by the year's weight at its
            # top.
            top = max(range(len(years.atoms)), key=lambda i: vector[i])
            year = years.atoms[top]
            fade = priors.of_year(year) if isinstance(year, int) else 1.0
            raw.append(priors.of_variant(key) * fade / max(vector[top], 1e-9))
        total = sum(raw)
        return tuple(weight / total for weight in raw)

    def noise(self, name: str, end: str) -> Noise:
        """What measuring an attribute at one end would show; made at first use."""
        key = name, end
        if key not in self._noise:
            self._noise[key] = Noise(self.traits[name], end, self.rates)
        return self._noise[key]

    def weigh(self, name: str, facts: Sequence[Fact], error_times: float = 1.0) -> Weighed:
        """The likelihood of one attribute's facts for every variant."""
        return _weighed(self, name, tuple(f.wordless() for f in facts), error_times)

    def weigh_all(self, facts: Iterable[Fact]) -> list[Weighed]:
        """One for each attribute that says something, those of one event side by side."""
        told = sorted_facts(facts, self.traits)
        return [self.weigh(name, group, self._apart(name, told)) for name, group in told.items()]

    def _apart(self, name: str, told: Mapping[str, Sequence[Fact]]) -> float:
        """Who tells apart what is usually mixed up errs less."""
        beside, times = self.rates.told_apart.get(name, ("", 1.0))
        return times if beside in told else 1.0

    def differs(self, name: str) -> float:
        """How often an axle outside the catalogue differs from its nearest relative in that attribute."""
        if name in _FIXED:
            return 0.0
        by_design = self.traits[name].attribute.group in _DESIGN or name == "ring_gear_in"
        return self.rates.none_differs if by_design else self.rates.none_differs_otherwise

    def common_event(self, names: Sequence[str], facts: Iterable[Fact]) -> float:
        """Chance that one event made all those attributes differ from what the factory or the truck would
        say."""
        if len(names) < 2:
            return 0.0
        if event_of(names[0]) == "donor":
            measured = all(fact.known is Known.MEASURED for fact in facts)
            return 0.0 if measured else self.rates.donor_wrong
        return min(self.traits[name].attribute.changed for name in names)


@lru_cache(maxsize=512)
def _weighed(model: Model, name: str, facts: tuple[Fact, ...], error_times: float) -> Weighed:
    trait = model.traits[name]
    by_value = {end: weights(trait, facts, end, model.rates, error_times) for end in ENDS}
    dots = trait.dots(by_value)
    made, changed = (tuple(map(dots.__getitem__, places)) for places in (trait.factory, trait.changed))
    anything = {end: sum(map(mul, trait.broad[end], by_value[end])) for end in ENDS}
    usual = _blend(made, changed, trait.attribute.changed)
    return Weighed(
        trait=trait,
        facts=facts,
        by_value=by_value,
        most={end: max(values) for end, values in by_value.items()},
        made=made,
        changed=changed,
        anything=anything,
        usual=usual,
        logs=tuple(map(log, usual)),
        relatives=_blend(usual, tuple(anything[end] for end in model.end), model.differs(name)),
    )


def event_of(name: str) -> str:
    """The event that an attribute belongs to; its own name where it goes wrong by itself."""
    return _EVENT_OF.get(name, name)


def sorted_facts(facts: Iterable[Fact], traits: Mapping[str, Trait]) -> dict[str, list[Fact]]:
    """Facts by attribute, those of one event side by side; what tells no axles apart is left out.

    Years that it is said to fit count as (weak) word of its years, where nothing better is said.
    """
    found: dict[str, list[Fact]] = {}
    for fact in facts:
        if fact.attribute in traits and traits[fact.attribute].attribute.seller_error > 0.0:
            found.setdefault(fact.attribute, []).append(fact)
        elif fact.attribute == "fits_years":
            found.setdefault("fits_years", []).append(fact)
    fits = found.pop("fits_years", None)
    if fits and "years" not in found:
        found["years"] = fits[:1]
    return dict(sorted(found.items(), key=lambda pair: (event_of(pair[0]), pair[0])))


def bearing_on(name: str, rates: Rates) -> frozenset[str]:
    """The attributes whose facts tell of an attribute's true value within one variant: its own, those that go wrong
    together with it, and those that show that the seller tells the two apart.
    """
    names = {name, *EVENTS.get(event_of(name), ())}
    names |= {"fits_years"} if "years" in names else set()
    return frozenset(names | {rates.told_apart[n][0] for n in names if n in rates.told_apart})


def own_share(model: Model, one: Weighed, common: float) -> tuple[Column, Column]:
    """Likelihood by variant where the group's event did not happen, and where it did."""
    changed = one.trait.attribute.changed
    if event_of(one.name) == "donor":
        return one.usual, tuple(one.anything[end] for end in model.end)
    return one.with_share(max(0.0, changed - common)), one.changed


def groups(weighed: Sequence[Weighed]) -> list[list[Weighed]]:
    """The same, put together by event."""
    found: dict[str, list[Weighed]] = {}
    for one in weighed:
        found.setdefault(event_of(one.name), []).append(one)
    return list(found.values())


_READY: list[tuple[Catalogue, Rates, Mapping[str, float] | None, Model]] = []
_KEPT = 8


def model_of(catalogue: Catalogue, rates: Rates | None = None, priors: Mapping[str, float] | None = None) -> Model:
    """The model of a catalogue; made at first use and kept for the same catalogue, rates and priors."""
    rates = rates or load_rates()
    priors = priors or rates.own_prior or None
    for of_catalogue, of_rates, of_priors, model in _READY:
        if of_catalogue is catalogue and of_rates is rates and of_priors == priors:
            return model
    if not catalogue.variants:
        raise NotFound("The catalogue holds no variant to tell.", "Load it from data/ or seed the database.")
    shipped = load_priors()
    model = Model(catalogue, rates, shipped.overruled(priors) if priors else shipped)
    _READY.append((catalogue, rates, dict(priors) if priors else None, model))
    del _READY[:-_KEPT]
    return model
