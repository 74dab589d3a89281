"""A row of a spreadsheet of parts -> the part it tells of, or every fault that keeps it from being used."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from donorbase.errors import BadInput, DonorbaseError
from donorbase.reference.shelf_words import FREE, STATES
from donorbase.services.house import House
from donorbase.services.pulling import checked_fields
from donorbase.services.source_fields import day_of
from donorbase.shelf.money import cents_of
from donorbase.shelf.tags import number_of

HEADS = (
    "tag", "kind", "side", "axle", "year", "miles", "place", "cost_usd", "condition", "state", "build", "person",
    "price_usd", "pulled_on", "held_on", "out_of", "into", "photos", "notes",
)  # fmt: skip
"""The heads of a spreadsheet of parts; only ``kind`` is needed."""
_NEEDS_NOBODY = (FREE, "scrapped", "split", "assembled", "removed")


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part as a row tells of it; ``tag`` is empty where it is to get one, ``held_on`` where nothing holds it."""

    tag: str
    fields: Mapping[str, Any]
    state: str
    build: str | None
    person: str | None
    price_cents: int | None
    pulled_on: date
    held_on: date
    out_of: str
    into: str
    photos: tuple[str, ...]
    notes: tuple[tuple[date, str], ...]


def part_row(house: House, cells: Mapping[str, str], today: date) -> PartRow:
    """The part that cells by ``HEADS`` tell of; BadInput tells every fault of the row."""
    faults: list[str] = []

    def read(name: str, parse: Any, empty: Any = None) -> Any:
        text = cells.get(name, "").strip()
        try:
            return parse(text) if text else empty
        except (ValueError, DonorbaseError) as wrong:
            faults.append(getattr(wrong, "what", f"{name} {text!r} is {wrong}"))
            return empty

    pulled_on = read("pulled_on", day_of, today)
    row = PartRow(
        read("tag", _tag, ""),
        _fields(house, cells, read, faults, pulled_on.year),
        read("state", _state, FREE),
        read("build", str),
        read("person", str),
        read("price_usd", cents_of),
        pulled_on,
        read("held_on", day_of, today),
        read("out_of", _tag, ""),
        read("into", _tag, ""),
        tuple(filter(None, (line.strip() for line in cells.get("photos", "").split("\n")))),
        tuple(notes_of(cells.get("notes", ""), pulled_on)),
    )
    faults += _held_faults(row)
    if faults:
        raise BadInput("; ".join(faults))
    return row


def _fields(house: House, cells: Mapping[str, str], read: Any, faults: list[str], year: int) -> dict[str, Any]:
    found = {
        "kind": read("kind", str, ""),
        "side": read("side", str.casefold),
        "axle": read("axle", str),
        "candidate_id": None,
        "year": read("year", _whole),
        "miles": read("miles", _whole),
        "place": read("place", str, ""),
        "cost_cents": read("cost_usd", cents_of),
        "condition": read("condition", str, ""),
    }
    try:
        return checked_fields(house, found, year)
    except DonorbaseError as wrong:
        faults.append(wrong.what)
        return found


def _held_faults(row: PartRow) -> list[str]:
    told = []
    if row.build and row.person:
        told.append("it is for a build and for a person, and one thing is promised once")
    if row.state == "used" and not row.build:
        told.append("it is used, and no build is named")
    if row.state in ("reserved", "lent", "sold") and not (row.build or row.person):
        told.append(f"it is {row.state}, and nobody is named for whom")
    if row.state in _NEEDS_NOBODY and (row.build or row.person):
        told.append(f"somebody is named for whom, and its state is {row.state!r}")
    if (row.state == "assembled") is not bool(row.into):
        told.append("'into' names what an assembled part is in, and nothing else")
    if row.price_cents is not None and row.state != "sold":
        told.append("it has a price and is not sold")
    return told


def _tag(text: str) -> str:
    number_of(text)
    return text.upper()


def _state(text: str) -> str:
    if text.casefold() not in STATES:
        raise ValueError(f"none of: {', '.join(STATES)}")
    return text.casefold()


def _whole(text: str) -> int:
    plain = text.replace(",", "")
    if not plain.isdecimal() or len(plain) > 9:
        raise ValueError("no whole number from 0 on")
    return int(plain)


def notes_text(notes: Sequence[tuple[date, str]]) -> str:
    """Notes as one cell: each begins with its day, its further lines stand two deeper.

    >>> notes_text([(date(2026, 11, 9), "one stud pulled"), (date(2026, 11, 10), "a\\nb")])
    '2026-11-09 one stud pulled\\n2026-11-10 a\\n  b'
    """
    return "\n".join(f"{day} " + words.replace("\n", "\n  ") for day, words in notes)


def notes_of(text: str, otherwise: date) -> list[tuple[date, str]]:
    """The notes of a cell; a line that begins with no day and stands not deeper is a note of the day ``otherwise``.

    >>> notes_of("2026-11-09 a\\n  b\\nno day", date(2026, 1, 1))
    [(datetime.date(2026, 11, 9), 'a\\nb'), (datetime.date(2026, 1, 1), 'no day')]
    """
    found: list[tuple[date, str]] = []
    for line in text.split("\n"):
        if line.startswith("  ") and found:
            day, words = found.pop()
            found.append((day, f"{words}\n{line[2:]}"))
        elif line.strip():
            found.append(_note(line, otherwise))
    return [(day, words.strip()) for day, words in found]


def _note(line: str, otherwise: date) -> tuple[date, str]:
    try:
        return date.fromisoformat(line[:10]), line[11:]
    except ValueError:
        return otherwise, line
