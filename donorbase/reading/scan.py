"""What the later steps write on: the pieces, which of them are used up, and the marks found."""

from bisect import bisect_left
from dataclasses import dataclass, field
from typing import Any

from donorbase.reading.tokens import Piece

_PADDING = 256
"""No rule looks farther than this from where it stands."""
_END = Piece("sym", "", 0, 0, False)


@dataclass(slots=True, eq=False)
class Mark:
    """Something said: an attribute (or a reader's own name) with a value, on pieces ``begin`` to ``end``."""

    attribute: str
    value: Any
    begin: int
    end: int
    hedged: bool = False
    dropped: str = ""
    """Why it is no fact of what is on offer; empty where it is one."""
    subject: Any = None
    flags: frozenset[str] = frozenset()

    @property
    def live(self) -> bool:
        """Whether it still counts."""
        return not self.dropped


@dataclass(slots=True)
class Scan:
    """A listing under way. ``used[i]`` is set where piece i has been read as part of something."""

    pieces: list[Piece]
    this_year: int
    used: bytearray = field(default_factory=bytearray)
    marks: list[Mark] = field(default_factory=list)
    wanted: bool = False
    """Whether it is the advert of somebody who seeks."""
    keys: list[str] = field(default_factory=list)
    _ordered: list[Mark] = field(default_factory=list)
    _padded: list[Piece] = field(default_factory=list)
    _numbers: list[int] = field(default_factory=list)
    sentences: list[tuple[int, int]] = field(default_factory=list)
    """(begin, end) of every sentence, set with the words that are said."""

    def __post_init__(self) -> None:
        self.used = bytearray(len(self.pieces) + _PADDING)
        # Empty pieces after the end serve places before the beginning as well: index -1 is the last of them.
        self._padded = self.pieces + [_END] * _PADDING
        self.keys = [p.key for p in self._padded]
        self._numbers = [i for i, p in enumerate(self.pieces) if p.kind == "num"]

    def within(self, begin: int, end: int) -> list[Mark]:
        """The living marks that begin from ``begin`` and before ``end``, in the order of the text."""
        if len(self._ordered) != len(self.marks):
            self._ordered = sorted(self.marks, key=lambda m: (m.begin, m.end))
        first = bisect_left(self._ordered, begin, key=lambda m: m.begin)
        found = []
        for k in range(first, len(self._ordered)):
            mark = self._ordered[k]
            if mark.begin >= end:
                break
            if mark.live:
                found.append(mark)
        return found

    def priced(self, begin: int, end: int) -> Mark | None:
        """The first price asked between two places."""
        return next((m for m in self.within(begin, end) if m.attribute == "price" and "was" not in m.flags), None)

    def at(self, index: int) -> Piece:
        """The piece at an index; an empty one within reach outside the text."""
        return self._padded[index]

    def key(self, index: int) -> str:
        """The key of the piece at an index."""
        return self.keys[index]

    def role(self, index: int, name: str) -> str:
        """What the vocabulary says of the piece in that role, empty if nothing."""
        return self._padded[index].roles.get(name, "")

    def numbers(self) -> list[int]:
        """The places of the numbers that are not used yet."""
        used = self.used
        return [i for i in self._numbers if not used[i]]

    def mark(self, attribute: str, value: Any, begin: int, end: int, *flags: str) -> Mark:
        """Note what pieces ``begin`` to ``end`` say and use them up."""
        begin, end = max(begin, 0), min(end, len(self.pieces))
        self.used[begin:end] = b"\x01" * (end - begin)
        mark = Mark(attribute, value, begin, end, flags=frozenset(flags))
        self.marks.append(mark)
        return mark

    def use(self, begin: int, end: int) -> None:
        """These pieces mean nothing that is asked for."""
        begin, end = max(begin, 0), min(end, len(self.pieces))
        self.used[begin:end] = b"\x01" * (end - begin)

    def after(self, index: int) -> int:
        """The next place that is not a hyphen stuck to the number before it."""
        following = index + 1
        return following + 1 if self.keys[following] == "-" and self._padded[following].glued else following

    def unit(self, index: int) -> str:
        """The unit that follows the number at an index."""
        following = self.after(index)
        key = self.key(following)
        if key in ('"', "''"):
            return "inch"
        return self.role(following, "unit")

    def before(self, index: int) -> int:
        """The place before, over a joining word or sign (``is``, ``:``, ``=``, ``of``, an article)."""
        previous = index - 1
        while self.key(previous) in _JOINING:
            previous -= 1
        if self.key(previous + 1) == ":" and self.at(previous - 1).kind == "line" and not self.at(previous).roles:
            previous -= 2  # the answer of a chat: what it means stands in the question
            while self.key(previous) == "?":
                previous -= 1
        return previous


_JOINING = frozenset({"is", "are", ":", "=", "-", "of", "a", "the", "at", "measures", "measured", "measure",
    "to", "was",
                      "reads", "says", "with", "w/", "an", "in", "(", "~", "it", "got", "has", "have",
                      "good", "es", "est", "de", "running", "i", "think", "about", "around", "approx", "maybe",
                      "said", "set", "also", "still", "runs", "being", "now"})  # fmt: skip
