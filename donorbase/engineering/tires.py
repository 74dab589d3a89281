"""Tire sizes: what the writing on the sidewall says of diameter, width and turns a mile.

Metric sizes: section height H = width x aspect / 100, diameter = rim x 25.4 + 2 H (mm). Flotation sizes state
the diameter and width in inches; new tires of them run smaller than stated. Numeric sizes (7.50-16) state no
diameter.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType

from donorbase.errors import BadInput
from donorbase.reference.units import MM_PER_IN, parse_length

SOURCE = (
    "tire size marking: H = W x A/100, D = rim x 25.4 + 2H; rounding to whole mm as UN Regulations 30 and "
    "54 do (from memory), met by the Tire and Rim Association's 24.69 in for P205/60R15"
)
TURNS_PER_MILE_IN = 63360 / math.pi
"""Inches in a mile over pi: turns a mile = this / diameter in inches."""

ROLLING_SHARE = 0.97
"""Rolling diameter of a loaded radial over its free diameter; 0.96-0.98 (common practice). A roll-out beats
it.
"""

METRIC_HEIGHT_SPREAD = 0.03
"""A new tire's section height may exceed the design by 3 % (Tire and Rim Association, as quoted); the lower
bound of 3 % is from memory of UN Regulation 30.
"""

FLOTATION_SHORTFALL_IN = (0.8, 0.2)
"""How far a new flotation tire stays under the diameter in its name: 0.5 ± 0.3 in (from memory of UN
Regulation 54, annex 5: 31x10.50R15 is 30.51 in, 33x12.50R15 32.52 in, 35x12.50R15 34.53 in).
"""

# Kilograms a tire; 100-119, 142, 165 and 168 read in published tables, 120-130 from memory.
_LOAD_INDEX_KG: Mapping[int, int] = MappingProxyType(
    {
        100: 800, 104: 900, 108: 1000, 110: 1060, 112: 1120, 113: 1150, 114: 1180, 115: 1215, 116: 1250,
        117: 1285, 118: 1320, 119: 1360, 120: 1400, 121: 1450, 122: 1500, 123: 1550, 124: 1600, 125: 1650,
        126: 1700, 127: 1750, 128: 1800, 129: 1850, 130: 1900, 142: 2650, 165: 5150, 168: 5600,
    }
)  # fmt: skip

# After the rim may stand LT, a load range letter, and whatever else the sidewall says.
_REST = r"(?:\s?LT)?(?:/?[A-N])?(\s.*)?"
_METRIC = re.compile(rf"(P|LT|)\s?(\d{{3}})/(\d{{2,3}})\s?(?:[-/X]|Z?R|D)\s?(\d{{2}}(?:\.\d)?){_REST}")
_FLOTATION = re.compile(
    rf"(\d{{2}}(?:\.\d{{1,2}})?)\s?[X/]\s?(\d{{1,2}}(?:\.\d{{1,2}})?)\s?[-/XRD]\s?(\d{{2}}(?:\.\d)?){_REST}"
)
_NUMERIC = re.compile(rf"(\d{{1,2}}(?:\.\d{{1,2}})?)\s?(?:R|-)\s?(\d{{2}}(?:\.\d)?){_REST}")
_SERVICE = re.compile(r"(\d{2,3})(?:/(\d{2,3}))?[A-Y]\b")


@dataclass(frozen=True, slots=True)
class Tire:
    """A size as written and what follows from it; lengths in inches, None where the writing does not say.

    ``diameter_in`` is what the size states, ``new_low_in``..``new_high_in`` where a new, free tire is likely
    to lie.
    """

    size: str
    kind: str
    diameter_in: float | None
    new_low_in: float | None
    new_high_in: float | None
    section_width_in: float | None
    rim_in: float | None
    load_index: int | None
    basis: str


def read_tire(text: str) -> Tire:
    """The tire that a size names: ``40x13.50R17``, ``LT285/70R17``, ``7.50-16``, or a diameter.

    A plain length (``40``, ``40in``) is taken as a measured diameter. Raises BadInput for anything else and
    for sizes that no road tire has. Source: SOURCE.
    """
    plain = " ".join(text.upper().replace("×", "X").split())
    if match := _METRIC.fullmatch(plain):
        return _metric(plain, match)
    if match := _FLOTATION.fullmatch(plain):
        return _flotation(plain, match)
    if match := _NUMERIC.fullmatch(plain):
        return _numeric(plain, match)
    return _measured(text)


def design_diameter_mm(width_mm: int, aspect_pct: int, rim_in: float) -> int:
    """Diameter in mm of a metric size as the standards round it: height and rim each to whole mm, half up."""
    height = Decimal(width_mm) * aspect_pct / 100
    rim = Decimal(str(rim_in)) * Decimal("25.4")
    whole = Decimal(1)
    return int(rim.quantize(whole, ROUND_HALF_UP) + 2 * height.quantize(whole, ROUND_HALF_UP))


def section_height_mm(width_mm: float, aspect_pct: float) -> float:
    """Height of the sidewall in mm: width x aspect / 100."""
    return width_mm * aspect_pct / 100


def turns_per_mile(diameter_in: float, rolling_share: float = 1.0) -> float:
    """Turns in a mile: 63360 / (pi D); ``rolling_share`` is 1 for the free diameter of a tire.

    The free diameter overstates travel: expect 2-4 % more turns on the road. Source: rolling circumference =
    63360 / turns a mile (a tire guide's glossary).
    """
    if not diameter_in > 0:
        raise BadInput("a tire's diameter must be above 0", "Give it in inches, such as 37.")
    return TURNS_PER_MILE_IN / (diameter_in * rolling_share)


def load_index_kg(index: int) -> int | None:
    """Kilograms that one tire of that load index carries; None where the index is not in our table."""
    return _LOAD_INDEX_KG.get(index)


def _metric(size: str, match: re.Match[str]) -> Tire:
    width, aspect, rim = int(match[2]), int(match[3]), float(match[4])
    _believable(size, 105 <= width <= 455 and 20 <= aspect <= 100 and 10 <= rim <= 30)
    height_in = section_height_mm(width, aspect) / MM_PER_IN
    diameter = rim + 2 * height_in
    spread = 2 * METRIC_HEIGHT_SPREAD * height_in
    return Tire(
        size=size,
        kind={"P": "metric, passenger", "LT": "metric, light truck"}.get(match[1], "metric"),
        diameter_in=diameter,
        new_low_in=diameter - spread,
        new_high_in=diameter + spread,
        section_width_in=width / MM_PER_IN,
        rim_in=rim,
        load_index=_load_index(match[5]),
        basis="computed from the size; section height ± 3 %",
    )


def _flotation(size: str, match: re.Match[str]) -> Tire:
    diameter, width, rim = float(match[1]), float(match[2]), float(match[3])
    _believable(size, 20 <= diameter <= 60 and 5 <= width <= 26 and 10 <= rim < diameter - 4)
    low, high = (diameter - shortfall for shortfall in FLOTATION_SHORTFALL_IN)
    basis = "as the size states; a new one is likely 0.5 ± 0.3 in smaller (from memory): measure it"
    return Tire(size, "flotation", diameter, low, high, width, rim, _load_index(match[4]), basis)


def _numeric(size: str, match: re.Match[str]) -> Tire:
    width, rim = float(match[1]), float(match[2])
    _believable(size, 4 <= width <= 26 and 10 <= rim <= 30)
    basis = "a numeric size states no diameter: measure it"
    return Tire(size, "numeric", None, None, None, width, rim, _load_index(match[3]), basis)


def _measured(text: str) -> Tire:
    try:
        diameter = parse_length(text)
    except BadInput:
        raise BadInput(
            f"{text[:40]!r} is not a tire size",
            "Write it like 40x13.50R17, LT285/70R17, 35x12.50-15, or as a diameter such as 37in.",
        ) from None
    _believable(text, 10 <= diameter <= 80)
    return Tire(text.strip(), "diameter", diameter, diameter, diameter, None, None, None, "as given")


def _believable(size: str, holds: bool) -> None:
    if not holds:
        raise BadInput(f"no road tire has the size {size[:40]}", "Check it against the sidewall.")


def _load_index(rest: str | None) -> int | None:
    """The load index of a single tire in a service description such as ``121/118R``."""
    service = _SERVICE.search(rest or "")
    return int(service[1]) if service else None
