"""What the later steps write on: the pieces, which of them are used up, and the marks found."""

from bisect import bisect_left
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from donorbase.reading.tokens import Piece

_PADDING = 256
"""No rule looks farther than this from where it stands."""
_END = Piece("sym", "", 0, 0, False)
_AROUND, _AROUND_KEYS, _AROUND_ROLES = [_END] * _PADDING, [_END.key] * _PADDING, [_END.roles] * _PADDING


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
    _begins: list[int] = field(default_factory=list)
    _padded: list[Piece] = field(default_factory=list)
    _numbers: list[int] = field(default_factory=list)
    at: Callable[[int], Piece] = field(init=False, repr=False)
    """The piece at an index; an empty one within reach outside the text."""
    key: Callable[[int], str] = field(init=False, repr=False)
    """The key of the piece at an index."""
    unit: Callable[[int], str] = field(init=False, repr=False)
    """The unit that follows the number at an index."""
    before: Callable[[int], int] = field(init=False, repr=False)
    """The place before, over a joining word or sign (``is``, ``:``, ``=``, ``of``, an article)."""
    _roles: list[Mapping[str, str]] = field(init=False, repr=False)
    roles: frozenset[tuple[str, str]] = field(init=False, repr=False)
    """Every role of any piece with what the vocabulary says in it: tells a rule that it has nothing to look for."""
    said: frozenset[tuple[str, Any]] = frozenset()
    """What is said of the kind of offer: (``offer``, value) pairs."""
    sentences: list[tuple[int, int]] = field(default_factory=list)
    """(begin, end) of every sentence, set with the words that are said."""

    def __post_init__(self) -> None:
        self.used = bytearray(len(self.pieces) + _PADDING)
        # Empty pieces after the end serve places before the beginning as well: index -1 is the last of them.
        self._padded = self.pieces + _AROUND
        self.keys = [p.key for p in self.pieces] + _AROUND_KEYS
        self._roles = [p.roles for p in self.pieces] + _AROUND_ROLES
        self.roles = frozenset([pair for roles in self._roles if roles for pair in roles.items()])
        self._numbers = [i for i, p in enumerate(self.pieces) if p.kind == "num"]
        # The rules ask these tens of thousands of times: plain look-ups, without a call into Python.
        self.at = self._padded.__getitem__
        self.key = self.keys.__getitem__
        self.unit = _Units(self._padded).__getitem__
        self.before = _Befores(self._padded).__getitem__

    def within(self, begin: int, end: int) -> list[Mark]:
        """The living marks that begin from ``begin`` and before ``end``, in the order of the text."""
        if len(self._ordered) != len(self.marks):
            self._ordered = sorted(self.marks, key=lambda m: (m.begin, m.end))
            self._begins = [m.begin for m in self._ordered]
        first = bisect_left(self._begins, begin)
        return [m for m in self._ordered[first : bisect_left(self._begins, end, first)] if not m.dropped]

    def priced(self, begin: int, end: int) -> Mark | None:
        """The first price asked between two places."""
        return next((m for m in self.within(begin, end) if m.attribute == "price" and "was" not in m.flags), None)

    def role(self, index: int, name: str) -> str:
        """What the vocabulary says of the piece in that role, empty if nothing."""
        return self._roles[index].get(name, "")

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


_JOINING = frozenset({"is", "are", ":", "=", "-", "of", "a", "the", "at", "measures", "measured", "measure",
    "to", "was",
                      "reads", "says", "with", "w/", "an", "in", "(", "~", "it", "got", "has", "have",
                      "good", "es", "est", "de", "running", "shows", "showed", "showing",
                      "i", "think", "about", "around", "approx", "maybe",
                      "said", "set", "untouched", "stock", "roughly", "measuring", "comes", "exactly", "also",
                      "still", "runs", "being", "now"})  # fmt: skip


_PLACED = frozenset({"the", "my", "his", "her", "our", "their", "this", "that"})
"""Behind ``in``, these tell of a place and of no inches."""


class _Units(dict[int, str]):
    """The unit after each place, found when first asked for."""

    def __init__(self, padded: list[Piece]) -> None:
        self._padded = padded

    def __missing__(self, index: int) -> str:
        following = self._padded[index + 1]
        if following.key == "-" and following.glued:
            following = self._padded[index + 2]
        unit = "inch" if following.key in ('"', "''") else following.roles.get("unit", "")
        if following.key == "in" and self._padded[index + 2].key in _PLACED:
            unit = ""  # put the 77 in the creek
        self[index] = unit
        return unit


class _Befores(dict[int, int]):
    """The place before each place that counts, found when first asked for."""

    def __init__(self, padded: list[Piece]) -> None:
        self._padded = padded

    def __missing__(self, index: int) -> int:
        padded = self._padded
        previous = index - 1
        while padded[previous].key in _JOINING:
            previous -= 1
        if padded[previous + 1].key == ":" and padded[previous - 1].kind == "line" and not padded[previous].roles:
            previous -= 2  # the answer of a chat: what it means stands in the question
            while padded[previous].key == "?":
                previous -= 1
        self[index] = previous
        return previous
