"""Step 12e: two values said of one thing, of which the second puts the first right."""

import itertools

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.scan import Mark, Scan

_OF_ONE = frozenset({
    "ratio", "differential", "lugs", "bolt_circle_mm", "knuckle", "brakes", "hubs", "drop", "pinion", "splines",
    "inner_splines", "outer_splines", "ring_gear_in", "suspension", "load_class", "rear_wheels", "cover_bolts",
    "width_in", "float", "tube_in", "shaft_dia_in", "years",
})  # fmt: skip
"""What an axle has one of."""
_FAR, _NEAR, _BEFORE = 25, 10, 4
NO = frozenset({"no", "but no", "nope", "nah", "wrong", "negative", "not so"})
TELLING_ON = frozenset({
    "those", "they", "it", "its", "thats", "these", "this", "that", "theyre", "wait", "he", "sorry", "actually", "is",
})  # fmt: skip


def interjected(scan: Scan, i: int) -> bool:
    """``but no, 3.55``, ``?? no``, ``no it's open``: what stands before it is taken back."""
    if scan.key(i) not in NO:
        return False
    counts = scan.key(i + 1) == "." and scan.at(i + 2).kind == "num"  # No. 2
    return (is_clause_end(scan, i + 1) and not counts) or scan.key(i + 1) in TELLING_ON or scan.key(i - 1) == "?"


def mend(scan: Scan) -> None:
    """Drop each value that a later one of the same thing puts right."""
    _only_a_style(scan)
    _turned_into(scan)
    talks = ("time", "past") in scan.roles or any(
        scan.role(i, "cue") in ("correct", "believed") or p.key == "?" or p.key in NO for i, p in enumerate(scan.pieces)
    )
    if not talks:
        return
    said: dict[str, list[Mark]] = {}
    for mark in sorted(scan.marks, key=lambda m: m.begin):
        if mark.live and mark.attribute in _OF_ONE:
            said.setdefault(mark.attribute, []).append(mark)
    for marks in said.values():
        for first, second in itertools.pairwise(marks):
            if first.value == second.value or second.begin - first.end > _FAR or not (first.live and second.live):
                continue
            if _put_right(scan, first, second):
                _drop(scan, first, "put right")
            elif of_the_past(scan, first) != of_the_past(scan, second) and not _another_end(
                scan, first.end, second.begin
            ):
                _drop(scan, first if of_the_past(scan, first) else second, "as it was")


def _only_a_style(scan: Scan) -> None:
    """``05 to 07 style but mine is an 06``: years of a style give way to the donor's own."""
    told = [m for m in scan.marks if m.attribute == "years" and m.live]
    styles = [m for m in told if scan.key(m.end) in ("style", "body", "era", "bodystyle", "type")]
    if styles and len(styles) < len(told):
        for mark in styles:
            mark.dropped = "a style"


def _turned_into(scan: Scan) -> None:
    """``drums converted to disc``, ``closed knuckle swapped to open``: what stands before it was."""
    if ("time", "turned") not in scan.roles:
        return
    for mark in scan.marks:
        if mark.live and mark.attribute in _OF_ONE and scan.role(mark.end, "time") == "turned":
            _drop(scan, mark, "as it was")


def _drop(scan: Scan, mark: Mark, why: str) -> None:
    """Drop a value, and the part whose name gave it (``was a drum axle``)."""
    mark.dropped = why
    for other in scan.marks if "with-part" in mark.flags else ():
        if other.begin == mark.begin and other.attribute == "part":
            other.dropped = why


def _put_right(scan: Scan, first: Mark, second: Mark) -> bool:
    if _another_end(scan, first.end, second.begin) or second.begin < first.end:
        return False
    asked = scan.key(first.end) == "?" and scan.key(second.end) != "?" and second.begin - first.end <= _NEAR
    return asked or _believed(scan, first) or _taken_back(scan, first.end, second.begin)


def of_the_past(scan: Scan, mark: Mark) -> bool:
    """``was a drum axle``, ``came with 3.73s``, ``converted from auto hubs``, ``posi once``: told of what it was."""
    for k in range(mark.end, mark.end + _BEFORE):
        if scan.role(k, "time") == "once":
            return True
        if scan.at(k).facts or is_clause_end(scan, k):
            break
    for k in range(mark.begin - 1, max(mark.begin - 1 - _PAST_REACH, -1), -1):
        time = scan.role(k, "time")
        if time in ("past", "once"):
            return True
        if time in ("present", "turned") or scan.key(k) in _IS or is_clause_end(scan, k):
            return False
    return False


_PAST_REACH = 7
_IS = frozenset({"is", "are", "its", "to"})


def _taken_back(scan: Scan, begin: int, end: int) -> bool:
    keys = [scan.key(k) for k in range(begin, end)]
    other = next((n for n, key in enumerate(keys) if key.startswith("other") or key == "wrong one"), None)
    if other is not None and any(key in ("this", "this one") for key in keys[other:]):
        return True  # I was looking at the other one ... THIS one 3.73
    return any(scan.role(k, "cue") == "correct" or interjected(scan, k) for k in range(begin, end))


def _believed(scan: Scan, mark: Mark) -> bool:
    """``i thought it was a 4.10``, ``title says 4.10``."""
    for k in range(mark.begin - 1, max(mark.begin - 1 - _BEFORE, -1), -1):
        if is_sentence_end(scan, k):
            return False
        if scan.role(k, "cue") == "believed":
            return True
    return False


def _another_end(scan: Scan, begin: int, end: int) -> bool:
    return any(name == "position" for k in range(begin, end) for name, _ in scan.at(k).facts)
