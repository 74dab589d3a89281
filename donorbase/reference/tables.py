"""The other files of ``data/`` -> gear sets, interchange, wear points, donor lines, works; rows checked."""

from dataclasses import replace
from pathlib import Path

from donorbase.attributes import attributes
from donorbase.reference.catalogue import DonorLine, GearSet, Interchange, SightNote, WearPoint, Work
from donorbase.reference.families import CONFIDENCES
from donorbase.reference.rows import Faults, Row, csv_rows, toml_row, toml_tables

INTERCHANGE_KINDS = ("fit", "conversion", "availability")
SIGHT_NOTES = ("sight_order", "trap")
FITS = ("yes", "no", "with parts", "conversion", "see note")

_GEAR_COLUMNS = (
    "gear_generation", "position", "ring_gear_in", "cut", "ratios_sold", "deepest", "carrier_split", "needs",
    "note", "confidence", "basis",
)  # fmt: skip
_INTERCHANGE_COLUMNS = (
    "id", "kind", "part", "from", "to", "fits", "condition", "parts_needed", "cost_low_usd", "cost_high_usd",
    "labor_low_h", "labor_high_h", "note", "work", "confidence", "basis",
)  # fmt: skip
_WEAR_COLUMNS = (
    "id", "part", "applies_to", "what_to_measure", "new_value", "limit", "unit", "tool", "how",
    "meaning_if_out", "confidence", "basis",
)  # fmt: skip
_WORK_COLUMNS = (
    "word", "title", "cost_low_usd", "cost_high_usd", "labor_low_h", "labor_high_h", "confidence", "basis",
)  # fmt: skip


def load_gear_sets(path: Path, faults: Faults) -> dict[str, GearSet]:
    """Gear sets by key."""
    found: dict[str, GearSet] = {}
    for row in csv_rows(path, _GEAR_COLUMNS, faults):
        gear_set = _gear_set(row)
        if gear_set.key in found:
            row.fault("gear_generation", f"{gear_set.key!r} stands twice")
        found[gear_set.key] = gear_set
    return found


def _gear_set(row: Row) -> GearSet:
    ring = attributes()["ring_gear_in"]
    ratios, deepest = _ratios(row), row.number("deepest", 1.5, 13)
    if ratios and deepest is not None and deepest != max(ratios):
        row.fault("deepest", f"{deepest:g} is not the deepest of the ratios sold")
    position = row.needed("position")
    if not any(word in position for word in attributes()["position"].values):
        row.fault("position", f"{position!r} names neither front nor rear")
    return GearSet(
        key=row.needed("gear_generation"),
        position=position,
        ring_gear_in=row.number("ring_gear_in", ring.low or 0, ring.high or 0),
        cut=row.needed("cut"),
        ratios_sold=ratios,
        deepest=deepest,
        carrier_split=row.text("carrier_split"),
        needs=row.text("needs"),
        note=row.text("note"),
        confidence=row.word("confidence", CONFIDENCES),
        basis=row.needed("basis"),
    )


def _ratios(row: Row) -> tuple[float, ...]:
    limits = attributes()["ratio"]
    ratios = []
    for text in filter(None, row.text("ratios_sold").split("|")):
        part = Row(row.file, row.line, {"ratios_sold": text}, row.faults)
        ratios.append(part.number("ratios_sold", limits.low or 0, limits.high or 0) or 0.0)
    if len(set(ratios)) < len(ratios):
        row.fault("ratios_sold", "lists a ratio twice")
    return tuple(ratios)


def load_interchange(path: Path, faults: Faults) -> list[tuple[Row, Interchange]]:
    """Rows of what fits and converts, each beside its place in the file, for the check of its patterns."""
    found = []
    taken: set[str] = set()
    for row in csv_rows(path, _INTERCHANGE_COLUMNS, faults):
        line = _interchange(row)
        if line.id in taken:
            row.fault("id", f"{line.id!r} stands twice")
        taken.add(line.id)
        found.append((row, line))
    return found


def _interchange(row: Row) -> Interchange:
    kind, target = row.word("kind", INTERCHANGE_KINDS), row.text("to")
    if kind != "availability" and not target:
        row.fault("to", "is missing")
    return Interchange(
        id=row.needed("id"),
        kind=kind,
        part=row.needed("part"),
        source=row.needed("from"),
        target=target,
        fits=row.word("fits", FITS),
        condition=row.text("condition"),
        parts_needed=row.text("parts_needed"),
        cost_usd=row.span("cost_low_usd", "cost_high_usd"),
        labor_h=row.span("labor_low_h", "labor_high_h"),
        note=row.text("note"),
        confidence=row.word("confidence", CONFIDENCES),
        basis=row.needed("basis"),
        work=row.text("work"),
    )


def load_wear(path: Path, faults: Faults) -> tuple[WearPoint, ...]:
    """What to measure on used parts, and the limits."""
    found: dict[str, WearPoint] = {}
    for row in csv_rows(path, _WEAR_COLUMNS, faults):
        must = {name: row.needed(name) for name in ("id", "part", "applies_to", "what_to_measure", "basis")}
        may = {name: row.text(name) for name in ("new_value", "limit", "unit", "tool", "how", "meaning_if_out")}
        point = WearPoint(confidence=row.word("confidence", CONFIDENCES), **must, **may)
        if point.id in found:
            row.fault("id", f"{point.id!r} stands twice")
        found[point.id] = point
    return tuple(found.values())


def load_lines(path: Path, faults: Faults) -> dict[str, DonorLine]:
    """Donor lines by letter: ``[[line]]`` tables of key, basis and sights, a list of [heading, text]."""
    row = toml_row(path, faults)
    if row:
        row.only(("line", *SIGHT_NOTES))
    found: dict[str, DonorLine] = {}
    for table in toml_tables(row, "line", path) if row else ():
        table.only(("key", "basis", "sights"))
        line = DonorLine(table.word("key", attributes()["donor_line"].values), _sights(table), table.needed("basis"))
        if line.key in found:
            table.fault("key", f"{line.key!r} stands twice")
        found[line.key] = line
    return found


def load_sight_notes(path: Path, faults: Faults) -> tuple[SightNote, ...]:
    """What to look at first, and the traps, from the file of donor lines."""
    # A file that cannot be read at all was noted with the lines.
    row = toml_row(path, Faults())
    if row is None:
        return ()
    tables = [(kind, t) for kind in SIGHT_NOTES for t in toml_tables(replace(row, faults=faults), kind, path)]
    for _, table in tables:
        table.only(("text", "basis"))
    return tuple(SightNote(kind, table.needed("text"), table.needed("basis")) for kind, table in tables)


def _sights(row: Row) -> tuple[tuple[str, str], ...]:
    pairs = row.cells.get("sights", [])
    if not isinstance(pairs, list) or not pairs or not all(map(_is_sight, pairs)):
        row.fault("sights", "must be a list of [heading, text]")
        return ()
    return tuple((heading, text) for heading, text in pairs)


def _is_sight(pair: object) -> bool:
    return isinstance(pair, list) and len(pair) == 2 and all(isinstance(t, str) and t.strip() for t in pair)


def load_works(path: Path, faults: Faults) -> dict[str, Work]:
    """Words of work by word, with the shipped range of cost and hours."""
    found: dict[str, Work] = {}
    for row in csv_rows(path, _WORK_COLUMNS, faults):
        work = Work(
            word=row.needed("word"),
            title=row.needed("title"),
            cost_usd=row.span("cost_low_usd", "cost_high_usd"),
            labor_h=row.span("labor_low_h", "labor_high_h"),
            confidence=row.word("confidence", CONFIDENCES),
            basis=row.needed("basis"),
        )
        if work.word in found:
            row.fault("word", f"{work.word!r} stands twice")
        found[work.word] = work
    return found
