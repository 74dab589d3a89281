"""One sentence with its marks: what the rules of scope, denial and inclusion work on."""

from collections.abc import Iterator
from dataclasses import dataclass

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Mark, Scan

OFFER = frozenset({"price", "contact", "zip", "mileage_mi", "distance_mi", "vin", "offer", "price_terms"})
"""Marks of the offer as a whole, which no scope of a thing touches."""
LINKS = frozenset(
    {"or", "and", "nor", "&", ",", "/", "y", "o", "et", "ou", "the", "a", "an", "any", "its", "n", "+", "no", "ni"}
)
"""Words and signs that join the things of a list."""


@dataclass(slots=True)
class Sentence:
    """The pieces ``begin`` to ``end`` of a scan; ``at`` holds the marks by the place where they begin."""

    scan: Scan
    at: dict[int, list[Mark]]
    begin: int
    end: int

    def marks(self, begin: int, end: int) -> Iterator[Mark]:
        """The live marks that begin between two places."""
        for i in range(begin, end):
            yield from (m for m in self.at.get(i, ()) if m.live)

    def clause_end(self, i: int) -> int:
        """Where the clause of a place ends."""
        while i < self.end and not is_clause_end(self.scan, i):
            i += 1
        return i

    def clause_begin(self, i: int) -> int:
        """Where the clause of a place begins."""
        while i > self.begin and not is_clause_end(self.scan, i - 1):
            i -= 1
        return i
