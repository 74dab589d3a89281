"""Which spares ride along: those whose breaking, times what it costs to be stranded, is worth their weight."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Spare:
    """One part of an axle that may break: its kind and side, the odds of that, what it weighs in pounds."""

    axle: str
    kind: str
    side: str | None
    odds: float
    weight_lb: float

    def worth(self, stranded_usd: float, usd_per_lb: float) -> float:
        """Expected loss without it over the price of its weight; above 1 it is worth carrying.

        The odds times the loss against a holding price is the marginal rule of spares (common practice).

        >>> Spare("front", "u-joint", None, 0.02, 3.0).worth(600, 1.0)
        4.0
        """
        return self.odds * stranded_usd / (self.weight_lb * usd_per_lb)


def packed(
    spares: Iterable[Spare], stranded_usd: float, usd_per_lb: float, limit_lb: float | None = None
) -> tuple[tuple[Spare, bool], ...]:
    """Every spare, the worthiest first, with whether it rides: worth its weight, and room is left for it."""
    left = float("inf") if limit_lb is None else limit_lb
    found = []
    for spare in sorted(spares, key=lambda one: -one.worth(stranded_usd, usd_per_lb)):
        rides = spare.worth(stranded_usd, usd_per_lb) > 1 and spare.weight_lb <= left
        left -= spare.weight_lb if rides else 0
        found.append((spare, rides))
    return tuple(found)
