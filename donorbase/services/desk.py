"""The desk at which a listing is read, identified and judged: the catalogue and the words, ready for use."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from donorbase.facts import Reading
from donorbase.reading.read import read_listing, trace
from donorbase.reading.words import Lexicon
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.words import Word


@dataclass(frozen=True)
class Desk:
    """A catalogue and words, the shipped ones or a user's, and the year that \"this year\" means."""

    catalogue: Catalogue
    words: tuple[Word, ...]
    this_year: int

    @cached_property
    def lexicon(self) -> Lexicon:
        """The words, arranged for reading."""
        return Lexicon.build(self.words)

    def read(self, text: str) -> Reading:
        """What the listing says."""
        return read_listing(text, self.lexicon, self.this_year)

    def trace(self, text: str) -> list[tuple[str, list[str]]]:
        """The steps of the reading, each with what came out of it."""
        return trace(text, self.lexicon, self.this_year)
