"""``data/spares.csv`` and ``data/storage.csv`` -> what breaks on trips, and what lying parts need; rows checked."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from donorbase.reference.families import CONFIDENCES
from donorbase.reference.parts import part_kinds
from donorbase.reference.rows import Row, csv_by_word
from donorbase.shipped import data_dir

_SPARE = ("kind", "breaks_in_1000_trips", "weight_lb", "takes", "confidence", "basis")
_CARE = ("care", "kinds", "do", "every_days", "basis")


@dataclass(frozen=True, slots=True)
class Breakage:
    """How often an axle breaks one of a kind in a thousand days' trips, what one weighs, what it takes along."""

    kind: str
    in_1000_trips: float
    weight_lb: float
    takes: str
    confidence: str
    basis: str


@dataclass(frozen=True, slots=True)
class Care:
    """What lying parts of some kinds need, and every how many days."""

    care: str
    kinds: tuple[str, ...]
    do: str
    every_days: int
    basis: str


@cache
def breakages() -> Mapping[str, Breakage]:
    """What breaks, by the kind of part; BadData names every fault of the file."""
    return breakages_from(data_dir() / "spares.csv")


def breakages_from(path: Path) -> dict[str, Breakage]:
    """What breaks, of a file of the shape of ``data/spares.csv``."""
    return csv_by_word(path, _SPARE, "kind", _breakage, "the spares")


@cache
def cares() -> Mapping[str, Care]:
    """What lying parts need, by its word; BadData names every fault of the file."""
    return cares_from(data_dir() / "storage.csv")


def cares_from(path: Path) -> dict[str, Care]:
    """What lying parts need, of a file of the shape of ``data/storage.csv``."""
    return csv_by_word(path, _CARE, "care", _care, "the care of lying parts")


def _breakage(row: Row) -> Breakage:
    kind = row.word("kind", tuple(part_kinds()))
    odds, weight = row.number("breaks_in_1000_trips", 0, 1000), row.number("weight_lb", 0.1, 1000)
    for name, number in (("breaks_in_1000_trips", odds), ("weight_lb", weight)):
        if number is None:
            row.fault(name, "is empty")
    told = (row.text("takes"), row.word("confidence", CONFIDENCES), row.needed("basis"))
    return Breakage(kind, odds or 0.0, weight or 1.0, *told)


def _care(row: Row) -> Care:
    kinds = tuple(word.strip() for word in row.needed("kinds").split(";"))
    for kind in kinds:
        if kind not in part_kinds():
            row.fault("kinds", f"{kind!r} is no kind of part")
    days = row.number("every_days", 1, 3650)
    if days is None or not days.is_integer():
        row.fault("every_days", "must be a whole number of days")
    return Care(row.needed("care"), kinds, row.needed("do"), int(days or 1), row.needed("basis"))
