"""Two axles side by side: what tells them apart, easiest to see first."""

from dataclasses import dataclass
from typing import Any

from donorbase.attributes import PAIRS, Attribute, Kind, of_scope
from donorbase.errors import BadInput
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.services.find import plain_values
from donorbase.services.house import House
from donorbase.services.show import existing_key

DIFFERS, MAY_DIFFER, SAME, NOT_KNOWN = "differs", "may differ", "same", "not known"
_ORDER = (DIFFERS, MAY_DIFFER, NOT_KNOWN, SAME)

_SD_APART = 3.0
"""Sizes nearer than this many standard deviations of a measurement are not told apart by measuring once."""


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One attribute of both.

    ``state``: ``differs`` (nothing in common: seeing it decides), ``may differ`` (something in common, or too
    near to measure, or told in words), ``same``, or ``not known`` of one. ``trouble_min`` is minutes in a
    yard, ``miscount`` the chance that a careful person gets it wrong.
    """

    attribute: str
    title: str
    unit: str
    first: tuple[Value, ...]
    second: tuple[Value, ...]
    state: str
    trouble_min: float
    miscount: float
    how: str

    def as_json(self) -> dict[str, Any]:
        """The row as plain data."""
        values = {"first": plain_values(self.first), "second": plain_values(self.second)}
        names = ("attribute", "title", "unit", "state", "trouble_min", "miscount", "how")
        return {name: getattr(self, name) for name in names} | values


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two keys with their titles and the rows, telling ones first, each kind by how easily it is seen."""

    first: str
    first_title: str
    second: str
    second_title: str
    rows: tuple[CompareRow, ...]

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        return {
            "first": {"key": self.first, "title": self.first_title},
            "second": {"key": self.second, "title": self.second_title},
            "rows": [row.as_json() for row in self.rows],
        }


def compare(key_a: str, key_b: str, house: House) -> Comparison:
    """Two variants or families by key; of a family every value of its variants counts as fitted.

    NotFound names the keys near a mistyped one.
    """
    catalogue = house.catalogue()
    key_a, key_b = (existing_key(key, catalogue) for key in (key_a, key_b))
    (title_a, ours), (title_b, theirs) = (_side(key, catalogue) for key in (key_a, key_b))
    rows = [
        row
        for attribute in of_scope("axle")
        if attribute.name not in ("family", "variant") and (row := _row(attribute, ours, theirs))
    ]
    rows.sort(key=_rank)
    return Comparison(key_a, title_a, key_b, title_b, tuple(rows))


def _rank(row: CompareRow) -> tuple[int, bool, float, float]:
    # What cannot be measured comes after what can; then minutes, then how often a careful person errs.
    return (_ORDER.index(row.state), not row.how, row.trouble_min, row.miscount)


def _side(key: str, catalogue: Catalogue) -> tuple[str, list[Variant]]:
    """The title of a key and the variants it stands for."""
    if key in catalogue.variants:
        return catalogue.variants[key].title, [catalogue.variants[key]]
    if key in catalogue.families:
        family = catalogue.families[key]
        return family.name, [v for v in catalogue.variants.values() if v.family is family]
    raise BadInput(f"{key} is no axle", "Compare two variants or two families.")


def _row(attribute: Attribute, ours: list[Variant], theirs: list[Variant]) -> CompareRow | None:
    first, second = (_values(attribute.name, side) for side in (ours, theirs))
    if not first and not second:
        return None
    return CompareRow(
        attribute.name, attribute.title, attribute.unit, first, second, _state(attribute, first, second),
        attribute.trouble, attribute.miscount, attribute.how,
    )  # fmt: skip


def _values(name: str, variants: list[Variant]) -> tuple[Value, ...]:
    """Every value that any of the variants was fitted with; empty where one of them is not known.

    Otherwise the unknown one could have the very value that is taken to tell the two apart.
    """
    if not all(variant.all(name) for variant in variants):
        return ()
    return tuple(dict.fromkeys(value for variant in variants for value in variant.all(name)))


def _state(attribute: Attribute, first: tuple[Value, ...], second: tuple[Value, ...]) -> str:
    if not first or not second:
        return NOT_KNOWN
    if set(first) == set(second):
        return SAME
    return MAY_DIFFER if any(_may_be_one(attribute, a, b) for a in first for b in second) else DIFFERS


def _may_be_one(attribute: Attribute, first: Any, second: Any) -> bool:
    """Whether what was found on an axle could be both."""
    if attribute.kind in PAIRS:
        return _pairs_meet(first, second)
    if attribute.kind in (Kind.LENGTH, Kind.RATIO):
        return bool(abs(first - second) <= _SD_APART * attribute.sd)
    # Words are free: two ways to say a thing are no difference in it.
    return attribute.kind is Kind.TEXT or bool(first == second)


def _pairs_meet(first: Any, second: Any) -> bool:
    return (first[1] is None or second[0] <= first[1]) and (second[1] is None or first[0] <= second[1])
