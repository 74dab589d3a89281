"""What identification gives back: probabilities of the variants and of none, and beliefs about single
attributes."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from donorbase.facts import Value

NONE_KEY = "none"
"""How "none of these" is written where a variant's key is expected."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What one attribute said for (positive) or against (negative) a candidate.

    ``log_ratio`` is the natural logarithm of how many times likelier the fact is on this candidate than on
    an axle drawn by the priors alone; prior times the exponential of their sum is the posterior, up to a
    constant. ``because`` is a clause for a person.
    """

    attribute: str
    log_ratio: float
    because: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """One variant (``variant`` its key, None for none of these) with its probability in 0..1.

    ``evidence`` stands greatest first by size, whichever way it speaks; the likeliest candidates carry it.
    """

    variant: str | None
    probability: float
    evidence: tuple[Evidence, ...] = ()


@dataclass(frozen=True, slots=True)
class Identification:
    """Which axle it probably is: ``candidates``, the likeliest first; their probabilities sum to 1.

    Candidates below one in a million are left out and their sum is shared by the rest; none of these always
    stands.
    """

    candidates: tuple[Candidate, ...]

    @property
    def best(self) -> Candidate:
        """The likeliest candidate, which can be none of these."""
        return self.candidates[0]

    @property
    def none(self) -> float:
        """Probability that the axle is none of the catalogue's variants."""
        return self.probability_of(None)

    def probability_of(self, variant_key: str | None) -> float:
        """Probability of one variant (None or ``none``: none of these); 0 where it is no candidate."""
        key = None if variant_key == NONE_KEY else variant_key
        return next((c.probability for c in self.candidates if c.variant == key), 0.0)

    def entropy_bits(self) -> float:
        """How much is still not known, in bits: 0 certain, 1 as much as between two alike."""
        return -sum(c.probability * math.log2(c.probability) for c in self.candidates if c.probability > 0.0)

    def as_json(self) -> list[dict[str, Any]]:
        """Plain data: ``{"variant": key or "none", "probability": p}``, the likeliest first."""
        return [{"variant": c.variant or NONE_KEY, "probability": round(c.probability, 6)} for c in self.candidates]


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of one attribute of this one axle: its true value, as it lies there.

    ``weights`` are (value, probability) pairs, the likeliest first; numbers of a length stand for themselves
    and whatever lies within the measuring error of them. ``unknown`` is the probability of which nothing can
    be said: the figure is blank in the catalogue and nobody stated it, or the axle is none of these. Weights
    and ``unknown`` sum to 1. A pair (years, ranges) is one value.
    """

    attribute: str
    weights: tuple[tuple[Value, float], ...]
    unknown: float
    stated: bool = False
    """Whether a fact spoke of the attribute itself, or it is known from the kind of axle alone."""

    @property
    def best(self) -> Value | None:
        """The likeliest value; None where not knowing is likelier than any value."""
        if not self.weights or self.weights[0][1] < self.unknown:
            return None
        return self.weights[0][0]

    def __iter__(self) -> Iterator[tuple[Value, float]]:
        return iter(self.weights)

    def chance(self, predicate: Callable[[Value], bool]) -> tuple[float, float]:
        """Probability that ``predicate`` holds of the true value, and the probability that is unknown.

        ``(holds, unknown)``: it fails with probability ``1 - holds - unknown``. Unknown mass never counts as
        holding.
        """
        return sum(p for value, p in self.weights if predicate(value)), self.unknown


@dataclass(frozen=True, slots=True)
class Question:
    """What to find out next: ``bits`` expected from the answer (noise included), over ``trouble`` minutes.

    Where the question is put for a decision in one word, ``bits`` is the chance that the answer changes it.
    ``ask`` is the question to a seller, ``how`` what to do beside the axle.
    """

    attribute: str
    bits: float
    trouble: float
    ask: str
    how: str

    def as_json(self) -> dict[str, Any]:
        """Plain data: attribute, bits, how."""
        return {"attribute": self.attribute, "bits": round(self.bits, 4), "how": self.how}


@dataclass(frozen=True, slots=True)
class Conflict:
    """Facts that cannot be together: what, the likely causes in order, and what would tell them apart."""

    attributes: tuple[str, ...]
    what: str
    causes: tuple[str, ...]
    tell: str
