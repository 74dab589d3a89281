"""Files of facts -> rows that know their place, and the collector of everything wrong with them.

A fault never stops the reading: whoever mends a file wants to see all that is wrong with it at once.
"""

import csv
import math
import re
import tomllib
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from donorbase.errors import BadData

T = TypeVar("T")

_KEY = re.compile(r"([A-Za-z_][\w-]*)\s*=")
_DECODE_PLACE = re.compile(r"\(at line (\d+), column \d+\)")


@dataclass(slots=True)
class Faults:
    """What is wrong with the files, one line each: ``file:line: what``."""

    lines: list[str] = field(default_factory=list)

    def add(self, place: str, what: str) -> None:
        """Note a fault."""
        self.lines.append(f"{place}: {what}")

    def refuse(self, what: str, next_step: str = "") -> None:
        """Raise BadData with every fault; nothing where there is none."""
        if self.lines:
            raise BadData(what, self.lines, next_step)


@dataclass(frozen=True, slots=True)
class Row:
    """One record: its cells, and where in which file each stands.

    The readers below note a fault and hand back a harmless value, so that the check goes on.
    """

    file: str
    line: int
    cells: Mapping[str, Any]
    faults: Faults = field(repr=False)
    lines: Mapping[str, int] = field(default_factory=dict, repr=False)

    def place(self, name: str = "") -> str:
        """``file:line`` of one cell, or of the record."""
        return f"{self.file}:{self.lines.get(name, self.line)}"

    def fault(self, name: str, what: str) -> None:
        """Note what is wrong with a cell."""
        self.faults.add(self.place(name), f"{name} {what}")

    def text(self, name: str) -> str:
        """The words of a cell; empty where it is blank."""
        value = self.cells.get(name, "")
        if not isinstance(value, str):
            self.fault(name, f"must be words, not {value!r}")
            return ""
        return value.strip()

    def needed(self, name: str) -> str:
        """The words of a cell that must not be blank."""
        text = self.text(name)
        if not text and isinstance(self.cells.get(name, ""), str):
            self.fault(name, "is missing")
        return text

    def word(self, name: str, allowed: Collection[str]) -> str:
        """A cell that must hold one of the allowed words."""
        text = self.needed(name)
        if text and text not in allowed:
            self.fault(name, f"{text!r} is none of: {', '.join(allowed)}")
        return text

    def number(self, name: str, low: float = 0.0, high: float = math.inf) -> float | None:
        """A number within bounds, None where the cell is blank."""
        raw = self.cells.get(name, "")
        if raw == "":
            return None
        try:
            number = float(raw) if not isinstance(raw, bool) else math.nan
        except (TypeError, ValueError):
            number = math.nan
        if math.isnan(number):
            self.fault(name, f"{raw!r} is not a number")
            return None
        if not low <= number <= high:
            self.fault(name, f"{number:g} is outside {low:g}..{high:g}")
        return number

    def span(self, low: str, high: str) -> tuple[float, float] | None:
        """A low and a high number, both or neither, not reversed; None where blank."""
        first, last = self.number(low), self.number(high)
        if first is None and last is None:
            return None
        if first is None or last is None:
            self.fault(low if first is None else high, "is missing beside its other end")
            return None
        if first > last:
            self.fault(low, f"{first:g} is above {high} {last:g}")
        if low.endswith("_usd") and not (first.is_integer() and last.is_integer()):
            self.fault(low, "must be whole dollars, as must the other end")
        return (first, last)

    def texts(self, name: str) -> tuple[str, ...]:
        """A list of words; empty where it is absent."""
        values = self.cells.get(name, [])
        if not isinstance(values, list) or not all(isinstance(v, str) and v.strip() for v in values):
            self.fault(name, "must be a list of words")
            return ()
        return tuple(values)

    def flag(self, name: str) -> bool:
        """A cell that must be true or false."""
        value = self.cells.get(name)
        if not isinstance(value, bool):
            self.fault(name, f"must be true or false, not {value!r}")
        return value is True

    def only(self, allowed: Collection[str]) -> None:
        """Note every key that nobody knows, with the keys it may be meant for."""
        for name in self.cells:
            if name not in allowed:
                self.fault(name, "is not a key known here")


def csv_rows(path: Path, columns: Collection[str], faults: Faults) -> Iterator[Row]:
    """The records of a CSV file whose header must be ``columns`` in any order."""
    try:
        text = path.read_text("utf-8-sig")
    except (OSError, UnicodeDecodeError) as wrong:
        faults.add(f"{path.name}:1", f"cannot be read ({wrong})")
        return
    reader = csv.reader(text.splitlines(keepends=True), strict=True)
    header = next(reader, [])
    if sorted(header) != sorted(columns):
        faults.add(f"{path.name}:1", f"the columns must be {','.join(columns)}")
        return
    yield from _records(reader, header, path.name, faults)


def csv_by_word(path: Path, columns: Collection[str], word: str, make: Callable[[Row], T], what: str) -> dict[str, T]:
    """The rows of a CSV file by the cell ``word``, in their order; BadData names every fault, a word twice too."""
    faults = Faults()
    found: dict[str, T] = {}
    for row in csv_rows(path, columns, faults):
        made, name = make(row), row.text(word)
        if name in found:
            row.fault(word, f"{name!r} stands twice")
        found[name] = made
    faults.refuse(f"{what} cannot be used", "Mend these lines.")
    return found


def _records(reader: Any, header: list[str], file: str, faults: Faults) -> Iterator[Row]:
    line = reader.line_num + 1
    try:
        for cells in reader:
            if any(cells) and len(cells) == len(header):
                yield Row(file, line, dict(zip(header, cells, strict=True)), faults)
            elif any(cells):
                faults.add(f"{file}:{line}", f"has {len(cells)} cells, the header {len(header)}")
            line = reader.line_num + 1
    except csv.Error as wrong:
        faults.add(f"{file}:{line}", f"is not CSV ({wrong})")


def toml_row(path: Path, faults: Faults) -> Row | None:
    """A whole TOML file as one record; None where it cannot be read, which is noted."""
    try:
        text = path.read_text("utf-8")
        cells = tomllib.loads(text)
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        found = _DECODE_PLACE.search(str(wrong))
        faults.add(f"{path.name}:{found[1] if found else 1}", f"is not TOML ({wrong})")
        return None
    return Row(path.name, 1, cells, faults, _key_lines(text, "")[0])


def toml_tables(row: Row, name: str, path: Path) -> list[Row]:
    """The ``[[name]]`` tables of a TOML file, each with the lines of its keys."""
    tables = row.cells.get(name, [])
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        row.fault(name, f"must be tables headed [[{name}]]")
        return []
    places = _key_lines(path.read_text("utf-8"), f"[[{name}]]")[1:]
    return [
        Row(row.file, lines.get("", 1), table, row.faults, lines) for table, lines in zip(tables, places, strict=False)
    ]


def _key_lines(text: str, heading: str) -> list[dict[str, int]]:
    """Line numbers of the keys before the first heading, then of those under each; "" is the heading's own.

    tomllib gives no places, so this leans on the house's form: keys begin a line, lists are indented.
    """
    sections: list[dict[str, int]] = [{}]
    for number, line in enumerate(text.splitlines(), 1):
        if heading and line.rstrip() == heading:
            sections.append({"": number})
        elif found := _KEY.match(line):
            sections[-1].setdefault(found[1], number)
    return sections
