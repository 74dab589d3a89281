"""Steering axles: caster against pinion angle, and links that steer the truck when the springs move.

Caster and pinion angle of one housing move against each other: turned nose-up by a degree, the pinion gains
one and the caster loses one. So their sum is fixed until the knuckles are cut loose and turned.
"""

import math
from dataclasses import dataclass

from donorbase.errors import BadInput

SOURCE = "geometry: caster + pinion-up is constant for a housing; worked example of an owner's knuckle rotation"
LINK_SOURCE = "geometry of two links that swing in arcs"
CASTER_USUAL_DEG = (3.0, 7.0)
"""Caster of solid-axle trucks (from memory); the alignment figures of the knuckle's donor come first."""


@dataclass(frozen=True, slots=True)
class CasterBudget:
    """The constant of a housing, what is wanted of it, and how far the knuckles must turn (degrees)."""

    constant_deg: float
    wanted_deg: float
    knuckle_rotation_deg: float


@dataclass(frozen=True, slots=True)
class BumpSteer:
    """Sideways shift of both links' axle ends (inches) and what it turns the wheels (degrees)."""

    travel_in: float
    drag_link_shift_in: float
    track_bar_shift_in: float
    steer_deg: float


def caster_budget(
    caster_deg: float, pinion_up_deg: float, caster_wanted_deg: float, pinion_wanted_deg: float
) -> CasterBudget:
    """How far to turn the knuckles on the tubes to have both wanted angles: wanted sum minus present sum.

    2.5 + 10.5 now and 5.75 + 10.5 wanted: 3.25 degrees. If both cannot be had, the driveshaft's angle comes
    first.
    """
    constant, wanted = caster_deg + pinion_up_deg, caster_wanted_deg + pinion_wanted_deg
    return CasterBudget(constant, wanted, wanted - constant)


def caster_left_deg(caster_deg: float, pinion_up_deg: float, pinion_wanted_deg: float) -> float:
    """Caster that is left when the housing is turned to the wanted pinion angle and the knuckles stay."""
    return caster_deg + pinion_up_deg - pinion_wanted_deg


def link_shift_in(length_in: float, angle_deg: float, travel_in: float) -> float:
    """How far a link's axle end moves sideways (inches) as it rises by ``travel_in``; outward is positive.

    ``angle_deg`` is the link's slope at ride height, positive where the axle end is lower. Exact: the end
    keeps to a circle of the link's length. Raises BadInput where the link is too short for such travel.
    """
    if not length_in > 0 or not -80 <= angle_deg <= 80:
        raise BadInput("a link must have a length, and lie flatter than 80 degrees", "Give inches and degrees.")
    drop = length_in * math.sin(math.radians(angle_deg))
    across_before, left = (
        length_in * math.cos(math.radians(angle_deg)),
        length_in**2 - (drop - travel_in) ** 2,
    )
    if left <= 0:
        raise BadInput(f"a {length_in:g} in link cannot rise {travel_in:g} in", "Check the length and the travel.")
    return math.sqrt(left) - across_before


def link_of(frame_end: tuple[float, float], axle_end: tuple[float, float]) -> tuple[float, float]:
    """Length (inches) and slope (degrees) of a link from its two ends, each (across, up) in inches.

    Both are measured from the same corner, seen from the front; the slope is positive where the axle end is lower.
    Raises BadInput where the ends are one above the other.
    """
    across, down = abs(axle_end[0] - frame_end[0]), frame_end[1] - axle_end[1]
    if not across > 0:
        raise BadInput("the ends of a link stand above each other", "Give each end as ACROSS,UP from one corner.")
    return math.hypot(across, down), math.degrees(math.atan2(down, across))


def bump_steer(
    drag_link_in: float,
    drag_link_deg: float,
    track_bar_in: float,
    track_bar_deg: float,
    travel_in: float,
    arm_in: float,
) -> BumpSteer:
    """What the wheels steer by as the axle rises ``travel_in``, from the links and the knuckle's arm.

    The difference of the two sideways shifts turns the knuckle about its arm: asin(difference / arm). Links
    of equal angle and equal length do nothing; get the angle equal first, then the length (common practice).
    """
    if not arm_in > 0:
        raise BadInput("the steering arm must have a length", "From the ball joints' axis to the drag link's end.")
    drag = link_shift_in(drag_link_in, drag_link_deg, travel_in)
    bar = link_shift_in(track_bar_in, track_bar_deg, travel_in)
    apart = (drag - bar) / arm_in
    if abs(apart) > 1:
        raise BadInput("the links pull further apart than the arm is long", "Check the lengths and angles.")
    return BumpSteer(travel_in, drag, bar, math.degrees(math.asin(apart)))
