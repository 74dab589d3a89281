"""Step 15: words that may tell of a fault and that no step read: the net under all that the reader cannot know.

What a word means here is not known, so that nothing is made a fact of it; but an axle of which something was said that
may be a fault is not one of which nothing was said.
"""

from collections.abc import Collection, Iterator

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.damage import OF_NOTHING, is_anothers
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.tokens import Piece
from donorbase.reference.trouble import trouble_words

_DENIED = frozenset({
    "no", "not", "never", "neither", "nor", "without", "nothing", "none", "zero", "isnt", "arent", "wasnt", "dont",
    "doesnt", "didnt", "hasnt", "aint", "wont", "sin", "ni", "nunca", "sans", "pas", "jamais",
})  # fmt: skip
_DENIED_BEHIND = frozenset({"free", "-", "?", "nothing", "none"})
_REACH = 6
_HARMED = frozenset({"harmed", "bowed", "scored", "spun", "sings"})
"""Traits that tell of a fault of whatever they are told."""


def unread_troubles(scan: Scan) -> Iterator[int]:
    """The places of such words: not read, not denied, and told of no other thing."""
    words = trouble_words()
    doubtful = [i for i, piece in enumerate(scan.pieces) if _may_tell(piece, words)]
    if not doubtful or scan.wanted:
        return
    read = {k for mark in scan.marks if mark.dropped != OF_NOTHING for k in range(mark.begin, mark.end)}
    for i in doubtful:
        beside = words.get(scan.key(i), frozenset())
        harmless = scan.key(i - 1) in beside or scan.key(i + 1) in beside
        if i not in read and not harmless and not _denied(scan, i) and not _of_another(scan, i):
            yield i


def _may_tell(piece: Piece, words: Collection[str]) -> bool:
    """A word of a defect, or one that may tell of a fault and has no other meaning."""
    if piece.facts:
        return any(name == "defects" for name, _ in piece.facts)
    known = piece.key in words or piece.roles.get("trait") in _HARMED
    return known and piece.roles.keys() <= {"trait"}


def _denied(scan: Scan, i: int) -> bool:
    """``never broke``, ``broke nothing``, ``kink free``, ``twisted?``."""
    if scan.key(i + 1) in _DENIED_BEHIND:
        return True
    for k in range(i - 1, max(i - _REACH, -1), -1):
        if scan.key(k) in _DENIED or scan.role(k, "cue") in ("no", "not", "neither"):
            return True
        if is_clause_end(scan, k):
            return False
    return False


def _of_another(scan: Scan, i: int) -> bool:
    """``truck bed smashed``, ``tie rod bent like a banana``."""
    return is_anothers(scan, Mark("defects", "bent", i, i + 1), guessing=False)
