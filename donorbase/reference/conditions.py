"""What a person asks of an attribute -> a condition that a variant meets, fails, or does not know.

``35+``, ``>=35``, ``<=17``, ``2005-2016``, ``8``, ``4.10,4.56``, ``ball-joint``, ``6.69in``, ``yes``: a comma
parts values of which any will do. A figure that is not known meets nothing and fails nothing.
"""

import re
from dataclasses import dataclass
from fnmatch import fnmatchcase

from donorbase.attributes import PAIRS, Attribute, Kind, attribute, attributes
from donorbase.errors import BadInput
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.reference.units import (
    in_to_mm,
    mm_to_in,
    parse_distance,
    parse_length,
    parse_length_mm,
    parse_number,
    parse_weight,
)

RATIO_SOLD = "ratio_sold"
"""Not an attribute of an axle but of what can be bought for it: a gear set of this ratio is sold for its ring
and pinion. Asked and required like an attribute."""

Span = tuple[float | None, float | None]
"""Low and high, both included; None is open."""

_SLACK = {"in": 0.0051, "mm": 0.13}
"""People round to a hundredth of an inch; half of that is 0.005 in or 0.127 mm: 6.69in means 170 mm."""
_RATIO_SLACK = 0.0051
"""Ratios are quoted to two decimals."""

_RANGE = re.compile(r"\s*(?:-|–|\.\.| to )\s*")
_FLAGS = {"yes": True, "true": True, "no": False, "false": False}
_UNITS = {"in": parse_length, "mm": parse_length_mm, "lb": parse_weight, "mi": parse_distance}


@dataclass(frozen=True, slots=True)
class Condition:
    """What is asked of one attribute: spans of numbers, or words, of which any will do."""

    attribute: str
    text: str
    spans: tuple[Span, ...] = ()
    words: tuple[str, ...] = ()

    def allows(self, values: tuple[Value, ...]) -> bool:
        """Whether any of the values fitted meets it."""
        return any(self._allows(value) for value in values)

    def _allows(self, value: Value) -> bool:
        if isinstance(value, str):
            return self._has_word(value)
        low, high = value if isinstance(value, tuple) else (value, value)
        return any(
            (least is None or high is None or high >= least) and (most is None or low is None or low <= most)
            for least, most in self.spans
        )

    def _has_word(self, value: str) -> bool:
        kind = None if self.attribute == RATIO_SOLD else attribute(self.attribute).kind
        if kind is Kind.TEXT:
            return any(word in value.casefold() for word in self.words)
        if kind is Kind.KEY:
            # Only * and ? stand for other signs, as in the database.
            return any(fnmatchcase(value.casefold(), word.replace("[", "[[]")) for word in self.words)
        return value in self.words


def meets(condition: Condition, variant: Variant, catalogue: Catalogue) -> bool | None:
    """Whether a variant meets a condition; None where the catalogue does not know."""
    values = _values(condition.attribute, variant, catalogue)
    if values is None:
        return False
    return condition.allows(values) if values else None


def _values(name: str, variant: Variant, catalogue: Catalogue) -> tuple[Value, ...] | None:
    """What is known; empty where nothing is, None where the attribute is none of such an axle."""
    if name == RATIO_SOLD:
        gear_set = catalogue.gear_sets.get(str(variant.get("gear_set")))
        return gear_set.ratios_sold if gear_set else ()
    if name in ("variant", "family"):
        return (variant.key if name == "variant" else variant.family.key,)
    if variant.family.position not in attribute(name).ends:
        return None
    return variant.all(name)


def parse_condition(name: str, text: str) -> Condition:
    """The condition written in ``text`` on the attribute of that name or alias, or on ``ratio_sold``.

    Raises KeyError where there is no such attribute, BadInput where the text cannot be one of its conditions.
    """
    asked = attributes()["ratio"] if name == RATIO_SOLD else attribute(name)
    named = RATIO_SOLD if name == RATIO_SOLD else asked.name
    parts = [part.strip() for part in text.split(",")]
    if not all(parts):
        raise BadInput(f"{named}: {text!r} has an empty value", _example(asked))
    if asked.kind is Kind.CHOICE:
        return Condition(named, text, words=tuple(_choice(asked, part) for part in parts))
    if asked.kind in (Kind.TEXT, Kind.KEY):
        return Condition(named, text, words=tuple(part.casefold() for part in parts))
    if asked.kind is Kind.FLAG:
        return Condition(named, text, spans=tuple(_flag(asked, part) for part in parts))
    numbers = _rejoined(parts, asked.high or 0)
    return Condition(named, text, spans=tuple(_span(asked, number) for number in numbers))


def _rejoined(parts: list[str], high: float) -> list[str]:
    """Parts of a list, with ``1,200`` put together again where that is a believable number."""
    joined: list[str] = []
    for part in parts:
        before = re.search(r"(?<!\d)\d{1,3}$", joined[-1]) if joined else None
        after = re.match(r"\d{3}(?!\d|\.)", part)
        if before and after and int(before[0] + after[0]) <= high:
            joined[-1] += part
        else:
            joined.append(part)
    return joined


def _choice(asked: Attribute, text: str) -> str:
    words = {word.casefold(): word for word in asked.values}
    if text.casefold() not in words:
        hint = f"Write one of: {', '.join(asked.values)}."
        raise BadInput(f"{asked.name}: {text!r} is none of its words", hint)
    return words[text.casefold()]


def _flag(asked: Attribute, text: str) -> Span:
    if text.casefold() not in _FLAGS:
        raise BadInput(f"{asked.name}: {text!r} is neither yes nor no", "Write yes or no.")
    number = float(_FLAGS[text.casefold()])
    return (number, number)


def _span(asked: Attribute, text: str) -> Span:
    """Low and high of ``N``, ``N-M``, ``N+``, ``>=N``, ``<=N``, wider by the slack of the attribute."""
    low, high = _ends(asked, text)
    if low is not None and high is not None and low > high:
        raise BadInput(f"{asked.name}: {text!r} is reversed", f"Write {high:g}-{low:g}.")
    slack = _RATIO_SLACK if asked.kind is Kind.RATIO else _SLACK.get(asked.unit, 0.0)
    return (None if low is None else low - slack, None if high is None else high + slack)


def _ends(asked: Attribute, text: str) -> Span:
    if text.startswith((">=", "≥")):
        return (_number(asked, text.lstrip(">=≥")), None)
    if text.startswith(("<=", "≤")):
        return (None, _number(asked, text.lstrip("<=≤")))
    if text.endswith("+"):
        return (_number(asked, text[:-1]), None)
    try:
        number = _number(asked, text)
    except BadInput:
        ends = _RANGE.split(text, maxsplit=1)
        if len(ends) != 2 or not all(ends):
            raise
        return (_number(asked, _with_unit_of(ends[1], ends[0])), _number(asked, ends[1]))
    return (number, number)


def _with_unit_of(last: str, first: str) -> str:
    """The first end of a range, in the unit of the last where it has none of its own: ``68-70in``."""
    unit = last.lstrip("0123456789./ ")
    return first if first.rstrip()[-1:] not in "0123456789" else first + unit


def _number(asked: Attribute, text: str) -> float:
    """The number in the attribute's unit; BadInput where it is none or no believable one."""
    try:
        number = _UNITS.get(asked.unit, parse_number)(text.removeprefix("$") if asked.unit == "usd" else text)
    except BadInput as wrong:
        raise BadInput(f"{asked.name}: {wrong.what}", _example(asked)) from None
    low, high = asked.low, asked.high
    if (low is not None and number < low) or (high is not None and number > high):
        raise BadInput(f"{asked.name}: {number:g} is outside {low:g}..{high:g}", _other_unit(asked, number))
    if asked.kind in (Kind.COUNT, Kind.YEARS) and number != int(number):
        raise BadInput(f"{asked.name}: {text!r} is not a whole number", _example(asked))
    return number


def _other_unit(asked: Attribute, number: float) -> str:
    """What to do about a number out of bounds: often its unit was left out."""
    turned, unit = (in_to_mm(number), "in") if asked.unit == "mm" else (mm_to_in(number), "mm")
    fits = asked.unit in ("in", "mm") and (asked.low or 0) <= turned <= (asked.high or 0)
    return f"If it is in {unit}, write {number:g}{unit}." if fits else _example(asked)


def _example(asked: Attribute) -> str:
    low, high = (f"{end:g}" for end in (asked.low or 0, asked.high or 100))
    if asked.kind in PAIRS:
        return f"Write {low}-{high}, {low}+ or <={high}."
    unit = f" A number alone is in {asked.unit}; another unit is written with it." if asked.unit else ""
    return f"Write a number, {low}-{high}, {low}+, <={high}, or several with commas.{unit}"
