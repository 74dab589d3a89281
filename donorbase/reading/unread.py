"""Step 15: words that may tell of a fault and that no step read: the net under all that the reader cannot know.

What a word means here is not known, so that nothing is made a fact of it; but an axle of which something was said that
may be a fault is not one of which nothing was said.
"""

from collections.abc import Collection, Iterator
from functools import cache

from donorbase.reading.damage import OF_NOTHING, is_anothers
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.tokens import Piece
from donorbase.reading.unplain import denied, unplain
from donorbase.reference.trouble import trouble_words

_ROW = 4
_HARMED = frozenset({"harmed", "bowed", "scored", "spun", "sings"})
"""Traits that tell of a fault of whatever they are told."""


def unread_troubles(scan: Scan) -> Iterator[int]:
    """The places of such words: not read, not denied, and told of no other thing."""
    if scan.wanted:
        return
    read = {k for mark in scan.marks if mark.dropped != OF_NOTHING for k in range(mark.begin, mark.end)}
    yield from sorted({*_troubles(scan, read), *_phrases(scan), *unplain(scan, read)})


def _troubles(scan: Scan, read: Collection[int]) -> Iterator[int]:
    words = trouble_words()
    for i in [i for i, piece in enumerate(scan.pieces) if _may_tell(piece, words)]:
        beside = words.get(scan.key(i), frozenset())
        harmless = scan.key(i - 1) in beside or scan.key(i + 1) in beside
        if i not in read and not harmless and not denied(scan, i) and not _of_another(scan, i):
            yield i


def _phrases(scan: Scan) -> Iterator[int]:
    """Words of harm in a row, whatever each of them means by itself: ``let go``, ``under three feet of mud``."""
    words, leads = trouble_words(), _leads()
    for i, piece in enumerate(scan.pieces):
        if piece.key.partition(" ")[0] not in leads:
            continue
        row = scan.key(i)
        for k in range(i, i + _ROW):
            row = row if k == i else f"{row} {scan.key(k)}"
            if " " in row and row in words and scan.key(k + 1) not in words[row] and not denied(scan, i):
                yield i
                break


@cache
def _leads() -> frozenset[str]:
    """The first words of the rows of several words."""
    return frozenset(word.partition(" ")[0] for word in trouble_words() if " " in word)


def _may_tell(piece: Piece, words: Collection[str]) -> bool:
    """A word of a defect, or one that may tell of a fault and has no other meaning."""
    if piece.facts:
        return any(name == "defects" for name, _ in piece.facts)
    known = piece.key in words or piece.roles.get("trait") in _HARMED
    return known and piece.roles.keys() <= {"trait"}


def _of_another(scan: Scan, i: int) -> bool:
    """``truck bed smashed``, ``tie rod bent like a banana``."""
    return is_anothers(scan, Mark("defects", "bent", i, i + 1), guessing=False)
