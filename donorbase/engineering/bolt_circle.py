"""Bolt circles: the diameter from whatever was measured, how sure it is, and which known patterns it can be.

N studs on a circle of diameter D: neighbours stand D sin(pi/N) apart, every second stud D sin(2 pi/N),
opposite ones (even N) D; on five studs, one stud to the middle between the two across is D (1 + cos 36°)/2.
All exact geometry. The outside of one stud to the inside of another equals the centre distance of the two,
and is read more surely.
"""

import math
import re
from dataclasses import dataclass

from donorbase.engineering.uncertainty import SURE, combined_sd, error_rate, rectangular_sd, shares
from donorbase.errors import BadInput
from donorbase.reference.units import MM_PER_IN, parse_length_mm

SOURCE = "geometry of a regular polygon; errors of tape and caliper are assumptions, patterns are common practice"

# Stud counts and circles met on vehicles, in mm (common practice).
# fmt: off
KNOWN_PATTERNS = (
    (4, 100.0), (4, 101.6), (4, 108.0), (4, 114.3),
    (5, 108.0), (5, 112.0), (5, 114.3), (5, 115.0), (5, 120.0), (5, 120.65), (5, 127.0), (5, 130.0),
    (5, 135.0), (5, 139.7), (5, 150.0), (5, 165.1),
    (6, 114.3), (6, 120.0), (6, 127.0), (6, 132.0), (6, 135.0), (6, 139.7), (6, 222.25), (7, 150.0),
    (8, 165.1), (8, 170.0), (8, 180.0), (8, 200.0), (8, 210.0), (8, 225.0),
    (10, 184.15), (10, 225.0), (10, 285.75),
)
# fmt: on

OPPOSITE, NEIGHBOR, SECOND, TO_MIDDLE = "opposite", "neighbor", "second", "to-middle"
MEASURES = (OPPOSITE, NEIGHBOR, SECOND, TO_MIDDLE)
TOOLS = ("tape", "caliper")

_CENTER_BY_EYE_MM = 1.0
"""Each stud's centre, placed by eye beside a tape (an assumption)."""
_EDGE_MM = 0.3
"""Each stud's edge, under a caliper's jaw or beside a tape (an assumption)."""
_TAPE_MM, _CALIPER_MM = MM_PER_IN / 32, 0.05
_TRADE_INCH_LIMIT = 12.5

SETTLED_SDS, NAMED_SDS = 2.5, 3.3
"""How near, in standard deviations, a known pattern must be to be settled, and to be named at all."""

_PATTERN = re.compile(r"(\d{1,2})\s?(?:lug)?s?\s?(?:x|×|on|by|-)\s?(.+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Pattern:
    """A stud count and circle; ``share`` is its part of the odds after a measurement."""

    lugs: int
    circle_mm: float
    share: float

    def __str__(self) -> str:
        return pattern_name(self.lugs, self.circle_mm)


@dataclass(frozen=True, slots=True)
class CircleReading:
    """A bolt circle from one measurement: its diameter and sd in mm, what it can be, and what to do next.

    ``settled`` is the one pattern that stands out, None where the measurement cannot tell.
    """

    lugs: int
    circle_mm: float
    sd_mm: float
    patterns: tuple[Pattern, ...]
    settled: Pattern | None
    advice: str


def read_pattern(text: str) -> tuple[int, float]:
    """(studs, circle in mm) of a pattern as people write it: ``8x6.5``, ``8 on 170``, ``6x5 1/2in``.

    A number up to 12.5 without a unit is in inches, a larger one in mm. Raises BadInput for anything else.
    """
    match = _PATTERN.fullmatch(text.strip())
    if not match:
        raise BadInput(f"{text[:40]!r} is not a bolt pattern", "Write it like 8x6.5, 8x170mm or 6 on 5 1/2in.")
    lugs, size = int(match[1]), match[2]
    as_inches, as_mm = parse_length_mm(size, bare="in"), parse_length_mm(size, bare="mm")
    circle = as_inches if as_inches <= _TRADE_INCH_LIMIT * MM_PER_IN else as_mm
    if not 3 <= lugs <= 12 or not 60 <= circle <= 400:
        raise BadInput(f"no hub has the pattern {text[:40]}", "Studs 3-12 on a circle of 60-400 mm.")
    return lugs, circle


def pattern_name(lugs: int, circle_mm: float) -> str:
    """A pattern as the trade writes it: ``8x165.1 (6.5 in)``."""
    return f"{lugs}x{circle_mm:g} ({circle_mm / MM_PER_IN:.3f} in)"


def circle_factor(lugs: int, measure: str) -> float:
    """Circle diameter over a measured length; BadInput where that cannot be measured on so many studs."""
    if not 3 <= lugs <= 12:
        raise BadInput(f"no hub has {lugs} studs", "Count them: 3 to 12.")
    if measure == NEIGHBOR:
        return 1 / math.sin(math.pi / lugs)
    if measure == SECOND and lugs >= 4:
        return 1 / math.sin(2 * math.pi / lugs)
    if measure == OPPOSITE and lugs % 2 == 0:
        return 1.0
    if measure == TO_MIDDLE and lugs == 5:
        return 2 / (1 + math.cos(math.pi / 5))
    raise BadInput(f"{measure!r} cannot be measured on {lugs} studs", f"Measure {_best(lugs)} instead.")


def reading_sd_mm(tool: str, by_edges: bool) -> float:
    """Standard uncertainty in mm of one length between two studs: tape 0.94 by centers, caliper 0.25."""
    if tool not in TOOLS:
        raise BadInput(f"{tool!r} is not a tool that we know the error of", "Use tape or caliper.")
    graduation = rectangular_sd(_TAPE_MM if tool == "tape" else _CALIPER_MM)
    by_stud = rectangular_sd(_EDGE_MM if by_edges or tool == "caliper" else _CENTER_BY_EYE_MM)
    return combined_sd(graduation, by_stud, by_stud)


def read_circle(
    lugs: int,
    length_mm: float,
    measure: str,
    tool: str = "tape",
    by_edges: bool = False,
    sd_mm: float | None = None,
) -> CircleReading:
    """The bolt circle that one measured length gives, and the known patterns it can be.

    ``measure`` is ``opposite``, ``neighbor``, ``second`` (skip one) or ``to-middle`` (five studs);
    ``by_edges`` means outside of one stud to inside of the other. ``sd_mm`` overrules the tool's own.
    Patterns further off than 3.3 sd, or under 1 % of the odds, are not named; one is settled
    only within 2.5 sd. Source: SOURCE.
    """
    if not length_mm > 0:
        raise BadInput("the length must be above 0", "Measure from stud to stud.")
    factor = circle_factor(lugs, measure)
    circle, sd = length_mm * factor, (sd_mm or reading_sd_mm(tool, by_edges)) * factor
    known = [d for n, d in KNOWN_PATTERNS if n == lugs and abs(d - circle) <= NAMED_SDS * sd]
    odds = shares(circle, known, sd)
    found = [Pattern(lugs, d, share) for d, share in zip(known, odds, strict=True) if share >= 0.01]
    found.sort(key=lambda pattern: -pattern.share)
    near = found and abs(found[0].circle_mm - circle) <= SETTLED_SDS * sd
    settled = found[0] if near and found[0].share >= SURE else None
    return CircleReading(lugs, circle, sd, tuple(found), settled, _advice(lugs, measure, found, settled))


def chance_of_mistake(lugs: int, circle_mm: float, other_mm: float, measure: str, sd_mm: float) -> float:
    """Chance that one such measurement, good to ``sd_mm``, takes the one pattern for the other."""
    return error_rate((circle_mm - other_mm) / circle_factor(lugs, measure), sd_mm)


def _best(lugs: int) -> str:
    if lugs % 2 == 0:
        return "opposite studs"
    return "every second stud" if lugs == 5 else "neighbors"


def _advice(lugs: int, measure: str, found: list[Pattern], settled: Pattern | None) -> str:
    if settled:
        return f"it is {settled}"
    if not found:
        return "no known pattern: count the studs and measure again"
    if len(found) == 1:
        return f"cannot tell: off the nearest known pattern, {found[0]}; measure again"
    if (measure, lugs % 2) in {(OPPOSITE, 0), (SECOND, 1)}:
        return "cannot tell: use a caliper, outside of one stud to inside of the other, or try on a known wheel"
    return f"cannot tell: measure {_best(lugs)}, from the outside of one to the inside of the other"
