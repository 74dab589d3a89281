"""Ring and pinion: the tooth pairs that a quoted ratio can stand for.

A ratio is ring teeth / pinion teeth, exact; the figure on the tag is it, rounded half up to two places. The
usual pairs are the trade's (common practice, no published table was read); the quotients are arithmetic.
"""

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache, lru_cache

from donorbase.errors import BadInput

SOURCE = "ring teeth / pinion teeth; usual pairs are common practice of the trade, quotients exact"
TOLERANCE = Fraction("0.006")
"""A pair can be a quoted ratio this far from its quotient: 6.72 is 47/7 = 6.714, 5.12 and 5.13 are 41/8."""

PINIONS, RINGS = range(6, 18), range(31, 58)

# fmt: off
_USUAL = (
    (41, 15), (47, 16), (43, 14), (40, 13), (41, 13), (45, 14), (39, 12), (36, 11), (43, 13), (37, 11),
    (41, 12), (35, 10), (46, 13), (39, 11), (37, 10), (41, 11), (39, 10), (43, 11), (47, 12), (45, 11),
    (41, 10), (37, 9), (47, 11), (43, 10), (39, 9), (40, 9), (41, 9), (32, 7), (37, 8), (34, 7), (39, 8),
    (41, 8), (36, 7), (37, 7), (43, 8), (39, 7), (35, 6), (41, 7), (37, 6), (39, 6), (47, 7), (43, 6),
)
# fmt: on

_RATIO = re.compile(r"(\d{1,2}\.\d{1,4}|\d{1,2})(?:\s?(?::|TO)\s?1(?:\.0)?)?")
_COUNTS = re.compile(r"(\d{1,2})\s?[/:\-]\s?(\d{1,2})")


@dataclass(frozen=True, slots=True)
class ToothPair:
    """Teeth of a ring and its pinion."""

    ring: int
    pinion: int

    @property
    def ratio(self) -> Fraction:
        """The exact ratio."""
        return Fraction(self.ring, self.pinion)

    @property
    def nominal(self) -> Decimal:
        """The ratio as it is written: two places, half up (4.625 is 4.63)."""
        return (Decimal(self.ring) / self.pinion).quantize(Decimal("0.01"), ROUND_HALF_UP)

    @property
    def hunting(self) -> bool:
        """Whether the counts have no common factor, so that every tooth meets every other."""
        return math.gcd(self.ring, self.pinion) == 1

    @property
    def usual(self) -> bool:
        """Whether the trade commonly cuts this pair."""
        return (self.ring, self.pinion) in _USUAL

    def __str__(self) -> str:
        return f"{self.ring}/{self.pinion}"


USUAL_PAIRS = tuple(ToothPair(ring, pinion) for ring, pinion in _USUAL)


@cache
def _all_pairs() -> tuple[ToothPair, ...]:
    wide = {ToothPair(ring, pinion) for ring in RINGS for pinion in PINIONS}
    return tuple(sorted(wide | set(USUAL_PAIRS), key=lambda pair: (pair.ratio, pair.ring)))


@lru_cache(maxsize=1024)
def tooth_pairs(quoted: float) -> tuple[ToothPair, ...]:
    """Every pair that a quoted ratio can be, within TOLERANCE: usual ones first, then the nearest.

    Rings of 31-57 and pinions of 6-17 teeth are looked at. Empty where no pair comes near: such a ratio is
    misread.
    """
    exact = _as_written(quoted)
    near = [pair for pair in _all_pairs() if abs(pair.ratio - exact) <= TOLERANCE]
    written = Decimal(exact.numerator) / exact.denominator
    return tuple(sorted(near, key=lambda p: (not p.usual, p.nominal != written, abs(p.ratio - exact), p.ring)))


def usual_pair(quoted: float) -> ToothPair | None:
    """The pair that the trade means by a quoted ratio; None where it is not a usual one."""
    pairs = tooth_pairs(quoted)
    return pairs[0] if pairs and pairs[0].usual else None


def written_ratio(ratio: float) -> str:
    """A ratio as the trade writes it: that of a pair of teeth rounded half up, so that 41/8 is 5.13.

    >>> written_ratio(5.125), written_ratio(4.1)
    ('5.13', '4.10')
    """
    exact = next((p for p in tooth_pairs(ratio) if abs(float(p.ratio) - ratio) < 1e-6), None)
    return str(exact.nominal) if exact else f"{ratio:.2f}"


def exact_ratios(quoted: float) -> tuple[float, ...]:
    """The exact ratios that a quoted one can be, likeliest first; itself where none is known.

    Only pairs written exactly so are taken where there are any: 3.54 is 46/13, though 39/11 lies within 0.006
    of it.
    """
    pairs = tooth_pairs(quoted)
    if round(quoted, 2) != quoted and any(abs(float(p.ratio) - quoted) < 1e-6 for p in pairs):
        return (quoted,)
    written = Decimal(str(quoted)).quantize(Decimal("0.01"), ROUND_HALF_UP)
    same = [p for p in pairs if p.nominal == written and (p.usual or p.hunting)]
    chosen = same or [p for p in pairs if p.usual] or list(pairs)
    return tuple(dict.fromkeys(float(p.ratio) for p in chosen)) or (quoted,)


def read_ratio(text: str) -> float:
    """The ratio in a text: ``4.10``, ``4.10:1``, or tooth counts as ``41/10`` or ``10-41``.

    Raises BadInput for anything else and for ratios outside 1.5-13.
    """
    plain = text.strip().upper()
    if match := _RATIO.fullmatch(plain):
        ratio = float(match[1])
    elif (counts := _COUNTS.fullmatch(plain)) and min(int(counts[1]), int(counts[2])) > 0:
        one, other = int(counts[1]), int(counts[2])
        ratio = max(one, other) / min(one, other)
    else:
        raise BadInput(f"{text[:40]!r} is not an axle ratio", "Write it like 4.10, 4.10:1 or 41/10.")
    if not 1.5 <= ratio <= 13:
        raise BadInput(f"no axle has the ratio {ratio:g}", "Ratios lie between 1.5 and 13.")
    return ratio


def _as_written(quoted: float) -> Fraction:
    # The shortest decimal of the float is what was written; the float itself is not 4.1.
    if not 0 < quoted < 1000:
        raise BadInput(f"no axle has the ratio {quoted:g}", "Ratios lie between 1.5 and 13.")
    return Fraction(str(quoted))
