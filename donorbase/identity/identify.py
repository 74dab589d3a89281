"""Facts -> Identification: Bayes over all variants and none of these, in logarithms."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from math import exp, log
from operator import add, mul

from donorbase.facts import Fact
from donorbase.identity.identification import Candidate, Evidence, Identification
from donorbase.identity.model import Column, Model, Weighed, groups, model_of, own_share
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.odds import Rates
from donorbase.reference.wording import value_text, values_text

_LEAST = 1e-6
"""Candidates less likely than this are not worth a line."""
_NOTHING = log(_LEAST) - 5.0
"""Logarithms so far below the greatest are of no such candidate."""
_EXPLAINED = 5
"""So many candidates, the likeliest, carry their evidence, and none of these does."""


def identify(
    facts: Iterable[Fact],
    catalogue: Catalogue,
    *,
    rates: Rates | None = None,
    priors: Mapping[str, float] | None = None,
    explain: bool = True,
) -> Identification:
    """Which variant the facts speak of, with a probability for each and for none of these.

    Facts of other scopes than the axle's, and of attributes that do not tell axles apart, are left aside.
    ``rates`` stands in for the shipped rates of error; ``priors`` maps patterns of variant keys to weights
    over the shipped ones, the key ``none`` to the chance of none of these. Without facts the priors come
    back. ``explain`` false leaves out the evidence, which takes longer than the probabilities.
    """
    model = model_of(catalogue, rates, priors)
    return _Sum(model, model.weigh_all(facts)).identification(explain=explain)


class _Sum:
    """The sum of the evidence, kept in parts so that it can be explained."""

    def __init__(self, model: Model, weighed: Sequence[Weighed]) -> None:
        self.model = model
        grouped = groups(weighed)
        self.weighed = [one for group in grouped for one in group]
        self.logs = [step for group in grouped for step in _steps(model, tuple(group))]
        self.none_logs = _none_steps(model, self.weighed)

    def identification(self, *, explain: bool) -> Identification:
        """The posterior, likeliest first, with evidence where it is to be explained."""
        totals: Iterable[float] = self.model.log_prior
        for step in self.logs:
            totals = map(add, totals, step)
        logs, none = list(totals), log(self.model.none) + sum(self.none_logs)
        top = max(none, *logs)
        raw: dict[int | None, float] = {i: exp(value - top) for i, value in enumerate(logs) if value - top > _NOTHING}
        raw[None] = exp(none - top)
        least = _LEAST * sum(raw.values())
        kept = {place: p for place, p in raw.items() if place is None or p >= least}
        total = sum(kept.values())
        order = sorted(kept, key=lambda place: (-kept[place], -1 if place is None else place))
        told = self._told(order) if explain else {}
        return Identification(
            tuple(Candidate(self._key(place), kept[place] / total, told.get(place, ())) for place in order)
        )

    def _told(self, order: Sequence[int | None]) -> dict[int | None, tuple[Evidence, ...]]:
        """The evidence of none of these and of the likeliest candidates."""
        usual = self._usual()
        return {place: self._evidence(place, usual) for place in (None, *order[:_EXPLAINED])}

    def _key(self, place: int | None) -> str | None:
        return None if place is None else self.model.keys[place]

    def _evidence(self, place: int | None, usual: Sequence[float]) -> tuple[Evidence, ...]:
        steps = zip(self.weighed, self.logs, self.none_logs, usual, strict=True)
        found = [
            Evidence(one.name, (none if place is None else step[place]) - mean, because(self.model, one, place))
            for one, step, none, mean in steps
        ]
        return tuple(sorted(found, key=lambda e: -abs(e.log_ratio)))

    def _usual(self) -> list[float]:
        """How likely each attribute's facts are on an axle drawn by the priors, in logarithms."""
        model = self.model
        drawn = [sum(map(mul, model.prior, map(exp, step))) for step in self.logs]
        pairs = zip(drawn, self.none_logs, strict=True)
        return [log((1.0 - model.none) * likely + model.none * exp(none)) for likely, none in pairs]


@lru_cache(maxsize=2048)
def _steps(model: Model, group: tuple[Weighed, ...]) -> list[Column]:
    """For each attribute of a group the logarithms of its likelihood by variant, given those before it."""
    common = model.common_event([one.name for one in group], (f for one in group for f in one.facts))
    if common == 0.0:
        return [one.logs for one in group]
    kept, gone = [1.0 - common] * len(model.keys), [common] * len(model.keys)
    found: list[Column] = []
    before = [0.0] * len(model.keys)
    for one in group:
        alone, event = own_share(model, one, common)
        kept, gone = list(map(mul, kept, alone)), list(map(mul, gone, event))
        now = [log(a + b) for a, b in zip(kept, gone, strict=True)]
        found.append(tuple([a - b for a, b in zip(now, before, strict=True)]))
        before = now
    return found


def _none_steps(model: Model, weighed: Sequence[Weighed]) -> list[float]:
    """The same for none of these: an axle that resembles one of the catalogue's, and differs here and
    there."""
    shares: Sequence[float] = model.relative
    found, before = [], 1.0
    for one in weighed:
        shares = list(map(mul, shares, one.relatives))
        now = sum(shares)
        found.append(log(now / before))
        before = now
    return found


def because(model: Model, one: Weighed, place: int | None) -> str:
    """A clause that says what was said of an attribute and what this candidate has."""
    said = " / ".join(dict.fromkeys(value_text(one.name, fact.value) for fact in one.facts))
    title = one.trait.attribute.title
    if place is None:
        return f"{title}: {said}"
    variant = model.catalogue.variants[model.keys[place]]
    has = values_text(one.name, variant.all(one.name))
    if one.name in ("family", "variant"):
        return f"{title} named: {said}"
    if not has:
        return f"{title}: {said}; not known of this kind"
    agrees = one.agreement(place) > 0.5
    if not agrees:
        return f"{title}: {said}; this kind has {has}"
    exact = any(value_text(one.name, value) == said for value in variant.all(one.name))
    return f"{title}: {said}, as this kind has" if exact else f"{title}: {said}, near enough to its {has}"
