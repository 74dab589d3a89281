"""Lines of a file with their numbers, and rows of CSV with their places; nothing more than a line is held in memory."""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from donorbase.errors import BadInput
from donorbase.services.cells import as_typed
from donorbase.services.intake import MAX_CHARACTERS, encoding_of, refuse_binary

LONGEST_LINE = 4 * MAX_CHARACTERS
"""Bytes; a longer line is no row of anything and is not taken into memory."""
_USUAL = ("utf-8", "utf8")


@dataclass(frozen=True, slots=True)
class CsvRow:
    """A row of a CSV file: its cells by their heads, as they were before they were made safe, or its fault."""

    place: str
    cells: Mapping[str, str] = field(default_factory=dict)
    fault: str = ""


def csv_table(lines: "Lines") -> tuple[list[str], Iterator[CsvRow]]:
    """The heads of a CSV file and its rows, those without a word left out; of two heads alike the first counts.

    Parted by commas, semicolons, tabs or bars, whichever the head has most of. BadInput where the first line is empty.
    """
    csv.field_size_limit(LONGEST_LINE)
    head = next(lines, "")
    if not head.strip():
        raise BadInput(f"{lines.name} has no head in its first line", "Write there what each column holds.")
    delimiter = max(",;\t|", key=head.count)
    heads = next(csv.reader([head], delimiter=delimiter), [])
    return heads, _rows(lines, heads, delimiter)


def _rows(lines: "Lines", heads: list[str], delimiter: str) -> Iterator[CsvRow]:
    # Strict, so that a quote which is never closed is a fault and swallows no rows.
    rows = csv.reader(lines, delimiter=delimiter, strict=True)
    while True:
        place = f"{lines.name}:{lines.number + 1}"
        try:
            row = next(rows)
        except StopIteration:
            return
        except csv.Error as wrong:
            yield CsvRow(place, fault=f"no row of CSV ({wrong})")
            continue
        if len(row) == len(heads):
            cells = {head: as_typed(cell) for head, cell in zip(reversed(heads), reversed(row), strict=True)}
            if any(cell.strip() for cell in row):
                yield CsvRow(place, cells)
        elif any(cell.strip() for cell in row):
            yield CsvRow(place, fault=f"{len(row)} columns, the head has {len(heads)}")


class Lines(Iterator[str]):
    """Lines of a file with their number; bytes that are not in the encoding stay marked, to be told with their row.

    A line that is far too long is cut, so that its row becomes a fault and memory stays flat.
    """

    def __init__(self, path: Path, told: str, given: str = "utf-8") -> None:
        with path.open("rb") as file:
            head = file.read(16)
        refuse_binary(head, told)
        encoding = given if given not in _USUAL else encoding_of(head) or "utf-8"
        errors = "replace" if encoding.startswith("utf-16") else "surrogateescape"
        try:
            self.text = path.open(encoding=encoding, errors=errors, newline="")
        except LookupError:
            raise BadInput(f"there is no encoding named {given!r}", "Try --encoding cp1252.") from None
        self.number, self.name = 0, told

    def __enter__(self) -> "Lines":
        return self

    def __exit__(self, *_: object) -> None:
        self.text.close()

    def __next__(self) -> str:
        try:
            line = self.text.readline(LONGEST_LINE)
        except UnicodeError as wrong:
            # Some encodings have no way to mark the bytes that are not theirs.
            what = f"{self.name}:{self.number + 1} is not {self.text.encoding} ({wrong})"
            raise BadInput(what, "Name another encoding with --encoding.") from None
        if not line:
            raise StopIteration
        self.number += 1
        if len(line) == LONGEST_LINE and not line.endswith("\n"):
            while (rest := self.text.readline(LONGEST_LINE)) and not rest.endswith("\n"):
                pass
        return line
