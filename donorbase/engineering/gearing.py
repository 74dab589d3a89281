"""Gearing: ratio, tire, gear, engine speed, road speed, and whether front and rear may turn together.

Engine speed = mph x ratio x gear x 336.135 / tire diameter in inches; 336.135 = 63360 / (60 pi) is exact
algebra. The tire's free diameter overstates travel by 2-4 %: where it matters, use a measured roll-out over
pi.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from donorbase.engineering.teeth import exact_ratios
from donorbase.errors import BadInput

SOURCE = "algebra: rpm = mph x ratio x gear x 336.135 / D, 336.135 = 63360/(60 pi), D in inches"
MISMATCH_SOURCE = (
    "difference over mean, from tooth counts; the bands of 0.5 and 1 % are common practice, none is published"
)
RPM_CONSTANT = 63360 / (60 * math.pi)

MATCH_PCT, LOOSE_GROUND_PCT = 0.5, 1.0
"""Common practice: up to 0.5 % front and rear match; to 1 % on loose ground only; above that, no four-wheel
drive.
"""


def effective_ratio(ratio: float, old_tire_in: float, new_tire_in: float) -> float:
    """The ratio that the same axle feels like on other tires: ratio x old / new diameter."""
    _positive(ratio=ratio, old_tire_in=old_tire_in, new_tire_in=new_tire_in)
    return ratio * old_tire_in / new_tire_in


def wanted_ratio_for_tires(ratio: float, old_tire_in: float, new_tire_in: float) -> float:
    """The ratio that gives new tires the old feel: ratio x new / old diameter."""
    _positive(ratio=ratio, old_tire_in=old_tire_in, new_tire_in=new_tire_in)
    return ratio * new_tire_in / old_tire_in


def wanted_ratio_for_rpm(mph: float, rpm: float, tire_in: float, gear: float = 1.0) -> float:
    """The axle ratio for ``rpm`` of the engine at ``mph`` in a gear of ratio ``gear`` (1 is direct)."""
    _positive(mph=mph, rpm=rpm, tire_in=tire_in, gear=gear)
    return rpm * tire_in / (mph * gear * RPM_CONSTANT)


def engine_rpm(mph: float, ratio: float, tire_in: float, gear: float = 1.0) -> float:
    """Engine speed in rpm at ``mph``; ``gear`` is all between engine and axle, low range included."""
    _positive(ratio=ratio, tire_in=tire_in, gear=gear)
    return mph * ratio * gear * RPM_CONSTANT / tire_in


def road_mph(rpm: float, ratio: float, tire_in: float, gear: float = 1.0) -> float:
    """Road speed in mph at that engine speed."""
    _positive(ratio=ratio, tire_in=tire_in, gear=gear)
    return rpm * tire_in / (ratio * gear * RPM_CONSTANT)


def crawl_ratio(first_gear: float, low_range: float, ratio: float) -> float:
    """Engine turns for one wheel turn in the lowest gear: first x low range x axle ratio."""
    _positive(first_gear=first_gear, low_range=low_range, ratio=ratio)
    return first_gear * low_range * ratio


def true_mph(shown_mph: float, old_tire_in: float, new_tire_in: float) -> float:
    """Real speed behind a speedometer that was right on the old tires: shown x new / old diameter."""
    _positive(old_tire_in=old_tire_in, new_tire_in=new_tire_in)
    return shown_mph * new_tire_in / old_tire_in


def nearest_ratios(wanted: float, sold: Iterable[float], count: int = 2) -> tuple[float, ...]:
    """The ``count`` ratios that are sold nearest to the wanted one, by their relation, nearest first."""
    _positive(wanted=wanted)
    return tuple(sorted(sold, key=lambda ratio: (abs(math.log(ratio / wanted)), ratio))[:count])


@dataclass(frozen=True, slots=True)
class Mismatch:
    """How far front and rear run apart, in percent; a range, as a quoted ratio can be several tooth pairs."""

    low_pct: float
    likely_pct: float
    high_pct: float

    @property
    def band(self) -> str:
        """``match``, ``loose ground only`` or ``no four-wheel drive``, by the likely figure."""
        return mismatch_band(self.likely_pct)


def mismatch_pct(front_ratio: float, rear_ratio: float, front_tire_in: float = 1.0, rear_tire_in: float = 1.0) -> float:
    """Difference of front and rear travel over their mean, in percent; with equal tires ratios alone count.

    2 |Rf/Df - Rr/Dr| / (Rf/Df + Rr/Dr). Source: MISMATCH_SOURCE.
    """
    _positive(front_ratio=front_ratio, rear_ratio=rear_ratio, front_tire_in=front_tire_in, rear_tire_in=rear_tire_in)
    front, rear = front_ratio / front_tire_in, rear_ratio / rear_tire_in
    return 200 * abs(front - rear) / (front + rear)


@lru_cache(maxsize=4096)
def quoted_mismatch(
    front_quoted: float, rear_quoted: float, front_tire_in: float = 1.0, rear_tire_in: float = 1.0
) -> Mismatch:
    """The mismatch of two quoted ratios, by the tooth pairs they can be (4.10 is 41/10, 4.11 is 37/9).

    The likely figure takes the usual pair of each; the same quoted ratio at both ends is taken as the same
    pair.
    """
    fronts, rears = exact_ratios(front_quoted), exact_ratios(rear_quoted)
    all_pct = [mismatch_pct(f, r, front_tire_in, rear_tire_in) for f in fronts for r in rears]
    likely = mismatch_pct(fronts[0], rears[0], front_tire_in, rear_tire_in)
    return Mismatch(min(all_pct), likely, max(all_pct))


def mismatch_band(pct: float) -> str:
    """``match`` to 0.5 %, ``loose ground only`` to 1 %, else ``no four-wheel drive`` (common practice)."""
    if pct <= MATCH_PCT:
        return "match"
    return "loose ground only" if pct <= LOOSE_GROUND_PCT else "no four-wheel drive"


def _positive(**quantities: float) -> None:
    """Raise BadInput that names the first quantity which is not above 0."""
    for name, value in quantities.items():
        if not value > 0:
            raise BadInput(f"{name} is {value:g}", "It must be above 0.")
