"""How sure a hand measurement is, and what it says of two or more known values.

Rules: bounds ±a with every value within equally likely give a standard uncertainty a/√3 (JCGM 100:2008,
4.3.7; clause from memory, rule read in two guides); a digital step d gives d/√12; independent parts add in
squares.
"""

import math
from collections.abc import Sequence

SURE = 0.95
"""A share of the odds from which on a thing is taken as settled."""


def rectangular_sd(half_width: float) -> float:
    """Standard uncertainty of a reading known only to lie within ± ``half_width``, in the same unit."""
    return half_width / math.sqrt(3)


def step_sd(step: float) -> float:
    """Standard uncertainty of a digital display with that ``step``, in the same unit."""
    return step / math.sqrt(12)


def combined_sd(*parts: float) -> float:
    """Standard uncertainty of independent parts together: the root of the sum of squares."""
    return math.hypot(*parts)


def likelihood(reading: float, true_value: float, sd: float) -> float:
    """Normal density of a reading where the thing measures ``true_value``; one unit, ``sd`` above 0."""
    return math.exp(-0.5 * ((reading - true_value) / sd) ** 2) / (sd * math.sqrt(2 * math.pi))


def shares(reading: float, values: Sequence[float], sd: float) -> tuple[float, ...]:
    """Odds of each of the ``values``, equally likely beforehand, after one reading; they sum to 1.

    Taken relative to the nearest value, so that a reading far from all of them still gives an answer.
    """
    if not values:
        return ()
    nearest = min(abs(reading - value) for value in values)
    weights = [math.exp(-0.5 * ((reading - value) ** 2 - nearest**2) / sd**2) for value in values]
    total = sum(weights)
    return tuple(weight / total for weight in weights)


def error_rate(difference: float, sd: float) -> float:
    """Chance that one reading puts the thing nearer to the wrong one of two values ``difference`` apart."""
    return 0.5 * math.erfc(abs(difference) / (2 * sd) / math.sqrt(2))
