"""``data/`` -> Catalogue."""

import csv
import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from donorbase.attributes import PAIRS, attributes
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue, Family, Figure, GearSet, Interchange, Variant, WearPoint
from donorbase.shipped import data_dir

_FAMILY_FIGURES = ("position", "ring_gear_in", "cover_bolts", "cover_shape")


@cache
def load_catalogue() -> Catalogue:
    """The shipped catalogue."""
    return _load(data_dir())


def _load(folder: Path) -> Catalogue:
    families: dict[str, Family] = {}
    variants: dict[str, Variant] = {}
    for path in sorted((folder / "families").glob("*.toml")):
        row = tomllib.loads(path.read_text("utf-8"))
        family = families[row["key"]] = _family(row)
        for inner in row["variant"]:
            variant = _variant(family, inner)
            variants[variant.key] = variant
    return Catalogue(
        families,
        variants,
        {g.key: g for g in map(_gear_set, _rows(folder / "gearsets.csv"))},
        tuple(map(_interchange, _rows(folder / "interchange.csv"))),
        tuple(WearPoint(**row) for row in _rows(folder / "wear.csv")),
    )


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def _values(name: str, raw: Any) -> tuple[Value, ...]:
    if attributes()[name].kind in PAIRS:
        pair = raw if isinstance(raw, list) else [raw, raw]
        return ((pair[0], pair[1] if len(pair) > 1 else None),)
    return tuple(raw) if isinstance(raw, list) else (raw,)


def _family(row: Mapping[str, Any]) -> Family:
    figures = {
        name: Figure(name, _values(name, row[name]), row["confidence"], row["basis"])
        for name in _FAMILY_FIGURES
        if name in row
    }
    return Family(
        key=row["key"],
        name=row["name"],
        position=row["position"],
        donor_ok=row["donor_ok"],
        housing=row["housing"],
        recognise=tuple(row["recognise"]),
        pinion_support=row["pinion_support"],
        carrier_splits=tuple(row.get("carrier_splits", ())),
        torque_class=row["torque_class"],
        tire_guide_in=row.get("tire_guide_in"),
        strengths=tuple(row["strengths"]),
        weaknesses=tuple(row["weaknesses"]),
        faults=tuple(row["faults"]),
        refuse_reason=row.get("refuse_reason", ""),
        confidence=row["confidence"],
        basis=row["basis"],
        figures=figures,
    )


def _variant(family: Family, row: Mapping[str, Any]) -> Variant:
    figures = dict(family.figures)
    for name in row.keys() & attributes().keys():
        group = attributes()[name].group
        group = "gears" if group == "family" else group
        confidence, basis = row["confidence"].get(group, "low"), row["basis"].get(group, "from memory")
        figures[name] = Figure(name, _values(name, row[name]), confidence, basis)
    return Variant(
        key=f"{family.key}/{row['key']}",
        title=row["title"],
        family=family,
        figures=figures,
        notes=tuple(row.get("notes", ())),
        brake_note=row.get("brake_note", ""),
        hub_note=row.get("hub_note", ""),
    )


def _number(text: str) -> float | None:
    return float(text) if text else None


def _span(low: str, high: str) -> tuple[float, float] | None:
    return (float(low), float(high)) if low and high else None


def _gear_set(row: Mapping[str, str]) -> GearSet:
    return GearSet(
        key=row["gear_generation"],
        position=row["position"],
        ring_gear_in=_number(row["ring_gear_in"]),
        cut=row["cut"],
        ratios_sold=tuple(float(r) for r in row["ratios_sold"].split("|") if r),
        deepest=_number(row["deepest"]),
        carrier_split=row["carrier_split"],
        needs=row["needs"],
        note=row["note"],
        confidence=row["confidence"],
        basis=row["basis"],
    )


def _interchange(row: Mapping[str, str]) -> Interchange:
    return Interchange(
        id=row["id"],
        kind=row["kind"],
        part=row["part"],
        source=row["from"],
        target=row["to"],
        fits=row["fits"],
        condition=row["condition"],
        parts_needed=row["parts_needed"],
        cost_usd=_span(row["cost_low_usd"], row["cost_high_usd"]),
        labor_h=_span(row["labor_low_h"], row["labor_high_h"]),
        note=row["note"],
        confidence=row["confidence"],
        basis=row["basis"],
    )
