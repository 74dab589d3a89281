"""Step 2: plain text -> pieces, the smallest things that can mean something, each with its place."""

import re
from collections.abc import Mapping

from donorbase.reading.clean import Clean

# One pattern, tried in this order at each place. Every branch either takes what it saw or is bounded, so that no
# text can make it go over the same characters again and again.
_TOKEN = re.compile(
    r"""(?:
    (?P<word> [^\W\d_]{2,}+(?:'[^\W\d_]++)*+                               # first, for they are the most
           | w/o(?![^\W\d_]) | w/ | [^\W\d_][/&+][^\W\d_](?![^\W\d_])   # w/o  w/  r&p  f/r
           | (?:[^\W\d_]\.){2,8}(?![^\W\d_])                                # o.b.o.
           | (?:[^\W\d_]\.){1,8}[^\W\d_](?![^\W\d_'])                       # o.b.o
           | [^\W\d_]++(?:'[^\W\d_]++)*+ )
  | (?P<num> \d{1,3}(?:,\d{3})++(?:\.\d++)?   # 1,150  187,334.50
           | \d{1,4},\d{1,2}(?!\d|,\d|\.\d)   # 4,10  165,1: decimal comma
           | \d++(?:\.\d++)? | \.\d++ )       # 8  4.10  .500
  | (?P<line> \n )
  | (?P<sym> ~~ | '' | //++ | -{1,3}> | => | \S )
    ) [ ]*+   # spaces go with the piece before them: no place is tried in vain
    """,
    re.VERBOSE,
)
_MISREAD = re.compile(r"(?<=\d)o{1,3}(?=\d)|(?<=\bx )[li](?=\d)")
"""Noughts and ones that a scanner took for letters: ``2OO4``, ``8 x l70``."""
_LONGEST_NUMBER = 20
"""More digits than that in a row measure nothing."""
NO_ROLES: Mapping[str, str] = {}


class Piece:
    """A word, phrase, number, sign or line end: where it stands and what it may mean.

    ``key`` is its small-letter form without apostrophes and dots, ``raw`` as written, ``value`` a number's value;
    ``roles`` and ``facts`` are what the vocabulary says of it; ``glued`` that no space stood before it.
    """

    __slots__ = ("begin", "end", "facts", "glued", "key", "kind", "plural", "raw", "roles", "value", "words")

    def __init__(self, kind: str, raw: str, begin: int, end: int, glued: bool) -> None:
        self.kind = kind
        self.raw = raw
        self.key = raw
        self.begin = begin
        self.end = end
        self.glued = glued
        self.value: float | None = None
        self.roles: Mapping[str, str] = NO_ROLES
        self.facts: tuple[tuple[str, object], ...] = ()
        self.plural = False
        self.words = False
        """Whether a number was written in words."""

    def __repr__(self) -> str:
        meaning = ", ".join([*(f"{k}={v}" for k, v in self.roles.items()), *(f"{k}={v}" for k, v in self.facts)])
        return f"{self.raw!r}" + (f" <{meaning}>" if meaning else "")


def tokenise(clean: Clean) -> list[Piece]:
    """The pieces of a clean text in its order; ``begin`` and ``end`` are places in the clean text."""
    text = clean.text.lower()
    if len(text) != len(clean.text):  # some capitals have small forms of two letters: keep the offsets true
        text = "".join(c.lower() if len(c.lower()) == 1 else c for c in clean.text)
    text = _MISREAD.sub(lambda m: "1" if m[0] in "li" else "0" * len(m[0]), text)
    pieces: list[Piece] = []
    last = -1
    for match in _TOKEN.finditer(text):
        kind = match.lastgroup or "sym"
        begin, raw = match.start(), match[match.lastindex or 0]
        end = begin + len(raw)
        piece = Piece(kind, raw, begin, end, begin == last)
        pieces.append(piece)
        if kind == "word":
            if not raw.isalpha() and ("'" in raw or "." in raw):
                piece.key = raw.replace("'", "").replace(".", "")
        elif kind == "num":
            if end - begin > _LONGEST_NUMBER:
                piece.kind = "sym"
            else:
                piece.value = number(raw)
        elif kind == "sym" and end - begin > 1 and raw not in ("~~", "''"):
            piece.key = "|" if raw[0] == "/" else "->"
        last = end if kind != "line" else -1
    return pieces


def number(raw: str) -> float:
    """The value of a number as written; a comma before one or two last digits is a decimal comma."""
    if "," not in raw:
        return float(raw)
    whole, comma, rest = raw.rpartition(",")
    if comma and len(rest) <= 2:
        raw = f"{whole}.{rest}"
    raw = raw.replace(",", "")
    return float(raw)
