"""``data/families/*.toml`` -> families and variants, every figure checked against its attribute."""

import re
from collections.abc import Mapping
from pathlib import Path

from donorbase.attributes import attributes, of_scope
from donorbase.reference.catalogue import Family, Figure, Variant
from donorbase.reference.rows import Faults, Row, toml_row, toml_tables
from donorbase.reference.values import NEIGHBOUR_STUDS_MM, checked_values, neighbour_mm

CONFIDENCES = ("high", "medium", "low")
SHARED_FIGURES = ("position", "ring_gear_in", "cover_bolts", "cover_shape")
"""What a family says once for all its variants."""

_FAMILY_KEYS = frozenset({
    "key", "name", "position", "donor_ok", "housing", "recognise", "pinion_support", "carrier_splits",
    "torque_class", "tire_guide_in", "strengths", "weaknesses", "faults", "refuse_reason", "confidence",
    "basis", "ring_gear_in", "cover_bolts", "cover_shape", "variant",
})  # fmt: skip
_VARIANT_KEYS = frozenset({"key", "title", "notes", "brake_note", "hub_note", "confidence", "basis"})
_OWN_FIGURES = frozenset(a.name for a in of_scope("axle")) - {"position", "family", "variant"}
_KEY_FORM = re.compile(r"[a-z0-9]+(?:[.-][a-z0-9]+)*")


def load_families(folder: Path, faults: Faults) -> tuple[dict[str, Family], dict[str, Variant]]:
    """Families and variants by key, in the order of the files; whatever is wrong is noted in ``faults``."""
    families: dict[str, Family] = {}
    variants: dict[str, Variant] = {}
    paths = sorted(folder.glob("*.toml"))
    if not paths:
        faults.add(folder.name, "holds no family")
    for path in paths:
        row = toml_row(path, faults)
        if row is not None:
            _load_family(row, path, families, variants)
    return families, variants


def _load_family(row: Row, path: Path, families: dict[str, Family], variants: dict[str, Variant]) -> None:
    family = _family(row)
    _check_key(row, family.key, families)
    if family.key != path.stem:
        row.fault("key", f"{family.key!r} differs from the file's name")
    families[family.key] = family
    inner = toml_tables(row, "variant", path)
    if not inner:
        row.fault("variant", "is missing: a family has at least one")
    for table in inner:
        variant = _variant(family, table)
        _check_key(table, variant.key.partition("/")[2], ())
        if variant.key in variants:
            table.fault("key", f"{variant.key!r} stands twice")
        variants[variant.key] = variant


def _check_key(row: Row, key: str, taken: Mapping[str, Family] | tuple[()]) -> None:
    if key and not _KEY_FORM.fullmatch(key):
        row.fault("key", f"{key!r} must be small letters, digits, dots and hyphens")
    if key in taken:
        row.fault("key", f"{key!r} stands twice")


def _family(row: Row) -> Family:
    row.only(_FAMILY_KEYS)
    confidence, basis = row.word("confidence", CONFIDENCES), row.needed("basis")
    figures = {name: _figure(row, name, confidence, basis) for name in SHARED_FIGURES if name in row.cells}
    donor_ok, refuse_reason = row.flag("donor_ok"), row.text("refuse_reason")
    if not donor_ok and not refuse_reason:
        row.fault("refuse_reason", "is missing for a family that is no donor")
    return Family(
        key=row.needed("key"),
        name=row.needed("name"),
        position=row.word("position", attributes()["position"].values),
        donor_ok=donor_ok,
        housing=row.needed("housing"),
        recognise=row.texts("recognise"),
        pinion_support=row.needed("pinion_support"),
        carrier_splits=row.texts("carrier_splits"),
        torque_class=row.needed("torque_class"),
        tire_guide_in=row.number("tire_guide_in", 20, 70),
        strengths=row.texts("strengths"),
        weaknesses=row.texts("weaknesses"),
        faults=row.texts("faults"),
        refuse_reason=refuse_reason,
        confidence=confidence,
        basis=basis,
        figures={name: figure for name, figure in figures.items() if figure.values},
    )


def _variant(family: Family, row: Row) -> Variant:
    row.only(_VARIANT_KEYS | _OWN_FIGURES)
    grounds = _grounds(row)
    figures = dict(family.figures)
    for name in (a.name for a in of_scope("axle") if a.name in row.cells and a.name in _OWN_FIGURES):
        confidence, basis = grounds.get(group_of(name), ("", ""))
        if not confidence:
            row.fault(name, f"has no confidence and basis: the group {group_of(name)} gives none")
        figure = _figure(row, name, confidence, basis)
        if figure.values:
            figures[name] = figure
    _check_ends(family, row)
    _check_hub(row, figures)
    return Variant(
        key=f"{family.key}/{row.needed('key')}",
        title=row.needed("title"),
        family=family,
        figures=figures,
        notes=row.texts("notes"),
        brake_note=row.text("brake_note"),
        hub_note=row.text("hub_note"),
    )


def group_of(name: str) -> str:
    """The group whose confidence and basis speak for an attribute of a variant."""
    group = attributes()[name].group
    # A variant that differs from its family in what the family shares differs in its centre section.
    return "gears" if group == "family" else group


def _grounds(row: Row) -> dict[str, tuple[str, str]]:
    """Confidence and basis of each group of figures."""
    known = {a.group for a in of_scope("axle")}
    given = [row.cells.get(name, {}) for name in ("confidence", "basis")]
    if not all(isinstance(table, dict) for table in given):
        row.fault("confidence", "and basis must give a word for each group of figures")
        return {}
    confidences, bases = given
    for group in sorted(confidences.keys() | bases.keys()):
        if group not in known:
            row.fault("confidence", f"speaks of {group!r}, which is no group of figures")
        elif confidences.get(group) not in CONFIDENCES:
            row.fault("confidence", f"of {group} must be one of: {', '.join(CONFIDENCES)}")
        elif not str(bases.get(group, "")).strip():
            row.fault("basis", f"of {group} is missing")
    return {group: (confidences[group], str(bases[group])) for group in confidences.keys() & bases.keys()}


def _figure(row: Row, name: str, confidence: str, basis: str) -> Figure:
    try:
        values = checked_values(attributes()[name], row.cells[name])
    except ValueError as wrong:
        row.fault(name, str(wrong))
        values = ()
    return Figure(name, values, confidence, basis)


def _check_ends(family: Family, row: Row) -> None:
    for name in row.cells.keys() & _OWN_FIGURES:
        if family.position and family.position not in attributes()[name].ends:
            row.fault(name, f"is not an attribute of a {family.position} axle")


def _check_hub(row: Row, figures: Mapping[str, Figure]) -> None:
    lugs, circle = (figures[n].values if n in figures else () for n in ("lugs", "bolt_circle_mm"))
    for count in lugs:
        for size in circle:
            gap = neighbour_mm(int(count), float(size))  # type: ignore[arg-type]  # numbers by their check
            if not NEIGHBOUR_STUDS_MM[0] <= gap <= NEIGHBOUR_STUDS_MM[1]:
                what = f"{size} with {count} lugs puts neighbouring studs {gap:.0f} mm apart"
                row.fault("bolt_circle_mm", what)
