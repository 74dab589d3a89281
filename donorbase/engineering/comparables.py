"""What comparable things were asked or went for: a robust middle and spread of few, old and distant prices (F19).

The middle is the weighted median of the logarithm of the price, the spread the weighted median absolute deviation from
it, both turned back into money. The half-lives of the weights are common practice: nobody published any.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

ENOUGH = 5
"""Prices from which a middle is told; of fewer, only that they are too few."""
HALF_AFTER_DAYS, HALF_AFTER_MI = 365.0, 300.0
"""A price counts half after a year, and half at 300 miles (common practice)."""
_MAD_TO_SD = 1.4826
"""Of a normal distribution (1 / 0.6745): textbooks of robust statistics."""


@dataclass(frozen=True, slots=True)
class Price:
    """A price in USD with its age in days and its distance in miles, None where that is not known."""

    usd: float
    age_days: float = 0.0
    distance_mi: float | None = None

    @property
    def weight(self) -> float:
        """1 for a price of today next door, less with age and distance."""
        away = 0.0 if self.distance_mi is None else self.distance_mi / HALF_AFTER_MI
        return float(0.5 ** (self.age_days / HALF_AFTER_DAYS + away))


@dataclass(frozen=True, slots=True)
class Comparable:
    """The middle price in USD and the range about it in which two of three lie; None where there are too few."""

    number: int
    median_usd: float | None
    low_usd: float | None
    high_usd: float | None
    newest_days: float | None
    oldest_days: float | None


def compare_prices(prices: Iterable[Price]) -> Comparable:
    """The middle and spread of prices above 0; those of 0 and below are left out, for they say nothing of worth."""
    used = [price for price in prices if price.usd > 0]
    ages = [price.age_days for price in used]
    newest, oldest = (min(ages), max(ages)) if ages else (None, None)
    if len(used) < ENOUGH:
        return Comparable(len(used), None, None, None, newest, oldest)
    logs, weights = [math.log(price.usd) for price in used], [price.weight for price in used]
    middle = weighted_median(logs, weights)
    spread = _MAD_TO_SD * weighted_median([abs(value - middle) for value in logs], weights)
    low, high = math.exp(middle - spread), math.exp(middle + spread)
    return Comparable(len(used), math.exp(middle), low, high, newest, oldest)


def weighted_median(values: Sequence[float], weights: Sequence[float]) -> float:
    """The value with half the weight on either side; halfway between two where the half falls between them."""
    ranked = sorted(zip(values, weights, strict=True))
    half, passed = sum(weights) / 2, 0.0
    for place, (value, weight) in enumerate(ranked):
        passed += weight
        if math.isclose(passed, half) and place + 1 < len(ranked):
            return (value + ranked[place + 1][0]) / 2
        if passed > half:
            return value
    return ranked[-1][0]
