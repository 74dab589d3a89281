"""Quantities as people write them -> plain numbers in one unit: ``3/4in``, ``170mm``, ``5 ft 3 in``, ``100
km/h``.

Every parser takes a text and gives a float in the unit of its name, or raises BadInput that says what would
be right. Sums are done in exact fractions, so that ``6.5 in`` is 165.1 mm and ``170mm`` is 170.0 mm to the
last digit. Definitions: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 mi = 1.609344 km (the international yard and
pound, 1959).
"""

import re
from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise

from donorbase.errors import BadInput

MM_PER_IN = 25.4
KM_PER_MI = 1.609344
KG_PER_LB = 0.45359237
LBFT_PER_NM = 0.7375621492772656
STANDARD_GRAVITY_MPS2 = 9.80665

LONGEST_QUANTITY = 40
"""A longer text is no quantity; the cap keeps a pasted page from being searched."""

_UNICODE_FRACTIONS = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3",
    "⅔": "2/3",
}  # fmt: skip
_QUOTES = str.maketrans({"”": '"', "“": '"', "″": '"', "’": "'", "‘": "'", "′": "'"})

# A whole number with a fraction (1 1/2, 1-1/2), a fraction, or a decimal with or without thousands commas.
_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d*\.?\d+)\.?"
_QUANTITY = re.compile(rf"({_NUMBER})\s*([^\d\s.,+\-][^\d\s,+]*)?\s*")

_LENGTH = {
    **dict.fromkeys(('"', "''", "in", "in.", "inch", "inches"), Fraction(1)),
    **dict.fromkeys(("'", "ft", "ft.", "foot", "feet"), Fraction(12)),
    **dict.fromkeys(("mm", "millimeter", "millimeters"), Fraction(10, 254)),
    **dict.fromkeys(("cm", "centimeter", "centimeters"), Fraction(100, 254)),
    **dict.fromkeys(("m", "meter", "meters"), Fraction(10000, 254)),
}
_WEIGHT = {
    **dict.fromkeys(("lb", "lbs", "lb.", "lbs.", "pound", "pounds", "#"), Fraction(1)),
    **dict.fromkeys(("kg", "kgs", "kilo", "kilos"), Fraction(10**8, 45359237)),
    **dict.fromkeys(("t", "tonne", "tonnes"), Fraction(10**11, 45359237)),
    **dict.fromkeys(("ton", "tons"), Fraction(2000)),
}
_SPEED = {
    **dict.fromkeys(("mph", "mi/h"), Fraction(1)),
    **dict.fromkeys(("km/h", "kmh", "kph"), Fraction(10**6, 1609344)),
}
_TORQUE = {
    **dict.fromkeys(("lb-ft", "ft-lb", "ft-lbs", "lbft", "ftlb", "lbf-ft", "ft-lbf"), Fraction(1)),
    **dict.fromkeys(("nm", "n-m", "n·m", "n*m"), Fraction(LBFT_PER_NM)),
}
_FORCE = {
    **dict.fromkeys(("lb", "lbs", "lbf", "pound", "pounds"), Fraction(1)),
    **dict.fromkeys(("n", "newton", "newtons"), Fraction(1) / Fraction("4.4482216152605")),
    **dict.fromkeys(("kn",), Fraction(1000) / Fraction("4.4482216152605")),
}
_ANGLE = dict.fromkeys(("deg", "degree", "degrees", "°"), Fraction(1))
_DISTANCE = {
    **dict.fromkeys(("mi", "mile", "miles"), Fraction(1)),
    **dict.fromkeys(("km",), Fraction(10**6, 1609344)),
}


def mm_to_in(mm: float) -> float:
    """Inches of a length in mm, by the exact 25.4."""
    return mm / MM_PER_IN


def in_to_mm(inches: float) -> float:
    """Millimetres of a length in inches, by the exact 25.4."""
    return inches * MM_PER_IN


def parse_length(text: str, bare: str = "in") -> float:
    """Inches of a length; a number without a unit is taken in the unit ``bare``.

    >>> parse_length("3/4in"), parse_length('1 1/2"'), parse_length("5 ft 3 in"), parse_length("254mm")
    (0.75, 1.5, 63.0, 10.0)
    """
    return float(_total(text, _LENGTH, bare, "a length", '3/4in, 1 1/2", 5 ft 3 in, 43 cm or 170mm'))


def parse_length_mm(text: str, bare: str = "mm") -> float:
    """Millimetres of a length; a number without a unit is taken in the unit ``bare``.

    >>> parse_length_mm("170"), parse_length_mm("6.5in"), parse_length_mm('6 1/2"')
    (170.0, 165.1, 165.1)
    """
    inches = _total(text, _LENGTH, bare, "a length", "170mm, 17 cm or 6.5in")
    return float(inches * Fraction(254, 10))


def parse_weight(text: str) -> float:
    """Pounds of a weight: ``600``, ``2,500 lb``, ``270 kg``; a ton is 2000 lb."""
    return float(_total(text, _WEIGHT, "lb", "a weight", "600 lb or 270 kg"))


def parse_speed(text: str) -> float:
    """Miles an hour of a speed: ``65``, ``65 mph``, ``100 km/h``."""
    return float(_total(text, _SPEED, "mph", "a speed", "65 mph or 100 km/h"))


def parse_torque(text: str) -> float:
    """Pound-feet of a torque: ``330``, ``330 lb-ft``, ``450 Nm``."""
    return float(_total(text, _TORQUE, "lb-ft", "a torque", "330 lb-ft or 450 Nm"))


def parse_force(text: str) -> float:
    """Pounds-force of a force: ``100``, ``100 lb``, ``500 N``."""
    return float(_total(text, _FORCE, "lb", "a force", "100 lb or 500 N"))


def parse_angle(text: str) -> float:
    """Degrees of an angle, which may be negative: ``10.5``, ``-2 deg``, ``10.5°``."""
    sign, plain = _sign(text)
    return sign * float(_total(plain, _ANGLE, "deg", "an angle", "10.5 or -2 deg"))


def parse_offset_mm(text: str) -> float:
    """Millimetres of a wheel's offset, which may be negative: ``-44``, ``+18mm``, ``-1.5in``."""
    sign, plain = _sign(text)
    return sign * parse_length_mm(plain)


def _sign(text: str) -> tuple[int, str]:
    stripped = text.strip()
    return (-1 if stripped[:1] in {"-", "−"} else 1), stripped.lstrip("+-−")


def parse_distance(text: str) -> float:
    """Miles of a distance by road or air: ``120``, ``120 mi``, ``200 km``."""
    return float(_total(text, _DISTANCE, "mi", "a distance", "120 mi or 200 km"))


def parse_number(text: str) -> float:
    """A plain number, a fraction or a whole number with a fraction, without a unit."""
    return float(_total(text, {"": Fraction(1)}, "", "a number", "4.10, 3/4 or 1 1/2"))


def _total(text: str, units: Mapping[str, Fraction], bare: str, what: str, examples: str) -> Fraction:
    """The sum of the quantities in a text (``5 ft 3 in``) in the unit whose factor is 1."""
    wrong = BadInput(f"{text[:LONGEST_QUANTITY]!r} is not {what}", f"Write it like {examples}.")
    parts = _parts(_plain(text)) if len(text) <= LONGEST_QUANTITY else []
    if not parts:
        raise wrong
    named = [unit or (_after(parts[index - 1][1]) if index else bare) for index, (_, unit) in enumerate(parts)]
    if any(unit not in units for unit in named):
        raise wrong
    factors = [units[unit] for unit in named]
    # 5 ft 3 in is one length, 3 in 5 in or 5 5 is not: each part must be in a smaller unit than the one
    # before.
    if any(later >= earlier for earlier, later in pairwise(factors)):
        raise wrong
    return sum((value * factor for (value, _), factor in zip(parts, factors, strict=True)), Fraction(0))


def _after(unit: str) -> str:
    """The unit meant by a bare number after another quantity: inches after feet (5' 3), else none."""
    return "in" if unit in {"'", "ft", "ft.", "foot", "feet"} else "?"


def _plain(text: str) -> str:
    plain = text.strip().lower().translate(_QUOTES)
    for sign, words in _UNICODE_FRACTIONS.items():
        plain = plain.replace(sign, f" {words}")
    return " ".join(plain.split())


def _parts(plain: str) -> list[tuple[Fraction, str]]:
    """The (value, unit) pairs of a text; empty where something else stands in it."""
    found: list[tuple[Fraction, str]] = []
    at = 0
    while at < len(plain):
        match = _QUANTITY.match(plain, at)
        value = _fraction(match[1]) if match else None
        if match is None or value is None:
            return []
        found.append((value, match[2] or ""))
        at = match.end()
    return found


def _fraction(text: str) -> Fraction | None:
    """The exact value of a number as written; None for a division by nought."""
    words = text.rstrip(".").replace(",", "").replace("-", " ").split()
    if any("/" in word and not word.partition("/")[2].strip("0") for word in words):
        return None
    return sum((Fraction(word) for word in words), Fraction(0))
