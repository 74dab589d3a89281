"""Step 12e: what is swapped: the money on top is no price, and what is sought for it is not on offer."""

from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sentence import OFFER

_SWAPPING = frozenset({"swap", "trade", "trading", "swapping", "trade my", "swap my"})
_HIS = frozenset({"my", "this", "these", "the", "a", "our", "for"})
_ON_TOP = frozenset({"plus", "+", "and", "&", "with", "w/", "add", "w"})
_GIVEN = frozenset({"position", "item", "part"})
_REFUSING = 4
"""``No straight sale``, ``not looking to sell outright``: so far before the word for selling."""


def swaps(scan: Scan) -> None:
    """``Will trade my rear plus $400 for a front``: neither is 400 asked nor is a front offered."""
    if scan.wanted or not any(_begins_a_swap(scan, k) for k in range(len(scan.pieces))):
        return
    swapped = False
    for begin, end in scan.sentences:
        start = next((k for k in range(begin, end) if _begins_a_swap(scan, k)), end)
        sought = _sought_from(scan, start + 1, end)
        if sought and any(m.attribute in _GIVEN for m in scan.within(start, sought)):
            swapped = True
            _on_top(scan, start, end)
            _not_offered(scan, sought, end)
    for mark in scan.marks if swapped else ():
        if mark.attribute == "offer" and mark.value == "for-sale" and _refused(scan, mark):
            mark.dropped = "denied"


def _begins_a_swap(scan: Scan, k: int) -> bool:
    said = ("offer", "trade") in scan.at(k).facts
    return said or (scan.key(k) in _SWAPPING and scan.key(k + 1) in _HIS)  # no axle swap


def _sought_from(scan: Scan, begin: int, end: int) -> int:
    """The place of the ``for`` behind which stands what is sought; 0 if none does."""
    for k in range(begin, end):
        if scan.key(k).rpartition(" ")[2] == "for" and scan.priced(k + 1, k + 3) is None:
            return k
    return 0


def _on_top(scan: Scan, begin: int, end: int) -> None:
    for mark in scan.within(begin, end):
        before = mark.begin - 1 - (scan.key(mark.begin - 1) == "$")
        if mark.attribute == "price" and scan.key(before) in _ON_TOP:
            mark.dropped = "on top"


def _not_offered(scan: Scan, begin: int, end: int) -> None:
    until = next((k for k in range(begin, end) if scan.key(k) == "or"), end)
    for mark in scan.within(begin, until):
        if mark.attribute not in OFFER or mark.value == "wanted":
            mark.dropped = "wanted in return"


def _refused(scan: Scan, mark: Mark) -> bool:
    begin = next(b for b, e in scan.sentences if mark.begin < e)
    return any(scan.role(k, "cue") in ("no", "not") for k in range(max(begin, mark.begin - _REFUSING), mark.begin))
