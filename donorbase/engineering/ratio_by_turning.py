"""The ratio of an unmarked axle by turning it: how sure the count is, and how many turns tell two ratios
apart.

Differential law: (left turns + right turns) / 2 = pinion turns / ratio. Both wheels turning together give the
ratio outright; one wheel held on an open differential gives half of it. Both wheels free and only one turned
gives nothing: the other turns backwards and the pinion may stand still.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from donorbase.engineering.teeth import USUAL_PAIRS
from donorbase.engineering.uncertainty import rectangular_sd
from donorbase.errors import BadInput

SOURCE = "differential law: ratio = pinion turns / wheel turns with both wheels turning, twice that with one held"
READING_ERROR_TURNS = 0.125
"""How well the end of the pinion's turning is read: an eighth of a turn (common practice)."""

BOTH_TURN, ONE_HELD = "both-turn", "one-held"
METHODS = (BOTH_TURN, ONE_HELD)


@dataclass(frozen=True, slots=True)
class TurningReading:
    """A ratio read by turning, the bounds of its error, its standard uncertainty, and what it can be."""

    ratio: float
    low: float
    high: float
    sd: float
    candidates: tuple[float, ...]


def ratio_by_turning(
    wheel_turns: float,
    pinion_turns: float,
    method: str = BOTH_TURN,
    error_turns: float = READING_ERROR_TURNS,
    known: Iterable[float] | None = None,
) -> TurningReading:
    """The ratio from counted turns; ``known`` are those it may be (the usual tooth pairs if left out).

    ``both-turn``: locked, spooled, or both wheels turned by hand, ratio = pinion / wheel turns. ``one-held``:
    open differential with one wheel held fast, ratio = 2 x pinion / wheel turns, and twice the error. Source:
    SOURCE.
    """
    if not wheel_turns > 0 or not pinion_turns > 0 or not error_turns > 0:
        raise BadInput("turns and reading error must be above 0", "Turn the wheel ten times and count the pinion.")
    factor = _factor(method) / wheel_turns
    ratio, half_width = pinion_turns * factor, error_turns * factor
    usual = [float(pair.ratio) for pair in USUAL_PAIRS]
    within = [r for r in (usual if known is None else known) if abs(r - ratio) <= half_width]
    candidates = tuple(sorted(within, key=lambda r: abs(r - ratio)))
    return TurningReading(ratio, ratio - half_width, ratio + half_width, rectangular_sd(half_width), candidates)


def turns_to_tell(
    ratio: float, other: float, method: str = BOTH_TURN, error_turns: float = READING_ERROR_TURNS
) -> int | None:
    """Whole wheel turns after which two ratios cannot be mistaken; None where none would do.

    The error must fall under half their difference. Past 50 turns nobody counts right: count teeth instead.
    """
    apart = abs(ratio - other)
    if apart <= 0:
        return None
    turns = math.ceil(_factor(method) * error_turns / (apart / 2) - 1e-9)
    return turns if turns <= 50 else None


def _factor(method: str) -> float:
    if method not in METHODS:
        raise BadInput(
            f"a ratio cannot be read by the method {method!r}",
            "Hold one wheel (one-held) or turn both together (both-turn); with both free and one turned, "
            "the other turns backwards and the count means nothing.",
        )
    return 2.0 if method == ONE_HELD else 1.0
