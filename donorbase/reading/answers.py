"""Step 10a: numbers that answer a question or put another number right."""

import itertools

from donorbase.reading.scan import Mark, Scan

_FIGURES = frozenset({
    "ratio", "lugs", "bolt_circle_mm", "ring_gear_in", "splines", "inner_splines", "outer_splines", "width_in",
    "tube_in", "shaft_dia_in", "cover_bolts", "mileage_mi", "years",
})  # fmt: skip
_NEAR, _FAR = 8, 40
_NO = frozenset({"no", "nope", "nah", "negative", "wrong"})
_BEFORE_AN_ANSWER = frozenset({",", "-", ":", ".", "!", "it", "is", "its", "thats", "the", "they", "are", "theyre"})


def answers(scan: Scan) -> None:
    """Give a number the meaning of the number that it answers or corrects."""
    if "?" in scan.keys or ("cue", "correct") in scan.roles:
        for i in scan.numbers():
            _answer(scan, i)


def put_right(scan: Scan) -> None:
    """Drop the numbers that are asked, called wrong, changed, or counted otherwise."""
    marks = sorted((m for m in scan.marks if m.attribute in _FIGURES), key=lambda m: m.begin)
    for mark in marks:
        if any(scan.role(k, "cue") == "wrong" for k in range(mark.end, mark.end + 3)):
            mark.dropped = "called wrong"
        elif scan.key(mark.end) == "?" and scan.role(mark.end + 1, "cue") == "unsure":
            mark.dropped = "asked"
    for name in {m.attribute for m in marks}:
        said = [m for m in marks if m.attribute == name and m.live]
        for first, second in itertools.pairwise(said):
            if first.value != second.value and not _another_thing(scan, first.end, second.begin):
                _put_right(scan, first, second)


def _put_right(scan: Scan, first: Mark, second: Mark) -> None:
    """Of two values said of one thing, drop the one that the other replaces."""
    gap = second.begin - first.end
    if gap <= 2 * _NEAR and scan.key(first.end) == "?" and scan.key(second.end) != "?":
        first.dropped = "asked"
    elif gap <= _NEAR and scan.role(second.end, "cue") == "exact":
        first.dropped = "put right"
    elif gap <= _FAR and "now" in second.flags and not _of_the_past(scan, first):
        first.dropped = "as it was"
    elif gap <= _FAR and ("counted" in second.flags) != ("counted" in first.flags):
        (first if "counted" in second.flags else second).dropped = "counted otherwise"


def _of_the_past(scan: Scan, mark: Mark) -> bool:
    """``used to be 3.55``: what goes over such words drops it."""
    cues = (k for k in range(max(0, mark.begin - 3), mark.begin) if scan.role(k, "cue") == "was")
    return any(scan.key(k) != "was" for k in cues)


def _another_thing(scan: Scan, begin: int, end: int) -> bool:
    """Whether an axle or an end of a truck is named between two places."""
    return any(
        scan.role(k, "item") == "axle" or any(name == "position" for name, _ in scan.at(k).facts)
        for k in range(begin, min(end, begin + _FAR))
    )


def _answer(scan: Scan, i: int) -> None:
    """``8 on 165? No, 170.``; ``3.55 hang on 3.73``: the number is what the one before it was taken for."""
    k = i - 1
    while k > i - 5 and (scan.key(k) in _BEFORE_AN_ANSWER or scan.role(k, "cue") == "hedge"):
        k -= 1
    if scan.key(k) in _NO and scan.key(k - 1) == "?":
        end = k - 1
    elif scan.role(k, "cue") == "correct" or (scan.role(k - 2, "cue") == "correct" and not scan.at(k).facts):
        end = k if scan.role(k, "cue") == "correct" else k - 2
        while end > 0 and scan.key(end - 1) in (",", ".", "-", "("):
            end -= 1
    else:
        return
    for mark in [m for m in scan.marks if m.attribute in _FIGURES and m.live and _ends(scan, m, end)]:
        value = _like(scan, i, mark)
        if value is not None:
            scan.mark(mark.attribute, value, i, i + 1, *mark.flags)
            if mark.attribute == "bolt_circle_mm":
                scan.marks += [
                    Mark(m.attribute, m.value, i, i + 1)
                    for m in scan.marks
                    if m.attribute == "lugs" and m.begin == mark.begin
                ]
            return


def _ends(scan: Scan, mark: Mark, end: int) -> bool:
    return mark.end == end or (mark.end == end - 1 and scan.at(mark.end).roles.get("unit", "") != "")


def _like(scan: Scan, i: int, mark: Mark) -> int | float | None:
    """The number at a place as a value of a mark's kind; None where it is none."""
    piece = scan.at(i)
    value = piece.value or 0.0
    if mark.attribute == "ratio" and piece.words and len(piece.raw) == 3:
        value /= 100
    if isinstance(mark.value, tuple) or not mark.value or scan.unit(i) or not 0.5 < value / mark.value < 2:
        return None
    if isinstance(mark.value, int):
        return int(value) if piece.raw.isdigit() else None
    return round(value, 3)
