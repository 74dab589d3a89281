"""A yard's list, a table or a pasted board -> the vehicles in it, each with its row and the words of its line."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from hashlib import sha256

from donorbase.attributes import attribute
from donorbase.errors import BadInput
from donorbase.services.source_fields import day_of

COLUMNS: Mapping[str, tuple[str, ...]] = {
    "row": ("row", "aisle", "lane", "section"),
    "space": ("space", "spot", "slot", "position"),
    "stock": ("stock", "stock number", "stock no", "stk"),
    "year": ("year", "model year", "yr"),
    "line": ("line", "donor line", "make"),
    "class": ("class", "load class", "series"),
    "wheels": ("wheels", "rear wheels"),
    "set": ("set", "set date", "date set", "in", "arrived", "yard date"),
    "model": ("model",),
    "text": ("text", "description", "vehicle", "notes", "remarks"),
}
"""What a list can tell of a vehicle, each with the heads under which it is looked for."""

_ROW = r"(?P<row>[A-Za-z]{0,2}-?\d{1,3}[A-Za-z]?|[A-Za-z])"
_HEADED = re.compile(rf"^\s*(?:row|aisle|lane|section)\s*[#:.]?\s*{_ROW}(?=$|[\s:,|/-])[\s:,|-]*", re.I)
_BARE = re.compile(r"^\s*(?P<row>[A-Za-z]{1,2}-?\d{1,3}|\d{1,3})\s*(?:[|:,\t]|\s-\s)\s*")
_SPACE = re.compile(r"^\s*(?:space|spot|slot|sp)\s*[#:.]?\s*(?P<space>[\w-]+)[\s:,|-]*", re.I)
_STOCK = re.compile(r"\b(?:stock|stk)\s*(?:no\.?|number)?\s*[#:.]?\s*(?P<stock>[A-Za-z]*\d[\w-]*)", re.I)
_DAY = r"\d{4}-\d{2}-\d{2}|\d{1,2}/\d{1,2}/(?:\d{4}|\d{2})"
_SET = re.compile(rf"[\s,|(-]*\b(?:(?:set|arrived|in|on)\b\s*[:.]?\s*)*(?P<day>{_DAY})[\s)]*", re.I)
_YEAR = re.compile(r"(?<![\d/-])(?:19[4-9]\d|20[0-3]\d)(?![\d/-])|'\d\d\b|^\s*\d\d\b")


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A vehicle as a list has it: ``text`` are all words of its line but the row; None is not said."""

    row: str
    text: str
    space: str = ""
    stock: str = ""
    year: int | None = None
    donor_line: str | None = None
    load_class: str | None = None
    rear_wheels: str | None = None
    set_on: date | None = None


@dataclass(frozen=True, slots=True)
class Listed:
    """One line of a list: its place, and the vehicle or the fault that keeps it out."""

    place: str
    vehicle: Vehicle | None
    fault: str = ""


def vehicles_of_board(lines: Iterable[str], name: str) -> Iterator[Listed]:
    """The vehicles of a pasted board: a row stands before a vehicle, or on a line of its own over those in it."""
    row = ""
    for number, raw in enumerate(lines, 1):
        line = raw.strip()
        if not line:
            continue
        found = _HEADED.match(line) or _BARE.match(line)
        rest = line[found.end() :].strip() if found else line
        row = found["row"].upper() if found else row
        if rest:
            yield _listed(f"{name}:{number}", row, rest)


def _listed(place: str, row: str, rest: str) -> Listed:
    try:
        return Listed(place, _vehicle_of_line(row, rest))
    except BadInput as wrong:
        return Listed(place, None, wrong.what)


def _vehicle_of_line(row: str, rest: str) -> Vehicle:
    space, stock, day = _SPACE.match(rest), _STOCK.search(rest), _SET.search(rest)
    words = rest[space.end() :] if space else rest
    for found in (stock, day):
        words = words.replace(found[0], " ") if found else words
    words = " ".join(words.split()).strip(" |,-")
    if not row:
        raise BadInput(f"no row is told before {words[:40]!r}")
    if not _YEAR.search(words):
        raise BadInput(f"no vehicle: no model year in {words[:40]!r}")
    set_on = _day(day["day"]) if day else None
    return Vehicle(row, words, space["space"] if space else "", stock["stock"] if stock else "", set_on=set_on)


def vehicles_of_rows(rows: Iterable[tuple[int, Mapping[str, str]]], name: str) -> Iterator[Listed]:
    """The vehicles of the rows of a table, by field, each with its line."""
    for number, fields in rows:
        try:
            yield Listed(f"{name}:{number}", _vehicle_of_fields(fields))
        except BadInput as wrong:
            yield Listed(f"{name}:{number}", None, wrong.what)


def _vehicle_of_fields(fields: Mapping[str, str]) -> Vehicle:
    told = {name: " ".join(value.split()) for name, value in fields.items() if value.strip()}
    if "row" not in told:
        raise BadInput("no row is told")
    year = _model_year(told["year"]) if "year" in told else None
    choices = {"line": "donor_line", "class": "load_class", "wheels": "rear_wheels"}
    known = {of: told[name] for name, of in choices.items() if told.get(name) in attribute(of).values}
    # What is no word of ours is a word of the sellers', to be read with the others.
    words = [told[name] for name in ("year", "line", "model", "class", "wheels", "text") if name in told]
    if year is None and not _YEAR.search(" ".join(words)):
        raise BadInput("no model year is told")
    return Vehicle(
        told["row"].upper(),
        " ".join(words),
        told.get("space", ""),
        told.get("stock", ""),
        year,
        set_on=_day(told["set"]) if "set" in told else None,
        **known,
    )


def _model_year(text: str) -> int:
    years = attribute("years")
    low, high = int(years.low or 0), int(years.high or 9999)
    if not text.isdecimal() or not low <= int(text) <= high:
        raise BadInput(f"{text!r} is no model year ({low} to {high})")
    return int(text)


def _day(text: str) -> date:
    try:
        return day_of(text)
    except ValueError as wrong:
        raise BadInput(f"{text!r} is {wrong}") from None


def digests(vehicles: Iterable[Vehicle]) -> list[str]:
    """By which each vehicle of one list is known again in the next: its stock number, else its row and words.

    Of lines that are alike the second is another vehicle than the first.
    """
    seen: Counter[str] = Counter()
    found = []
    for one in vehicles:
        told = (
            f"stock {one.stock}" if one.stock else "\n".join((one.row, one.space, one.text.casefold(), str(one.set_on)))
        )
        seen[told] += 1
        found.append(sha256(f"{told}\n{seen[told]}".encode()).hexdigest())
    return found


def walk_order(row: str, space: str = "") -> tuple[tuple[int, int, str], ...]:
    """By which rows are walked: 2 before 10, numbers before letters, A9 before A10.

    >>> sorted(["10", "B2", "2", "A10", "A9"], key=walk_order)
    ['2', '10', 'A9', 'A10', 'B2']
    """
    parts = re.findall(r"\d+|[^\W\d]+", f"{row} {space}".upper())
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts)
