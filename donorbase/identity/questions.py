"""What to find out next: the expected information of each answer, noise included, over the trouble of
getting it."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import log2

from donorbase.attributes import Attribute
from donorbase.facts import Fact, Known, Value
from donorbase.identity.identification import Identification, Question
from donorbase.identity.identify import identify
from donorbase.identity.model import Model, model_of
from donorbase.identity.noise import as_told
from donorbase.identity.traits import ENDS, Vector
from donorbase.identity.truth import Told, told_of
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.odds import Rates

Decision = Callable[[Identification, tuple[Fact, ...]], Hashable | Mapping[Hashable, float]]
"""What would be decided on these facts: one word (a verdict), or probabilities of several."""

_LEAST = 1e-4
"""Candidates below this do not change which question is best."""
_UNASKED = frozenset({"family", "variant", "gear_set"})
_LIKELY_ANSWER = 0.002
"""Answers less likely than this are not tried out on a decision."""


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers that a measurement can give, and their probabilities for each candidate as identified."""

    values: tuple[Value, ...]
    given: tuple[Vector, ...]
    probabilities: tuple[float, ...]

    def together(self) -> Vector:
        """Probability of each answer, over all candidates."""
        columns = zip(*self.given, strict=True)
        return tuple(sum(p * q for p, q in zip(self.probabilities, column, strict=True)) for column in columns)

    def bits(self) -> float:
        """Mutual information of answer and identity: entropy now less expected entropy after the answer."""
        within = sum(p * entropy_bits(row) for p, row in zip(self.probabilities, self.given, strict=True))
        return max(0.0, entropy_bits(self.together()) - within)


def entropy_bits(chances: Iterable[float]) -> float:
    """-sum p log2 p."""
    return -sum(p * log2(p) for p in chances if p > 0.0)


def questions(
    facts: Iterable[Fact],
    catalogue: Catalogue,
    identification: Identification,
    *,
    decide: Decision | None = None,
    rates: Rates | None = None,
) -> tuple[Question, ...]:
    """What to ask or measure next, the best first: expected bits over minutes of trouble (asking itself
    included).

    Without ``decide`` the bits are those about which axle it is. With it they are those about the decision: where
    it comes with its chances, the mutual information of answer and decision; where it comes as one word, the chance
    (0 to 1) that the answer changes the word, for words like "unclear" are no outcome that one wants to learn.
    Questions whose answers change nothing are worth 0. Those, any under a thousandth, and those of an end that the
    axle is not are left out.
    """
    model = model_of(catalogue, rates)
    told = told_of(model, tuple(facts))
    now = decide(identification, told.facts) if decide else None
    found = []
    for attribute in askable(model, identification):
        answers = answers_to(told, attribute.name, identification)
        bits = answers.bits() if decide is None else _decided(told, attribute, answers, decide, now)
        found.append(Question(attribute.name, bits, attribute.trouble, attribute.ask, attribute.how))
    kept = (q for q in found if q.bits >= 0.001)
    return tuple(sorted(kept, key=lambda q: -q.bits / (q.trouble + model.rates.asking_min)))


def askable(model: Model, identification: Identification) -> list[Attribute]:
    """The attributes that a person beside the axle can find out and that the axle can have."""
    ends = {end for end in ("front", "rear") if _of_end(model, identification, end) > 0.02}
    traits = (t.attribute for t in model.traits.values())
    return [a for a in traits if a.measurable and a.name not in _UNASKED and ends & set(a.ends)]


def _of_end(model: Model, identification: Identification, end: str) -> float:
    named = [c for c in identification.candidates if c.variant]
    total = sum(c.probability for c in named) or 1.0
    return sum(c.probability for c in named if model.end[model.place[str(c.variant)]] == end) / total


def answers_to(told: Told, name: str, identification: Identification) -> Answers:
    """The distribution of what measuring an attribute would give, for each candidate worth counting."""
    model, truth = told.model, told.truth(name)
    kept = [c for c in identification.candidates if c.probability >= _LEAST]
    total = sum(c.probability for c in kept)
    ends = {end: model.noise(name, end) for end in ENDS}
    rows = []
    for candidate in kept:
        if candidate.variant is None:
            rows.append(ends[truth.trait.attribute.ends[0]].answers(truth.outside()))
            continue
        place = model.place[candidate.variant]
        rows.append(ends[model.end[place]].answers(truth.within(place)))
    return Answers(truth.trait.atoms, tuple(rows), tuple(c.probability / total for c in kept))


def _decided(
    told: Told, attribute: Attribute, answers: Answers, decide: Decision, now: Hashable | Mapping[Hashable, float]
) -> float:
    """What the answer is worth to the decision that stands ``now``: bits, or the chance that it changes."""
    after = list(_after(told, attribute, answers, decide))
    reached = sum(chance for chance, _ in after)
    if reached == 0.0:
        return 0.0
    if not isinstance(now, Mapping):
        return sum(chance for chance, decided in after if decided != now) / reached
    mean: dict[Hashable, float] = {}
    within = 0.0
    for chance, decided in after:
        spread = decided if isinstance(decided, Mapping) else {decided: 1.0}
        within += chance * entropy_bits(spread.values())
        for word, p in spread.items():
            mean[word] = mean.get(word, 0.0) + chance * p
    return max(0.0, entropy_bits(p / reached for p in mean.values()) - within / reached)


def _after(
    told: Told, attribute: Attribute, answers: Answers, decide: Decision
) -> Iterator[tuple[float, Hashable | Mapping[Hashable, float]]]:
    """(chance, what would be decided) for each likely answer."""
    model, trait = told.model, told.model.traits[attribute.name]
    for value, chance in zip(answers.values, answers.together(), strict=False):
        if chance >= _LIKELY_ANSWER:
            facts = (*told.facts, Fact(attribute.name, as_told(trait, value), Known.MEASURED))
            yield chance, decide(identify(facts, model.catalogue, rates=model.rates), facts)
