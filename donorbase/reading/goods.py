"""Step 13d: a sentence that lists goods of several kinds: ``motor, trans, t-case, front axle``."""

from bisect import bisect_left

from donorbase.reading.draft import Draft
from donorbase.reading.heads import Head
from donorbase.reading.scan import Scan

_LINKS = frozenset({",", "&", "and", "+", "plus", "|", ";"})
_GOODS = frozenset({"machine", "component"})
_APART = frozenset({"driveshaft", "booster", "master-cylinder"})
"""Parts that hang on no axle."""
_LEAST, _LEAST_GOODS = 3, 2


def listed_goods(scan: Scan, living: list[Head]) -> list[Draft]:
    """The things of the first sentence that lists at least three, two of them no axle and no part of one."""
    for begin, end in scan.sentences:
        first, last = (bisect_left(living, k, key=lambda h: h.begin) for k in (begin, end))
        if last - first < _LEAST:
            continue
        begin = next((k + 1 for k in range(end - 1, begin, -1) if scan.key(k) == ":"), begin)
        opening = [h for h in living[first:last] if h.begin >= begin and _opens(scan, begin, h)]
        goods = [h for h in opening if h.kind == "vehicle" or h.part in _APART or _good(scan, h)]
        axle = any(h.is_axle for h in opening)
        if len(opening) >= _LEAST and len(goods) >= _LEAST_GOODS and axle:
            end_of = next((h.positions for h in living if h.is_axle and h.begin < begin), ())
            return [draft for head in opening for draft in _drafts(head, end_of)]
    return []


def _good(scan: Scan, head: Head) -> bool:
    return scan.role(head.begin, "cue") in _GOODS


def _opens(scan: Scan, begin: int, head: Head) -> bool:
    """Whether a noun stands near the head of a segment of the list."""
    front = min((head.begin, *head.spans))
    k, words = front - 1, 0
    while k >= begin and scan.key(k) not in _LINKS:
        words += scan.at(k).kind == "word" and not scan.at(k).facts
        k -= 1
    return words <= 2 and not head.bare


def _drafts(head: Head, end_of: tuple[str, ...]) -> list[Draft]:
    """Of an axle that names no end, ``end_of`` is the one that was announced."""
    ends = head.positions or (end_of if head.is_axle else ()) or ("",)
    return [Draft(head.kind, head.part, where, head.begin, head.spans) for where in ends]
