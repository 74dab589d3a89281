"""Hydraulic disc brakes: pressure, clamp, torque, fluid and stroke, and what the law's yardsticks ask.

Pascal: push-rod force F = pedal x ratio + booster, pressure p = F / A of the master cylinder; clamp N = p x
pistons of ONE side of a caliper; wheel torque T = 2 mu N r. Fluid = one-side area x pad gaps, for sliding and
fixed calipers alike.
"""

import math
from dataclasses import dataclass

from donorbase.errors import BadInput
from donorbase.reference.units import KM_PER_MI, STANDARD_GRAVITY_MPS2

SOURCE = "Pascal's law and T = 2 mu N r (engineering handbook, disk brakes: torque and force)"
LEGAL_SOURCE = (
    "49 CFR 571.135 S7.5 (70 m from 100 km/h, pedal at most 500 N) and S7.11.4 (assist failed: 0.10 V + "
    "0.0158 V^2 m), as NHTSA letters 11409.MLS and 21978ogm quote them; they bind makers of new vehicles up "
    "to 3,500 kg"
)
NORMAL_STROKE_SHARE = 0.60
"""Of a master cylinder's stroke, what normal stops may use (common practice)."""

CIRCUIT_STROKE_IN = (0.60, 0.75)
"""Stroke of one circuit of a tandem master cylinder (from memory): measure yours."""

PAD_GAP_IN = (0.006, 0.0125)
"""What each pad moves at a stop, a quarter for swelling hoses in the upper figure (an assumption)."""

PISTON_DIA_MM = {1: (66.0, 81.0), 2: (51.0, 60.0)}
"""Pistons of one-ton and lighter truck calipers by their number, where nothing is measured (from memory)."""


@dataclass(frozen=True, slots=True)
class Stop:
    """What one wheel gets: force in lb, pressure in psi, torque in lb-ft, force at the ground in lb."""

    pushrod_lb: float
    pressure_psi: float
    clamp_lb: float
    torque_lbft: float
    ground_lb: float


@dataclass(frozen=True, slots=True)
class Change:
    """What other calipers or another bore do, as factors over what there was: 1 is no change.

    ``pedal_travel`` over 1 is a longer pedal, ``pressure`` under 1 less line pressure, ``clamp`` over 1 more
    bite.
    """

    pedal_travel: float
    pressure: float
    clamp: float


def circle_area(diameter: float) -> float:
    """Area of a circle, in the square of the diameter's unit."""
    if not diameter > 0:
        raise BadInput("a bore or piston must be above 0", "Give its diameter.")
    return math.pi * diameter**2 / 4


def one_side_area(pistons: int, piston_dia: float, fixed: bool = False) -> float:
    """Piston area of one side of a caliper: all pistons of a sliding one, half of those of a fixed one."""
    if pistons < 1 or (fixed and pistons % 2):
        raise BadInput(f"{pistons} pistons cannot be", "Count one caliper's pistons; a fixed one has an even number.")
    return (pistons // 2 if fixed else pistons) * circle_area(piston_dia)


def pressure(pedal: float, pedal_ratio: float, bore: float, booster: float = 0.0) -> float:
    """Line pressure: (pedal x ratio + booster) / bore area; lb and in give psi, N and mm give MPa."""
    return (pedal * pedal_ratio + booster) / circle_area(bore)


def stop(
    pushrod_lb: float,
    bore_in: float,
    one_side_in2: float,
    friction: float,
    rotor_radius_in: float,
    tire_radius_in: float,
) -> Stop:
    """What one wheel's brake makes of a push-rod force. ``friction`` of cold pads is 0.35-0.45 (from memory);
    ``rotor_radius_in`` reaches to the pad's middle."""  # fmt: skip
    line = pushrod_lb / circle_area(bore_in)
    clamp = line * one_side_in2
    torque = 2 * friction * clamp * rotor_radius_in
    return Stop(pushrod_lb, line, clamp, torque / 12, torque / tire_radius_in)


def fluid(one_side: float, gap_inner: float, gap_outer: float, calipers: int = 2) -> float:
    """Fluid that a circuit's calipers take, in the cube of the unit: one-side area x both gaps x calipers."""
    return one_side * (gap_inner + gap_outer) * calipers


def stroke(volume: float, bore: float) -> float:
    """Stroke of the master cylinder for a volume, in the unit of the bore (swell of hoses comes on top)."""
    return volume / circle_area(bore)


def change(old_area: float, new_area: float, old_bore: float, new_bore: float) -> Change:
    """What new calipers (one-side area) and a new bore do to pedal, pressure and clamp, at the same foot."""
    area, bore = new_area / old_area, circle_area(new_bore) / circle_area(old_bore)
    return Change(pedal_travel=area / bore, pressure=1 / bore, clamp=area / bore)


def bore_for_same_travel(old_area: float, new_area: float, old_bore: float) -> float:
    """Bore that keeps the pedal's travel with other calipers: old bore x root of the areas' relation."""
    return old_bore * math.sqrt(new_area / old_area)


def stroke_share(
    pistons: int,
    piston_dia_mm: float | None,
    bore_in: float,
    circuit_stroke_in: tuple[float, float] = CIRCUIT_STROKE_IN,
) -> tuple[float, float]:
    """Share of a circuit's stroke that a pair of sliding calipers takes, as (least, most).

    Where the piston is not measured, the usual sizes for so many pistons stand in (PISTON_DIA_MM, from
    memory). Raises BadInput for a number of pistons we have no usual size for.
    """
    if piston_dia_mm is None and pistons not in PISTON_DIA_MM:
        raise BadInput(f"the pistons of a {pistons}-piston caliper are not known", "Measure one across, in mm.")
    low_mm, high_mm = (piston_dia_mm, piston_dia_mm) if piston_dia_mm is not None else PISTON_DIA_MM[pistons]

    def share(piston_mm: float, gap_in: float, stroke_in: float) -> float:
        volume = fluid(one_side_area(pistons, piston_mm / 25.4), gap_in, gap_in)
        return stroke(volume, bore_in) / stroke_in

    return share(low_mm, PAD_GAP_IN[0], circuit_stroke_in[1]), share(high_mm, PAD_GAP_IN[1], circuit_stroke_in[0])


def fluid_enough(
    pistons: int | None,
    piston_dia_mm: float | None,
    bore_in: float | None,
    circuit_stroke_in: tuple[float, float] = CIRCUIT_STROKE_IN,
) -> bool | None:
    """Whether a master cylinder of that bore feeds a pair of front calipers within 60 % of its stroke.

    True or False only where the whole range of stroke_share says so; None where it may or may not, or where
    the count or the bore is not known.
    """
    known = pistons is not None and (piston_dia_mm is not None or pistons in PISTON_DIA_MM)
    if pistons is None or bore_in is None or not known:
        return None
    least, most = stroke_share(pistons, piston_dia_mm, bore_in, circuit_stroke_in)
    if most <= NORMAL_STROKE_SHARE:
        return True
    return False if least > NORMAL_STROKE_SHARE else None


def stopping_limit_m(kmh: float, assisted: bool = True) -> float:
    """Stopping distance in metres that 49 CFR 571.135 allows from a speed: with assist, or with it failed.

    0.10 V + 0.0060 V^2 with assist (70 m at 100 km/h read, coefficient from memory), 0.10 V + 0.0158 V^2
    without.
    """
    return 0.10 * kmh + (0.0060 if assisted else 0.0158) * kmh**2


def mean_deceleration_g(kmh: float, distance_m: float) -> float:
    """Mean deceleration over a stopping distance, in g: v^2 / 2 s."""
    if not distance_m > 0:
        raise BadInput("a stopping distance must be above 0", "Give it in metres.")
    return (kmh / 3.6) ** 2 / (2 * distance_m) / STANDARD_GRAVITY_MPS2


def stopping_distance_ft(mph: float, deceleration_fps2: float) -> float:
    """Feet to stop from a speed at a steady deceleration in ft/s^2: v^2 / 2 a."""
    return (mph * KM_PER_MI / 0.0003048 / 3600) ** 2 / (2 * deceleration_fps2)


def rotor_rise_k(
    vehicle_kg: float, speed_mps: float, share: float, rotors_kg: float, heat_j_per_kg_k: float = 452.0
) -> float:
    """Temperature rise of the rotors in kelvin by one stop without cooling: share x m v^2/2 / (rotors x c).

    Iron and steel hold 452 J/(kg K) (college-physics table of specific heats).
    """
    if not rotors_kg > 0:
        raise BadInput("the rotors' weight must be above 0", "Give the weight of the rotors that share the heat.")
    return share * vehicle_kg * speed_mps**2 / 2 / (rotors_kg * heat_j_per_kg_k)
