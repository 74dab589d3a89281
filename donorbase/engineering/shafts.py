"""Shafts in torsion: what torque a shaft carries, and what a truck can ask of it.

A solid round shaft yields at T = pi d^3 tau / 16 (handbook); d is the smallest diameter in the torque's path,
the spline root or a turned neck. Yields of used stock shafts are unknown, so a capacity is always a range.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from donorbase.engineering.interpolation import between
from donorbase.engineering.splines import AXLE_PITCH, spline_diameters
from donorbase.errors import BadInput

SOURCE = (
    "T = pi d^3 tau/16 (handbook: cylindrical shaft and maximum torque moment) at the flat spline root of "
    "ANSI B92.1; yields from SAE J413 as printed in Heat Treating Progress, October 2009, and from steel "
    "data sheets"
)
DEMAND_SOURCE = "the smaller of engine torque through the gears and tire grip (statics)"
PSI_PER_MPA = 145.0377377

_TORSIONAL_YIELD_MPA = (
    (0, 221.0),
    (10, 303.0),
    (20, 366.0),
    (30, 503.0),
    (40, 690.0),
    (50, 917.0),
    (52, 966.0),
)
"""(HRC, torsional yield) of hardened axle shafts: SAE J413 as printed in Heat Treating Progress, October
2009.
"""

EFFICIENCY_LOW, EFFICIENCY_HIGH = 0.85, 0.90
"""Of the driveline in low and in high range (common practice, from memory)."""


@dataclass(frozen=True, slots=True)
class Steel:
    """Shear yield of a kind of shaft in ksi, lowest and highest to reckon with."""

    title: str
    low_ksi: float
    high_ksi: float
    basis: str


STEELS: Mapping[str, Steel] = MappingProxyType(
    {
        "unknown": Steel(
            "stock shaft of unknown steel",
            100.1,
            140.1,
            "40 to 52 HRC of SAE J413; a judgement for unknown stock",
        ),
        "hardened": Steel("good induction-hardened stock shaft", 133.0, 140.1, "50 to 52 HRC of SAE J413"),
        "4340": Steel(
            "quenched and tempered 4340",
            94.0,
            115.0,
            "0.577 x 163-200 ksi tensile yield of a stockist's data sheet",
        ),
        "300m": Steel(
            "300M",
            110.0,
            127.0,
            "0.5 to 0.577 x 220 ksi, the least tensile yield of AMS 6417 in stockists' sheets",
        ),
    }
)


@dataclass(frozen=True, slots=True)
class Capacity:
    """Torque in lb-ft at which a shaft begins to twist for good, as a range, and the diameter it goes by."""

    low_lbft: float
    high_lbft: float
    diameter_in: float
    basis: str


@dataclass(frozen=True, slots=True)
class Demand:
    """Torque in lb-ft that can reach one shaft; ``governs`` names the smaller bound: engine or traction."""

    engine_lbft: float
    traction_lbft: float
    shaft_lbft: float
    pinion_lbft: float
    governs: str


def yield_torque_lbft(diameter_in: float, shear_yield_ksi: float) -> float:
    """Torque in lb-ft at which a solid round shaft yields: pi d^3 tau / 16."""
    if not diameter_in > 0 or not shear_yield_ksi > 0:
        raise BadInput("diameter and yield must be above 0", "Give inches and ksi (1000 lb a square inch).")
    return math.pi * diameter_in**3 * shear_yield_ksi * 1000 / 16 / 12


def diameter_for_torque_mm(torque_nm: float, shear_stress_mpa: float) -> float:
    """Diameter in mm of a solid round shaft that carries a torque at an allowed shear stress."""
    return float((16 * torque_nm * 1000 / (math.pi * shear_stress_mpa)) ** (1 / 3))


def shear_yield_ksi(hrc: float) -> float:
    """Torsional yield in ksi of a hardened shaft by HRC hardness, 0 to 52, between the rows of SAE J413."""
    if not 0 <= hrc <= 52:
        raise BadInput(f"hardness {hrc:g} HRC lies outside the table", "SAE J413's rows go from 0 to 52 HRC.")
    return between(_TORSIONAL_YIELD_MPA, hrc) * PSI_PER_MPA / 1000


def capacity(teeth: int, pitch: float = AXLE_PITCH, steel: str = "unknown", neck_in: float | None = None) -> Capacity:
    """Torque range in lb-ft of a splined shaft, by the smaller of its spline root and its neck (inches).

    ``steel`` is a key of STEELS. Holds for one steady pull on a sound shaft: rust pits, old twist, reversals
    and shocks take from it, and no life is promised. Source: SOURCE.
    """
    if steel not in STEELS:
        raise BadInput(f"{steel!r} is not a steel that we have figures for", f"Known: {', '.join(STEELS)}.")
    root_in = spline_diameters(teeth, pitch).minor_in
    diameter = min(root_in, neck_in) if neck_in else root_in
    row = STEELS[steel]
    low, high = (yield_torque_lbft(diameter, ksi) for ksi in (row.low_ksi, row.high_ksi))
    return Capacity(low, high, diameter, f"{row.title}: {row.low_ksi:g}-{row.high_ksi:g} ksi shear, {row.basis}")


def strength_ratio(diameter_in: float, other_in: float) -> float:
    """How much more torque the first shaft carries, same steel: the cube of the diameters' ratio."""
    if not diameter_in > 0 or not other_in > 0:
        raise BadInput("both diameters must be above 0", "Give both in inches.")
    return float((diameter_in / other_in) ** 3)


def engine_bound_lbft(
    engine_lbft: float,
    first_gear: float,
    low_range: float,
    ratio: float,
    efficiency: float,
    axle_share: float = 1.0,
) -> float:
    """Torque in lb-ft from engine to one axle: torque x first x low range x ratio x efficiency x share.

    ``axle_share`` is 1 for two-wheel drive, 0.5 as a rule with a locked transfer case, up to 1 where the
    other axle has no grip. A torque converter multiplies ``engine_lbft`` beforehand.
    """
    return engine_lbft * first_gear * low_range * ratio * efficiency * axle_share


def traction_bound_lbft(grip: float, axle_load_lb: float, loaded_radius_in: float) -> float:
    """Torque in lb-ft at which an axle's tires slip: grip x load x loaded radius.

    ``grip`` is 0.7-0.9 on dirt and dry pavement, about 1.0 for a sticky tire on rock (from memory).
    """
    return grip * axle_load_lb * loaded_radius_in / 12


def shaft_demand(engine_lbft: float, traction_lbft: float, ratio: float, locked: bool) -> Demand:
    """What one shaft can be asked for, in lb-ft, from the two bounds of its axle.

    An open differential halves the torque between the wheels; a locked one can send all of it to the wheel
    that stands, which then may carry the whole axle's load. The smaller bound governs. Pinion torque = axle
    torque / ratio.
    """
    if min(engine_lbft, traction_lbft, ratio) <= 0:
        raise BadInput("torque, grip, load and ratio must be above 0", "Give what is known of engine, axle and tire.")
    axle = min(engine_lbft, traction_lbft)
    governs = "engine" if engine_lbft < traction_lbft else "traction"
    return Demand(engine_lbft, traction_lbft, axle if locked else axle / 2, axle / ratio, governs)


def wheel_demand_lbft(grip: float, wheel_load_lb: float, radius_in: float) -> float:
    """Torque in lb-ft that one tire can ask of its shaft: grip x load on the wheel x radius."""
    return traction_bound_lbft(grip, wheel_load_lb, radius_in)
