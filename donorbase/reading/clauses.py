"""Where sentences and clauses end."""

from donorbase.reading.scan import Scan

SENTENCE = frozenset({".", "!", "?", ";", "•"})
CLAUSE = SENTENCE | frozenset({",", "(", ")", "|", "[", "]", "~~"})
_LONGEST = 90
"""A stretch without a stop is cut after so many pieces: nobody's word reaches farther."""
_SHORT = frozenset({
    "conv", "approx", "insp", "wt", "cond", "meas", "incl", "assy", "gd", "st", "dr", "mr", "pass",
    "diff", "susp", "temp", "orig", "frt", "rr", "hwy", "jr",
})  # fmt: skip


def is_sentence_end(scan: Scan, i: int) -> bool:
    """Whether a piece ends a sentence: a stop that is not inside a number or name, or the end of a line."""
    piece = scan.at(i)
    key = piece.key
    if key in SENTENCE:
        return key != "." or scan.key(i - 1) not in _SHORT
    return piece.kind == "line" or (key == "-" and not piece.glued and scan.key(i + 1) == "-")


def is_clause_end(scan: Scan, i: int) -> bool:
    """Whether a piece parts two clauses."""
    piece = scan.at(i)
    key = piece.key
    if key in CLAUSE:
        return key != "." or scan.key(i - 1) not in _SHORT
    return piece.kind == "line" or (key in ("-", "/") and not piece.glued and not scan.at(i + 1).glued)


def sentence_bounds(scan: Scan) -> list[tuple[int, int]]:
    """(begin, end) of every sentence."""
    bounds, begin = [], 0
    for i, piece in enumerate(scan.pieces):
        if i - begin >= _LONGEST:
            bounds.append((begin, i))
            begin = i
        if (piece.kind != "word" or piece.key in SENTENCE) and is_sentence_end(scan, i):
            if i > begin:
                bounds.append((begin, i))
            begin = i + 1
    if begin < len(scan.pieces):
        bounds.append((begin, len(scan.pieces)))
    return bounds
