"""Axles of the catalogue by any attributes together; what is not known of an axle is shown apart."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import PAIRS, Kind, attribute, attributes, of_scope
from donorbase.errors import BadInput
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.reference.conditions import RATIO_SOLD, Condition, meets, parse_condition
from donorbase.services.house import House
from donorbase.services.near import near_keys

ALWAYS_SHOWN = ("years", "donor_line", "ring_gear_in", "ratio", "lugs", "bolt_circle_mm")
"""Attributes that tell an axle at a glance, shown beside those that were asked for."""


@dataclass(frozen=True, slots=True)
class Found:
    """A variant that fails nothing; ``not_known`` are the attributes asked for that the catalogue lacks.

    ``ratios_sold`` are those sold for its gear set.
    """

    variant: Variant
    not_known: tuple[str, ...]
    ratios_sold: tuple[float, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Key, title, figures and what is not known, as plain data."""
        return {
            "variant": self.variant.key,
            "title": self.variant.title,
            "donor_ok": self.variant.family.donor_ok,
            "refuse_reason": self.variant.family.refuse_reason,
            "figures": {name: plain_values(f.values) for name, f in self.variant.figures.items()},
            "not_known": list(self.not_known),
        }


@dataclass(frozen=True, slots=True)
class FindResult:
    """``meets``: every condition is met. ``not_known``: none is failed, but some cannot be told.

    ``columns`` are the attributes worth a column: those asked for, then those always shown.
    """

    conditions: tuple[Condition, ...]
    meets: tuple[Found, ...]
    not_known: tuple[Found, ...]
    columns: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """The question as it was understood, and both lists."""
        return {
            "asked": {c.attribute: c.text for c in self.conditions},
            "meets": [found.as_json() for found in self.meets],
            "not_known": [found.as_json() for found in self.not_known],
        }


def plain_values(values: Sequence[Value]) -> list[Any]:
    """Values for JSON: pairs as lists."""
    return [list(value) if isinstance(value, tuple) else value for value in values]


def find(query: Mapping[str, str], house: House, sort: str = "", descending: bool = False) -> FindResult:
    """Variants by conditions as people write them (``{"outer_splines": "35+", "ratio_sold": "5.13"}``).

    Names may be written with hyphens. Raises BadInput for a name that is no attribute of an axle (with the
    near ones) and for a condition that its attribute cannot have.
    """
    conditions = tuple(_condition(name, text) for name, text in query.items())
    order = _axle_attribute(sort) if sort else ""
    if order == RATIO_SOLD:
        raise BadInput("ratio_sold is no order: a gear set has many ratios", "Sort by another attribute.")
    catalogue = house.catalogue()
    found = [
        Found(catalogue.variants[key], unknown, _ratios_sold(catalogue, catalogue.variants[key]))
        for key, unknown in _keys(house, catalogue, conditions, order, descending)
    ]
    asked = tuple(dict.fromkeys(c.attribute for c in conditions if c.attribute not in ("variant", "family")))
    return FindResult(
        conditions,
        tuple(f for f in found if not f.not_known),
        tuple(f for f in found if f.not_known),
        tuple(dict.fromkeys((*asked, *ALWAYS_SHOWN))),
    )


def _ratios_sold(catalogue: Catalogue, variant: Variant) -> tuple[float, ...]:
    gear_set = catalogue.gear_sets.get(str(variant.get("gear_set")))
    return gear_set.ratios_sold if gear_set else ()


def _keys(
    house: House, catalogue: Catalogue, conditions: Sequence[Condition], sort: str, descending: bool
) -> list[tuple[str, tuple[str, ...]]]:
    # The picture answers at once; the database is asked where it is open anyway. Both give the same, by test.
    if not house.store_is_open:
        return find_plain(catalogue, conditions, sort, descending)
    from donorbase.store.find import find_variants

    with house.reading() as connection:
        return find_variants(connection, conditions, sort, descending)


def find_plain(
    catalogue: Catalogue, conditions: Sequence[Condition], sort: str = "", descending: bool = False
) -> list[tuple[str, tuple[str, ...]]]:
    """What ``store.find.find_variants`` gives, from the catalogue alone."""
    found = []
    for variant in catalogue.variants.values():
        truths = [(c.attribute, meets(c, variant, catalogue)) for c in conditions]
        if all(truth is not False for _, truth in truths):
            found.append((variant.key, tuple(name for name, truth in truths if truth is None)))
    found.sort()
    if sort:
        keys = {key: _sort_key(catalogue.variants[key], sort, descending) for key, _ in found}
        placed = [row for row in found if keys[row[0]] is not None]
        placed.sort(key=lambda row: keys[row[0]], reverse=descending)
        found = placed + [row for row in found if keys[row[0]] is None]
    return found


def _sort_key(variant: Variant, name: str, descending: bool) -> Any:
    values = _sortable(variant, name)
    return (max if descending else min)(values) if values else None


def _sortable(variant: Variant, name: str) -> list[Any]:
    if name in ("variant", "family"):
        return [variant.key if name == "variant" else variant.family.key]
    known, kind = attributes()[name], attributes()[name].kind
    if kind in PAIRS:
        return [value[0] for value in variant.all(name) if isinstance(value, tuple)]
    if kind is Kind.CHOICE:
        return [known.values.index(str(value)) for value in variant.all(name)]
    return list(variant.all(name))


def _condition(name: str, text: str) -> Condition:
    return parse_condition(_axle_attribute(name), text)


def _axle_attribute(name: str) -> str:
    """The attribute's own name for a name as typed; BadInput names the near ones."""
    plain = name.strip().casefold().replace("-", "_")
    names = [RATIO_SOLD, *(a.name for a in of_scope("axle"))]
    with suppress(KeyError):
        plain = attribute(plain).name
    if plain not in names:
        near = near_keys(plain, names)
        hint = f"Near it: {', '.join(near)}." if near else f"It has: {', '.join(names)}."
        raise BadInput(f"an axle has no attribute {name!r}", hint)
    return plain
