"""One raw value of a data file against the attribute it is a value of."""

import math
from collections.abc import Callable
from typing import Any

from donorbase.attributes import PAIRS, Attribute, Kind
from donorbase.facts import Value

NEIGHBOUR_STUDS_MM = (55.0, 125.0)
"""Neighbouring wheel studs stand no closer and no wider apart than this on any hub met in the trade (common
practice: 57 mm on the tightest ten-lug, 120 mm on the widest five-lug hub). Catches what was mistyped."""


def checked_values(attribute: Attribute, raw: Any) -> tuple[Value, ...]:
    """The values of one figure, typed: counts whole, lengths and ratios as float, pairs as (low, high).

    A list says that each of its values was fitted to some axles of the variant.
    Raises ValueError, saying what is wrong, for anything the attribute does not allow.
    """
    if attribute.kind in PAIRS:
        return (_pair(attribute, raw),)
    if not isinstance(raw, list):
        return (_value(attribute, raw),)
    if not raw:
        raise ValueError("is an empty list; leave out what is not known")
    values = tuple(_value(attribute, element) for element in raw)
    if len(set(values)) < len(values):
        raise ValueError("lists a value twice")
    return values


def neighbour_mm(lugs: int, bolt_circle_mm: float) -> float:
    """Distance between neighbouring studs, in mm: the chord of one step round the circle."""
    return bolt_circle_mm * math.sin(math.pi / lugs)


def _value(attribute: Attribute, raw: Any) -> Value:
    return _CHECKS[attribute.kind](attribute, raw)


def _whole(attribute: Attribute, raw: Any) -> Value:
    if not isinstance(raw, int) or isinstance(raw, bool):
        raise ValueError(f"must be a whole number, not {raw!r}")
    _bounded(attribute, raw)
    return raw


def _number(attribute: Attribute, raw: Any) -> Value:
    if not isinstance(raw, int | float) or isinstance(raw, bool) or not math.isfinite(raw):
        raise ValueError(f"must be a number, not {raw!r}")
    _bounded(attribute, raw)
    return float(raw)


def _bounded(attribute: Attribute, number: float) -> None:
    low = -math.inf if attribute.low is None else attribute.low
    high = math.inf if attribute.high is None else attribute.high
    if not low <= number <= high:
        raise ValueError(f"{number} is outside {low:g}..{high:g}")


def _choice(attribute: Attribute, raw: Any) -> Value:
    if raw not in attribute.values:
        raise ValueError(f"{raw!r} is none of: {', '.join(attribute.values)}")
    return str(raw)


def _words(_attribute: Attribute, raw: Any) -> Value:
    if not isinstance(raw, str) or not raw.strip():
        raise ValueError(f"must be words, not {raw!r}")
    return raw


def _flag(_attribute: Attribute, raw: Any) -> Value:
    if not isinstance(raw, bool):
        raise ValueError(f"must be true or false, not {raw!r}")
    return raw


def _pair(attribute: Attribute, raw: Any) -> Value:
    """(low, high), or (first, last) years of which a missing last means that they go on."""
    ends = raw if isinstance(raw, list) else [raw, raw]
    open_end = attribute.kind is Kind.YEARS and len(ends) == 1
    if len(ends) != 2 and not open_end:
        raise ValueError(f"must be a first and a last value, not {raw!r}")
    check = _whole if attribute.kind is Kind.YEARS or attribute.unit == "usd" else _number
    low, *rest = [check(attribute, end) for end in ends]
    high = rest[0] if rest else None
    if high is not None and high < low:  # type: ignore[operator]  # both are numbers by the check above
        raise ValueError(f"is reversed: {low} is above {high}")
    return (low, high)


_CHECKS: dict[Kind, Callable[[Attribute, Any], Value]] = {
    Kind.COUNT: _whole,
    Kind.LENGTH: _number,
    Kind.RATIO: _number,
    Kind.MONEY: _number,
    Kind.CHOICE: _choice,
    Kind.TEXT: _words,
    Kind.KEY: _words,
    Kind.FLAG: _flag,
}
