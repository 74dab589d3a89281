"""Which kinds of locker are made for an axle, out of the catalogue's rows of what can be bought.

A row says ``air-actuated selectable: yes (35-spline); electric selectable: few; spool: not known``: kinds parted by
semicolons, each with a word and what limits it.
"""

import re
from dataclasses import dataclass

from donorbase.reference.catalogue import Catalogue, Interchange, Variant

KINDS = {
    "air": "air-actuated selectable",
    "electric": "electric selectable",
    "automatic": "automatic",
    "limited-slip": "limited slip",
    "spool": "spool",
}
"""The kinds that are bolted in with a case of their own, by the word of the command line."""
INSERTS = {"lunchbox": "lunchbox locker", "mini-spool": "mini spool"}
"""The kinds that replace the spider gears inside the open case that is there."""

MADE = ("yes", "few", "no", "not known", "factory")
_PART = "lockers"
_INSERT_PART = "mini spool and lunchbox locker"
_ENTRY = re.compile(r"(?P<kind>[a-z -]+): (?P<made>yes|few|no|not known|factory)\b *(?P<limit>.*)")


@dataclass(frozen=True, slots=True)
class Locker:
    """One kind of locker for one kind of axle.

    ``made`` is one of ``MADE``: ``few`` of them, none, not known, or only as the factory fitted it. ``limit`` says
    which, where it is told; ``splines`` is the shaft spline count it is told for.
    """

    kind: str
    made: str
    limit: str
    confidence: str
    basis: str

    @property
    def splines(self) -> int | None:
        """The shaft spline count that the row names."""
        found = re.search(r"(\d+)-spline", self.limit)
        return int(found[1]) if found else None


def lockers_of(variant: Variant, catalogue: Catalogue) -> tuple[Locker, ...]:
    """The kinds of locker with a case of their own, in the order of ``KINDS``; what no row tells of is not known."""
    told = {
        locker.kind: locker
        for row in catalogue.interchange
        if row.part == _PART and row.applies_to(variant.key)
        for locker in locker_entries(row)
    }
    return tuple(told.get(kind) or Locker(kind, "not known", "", "low", "nothing on record") for kind in KINDS)


def locker_entries(row: Interchange) -> tuple[Locker, ...]:
    """The entries of a row of lockers; ValueError where one cannot be read."""
    return tuple(_entry(part.strip(), row) for part in row.condition.split(";"))


def _entry(text: str, row: Interchange) -> Locker:
    names = {title: word for word, title in KINDS.items()}
    found = _ENTRY.fullmatch(text)
    if not found or found["kind"] not in names:
        raise ValueError(f"{row.id}: {text!r} tells of no kind of locker")
    limit = found["limit"].strip(" ()")
    return Locker(names[found["kind"]], found["made"], limit, row.confidence, row.basis)


def insert_row(catalogue: Catalogue) -> Interchange | None:
    """What is told of the kinds that go inside the case that is there; None where nothing is."""
    return next((row for row in catalogue.interchange if row.part == _INSERT_PART), None)
