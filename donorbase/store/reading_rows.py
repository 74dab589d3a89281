"""A reading -> plain rows: of the offer, of each thing, of every value that needs a row of its own.

They need no database. What the columns hold can be asked for; the whole reading is had by reading the text again.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from donorbase.attributes import PAIRS, Attribute, attributes, of_scope
from donorbase.facts import Fact, Known, Reading, Value
from donorbase.store.columns import columns_of

OFFER = 0
"""The number under which values of the whole offer stand beside those of things, which count from 1."""


@dataclass(slots=True)
class ReadingRows:
    """Rows of the tables ``reading``, ``listed_item`` and ``listed_value``, each with the same columns."""

    readings: list[dict[str, Any]] = field(default_factory=list)
    items: list[dict[str, Any]] = field(default_factory=list)
    values: list[dict[str, Any]] = field(default_factory=list)

    def add(self, sighting_id: int, reading: Reading, read_with: str) -> None:
        """Add the rows of one sighting, as read with ``read_with``."""
        own = {"sighting_id": sighting_id, "read_with": read_with, "items": len(reading.items)}
        self.readings.append(own | self._of(sighting_id, OFFER, "offer", reading.offer))
        for number, item in enumerate(reading.items, 1):
            row = {"sighting_id": sighting_id, "item": number}
            self.items.append(row | self._of(sighting_id, number, "thing", item.facts))

    def _of(self, sighting_id: int, item: int, scope: str, facts: Sequence[Fact]) -> dict[str, Any]:
        """The columns of one thing; what stands not in them alone goes among the values."""
        row: dict[str, Any] = dict.fromkeys(_columns(scope))
        by_name: dict[str, list[Fact]] = {}
        for fact in facts:
            by_name.setdefault(fact.attribute, []).append(fact)
        for name, group in by_name.items():
            known = attributes().get(name)
            if known is None:
                continue
            clear = _clear(known, group)
            if clear is not None:
                row |= zip(columns_of(known), _ends(known, clear.value), strict=True)
            if clear is None or clear.known is not Known.STATED:
                self.values += _value_rows(sighting_id, item, known, group)
        return row


@cache
def _columns(scope: str) -> tuple[str, ...]:
    scopes = ("offer",) if scope == "offer" else ("item", "axle")
    return tuple(column for s in scopes for a in of_scope(s) for column in columns_of(a))


def _clear(known: Attribute, group: Sequence[Fact]) -> Fact | None:
    """The one fact that a column can hold: not one of several, not contradicted, a pair in order."""
    if known.many or len({fact.value for fact in group}) > 1 or group[0].known is Known.CONTRADICTED:
        return None
    low, *high = _ends(known, group[0].value)
    in_order = not high or low is None or high[0] is None or low <= high[0]
    return group[0] if in_order else None


def _ends(known: Attribute, value: Value) -> tuple[Any, ...]:
    if known.kind not in PAIRS:
        return (value,)
    return value if isinstance(value, tuple) else (value, value)


def _value_rows(sighting_id: int, item: int, known: Attribute, group: Sequence[Fact]) -> Iterator[dict[str, Any]]:
    for place, fact in enumerate(group):
        low, *high = _ends(known, fact.value)
        words = isinstance(low, str)
        yield {
            "sighting_id": sighting_id, "item": item, "attribute": known.name, "place": place,
            "known": str(fact.known), "text": low if words else None,
            "number": None if words or low is None else float(low),
            "number_high": float(high[0]) if high and high[0] is not None else None,
        }  # fmt: skip
