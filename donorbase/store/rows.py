"""Catalogue <-> plain rows by table: what the database holds, and what its picture beside it holds.

Both ways stand in this one file and need no database, so that a round trip can be tested without one.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from donorbase.attributes import PAIRS, Kind, attributes, of_scope
from donorbase.facts import Value
from donorbase.reference.catalogue import (
    Catalogue,
    DonorLine,
    Family,
    Figure,
    GearSet,
    Interchange,
    SightNote,
    Variant,
    WearPoint,
    Work,
)
from donorbase.store.columns import variant_columns

Rows = Mapping[str, list[dict[str, Any]]]
"""Rows by table, each a mapping of column to value."""

SHIPPED_TABLES = (
    "basis", "family", "family_note", "gear_set", "gear_ratio", "variant", "variant_value", "variant_basis",
    "variant_note", "interchange", "wear_point", "donor_line", "donor_sight", "sight_note", "work",
)  # fmt: skip
"""Tables of shipped facts, each after those it refers to."""

FAMILY_NOTES = {
    "recognise": "recognise", "strength": "strengths", "weakness": "weaknesses", "fault": "faults",
    "carrier-split": "carrier_splits",
}  # fmt: skip
"""Kinds of a family's notes, with the field of ``Family`` that lists them."""

_SHARED = ("ring_gear_in", "cover_bolts", "cover_shape")


class _Grounds:
    """Numbers the bases in the order met."""

    def __init__(self) -> None:
        self.ids: dict[tuple[str, str], int] = {}

    def id_of(self, thing: Family | Figure | GearSet | Interchange | WearPoint | Work) -> int:
        return self.ids.setdefault((thing.confidence, thing.basis), len(self.ids) + 1)


def rows_of(catalogue: Catalogue) -> Rows:
    """The rows of every shipped table; each row of a table has the same columns."""
    rows: dict[str, list[dict[str, Any]]] = {table: [] for table in SHIPPED_TABLES}
    grounds = _Grounds()
    for place, family in enumerate(catalogue.families.values()):
        _add_family(rows, family, place, grounds)
    for place, gear_set in enumerate(catalogue.gear_sets.values()):
        _add_gear_set(rows, gear_set, place, grounds)
    for place, variant in enumerate(catalogue.variants.values()):
        _add_variant(rows, variant, place, grounds)
    for place, line in enumerate(catalogue.lines.values()):
        rows["donor_line"].append({"line": line.key, "place": place, "basis": line.basis})
        for at, (heading, text) in enumerate(line.sights):
            rows["donor_sight"].append({"line": line.key, "place": at, "heading": heading, "text": text})
    rows["interchange"] = [_priced(line, place, grounds) for place, line in enumerate(catalogue.interchange)]
    rows["work"] = [_priced(work, place, grounds) for place, work in enumerate(catalogue.works.values())]
    rows["sight_note"] = [{"place": place, **_fields(note)} for place, note in enumerate(catalogue.sight_notes)]
    rows["wear_point"] = [
        {**_fields(point, "confidence", "basis"), "place": place, "basis_id": grounds.id_of(point)}
        for place, point in enumerate(catalogue.wear)
    ]
    rows["basis"] = [{"id": i, "confidence": c, "basis": b} for (c, b), i in grounds.ids.items()]
    return rows


def _fields(thing: Any, *but: str) -> dict[str, Any]:
    return {name: getattr(thing, name) for name in thing.__slots__ if name not in but}


def _add_family(rows: Rows, family: Family, place: int, grounds: _Grounds) -> None:
    own = _fields(family, "key", "confidence", "basis", "figures", *FAMILY_NOTES.values())
    shared = {name: family.figures[name].values[0] if name in family.figures else None for name in _SHARED}
    rows["family"].append({"family": family.key, "place": place, **own, **shared, "basis_id": grounds.id_of(family)})
    for kind, field in FAMILY_NOTES.items():
        for at, text in enumerate(getattr(family, field)):
            rows["family_note"].append({"family": family.key, "kind": kind, "place": at, "text": text})


def _add_gear_set(rows: Rows, gear_set: GearSet, place: int, grounds: _Grounds) -> None:
    own = _fields(gear_set, "key", "ratios_sold", "confidence", "basis")
    rows["gear_set"].append({"gear_set": gear_set.key, "place": place, **own, "basis_id": grounds.id_of(gear_set)})
    for at, ratio in enumerate(gear_set.ratios_sold):
        rows["gear_ratio"].append({"gear_set": gear_set.key, "place": at, "ratio": ratio})


def _add_variant(rows: Rows, variant: Variant, place: int, grounds: _Grounds) -> None:
    row: dict[str, Any] = {column: None for columns in variant_columns().values() for column in columns}
    row |= {"variant": variant.key, "family": variant.family.key, "place": place, "title": variant.title}
    row |= {"brake_note": variant.brake_note, "hub_note": variant.hub_note}
    for figure in variant.figures.values():
        columns = variant_columns()[figure.attribute]
        if columns and len(figure.values) == 1:
            pair = figure.values[0]
            row |= zip(columns, pair if isinstance(pair, tuple) else (pair,), strict=True)
        else:
            rows["variant_value"] += _value_rows(variant.key, figure)
        rows["variant_basis"].append(
            {"variant": variant.key, "attribute": figure.attribute, "basis_id": grounds.id_of(figure)}
        )
    rows["variant"].append(row)
    for at, text in enumerate(variant.notes):
        rows["variant_note"].append({"variant": variant.key, "place": at, "text": text})


def _value_rows(key: str, figure: Figure) -> Iterable[dict[str, Any]]:
    for at, value in enumerate(figure.values):
        text, number = (value, None) if isinstance(value, str) else (None, float(value))  # type: ignore[arg-type]
        yield {
            "variant": key, "attribute": figure.attribute, "place": at, "text": text, "number": number,
        }  # fmt: skip


def _priced(thing: Interchange | Work, place: int, grounds: _Grounds) -> dict[str, Any]:
    cost, labor = thing.cost_usd or (None, None), thing.labor_h or (None, None)
    return {
        **_fields(thing, "cost_usd", "labor_h", "confidence", "basis"),
        "place": place,
        "cost_low_usd": None if cost[0] is None else int(cost[0]),
        "cost_high_usd": None if cost[1] is None else int(cost[1]),
        "labor_low_h": labor[0],
        "labor_high_h": labor[1],
        "basis_id": grounds.id_of(thing),
    }


def catalogue_of(rows: Rows) -> Catalogue:
    """The catalogue that rows make, in whatever order they come."""
    grounds = {row["id"]: {"confidence": row["confidence"], "basis": row["basis"]} for row in rows["basis"]}
    families = {row["family"]: row for row in _in_place(rows["family"])}
    notes = _grouped(rows["family_note"], "family")
    made = {key: _family(row, notes[key], grounds) for key, row in families.items()}
    return Catalogue(
        families=made,
        variants=_variants(rows, made, grounds),
        gear_sets=_gear_sets(rows, grounds),
        interchange=tuple(Interchange(**_unpriced(row, grounds)) for row in _in_place(rows["interchange"])),
        wear=tuple(WearPoint(**_grounded(row, grounds)) for row in _in_place(rows["wear_point"])),
        lines=_lines(rows),
        sight_notes=tuple(SightNote(row["kind"], row["text"], row["basis"]) for row in _in_place(rows["sight_note"])),
        works={row["word"]: Work(**_unpriced(row, grounds)) for row in _in_place(rows["work"])},
    )


_Grounded = Mapping[int, dict[str, str]]


def _in_place(rows: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    return sorted(rows, key=lambda row: int(row["place"]))


def _grouped(rows: Iterable[dict[str, Any]], column: str) -> defaultdict[str, list[dict[str, Any]]]:
    found: defaultdict[str, list[dict[str, Any]]] = defaultdict(list)
    for row in rows:
        found[row[column]].append(row)
    return found


def _grounded(row: Mapping[str, Any], grounds: _Grounded, *but: str) -> dict[str, Any]:
    kept = {name: value for name, value in row.items() if name not in ("place", "basis_id", *but)}
    return kept | grounds[row["basis_id"]]


def _unpriced(row: Mapping[str, Any], grounds: _Grounded) -> dict[str, Any]:
    ends = ("cost_low_usd", "cost_high_usd", "labor_low_h", "labor_high_h")
    cost = _span(row["cost_low_usd"], row["cost_high_usd"])
    return _grounded(row, grounds, *ends) | {
        "cost_usd": cost, "labor_h": _span(row["labor_low_h"], row["labor_high_h"]),
    }  # fmt: skip


def _span(low: float | None, high: float | None) -> tuple[float, float] | None:
    return None if low is None or high is None else (float(low), float(high))


def _family(row: Mapping[str, Any], notes: list[dict[str, Any]], grounds: _Grounded) -> Family:
    lists: dict[str, Any] = {
        field: tuple(n["text"] for n in _in_place(notes) if n["kind"] == kind) for kind, field in FAMILY_NOTES.items()
    }
    figures = {
        name: Figure(name, (_typed(name, row[name]),), **grounds[row["basis_id"]])
        for name in ("position", *_SHARED)
        if row[name] is not None
    }
    own = _grounded(row, grounds, "family", *_SHARED) | {"donor_ok": bool(row["donor_ok"])}
    return Family(key=row["family"], figures=figures, **own, **lists)


def _gear_sets(rows: Rows, grounds: _Grounded) -> dict[str, GearSet]:
    ratios = _grouped(rows["gear_ratio"], "gear_set")
    return {
        row["gear_set"]: GearSet(
            key=row["gear_set"],
            ratios_sold=tuple(r["ratio"] for r in _in_place(ratios[row["gear_set"]])),
            **_grounded(row, grounds, "gear_set"),
        )
        for row in _in_place(rows["gear_set"])
    }


def _lines(rows: Rows) -> dict[str, DonorLine]:
    sights = _grouped(rows["donor_sight"], "line")
    return {
        row["line"]: DonorLine(
            row["line"],
            tuple((s["heading"], s["text"]) for s in _in_place(sights[row["line"]])),
            row["basis"],
        )
        for row in _in_place(rows["donor_line"])
    }


def _variants(rows: Rows, families: Mapping[str, Family], grounds: _Grounded) -> dict[str, Variant]:
    values, bases = _grouped(rows["variant_value"], "variant"), _grouped(rows["variant_basis"], "variant")
    notes = _grouped(rows["variant_note"], "variant")
    found = {}
    for row in _in_place(rows["variant"]):
        key, family = row["variant"], families[row["family"]]
        listed = _grouped(_in_place(values[key]), "attribute")
        based = {b["attribute"]: grounds[b["basis_id"]] for b in bases[key]}
        figures = dict.fromkeys(family.figures) | {
            a.name: Figure(a.name, _values(a.name, row, listed[a.name]), **based[a.name])
            for a in of_scope("axle")
            if a.name in based
        }
        found[key] = Variant(
            key, row["title"], family, figures,  # type: ignore[arg-type]  # every shared figure has a basis row
            tuple(n["text"] for n in _in_place(notes[key])), row["brake_note"], row["hub_note"],
        )  # fmt: skip
    return found


def _values(name: str, row: Mapping[str, Any], listed: list[dict[str, Any]]) -> tuple[Value, ...]:
    if listed:
        return tuple(_typed(name, r["number"] if r["text"] is None else r["text"]) for r in listed)
    columns = variant_columns()[name]
    if attributes()[name].kind in PAIRS:
        low, high = (row[column] for column in columns)
        return ((_typed(name, low), None if high is None else _typed(name, high)),)
    return (_typed(name, row[columns[0]]),)


def _typed(name: str, raw: Any) -> Value:
    """A value as the loader types it: the database knows neither flags nor whole numbers among the listed."""
    kind = attributes()[name].kind
    if kind is Kind.FLAG:
        return bool(raw)
    if kind in (Kind.COUNT, Kind.YEARS) or attributes()[name].unit == "usd":
        return int(raw)
    return raw if isinstance(raw, str) else float(raw)
