"""Values as people write them: ``4.10``, ``170 mm``, ``2005-2010``, ``2017 on``."""

from collections.abc import Iterable
from typing import Any

from donorbase.attributes import Attribute, Kind, attribute
from donorbase.facts import Value

_UNIT_WORDS = {"in": "in", "mm": "mm", "lb": "lb", "mi": "mi", "usd": "USD"}


def value_text(name: str, value: Value) -> str:
    """One value of an attribute with its unit.

    >>> value_text("ratio", 4.1), value_text("bolt_circle_mm", 170.0), value_text("years", (2017, None))
    ('4.10', '170 mm', '2017 on')
    """
    known = attribute(name)
    return f"{number_text(known, value)} {_UNIT_WORDS.get(known.unit, '')}".rstrip()


def values_text(name: str, values: Iterable[Value]) -> str:
    """Several possible values, parted by `or`; nothing for none.

    >>> values_text("brakes", ["disc", "drum"])
    'disc or drum'
    """
    return " or ".join(value_text(name, value) for value in values)


def number_text(known: Attribute, value: Any) -> str:
    """The value alone, without its unit."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple | list):
        return _pair_text(known, value[0], value[1])
    if known.kind is Kind.RATIO:
        return f"{value:.2f}"
    if known.kind is Kind.MONEY or known.unit in {"lb", "mi", "usd"}:
        return f"{value:,.0f}"
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def _pair_text(known: Attribute, low: Any, high: Any) -> str:
    if high is None:
        return f"{low} on"
    if low is None:
        return f"to {high}"
    if low == high:
        return number_text(known, low)
    return f"{number_text(known, low)}-{number_text(known, high)}"
