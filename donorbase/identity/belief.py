"""Facts + Identification -> what is believed of one attribute of this one axle."""

from collections.abc import Iterable, Mapping, Sequence

from donorbase.attributes import attribute as attribute_of
from donorbase.facts import Fact, Known, Value
from donorbase.identity.identification import Belief, Identification
from donorbase.identity.model import Model, model_of
from donorbase.identity.traits import NOT_THERE, OTHER
from donorbase.identity.truth import Truth, told_of
from donorbase.identity.weighing import standard_deviation
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.odds import Rates

_LEAST = 1e-9


def attribute_belief(
    name: str,
    facts: Iterable[Fact],
    identification: Identification,
    catalogue: Catalogue,
    rates: Rates | None = None,
) -> Belief:
    """P(true value of the attribute on this axle | facts), summed over the variants and none of these.

    ``facts`` are those that ``identification`` came from. Within each variant the value is weighed anew: as
    made at the factory or as an owner may have changed it, times what was said or measured of it. So a
    statement stands with its seller's error unless the kind of axle speaks strongly against it, and silence
    leaves the kind's figure less what owners change. A figure that the catalogue lacks, and that nobody
    stated, is unknown mass; so is none of these. KeyError where there is no such attribute.
    """
    return beliefs((name,), facts, identification, catalogue, rates)[name]


def beliefs(
    names: Iterable[str],
    facts: Iterable[Fact],
    identification: Identification,
    catalogue: Catalogue,
    rates: Rates | None = None,
) -> Mapping[str, Belief]:
    """The same for several attributes at once, which is quicker; by name as asked."""
    model, said = model_of(catalogue, rates), tuple(facts)
    told = told_of(model, said)
    found = {}
    for name in names:
        own = attribute_of(name).name
        found[name] = (
            _of_truth(told.truth(own), identification)
            if own in model.traits
            else _of_figures(own, [f for f in said if f.attribute == own], identification, model)
        )
    return found


def _of_truth(truth: Truth, identification: Identification) -> Belief:
    mass: Sequence[float] = [0.0] * (len(truth.trait.atoms) + 2)
    unknown = 0.0
    for candidate in identification.candidates:
        place = None if candidate.variant is None else truth.model.place[candidate.variant]
        if not truth.said and (place is None or not truth.trait.known[place]):
            unknown += candidate.probability
            continue
        within = truth.outside() if place is None else truth.within(place)
        mass = [m + candidate.probability * w for m, w in zip(mass, within, strict=True)]
    return _named(truth, mass, unknown)


def _named(truth: Truth, mass: Sequence[float], unknown: float) -> Belief:
    weights: dict[Value, float] = {}
    within = _about_the_number(truth)
    for atom, p in zip(truth.trait.atoms, mass, strict=False):
        value = atom
        if within and isinstance(atom, float) and abs(within[0] - atom) < within[1]:
            value = within[0]
        weights[value] = weights.get(value, 0.0) + p
    other = _unlisted(truth)
    if other is None:
        unknown += mass[OTHER]
    else:
        weights[other] = weights.get(other, 0.0) + mass[OTHER]
    return _belief(truth.trait.attribute.name, weights, unknown + mass[NOT_THERE], bool(truth.said))


def _about_the_number(truth: Truth) -> tuple[float, float] | None:
    """The number said, and how near it the catalogue's stand for it: where single axles lie wider about the
    catalogue's figure than words about them.
    """
    number = _number(truth.said)
    if number is None:
        return None
    fact, x = number
    spread = truth.model.rates.spread.get(truth.trait.attribute.name, 0.0)
    sd = standard_deviation(truth.trait, fact, truth.model.rates)
    own = (sd * sd - spread * spread) ** 0.5
    return (x, 3.0 * sd) if spread > own else None


def _number(said: Sequence[Fact]) -> tuple[Fact, float] | None:
    numbers = [f for f in said if isinstance(f.value, int | float)]
    best = max(numbers, key=lambda f: list(Known).index(f.known), default=None)
    return (best, float(best.value)) if best and isinstance(best.value, int | float) else None


def _unlisted(truth: Truth) -> Value | None:
    """What a value that the catalogue does not know must be: the one that was said."""
    values = {f.value for f in truth.said}
    return next(iter(values)) if len(values) == 1 else None


def _belief(name: str, weights: Mapping[Value, float], unknown: float, stated: bool) -> Belief:
    kept = sorted(((v, p) for v, p in weights.items() if p > _LEAST), key=lambda pair: -pair[1])
    total = sum(p for _, p in kept) + unknown
    return Belief(name, tuple((v, p / total) for v, p in kept), unknown / total, stated)


def _of_figures(name: str, said: Sequence[Fact], identification: Identification, model: Model) -> Belief:
    """For texts and ranges, which tell no axles apart: what was said, else the catalogue's words for its
    kind."""
    weights: dict[Value, float] = {}
    unknown = 0.0
    errors = [model.rates.error(attribute_of(name), fact.known) for fact in said]
    trust = 1.0 - min(errors) if errors else 0.0
    for fact in said:
        weights[fact.value] = weights.get(fact.value, 0.0) + trust / len(said)
    for candidate in identification.candidates:
        values = model.catalogue.variants[candidate.variant].all(name) if candidate.variant else ()
        left = candidate.probability * (1.0 - trust)
        unknown += 0.0 if values else left
        for value in values:
            weights[value] = weights.get(value, 0.0) + left / len(values)
    return _belief(name, weights, unknown, bool(said))
