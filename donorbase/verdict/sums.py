"""Sums of money: costs with their range, lines, hidden faults, and what an axle comes to landed and made good."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from donorbase.engineering.cost_spread import (
    Hidden,
    Triple,
    expected,
    hidden_variance,
    mean_of,
    variance_of,
    within_by_chance,
)


@dataclass(frozen=True, slots=True)
class Cost:
    """US dollars: low, likely, high."""

    low: float
    likely: float
    high: float

    def __add__(self, other: "Cost") -> "Cost":
        return Cost(self.low + other.low, self.likely + other.likely, self.high + other.high)

    @property
    def variance(self) -> float:
        """Of a triangular distribution (F13): (l2 + m2 + h2 - lm - lh - mh) / 18."""
        return variance_of(self.triple)

    @property
    def mean(self) -> float:
        """Of a triangular distribution: (low + likely + high) / 3."""
        return mean_of(self.triple)

    @property
    def triple(self) -> Triple:
        """``(low, likely, high)``."""
        return (self.low, self.likely, self.high)

    def as_json(self) -> dict[str, float]:
        """Whole dollars."""
        return {"low": round(self.low), "likely": round(self.likely), "high": round(self.high)}


NOTHING = Cost(0, 0, 0)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the sum of money, with its source."""

    label: str
    cost: Cost
    source: str


@dataclass(frozen=True, slots=True)
class HiddenFault:
    """Something that nobody tells and that may be so: its chance, 0 to 1, its cost where it is, and why."""

    name: str
    chance: float
    cost: Cost
    because: str
    basis: str

    @property
    def expected_usd(self) -> float:
        """The chance times the mean cost."""
        return self.chance * self.cost.mean

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "fault": self.name, "chance": round(self.chance, 3), "cost_usd": self.cost.as_json(),
            "because": self.because, "basis": self.basis,
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Landed:
    """The sum of money: lines, total, chance of staying within the limit, and the price that turns a no into
    a yes.

    ``known`` says whether a price is named; ``total`` is None where not even the kind's usual price is on
    record. ``break_even_usd`` is the asking price at which the likely sum meets the limit; None without a
    limit.
    """

    lines: tuple[Line, ...]
    total: Cost | None
    limit_usd: float | None
    chance: float
    break_even_usd: float | None
    known: bool = True
    faults: tuple[HiddenFault, ...] = ()
    """What may be wrong beside all that is told; it is in ``chance`` and in no line."""
    chance_as_told: float = 1.0
    """The chance of staying within the limit if nothing hidden is wrong."""
    paid_per_usd: float = 1.0
    """What is paid for each dollar asked: tax, or half of it on a half-price day."""

    @property
    def reserve_usd(self) -> float:
        """What hidden faults cost on average: to be kept back."""
        return sum(fault.expected_usd for fault in self.faults)

    @property
    def expected_usd(self) -> float | None:
        """The mean of the sum with hidden faults by their chance; None where there is no sum."""
        return None if self.total is None else expected(self._triples(), self._hidden())

    def under_by_chance(self, chance: float) -> float | None:
        """The sum in USD that is kept to with that chance, hidden faults among it; None where there is no sum."""
        return None if self.total is None else within_by_chance(self._triples(), chance, self._hidden())

    def _triples(self) -> list[Triple]:
        return [line.cost.triple for line in self.lines]

    def _hidden(self) -> list[Hidden]:
        return [(fault.chance, fault.cost.triple) for fault in self.faults]

    def dearest(self, most: int = 3) -> tuple[tuple[str, float], ...]:
        """The lines that make up most of the likely sum, greatest first, each with its share of what is paid."""
        paid = [line for line in self.lines if line.cost.likely > 0]
        total = sum(line.cost.likely for line in paid)
        ranked = sorted(paid, key=lambda line: (-line.cost.likely, line.label))
        return tuple((line.label, line.cost.likely / total) for line in ranked[:most])

    def least_sure(self) -> tuple[str, float] | None:
        """The line or hidden fault that widens the sum most, with its share of the variance; None where all is sure."""
        parts = [(line.label, line.cost.variance) for line in self.lines]
        parts += [(f.name, hidden_variance((f.chance, f.cost.triple))) for f in self.faults]
        total = sum(variance for _, variance in parts)
        if total <= 0:
            return None
        label, variance = max(parts, key=lambda part: (part[1], part[0]))
        return label, variance / total

    def as_json(self) -> dict[str, Any]:
        """What the range, the reserve and the chance are, with the lines that matter most."""
        if self.total is None:
            return {"known": self.known, "lines": [], "hidden_faults": []}
        least_sure = self.least_sure()
        return {
            "known": self.known, "limit_usd": self.limit_usd, "chance_within_limit": round(self.chance, 3),
            "chance_if_nothing_is_hidden": round(self.chance_as_told, 3),
            "reserve_usd": round(self.reserve_usd), "expected_usd": round(self.expected_usd or 0.0),
            "even_odds_usd": round(self.under_by_chance(0.5) or 0.0),
            "nine_in_ten_usd": round(self.under_by_chance(0.9) or 0.0),
            "dearest": [{"label": label, "share": round(share, 3)} for label, share in self.dearest()],
            "least_sure": {"label": least_sure[0], "share": round(least_sure[1], 3)} if least_sure else None,
            "hidden_faults": [fault.as_json() for fault in self.faults],
        }  # fmt: skip

    @property
    def over(self) -> bool:
        """Whether the likely sum is over the limit."""
        return self.total is not None and self.limit_usd is not None and self.total.likely > self.limit_usd + 0.005


def total_of(lines: Iterable[Line]) -> Cost:
    """The sum of lines: lows, likelies and highs each added."""
    total = NOTHING
    for line in lines:
        total += line.cost
    return total
