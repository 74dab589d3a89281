"""Wheels: offset and backspacing, width outside to outside over the tires, and what wheel clears the brakes.

Offset ET is from the mounting face to the middle plane of the rim, positive with the face outboard.
Backspacing is from the mounting face to the inner edge of the rim, flange included.
"""

from dataclasses import dataclass

from donorbase.errors import BadInput
from donorbase.reference.units import in_to_mm, mm_to_in

SOURCE = "geometry; 0.5 in of flange a side is common practice (7/16 to 9/16 in met), so measure where it is close"
WIDTH_SOURCE = "23 CFR 658.15 (102 in, commercial vehicles on the National Network); 96 in and 80 in from memory"
FLANGE_IN = 0.5

ROTOR_TO_RIM_IN = (2.75, 4.0)
"""A rim's nominal diameter over the rotor's that may, and as a rule will, clear a caliper (from memory)."""

WIDTH_LIMITS_IN = (
    (80.0, "clearance and identification lamps are asked for from here on (49 CFR 571.108, from memory)"),
    (96.0, "limit that many States keep off the National Network (weak source)"),
    (102.0, "limit for commercial vehicles on the National Network (23 CFR 658.15)"),
)


@dataclass(frozen=True, slots=True)
class WidthLimit:
    """A width in inches that the law speaks of, and how much is left of it (negative: exceeded)."""

    limit_in: float
    left_in: float
    meaning: str


def backspacing_in(offset_mm: float, rim_width_in: float, flange_in: float = FLANGE_IN) -> float:
    """Backspacing in inches: (W + 2f)/2 + ET/25.4. Source: SOURCE."""
    _width(rim_width_in)
    return (rim_width_in + 2 * flange_in) / 2 + mm_to_in(offset_mm)


def offset_mm(backspacing: float, rim_width_in: float, flange_in: float = FLANGE_IN) -> float:
    """Offset in mm from backspacing and rim width in inches: 25.4 (BS - W/2 - f). Source: SOURCE."""
    _width(rim_width_in)
    return in_to_mm(backspacing - rim_width_in / 2 - flange_in)


def width_over_tires_in(face_to_face_in: float, section_width_in: float, offset: float) -> float:
    """Inches from the outside of one tire to the outside of the other: faces + 2 (section/2 - ET/25.4).

    ``face_to_face_in`` is from wheel mounting face to wheel mounting face, ``offset`` in mm; the tire's
    section is taken to stand central on the rim. A narrow rim or low pressure changes the bulge.
    """
    if not face_to_face_in > 0 or not section_width_in > 0:
        raise BadInput("axle width and section width must be above 0", "Give both in inches.")
    return face_to_face_in + 2 * (section_width_in / 2 - mm_to_in(offset))


def width_limits(width_in: float) -> tuple[WidthLimit, ...]:
    """A width over the tires beside 80, 96 and 102 in. Source: WIDTH_SOURCE; the law of the State decides."""
    return tuple(WidthLimit(limit, limit - width_in, meaning) for limit, meaning in WIDTH_LIMITS_IN)


def wheel_for_rotor_in(rotor_dia_mm: float) -> tuple[float, float]:
    """Wheel diameter in inches that a rotor and its caliper need, as (may do, safe): rotor plus 2.75 to 4 in.

    From memory; calipers differ, so a measured reach (wheel_for_reach_in) or a wheel tried on overrules it.
    """
    if not 150 <= rotor_dia_mm <= 500:
        raise BadInput(f"no rotor measures {rotor_dia_mm:g} mm", "Tape straight across it: 150 to 500 mm.")
    low, high = ROTOR_TO_RIM_IN
    return mm_to_in(rotor_dia_mm) + low, mm_to_in(rotor_dia_mm) + high


def barrel_needed_in(caliper_reach_in: float, gap_in: float = 0.125) -> float:
    """Inner diameter in inches that a wheel's barrel must have over a caliper.

    ``caliper_reach_in`` is from the hub's centre to the caliper's farthest point; ``gap_in`` all round for
    flex and balance weights (1/8 in, common practice). Compare it with the barrel measured where the caliper
    stands.
    """
    if not caliper_reach_in > 0:
        raise BadInput("the caliper's reach must be above 0", "From the hub's centre to its farthest point.")
    return 2 * (caliper_reach_in + gap_in)


def smallest_wheel_in(min_wheel_in: float | None, rotor_dia_mm: float | None) -> tuple[float, float] | None:
    """Wheel diameter that clears an axle's brakes as (may do, safe); None where nothing is known.

    A known smallest wheel settles it; else the rotor gives a range.
    """
    if min_wheel_in is not None:
        return min_wheel_in, min_wheel_in
    return wheel_for_rotor_in(rotor_dia_mm) if rotor_dia_mm is not None else None


def wheel_clears(wheel_dia_in: float, smallest: tuple[float, float] | None) -> bool | None:
    """Whether a wheel clears the brakes: True, False, or None where it cannot be said."""
    if smallest is None:
        return None
    may_do, safe = smallest
    if wheel_dia_in >= safe:
        return True
    return False if wheel_dia_in < may_do else None


def _width(rim_width_in: float) -> None:
    if not 3 <= rim_width_in <= 24:
        raise BadInput(f"no wheel is {rim_width_in:g} in wide", "Give the width between the bead seats in inches.")
