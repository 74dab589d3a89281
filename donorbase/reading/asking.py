"""Step 16a: which of the prices said is the one that is asked."""

from donorbase.reading.scan import Mark

_RANK = {"sure": 3, "likely": 2, "weak": 1, "poor": 0}


def asked(marks: list[Mark], corrected: bool) -> Mark | None:
    """The price that is asked: of the whole before the first of the pieces; the later one of a correction."""
    live = [m for m in marks if m.attribute == "price" and m.live and not m.flags & {"was", "placeholder"}]
    if not live:
        return None
    if corrected:
        return live[-1]
    deal = _deal([m for m in marks if m.attribute == "price" and m.live and (m in live or "plus" in m.flags)])
    if deal is not None:
        return deal
    best = max(_rank(m) for m in live)
    top = [m for m in live if _rank(m) == best or (best == 3 and _rank(m) == 2 and m.flags & {"whole", "now"})]
    dearest = max((m.value for m in top if "whole" not in m.flags), default=0)
    for wanted in ("whole", "now"):
        # The whole costs no less than a piece: ``wheels $100 the set`` is the whole of one thing only.
        flagged = [m for m in top if wanted in m.flags and (wanted == "now" or m.value >= dearest)]
        if flagged:
            return flagged[-1] if wanted == "now" else _of_all(flagged, live)
    return top[0]


def _of_all(whole: list[Mark], live: list[Mark]) -> Mark:
    """The first price of a whole; where a piece costs more, it is the whole of a piece, and a later one of all."""
    for mark in whole:
        if not any("whole" not in m.flags and m.value > mark.value for m in live):
            return mark
    return whole[0]


def _deal(live: list[Mark]) -> Mark | None:
    """``1,100 + 450, or 1,400``: a later price that is more than any before it and no more than all of them."""
    for number, mark in enumerate(live):
        before = [m.value for m in live[:number] if "whole" not in m.flags]
        if "or" in mark.flags and len(before) > 1 and max(before) < mark.value <= sum(before):
            return mark
    return None


def _rank(mark: Mark) -> int:
    return max((_RANK[f] for f in mark.flags if f in _RANK), default=0)
