"""Loads: tying an axle down, what a truck or trailer may still carry, freight density, weight classes.

The tie-down rules are written for commercial vehicles; they are a sound floor for anybody.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from donorbase.errors import BadInput

TIE_DOWN_SOURCE = (
    "49 CFR 393.102 (0.435 g forward, 0.5 g rearward, 0.25 g sideways within the working load limit; 20 % "
    "downward), 393.106 (together half the weight) and 393.110 (number); counting in 393.106 (d) from memory"
)
FREIGHT_SOURCE = "density = lb / cubic feet; density scale in force since 19 July 2025, as a freight chart prints it"
CLASS_SOURCE = "GVWR classes of 49 CFR 565 (Table IX of the 2008 final rule) and the encyclopaedia on truck classes"

FORWARD_G, REARWARD_G, SIDEWAYS_G, DOWNWARD_SHARE, TOGETHER_SHARE = 0.435, 0.5, 0.25, 0.20, 0.5

# (least density in lb/ft3, class), densest first.
_FREIGHT_CLASSES = (
    (50.0, "50"), (35.0, "55"), (30.0, "60"), (22.5, "65"), (15.0, "70"), (12.0, "85"), (10.0, "92.5"),
    (8.0, "100"), (6.0, "125"), (4.0, "175"), (2.0, "250"), (1.0, "300"), (0.0, "400"),
)  # fmt: skip

# (greatest GVWR in lb, class of 49 CFR 565, truck class, words of the trade)
_GVWR_CLASSES = (
    (3000, "A", "1", "half-ton"), (4000, "B", "1", "half-ton"), (5000, "C", "1", "half-ton"),
    (6000, "D", "1", "half-ton"), (7000, "E", "2a", "half-ton"), (8000, "F", "2a", "half-ton"),
    (8500, "G", "2a", "half-ton"), (9000, "G", "2b", "three-quarter-ton"),
    (10000, "H", "2b", "three-quarter-ton"), (14000, "3", "3", "one-ton"), (16000, "4", "4", "over-one-ton"),
    (19500, "5", "5", "over-one-ton"), (26000, "6", "6", "over-one-ton"),
    (33000, "7", "7", "over-one-ton"), (math.inf, "8", "8", "over-one-ton"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Strap:
    """A tie-down: its working load limit in lb, and whether both ends go to the vehicle (over the load)."""

    working_load_lb: float
    over_the_load: bool = False


@dataclass(frozen=True, slots=True)
class TieDown:
    """What a load asks of its tie-downs in lb, and whether these do: ``faults`` is empty where they do."""

    forward_lb: float
    rearward_lb: float
    sideways_lb: float
    downward_lb: float
    together_lb: float
    counted_lb: float
    least_number: int
    faults: tuple[str, ...]


def tie_down(weight_lb: float, length_in: float, straps: Iterable[Strap]) -> TieDown:
    """What tie-downs a load of that weight and length needs, and whether those given are enough.

    Counted together: the whole limit of a strap that goes over the load and back to the vehicle, half of one
    from the vehicle to the load. At least one up to 5 ft and 1,100 lb, two to 10 ft, one more for each
    further 10 ft begun. The pull in each direction depends on the straps' angles: chock and block besides.
    Source: TIE_DOWN_SOURCE.
    """
    if not weight_lb > 0 or not length_in > 0:
        raise BadInput("weight and length of the load must be above 0", "Give pounds and inches.")
    used = list(straps)
    counted = sum(s.working_load_lb if s.over_the_load else s.working_load_lb / 2 for s in used)
    together, least = TOGETHER_SHARE * weight_lb, _least_number(weight_lb, length_in)
    faults = []
    if counted < together:
        faults.append(f"the straps count {counted:.0f} lb together, {together:.0f} lb are asked for")
    if len(used) < least:
        faults.append(f"{len(used)} straps, {least} are asked for")
    return TieDown(
        forward_lb=FORWARD_G * weight_lb,
        rearward_lb=REARWARD_G * weight_lb,
        sideways_lb=SIDEWAYS_G * weight_lb,
        downward_lb=DOWNWARD_SHARE * weight_lb,
        together_lb=together,
        counted_lb=counted,
        least_number=least,
        faults=tuple(faults),
    )


def payload_left_lb(rating_lb: float, aboard_lb: Iterable[float]) -> float:
    """Pounds that may still be loaded: the rating minus people, tools, axles; negative is overload."""
    return rating_lb - sum(aboard_lb)


def trailer_limit(ratings_lb: Mapping[str, float]) -> tuple[str, float]:
    """(which, pounds) of the rating that bounds a loaded trailer: the least of tires, axle, hitch, truck."""
    if not ratings_lb:
        raise BadInput("no rating was given", "Give those of tires, trailer axle, hitch and truck.")
    return min(ratings_lb.items(), key=lambda rating: rating[1])


def freight_density(weight_lb: float, length_in: float, width_in: float, height_in: float) -> float:
    """Pounds a cubic foot of a packed load, pallet included: lb / (L W H / 1728)."""
    if min(weight_lb, length_in, width_in, height_in) <= 0:
        raise BadInput("weight and all three sides must be above 0", "Measure the outermost points, pallet included.")
    return weight_lb / (length_in * width_in * height_in / 1728)


def freight_class(density: float) -> str:
    """Freight class by density in lb/ft3; the carrier's own rules for the goods may say otherwise. Source:
    FREIGHT_SOURCE."""  # fmt: skip
    return next(name for least, name in _FREIGHT_CLASSES if density >= least)


def gvwr_class(gvwr_lb: float) -> tuple[str, str, str]:
    """(class of 49 CFR 565, truck class, word of the trade) of a gross weight rating in lb.

    The words are loose: a one-ton with single rear wheels may be rated at or under 10,000 lb. Source:
    CLASS_SOURCE.
    """
    if not gvwr_lb > 0:
        raise BadInput("a weight rating must be above 0", "Read it from the door label, in pounds.")
    return next((code, truck, word) for most, code, truck, word in _GVWR_CLASSES if gvwr_lb <= most)


def _least_number(weight_lb: float, length_in: float) -> int:
    if length_in <= 60:
        return 1 if weight_lb <= 1100 else 2
    return 2 + max(0, math.ceil((length_in - 120) / 120))
