"""``data/measures.csv`` -> what can be measured on a pulled part, and where its limit stands in the wear points.

The limits themselves stand in ``data/wear.csv`` alone, in the words of their sources; a row here says which numbers
of those words count.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from donorbase.attributes import attributes
from donorbase.errors import BadInput
from donorbase.reference.catalogue import Variant, WearPoint
from donorbase.reference.rows import Row, csv_by_word
from donorbase.reference.units import mm_to_in, parse_length, parse_number
from donorbase.shipped import data_dir

BOUNDS = ("least", "most", "between")
UNITS = ("in", "lb-in")
_COLUMNS = ("measure", "title", "wear_part", "what", "bound", "unit", "first", "last", "cast", "figure")


@dataclass(frozen=True, slots=True)
class Measure:
    """Something that is measured on a part.

    ``bound``: the limit is the least, or the most, that is allowed, or there are two that it must lie ``between``.
    ``first`` and ``last`` find the limits in the words: up to the first all is well, beyond the last it is out.
    ``cast``: the limit that is cast on the part itself comes before any other. ``figure`` is the attribute of an axle
    that is such a limit, for axles of which no wear point speaks.
    """

    measure: str
    title: str
    wear_part: str
    what: tuple[str, ...]
    bound: str
    unit: str
    first: str
    last: str
    cast: bool
    figure: str = ""

    def figures(self, variant: Variant) -> tuple[float, ...]:
        """The limits that an axle's own figure names, in the unit of the measure; empty where none is known."""
        values = variant.all(self.figure) if self.figure else ()
        mm = self.figure.endswith("_mm") and self.unit == "in"
        return tuple(mm_to_in(v) if mm else float(v) for v in values if isinstance(v, int | float))

    def is_of(self, point: WearPoint) -> bool:
        """Whether a wear point speaks of this measure."""
        return point.part == self.wear_part and point.what_to_measure in self.what

    def limits(self, point: WearPoint) -> tuple[float, float] | None:
        """The first and the last limit in the words of a wear point; None where they name no number."""
        first, last = (_found(pattern, point.limit) for pattern in (self.first, self.last))
        if last is None:
            return None if first is None else (first, first)
        return (last if first is None else first, last)

    def parse(self, text: str) -> float:
        """An amount as people write it, in the unit of the measure; BadInput where it is none."""
        if self.unit == "in":
            return parse_length(text)
        plain = re.sub(r"\s*(?:lb-in|in-lbs?)\.?$", "", text.strip(), flags=re.IGNORECASE)
        return parse_number(plain)


def _found(pattern: str, words: str) -> float | None:
    found = re.search(pattern, words) if pattern else None
    return float(Fraction(found[1])) if found else None


@cache
def measures() -> Mapping[str, Measure]:
    """What can be measured, by its word; BadData names every fault of the file."""
    return measures_from(data_dir() / "measures.csv")


def measures_from(path: Path) -> dict[str, Measure]:
    """The measures of a file of the shape of ``data/measures.csv``."""
    return csv_by_word(path, _COLUMNS, "measure", _measure, "the measures")


def _measure(row: Row) -> Measure:
    for name in ("first", "last"):
        try:
            groups = re.compile(row.text(name)).groups
        except re.error as wrong:
            row.fault(name, f"is no pattern ({wrong})")
        else:
            if row.text(name) and groups != 1:
                row.fault(name, "must have one group, round the number")
    return Measure(
        measure=row.needed("measure"),
        title=row.needed("title"),
        wear_part=row.needed("wear_part"),
        what=tuple(word.strip() for word in row.needed("what").split(";")),
        bound=row.word("bound", BOUNDS),
        unit=row.word("unit", UNITS),
        first=row.text("first"),
        last=row.text("last"),
        cast=row.word("cast", ("yes", "no")) == "yes",
        figure=_attribute(row),
    )


def _attribute(row: Row) -> str:
    name = row.text("figure")
    if name and name not in attributes():
        row.fault("figure", f"{name!r} is no attribute")
    return name


def measure_named(word: str, of: tuple[str, ...]) -> Measure:
    """The measure of that name, which must be of one of the wear words; BadInput names those there are."""
    known = measures()
    fitting = [name for name, measure in known.items() if measure.wear_part in of]
    if word in fitting:
        return known[word]
    told = (
        f"{word!r} is not measured on such a part" if word in known else f"nothing is measured that is called {word!r}"
    )
    there = f"What is: {', '.join(fitting)}." if fitting else "No limit is on record for such a part."
    raise BadInput(told, there)
