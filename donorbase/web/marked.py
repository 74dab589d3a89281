"""The words of a listing with the facts that each of them gave."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from donorbase.attributes import attribute
from donorbase.facts import Fact, Reading
from donorbase.reference.wording import value_text


@dataclass(frozen=True, slots=True)
class Told:
    """A fact as it is shown: its number on the page, what it is of (0: the offer, else the item), its words."""

    number: int
    item: int
    fact: Fact
    words: str

    @property
    def title(self) -> str:
        """What the fact is of."""
        return attribute(self.fact.attribute).title

    @property
    def value(self) -> str:
        """Its value as people write it."""
        return value_text(self.fact.attribute, self.fact.value)


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of the text, and the numbers of the facts that it gave."""

    text: str
    facts: tuple[int, ...]


def told_of(reading: Reading) -> tuple[Told, ...]:
    """Every fact of a reading, the offer's first, numbered from 1."""
    pairs = [(0, fact) for fact in reading.offer]
    pairs += [(number, fact) for number, item in enumerate(reading.items, 1) for fact in item.facts]
    return tuple(Told(n, item, fact, fact.words(reading.text)) for n, (item, fact) in enumerate(pairs, 1))


def pieces_of(text: str, told: Sequence[Told]) -> tuple[Piece, ...]:
    """The whole text in pieces: joined they give it back, character by character."""
    edges = sorted({0, len(text), *(edge for one in told for span in one.fact.spans for edge in span)})
    found = []
    for begin, end in pairwise(edges):
        giving = tuple(one.number for one in told if any(b <= begin and end <= e for b, e in one.fact.spans))
        found.append(Piece(text[begin:end], giving))
    return tuple(found)
