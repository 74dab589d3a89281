"""Step 15b: what is said of a piece of the axle in words that no step read and that adverts do not use of sound ones.

``trouble.csv`` lists words of harm; nobody can list them all. Here it is the other way round: the words that tell of
nothing are listed, and of a tube that ``slid``, a weld that ``let`` or a housing with a ``grin`` nothing is known.
"""

from collections.abc import Iterator

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Scan
from donorbase.reference.trouble import trouble_words
from donorbase.reference.word_sets import word_set
from donorbase.reference.words import plain_words, spelt_words

_PIECES = word_set("axle-pieces")
_DENIED = word_set("denying")
_DENIED_BEHIND = word_set("denied-behind")
_REACH = 6
_OF_THE_TRUCK = word_set("of-the-truck")
_ITSELF = word_set("axle-itself")
"""Where a clause begins with these, it is told of the axle, or of how it drove."""
_LONGEST = 25
"""Of a clause longer than that nobody knows what is told of what."""
_SHORT = 3
_ENDINGS = ("s", "es", "d", "ed", "ing")


def unplain(scan: Scan, read: set[int]) -> Iterator[int]:
    """The first word of each clause that names a piece of an axle and says of it what nobody understood.

    A clause whose harm was read, whether it counts or not, is understood.
    """
    harmed = [m.begin for m in scan.marks if m.attribute in ("defects", "missing")]
    begin = 0
    for i in range(len(scan.pieces) + 1):
        if i == len(scan.pieces) or is_clause_end(scan, i):
            if 1 < i - begin <= _LONGEST and not any(begin <= k < i for k in harmed):
                yield from _of_clause(scan, begin, i, read)
            begin = i + 1


def _of_clause(scan: Scan, begin: int, end: int, read: set[int]) -> Iterator[int]:
    places = range(begin, end)
    itself = scan.key(begin).partition(" ")[0] in _ITSELF
    if scan.key(end) == "?" or not (itself or any(_names_a_piece(scan, k) for k in places)):
        return
    for k in places:
        if k >= begin + itself and _is_of_the_truck(scan, k):
            return  # a truck named after the odd word is but where or when: a plate that was there when I bought it
        if k not in read and not _names_a_piece(scan, k) and _is_unplain(scan, k):
            if not denied(scan, k) and not _is_of_the_truck(scan, k + 1):  # the pole barn
                yield k
            return


def _is_of_the_truck(scan: Scan, k: int) -> bool:
    """The frame, the cab, an engine: what is told of them is not told of the axle."""
    return scan.role(k, "item") == "other" or scan.role(k, "cue") == "truck" or scan.key(k) in _OF_THE_TRUCK


def _names_a_piece(scan: Scan, k: int) -> bool:
    key = scan.key(k)
    return key in _PIECES or key.rpartition(" ")[2] in _PIECES


def _is_unplain(scan: Scan, k: int) -> bool:
    """An English word that is neither of the trade nor one that adverts use of sound things.

    A word of ``trouble.csv`` is left to those who know whose trouble it is.
    """
    piece = scan.at(k)
    key = piece.key.replace("'", "")
    plain = piece.kind != "word" or piece.facts or piece.roles or len(key) < _SHORT or " " in key
    return not plain and _is_english(key) and key not in plain_words() and key not in trouble_words()


def _is_english(key: str) -> bool:
    """Whether it is a word, or one with an ending: a name or a slip of the keyboard tells of nothing."""
    known = spelt_words()
    return key in known or any(key.endswith(end) and key.removesuffix(end) in known for end in _ENDINGS)


def denied(scan: Scan, i: int) -> bool:
    """``never broke``, ``broke nothing``, ``kink free``, ``twisted?``."""
    if scan.key(i + 1) in _DENIED_BEHIND:
        return True
    for k in range(i - 1, max(i - _REACH, -1), -1):
        lacks = scan.role(k, "cue") in ("no", "not", "neither") and "need" not in scan.key(k)
        if scan.key(k) in _DENIED or lacks:
            return True
        if is_clause_end(scan, k):
            return False
    return False
