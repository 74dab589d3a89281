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


def plain_text(value: Value, unit: str = "") -> str:
    """A value in a sentence where no attribute says how it is written.

    >>> plain_text(165.1, "mm"), plain_text((2005, None)), plain_text(True)
    ('165.1 mm', '2005 on', 'yes')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple | list):
        return _span_text(plain_text(value[0]), plain_text(value[1]), value)
    if isinstance(value, float):
        value = int(value) if value.is_integer() else round(value, 2)
    return f"{value} {unit}".strip()


def values_text(name: str, values: Iterable[Value]) -> str:
    """Several possible values, parted by `or`; nothing for none.

    >>> values_text("brakes", ["disc", "drum"])
    'disc or drum'
    """
    return " or ".join(value_text(name, value) for value in values)


def number_text(known: Attribute, value: Any) -> str:
    """The value alone, without its unit."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple | list):
        return _span_text(number_text(known, value[0]), number_text(known, value[1]), value)
    if known.kind is Kind.RATIO:
        return f"{value:.2f}"
    if known.kind is Kind.MONEY or known.unit in {"lb", "mi", "usd"}:
        return f"{value:,.0f}"
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def _span_text(low: str, high: str, pair: Any) -> str:
    if pair[1] is None:
        return f"{low} on"
    if pair[0] is None:
        return f"to {high}"
    return low if pair[0] == pair[1] else f"{low}-{high}"
