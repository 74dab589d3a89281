"""Words of others, made fit to be looked at: nothing in them repaints a terminal, turns a line round or hides.

What is kept stays as it was written. On screens and pages a sign that steers a terminal (C0 and C1 controls, and so
every escape sequence), one that turns the direction of a line, and one that takes no room and shows nothing stand as
U+FFFD; JSON has them as escapes, so that programs lose nothing. Which signs these are: Unicode Standard Annex #44,
General_Category, and DerivedCoreProperties.txt, Default_Ignorable_Code_Point, whose signs outside the categories that
Python holds for unprintable stand in ``_UNSEEN``.
"""

import json
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

_UNSEEN = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u180b\u180c\u180d\u180f\u2800\u3164\uffa0") | frozenset(
    map(chr, range(0xE0100, 0xE01F0))
)
"""Printable by their category, and yet nothing is seen: joiners, fillers, an empty braille cell, selectors."""
_LOOKS = frozenset(map(chr, range(0xFE00, 0xFE10)))
"""They choose the look of the sign before them, and every telephone puts them after its small pictures."""
_MOST_MARKS = 4
"""So many marks on one letter exist in writing; heaps of them run over the lines above and below."""


def shown(text: str) -> str:
    r"""The text as it may stand on a screen; line breaks stay, other blanks become spaces.

    >>> shown("4.10\x1b[2K gears"), shown("caf\u00e9\u00a0axle")
    ('4.10\ufffd[2K gears', 'café axle')
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(look for _, look in _looks(text.replace("\r\n", "\n")))


def escaped_json(text: str) -> str:
    r"""JSON with the same signs as escapes, which says the same.

    >>> escaped_json('"4.10 \u202e gears"') == '"4.10 ' + '\\' + 'u202e gears"'
    True
    """
    if text.isascii() and "\x7f" not in text:
        return text
    same = (char if look == char or char in "\n\t\u00a0" else json.dumps(char)[1:-1] for char, look in _looks(text))
    return "".join(same)


def _looks(text: str) -> Iterator[tuple[str, str]]:
    marks = 0
    for char in text:
        marks = marks + 1 if unicodedata.category(char) in ("Mn", "Me") else 0
        yield char, _look(char) if marks <= _MOST_MARKS else ""


@lru_cache(maxsize=4096)
def _look(char: str) -> str:
    if char == "\n":
        return char
    if char == "\t" or unicodedata.category(char) == "Zs":
        return " "
    if char in _LOOKS:
        return ""
    return char if char.isprintable() and char not in _UNSEEN else "\N{REPLACEMENT CHARACTER}"
