"""``data/setup.csv`` -> what is kept of the set-up of an axle: shims, backlash, torques, the pattern; rows checked."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from donorbase.errors import BadInput
from donorbase.reference.measures import measures
from donorbase.reference.rows import Row, csv_by_word
from donorbase.reference.units import parse_length, parse_torque
from donorbase.shipped import data_dir

QUANTITIES = ("length", "torque", "words")
_COLUMNS = ("name", "title", "quantity", "measure", "how", "basis")
_LB_IN = re.compile(r"\s*(?:lbf?-in|in-lbf?s?|lbs?[ .-]*in|in[ .-]*lbs?)\.?$", re.IGNORECASE)
_IN_PER_FT = 12


@dataclass(frozen=True, slots=True)
class SetupPoint:
    """One thing that is written down when gears are set up; ``measure`` is the word by which its limit is judged."""

    name: str
    title: str
    quantity: str
    measure: str
    how: str
    basis: str

    def parse(self, text: str) -> float | None:
        """The amount in inches or lb-in, None of words; BadInput where it is no such amount or has no unit.

        A torque without its unit may be lb-ft or lb-in, twelve times apart, so it must have one.

        >>> setup_points()["backlash"].parse("0.15 mm") == 0.15 / 25.4
        True
        >>> setup_points()["pinion-torque"].parse("18 in-lb"), setup_points()["pinion-nut"].parse("2 lb-ft")
        (18.0, 24.0)
        """
        plain = text.strip()
        if not plain:
            raise BadInput(f"nothing is told of {self.name}", f"Write {self.name}=AMOUNT.")
        if self.quantity == "words":
            return None
        if not re.search(r"[a-z\"'°]", plain, re.IGNORECASE):
            example = "0.006in or 0.15mm" if self.quantity == "length" else "18 lb-in, 300 lb-ft or 400 Nm"
            raise BadInput(f"{self.name} {plain!r} has no unit", f"Write it with its unit: {example}.")
        if self.quantity == "length":
            return parse_length(plain)
        if found := _LB_IN.search(plain):
            return parse_torque(plain[: found.start()])
        return parse_torque(plain) * _IN_PER_FT


@cache
def setup_points() -> Mapping[str, SetupPoint]:
    """What is kept of a set-up, by its word; BadData names every fault of the file."""
    return setup_points_from(data_dir() / "setup.csv")


def setup_points_from(path: Path) -> dict[str, SetupPoint]:
    """The points of a file of the shape of ``data/setup.csv``."""
    return csv_by_word(path, _COLUMNS, "name", _point, "the points of a set-up")


def _point(row: Row) -> SetupPoint:
    measure = row.text("measure")
    if measure and measure not in measures():
        row.fault("measure", f"{measure!r} is no measure")
    return SetupPoint(
        row.needed("name"),
        row.needed("title"),
        row.word("quantity", QUANTITIES),
        measure,
        row.needed("how"),
        row.needed("basis"),
    )
