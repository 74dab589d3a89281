"""How a sum of uncertain costs spreads: each cost triangular (low, likely, high), hidden faults as yes or no.

The mean of a triangular distribution is (l + m + h) / 3 and its variance (l2 + m2 + h2 - lm - lh - mh) / 18: any
handbook of statistics. The sum of several is taken as normal, a single one exactly; of hidden faults every
combination is summed up, each with its chance.
"""

import math
from collections.abc import Sequence
from itertools import product

Triple = tuple[float, float, float]
Hidden = tuple[float, Triple]
"""A cost that comes with a chance, 0 to 1, or not at all."""

_SUMMED_UP = 6
"""So many hidden faults are taken one by one, those that matter most; the rest go into mean and variance."""
_CENT = 0.005


def mean_of(cost: Triple) -> float:
    """The mean of a triangular distribution."""
    return sum(cost) / 3


def variance_of(cost: Triple) -> float:
    """The variance of a triangular distribution."""
    low, likely, high = cost
    return (low**2 + likely**2 + high**2 - low * likely - low * high - likely * high) / 18


def triangular_chance(cost: Triple, x: float) -> float:
    """The chance that a triangular cost is at most x."""
    low, likely, high = cost
    if x >= high:
        return 1.0
    if x < low:
        return 0.0
    if x <= likely:
        return (x - low) ** 2 / ((high - low) * (likely - low)) if likely > low else 0.0
    return 1.0 - (high - x) ** 2 / ((high - low) * (high - likely))


def chance_within(costs: Sequence[Triple], limit: float, hidden: Sequence[Hidden] = ()) -> float:
    """The chance, 0 to 1, that the costs and the hidden faults that come true add up to at most the limit."""
    alone, folded_mean, folded_variance = _folded(hidden)
    total = 0.0
    for came in product((True, False), repeat=len(alone)):
        weight = math.prod(p if yes else 1 - p for yes, (p, _) in zip(came, alone, strict=True))
        if weight > 0:
            true = [cost for yes, (_, cost) in zip(came, alone, strict=True) if yes]
            total += weight * _sum_within([*costs, *true], limit - folded_mean, folded_variance)
    return min(max(total, 0.0), 1.0)


def _folded(hidden: Sequence[Hidden]) -> tuple[list[Hidden], float, float]:
    ranked = sorted(hidden, key=lambda h: -hidden_variance(h))
    rest = ranked[_SUMMED_UP:]
    return ranked[:_SUMMED_UP], sum(p * mean_of(c) for p, c in rest), sum(map(hidden_variance, rest))


def hidden_variance(hidden: Hidden) -> float:
    """The variance of a cost that comes with a chance."""
    p, cost = hidden
    return p * variance_of(cost) + p * (1 - p) * mean_of(cost) ** 2


def _sum_within(costs: Sequence[Triple], limit: float, more_variance: float) -> float:
    spread = [c for c in costs if c[2] > c[0]]
    fixed = sum(c[0] for c in costs if c[2] <= c[0])
    limit += _CENT - fixed
    if not more_variance and limit >= sum(c[2] for c in spread):
        return 1.0
    if limit < sum(c[0] for c in spread) and not more_variance:
        return 0.0
    if len(spread) == 1 and not more_variance:
        return triangular_chance(spread[0], limit)
    deviation = math.sqrt(sum(map(variance_of, spread)) + more_variance)
    return 0.5 * (1 + math.erf((limit - sum(map(mean_of, spread))) / (deviation * math.sqrt(2))))


def expected(costs: Sequence[Triple], hidden: Sequence[Hidden] = ()) -> float:
    """The mean of the sum, hidden faults by their chance."""
    return sum(map(mean_of, costs)) + sum(p * mean_of(c) for p, c in hidden)


def within_by_chance(costs: Sequence[Triple], chance: float, hidden: Sequence[Hidden] = ()) -> float:
    """The sum that is kept to with a chance, to the dollar: 0.9 gives what nine in ten stay under."""
    low = sum(c[0] for c in costs) - 1.0
    high = sum(c[2] for c in costs) + sum(c[2] for _, c in hidden) + 1.0
    while high - low > 1.0:
        middle = (low + high) / 2
        low, high = (low, middle) if chance_within(costs, middle, hidden) >= chance else (middle, high)
    return high
