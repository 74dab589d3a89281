"""``data/tellings.csv`` -> what a thing and a word about it tell together, when neither tells it alone."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from donorbase.errors import BadInput
from donorbase.reference.rows import Faults, Row, csv_rows
from donorbase.reference.words import Meaning, parse_meaning
from donorbase.shipped import data_dir

_COLUMNS = ("thing", "trait", "with", "says", "example")


@dataclass(frozen=True, slots=True)
class Telling:
    """A thing with a trait says something; where ``needs`` is not empty, only if one of these is named beside them."""

    needs: tuple[str, ...]
    says: tuple[Meaning, ...]
    example: str


Tellings = Mapping[tuple[str, str], Telling]
"""What is told by (thing, trait)."""


@cache
def tellings() -> Tellings:
    """What is told by things and traits; BadData names every fault of the file."""
    return tellings_from(data_dir() / "tellings.csv")


def tellings_from(path: Path) -> dict[tuple[str, str], Telling]:
    """The tellings of a file of the shape of ``data/tellings.csv``."""
    faults = Faults()
    found: dict[tuple[str, str], Telling] = {}
    for row in csv_rows(path, _COLUMNS, faults):
        pair = (row.needed("thing"), row.needed("trait"))
        if pair in found:
            row.fault("thing", f"{' with '.join(pair)} stands twice")
        found[pair] = Telling(tuple(row.text("with").split()), _said(row), row.needed("example"))
    faults.refuse("the tellings cannot be used", "Mend these lines.")
    return found


def _said(row: Row) -> tuple[Meaning, ...]:
    try:
        return parse_meaning(row.needed("says"))
    except BadInput as wrong:
        row.fault("says", wrong.what)
        return ()
