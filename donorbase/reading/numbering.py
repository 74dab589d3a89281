"""Step 2b: ``No. 1 ... No. 2``, ``number 1 ... number 2``: things that are counted off -> ``#1 ... #2``."""

from donorbase.reading.tokens import Piece

_CALLED = frozenset({"no", "number", "nr", "num", "nos"})


def counted_off(pieces: list[Piece]) -> list[Piece]:
    """The same pieces with a sign before each number that counts on from one: ``no. 2`` after ``no. 1``."""
    places = [k for k, p in enumerate(pieces) if p.key in _CALLED and _number_behind(pieces, k)]
    due, found = 1, []
    for k in places:
        if pieces[_number_behind(pieces, k)].raw == str(due):
            found.append(k)
            due += 1
    if len(found) < len(("one", "two")):
        return pieces
    signed, begin = [], 0
    for k in found:
        number = _number_behind(pieces, k)
        sign = Piece("sym", "#", pieces[k].begin, pieces[number - 1].end, False)
        signed += [*pieces[begin:k], sign]
        begin = number
    return signed + pieces[begin:]


def _number_behind(pieces: list[Piece], k: int) -> int:
    """The place of a small whole number behind a word and its full stop; 0 if there is none."""
    after = k + 1 + (k + 1 < len(pieces) and pieces[k + 1].key == "." and pieces[k + 1].glued)
    return after if after < len(pieces) and pieces[after].raw.isdigit() and len(pieces[after].raw) == 1 else 0
