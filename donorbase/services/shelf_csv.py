"""The shelf as a spreadsheet, and back: parts as they stand, with their notes and photos.

What happened before, and what was measured, is in the JSON of ``shelf_files`` alone.
"""

import csv
import io
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput
from donorbase.reference.shelf_words import FREE
from donorbase.services.backups import backup_before_import
from donorbase.services.cells import harmless
from donorbase.services.contacts import masked
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.pulling import note_event, put_on_shelf
from donorbase.services.shelf import Part, PartHistory, part_history, part_of
from donorbase.services.shelf_rows import HEADS, PartRow, notes_text, part_row
from donorbase.services.source_lines import Lines, csv_table
from donorbase.shelf.money import usd_of
from donorbase.shelf.tags import number_of
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection


@dataclass(slots=True)
class SheetOfParts:
    """A spreadsheet of parts looked through: rows to be kept, each with its place; ``known`` are here as they say.

    ``alike`` are rows without a tag that are just like a part which is here; ``unread`` are heads that nothing is
    known of.
    """

    rows: list[tuple[str, PartRow]] = field(default_factory=list)
    known: int = 0
    alike: int = 0
    faulty: int = 0
    unread: tuple[str, ...] = ()


def export_csv(house: House, *, contacts: bool = False) -> str:
    """All parts as CSV, those that are gone as well; no cell is one that a spreadsheet would run.

    Telephone numbers and e-mail addresses are masked without ``contacts``.
    """
    told = str if contacts else masked
    with house.reading() as connection:
        tags = {row["id"]: row["tag"] for row in stored.list_parts(connection)}
    out = io.StringIO()
    # Lines end as RFC 4180 has it; with a bare newline the writer would leave a carriage return in a cell unquoted.
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    for tag in tags.values():
        cells = cells_of(part_history(house, tag), tags)
        writer.writerow([harmless(told(cells[head])) for head in HEADS])
    return out.getvalue()


def cells_of(found: PartHistory, tags: Mapping[int, str]) -> dict[str, str]:
    """The cells of a part by ``HEADS``, as they are before they are made harmless."""
    part = found.part
    held = [event for event in found.events if not event.undone and event.kind == "held"]
    told: dict[str, Any] = {"pulled_on": found.events[0].happened_on}
    told |= {"held_on": held[-1].happened_on if held and part.state != FREE else None}
    told |= {"photos": "\n".join(found.photos), "notes": notes_text(found.notes)}
    return _standing(part, tags) | _texts(told)


def _standing(part: Part, tags: Mapping[int, str]) -> dict[str, str]:
    """The cells that tell how a part stands, without what happened to it."""
    told: dict[str, Any] = {name: getattr(part, name) for name in HEADS[:12] if name != "cost_usd"}
    told |= {"cost_usd": usd_of(part.cost_cents), "price_usd": usd_of(part.price_cents)}
    told |= {"out_of": tags.get(part.out_of or 0)}
    return _texts(told | {"into": tags.get(part.into_part or 0) if part.state == "assembled" else None})


def _texts(told: Mapping[str, Any]) -> dict[str, str]:
    return {name: "" if value is None else str(value) for name, value in told.items()}


def look_over(
    house: House,
    path: Path,
    columns: Mapping[str, str],
    encoding: str,
    today: date,
    tell: Callable[[str], None],
    *,
    again: bool = False,
) -> SheetOfParts:
    """Read a spreadsheet to its end and keep nothing; every row that cannot be kept is told with its line and why.

    ``again`` takes rows without a tag for further parts though one that is here is just like them.
    """
    with Lines(path, path.name, encoding) as lines:
        heads, rows = csv_table(lines)
        named = _columns(heads, columns, path.name)
        found = SheetOfParts(unread=tuple(h for h in heads if h.strip() and h not in named.values()))
        faults: list[tuple[str, str]] = []
        for row in rows:
            try:
                if row.fault:
                    raise BadInput(row.fault)
                found.rows.append((row.place, part_row(house, {n: row.cells[h] for n, h in named.items()}, today)))
            except BadInput as wrong:
                faults.append((row.place, wrong.what))
    _leave_out(house, found, faults, again)
    for place, fault in sorted(faults, key=lambda one: int(one[0].rpartition(":")[2])):
        tell(f"{place}: {fault}")
    found.faulty = len(faults)
    return found


def _columns(heads: list[str], chosen: Mapping[str, str], name: str) -> dict[str, str]:
    """Which head holds which field: those chosen, then those called as it is. BadInput where none holds the kind."""
    plain = {head.strip().casefold(): head for head in reversed(heads)}
    for field_name, head in chosen.items():
        if field_name not in HEADS or head.strip().casefold() not in plain:
            raise BadInput(
                f"--column {field_name}={head}: no such field, or no such head in {name}",
                f"Fields: {', '.join(HEADS)}. Heads: {', '.join(heads)}.",
            )
    found = {head: plain[head] for head in HEADS if head in plain}
    found |= {field_name: plain[head.strip().casefold()] for field_name, head in chosen.items()}
    if "kind" not in found:
        raise BadInput(
            f"{name} has no column that says what kind of part each is; it has: {', '.join(heads)}",
            "Say which one does, such as: --column kind=NAME",
        )
    return found


def _leave_out(house: House, found: SheetOfParts, faults: list[tuple[str, str]], again: bool) -> None:
    """Take out the rows that are here already, that stand twice, or that speak of a part which is nowhere."""
    here = _here(house)
    found.alike = 0 if again else _leave_out_alike(found, here.values())
    fresh: dict[str, tuple[str, PartRow]] = {}
    kept: list[tuple[str, PartRow]] = []
    for place, row in found.rows:
        if row.tag in here:
            if _same(here[row.tag], row):
                found.known += 1
            else:
                faults.append((place, f"{row.tag}: another part, or another state of it, has that tag here"))
        elif row.tag and row.tag in fresh:
            faults.append((place, f"{row.tag}: stands twice, first in {fresh[row.tag][0]}"))
        else:
            kept.append((place, row))
            fresh |= {row.tag: (place, row)} if row.tag else {}
    found.rows = _without_lost(kept, set(here), faults)


def _leave_out_alike(found: SheetOfParts, here: Iterable[Mapping[str, str]]) -> int:
    """Take out rows without a tag that say just what is kept of a part, each part counted once; how many.

    So a heap that was taken in before, or has grown since, is not kept twice.
    """
    kept = Counter(frozenset(cells.items() - {("tag", cells["tag"])}) for cells in here)
    rows, before = [], len(found.rows)
    for place, row in found.rows:
        said = frozenset(_said(row).items() - {("tag", "")})
        if not row.tag and kept[said] > 0:
            kept[said] -= 1
        else:
            rows.append((place, row))
    found.rows = rows
    return before - len(rows)


def _without_lost(
    rows: list[tuple[str, PartRow]], here: set[str], faults: list[tuple[str, str]]
) -> list[tuple[str, PartRow]]:
    """The rows that speak of no missing part; leaving one out may leave another one without what it speaks of."""
    while True:
        there = here | {row.tag for _, row in rows}
        lost = {id(row): t for _, row in rows for t in (row.into, row.out_of) if t and t not in there}
        if not lost:
            return rows
        faults += [
            (place, f"{lost[id(row)]}, of which it speaks, is missing") for place, row in rows if id(row) in lost
        ]
        rows = [(place, row) for place, row in rows if id(row) not in lost]


def _here(house: House) -> dict[str, dict[str, str]]:
    with house.reading() as connection:
        kept = [part_of(row) for row in stored.list_parts(connection)]
    tags = {part.id: part.tag for part in kept}
    return {part.tag: _standing(part, tags) for part in kept}


def _same(here: Mapping[str, str], row: PartRow) -> bool:
    """Whether a row says of a part that is here what is kept of it."""
    return all(here[name] == text for name, text in _said(row).items())


def _said(row: PartRow) -> dict[str, str]:
    """What a row says of how its part stands, by head."""
    fields: dict[str, Any] = {"side": row.fields["side"], "kind": row.fields["kind"], "axle": row.fields["axle"]}
    fields |= {name: row.fields[name] for name in ("year", "miles", "place", "condition")}
    fields |= {name: getattr(row, name) for name in ("tag", "state", "build", "person", "out_of", "into")}
    fields |= {"cost_usd": usd_of(row.fields["cost_cents"]), "price_usd": usd_of(row.price_cents)}
    return _texts(fields)


def keep_rows(house: House, rows: Iterable[PartRow], who: str) -> int:
    """Keep parts, all or none; how many. Those that have a tag come first, so that none of the others gets theirs."""
    ordered = sorted(rows, key=lambda row: number_of(row.tag) if row.tag else 1 << 62)
    backup_before_import(house)
    with house.keeping() as connection:
        ids = [_add(connection, row, who) for row in ordered]
        for part_id, row in zip(ids, ordered, strict=True):
            if row.state != FREE:
                _hold(connection, part_id, row, who)
            if row.out_of:
                stored.set_fields(connection, part_id, {"out_of": number_of(row.out_of)})
    return len(ordered)


def _add(connection: "Connection", row: PartRow, who: str) -> int:
    number = number_of(row.tag) if row.tag else None
    part = put_on_shelf(connection, row.fields, Occasion(row.pulled_on, who), number=number)
    for path in row.photos:
        note_event(connection, part.id, "photo", Occasion(row.pulled_on, who), after={"photo": path})
    for day, words in row.notes:
        note_event(connection, part.id, "note", Occasion(day, who, words))
    return part.id


def _hold(connection: "Connection", part_id: int, row: PartRow, who: str) -> None:
    holder = f"build {row.build}" if row.build else row.person or ""
    before = {"state": FREE, "holder": "", "price_cents": None}
    after = {"state": row.state, "holder": holder, "price_cents": row.price_cents}
    event = note_event(connection, part_id, "held", Occasion(row.held_on, who), before=before, after=after)
    told = {"kind": row.state, "build": row.build, "person": row.person, "price_cents": row.price_cents}
    into = number_of(row.into) if row.into else None
    stored.add_hold(connection, {**told, "part_id": part_id, "into_part": into, "begun_by": event})
