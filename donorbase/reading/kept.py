"""Step 12c: things named that are not for sale, or no longer: sold ones, those only in a picture, those held out."""

from collections import Counter

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sentence import OFFER

_NAMING = frozenset({"part", "position", "item"})
_PICTURES = frozenset({"photo", "photos", "pic", "pics", "picture", "pictures"})
_PARTING = frozenset({
    "will separate", "would separate", "can separate", "could separate", "may separate", "might separate",
    "consider parting", "will part", "would part", "could part", "might part", "can part",
})  # fmt: skip
_OPENING = frozenset({phrase.rpartition(" ")[0] for phrase in _PARTING})
_AFTER_SOLD = frozenset({"to", "last", "already", "yesterday", "this", "today", "-", "and", "the"})
_SHORT = 14
"""A sentence or row with ``sold`` that is no longer speaks of one thing."""


def not_for_sale(scan: Scan) -> None:
    """Drop what is said of things that are sold, only pictured, or would only be sold apart from the whole."""
    named = Counter((m.attribute, m.value) for m in scan.marks if m.attribute in _NAMING and m.live)
    ends = any(word in scan.keys for word in _LOOKED_FOR)
    for begin, end in scan.sentences:
        _sold_row(scan, begin, end, named)
        if ends:
            _sold_end(scan, begin, end)
        _pictured(scan, begin, end)
        _sold_apart(scan, begin, end)


def _sold_row(scan: Scan, begin: int, end: int, named: Counter[tuple[str, object]]) -> None:
    """``doors SOLD``, ``Front: sold.``, ``Sold the front last week``: a sentence that others stand beside."""
    if begin == 0:
        _first_sold(scan, end)
    lined = scan.at(begin - 1).kind == "line" and (scan.at(end).kind == "line" or end >= len(scan.pieces))
    if begin == 0 or end - begin > (_LONGEST_ROW if lined and _last_word(scan, begin, end) else _SHORT):
        return
    here = scan.within(begin, end)
    sold = next((m for m in here if m.attribute == "offer" and m.value == "sold"), None)
    word = sold.begin if sold else next((k for k in range(begin, end) if scan.key(k) == "sold the"), -1)
    if word < 0 or any(m.attribute == "offer" and m.value == "for-sale" for m in here):
        return
    if sold and not (is_clause_end(scan, sold.end) or sold.end >= end or scan.key(sold.end) in _AFTER_SOLD or lined):
        return
    if any(scan.role(k, "cue") == "no" for k in range(begin, word)):
        return  # what it lacks: the yoke (sold)
    if scan.key(word - 1) == "(" and any(m.attribute == "part" and m.end <= word for m in here):
        return  # shafts pulled (sold): of the axle
    things = Counter((m.attribute, m.value) for m in here if m.attribute in _NAMING)
    if things and any(count > things[name] for name, count in named.items() if name not in things):
        _drop([*here], "sold")


def _first_sold(scan: Scan, end: int) -> None:
    """``Rear SOLD. Front still available``: the first sentence is of one end, and the other is spoken of."""
    here = scan.within(0, end)
    gone = [m for m in here if m.attribute in ("position", "item")]
    only = bool(gone) and {m.attribute for m in here} <= {"position", "item", "offer"}
    sold = any(m.attribute == "offer" and m.value == "sold" for m in here)
    ends = {m.value for m in gone if m.attribute == "position"}
    others = {m.value for m in scan.marks if m.attribute == "position" and m.live} - ends
    if only and sold and others and len(ends) == 1:
        _drop(here, "sold")


def _last_word(scan: Scan, begin: int, end: int) -> bool:
    """Whether a row ends with ``sold``."""
    return any(m.attribute == "offer" and m.value == "sold" and end - m.end <= _SIGNS for m in scan.within(begin, end))


_LONGEST_ROW, _SIGNS = 40, 3


_LOOKED_FOR = ("sold", "sold the", "went", "only")


def _sold_end(scan: Scan, begin: int, end: int) -> None:
    """``sold the rear, front still available``: one end is gone, and the other is spoken of."""
    for k in range(begin, end):
        if scan.key(k) == "sold the" or (scan.key(k) in ("the", "my") and scan.key(k - 1) == "sold"):
            gone = [m for m in scan.within(k + 1, k + 2) if m.attribute in ("position", "item")]
            ends = {m.value for m in scan.marks if m.attribute == "position" and m.live}
            if len(ends) > 1 and (is_clause_end(scan, k + 2) or scan.key(k) == "my"):
                _drop(gone, "sold")
        if scan.key(k) in _ONLY_GET and "only" in (scan.key(k - 1), scan.key(k - 2)):
            end_of = [m.value for m in scan.within(k + 1, k + 3) if m.attribute == "position"]
            if end_of:
                _drop([m for m in scan.marks if m.attribute == "position" and m.value not in end_of], "sold")
        if scan.key(k) == "went" and scan.key(k + 1) not in _WENT_BAD:
            gone = [m for m in scan.within(k - 1, k) if m.attribute in ("position", "item") and m.end == k]
            ends = {m.value for m in scan.marks if m.attribute == "position" and m.live}
            if len(ends) > 1:
                _drop(gone, "sold")


_ONLY_GET = frozenset({"get", "getting", "buying", "have", "got", "selling"})
"""``the front is no solid axle so you only get the rear``."""
_WENT_BAD = frozenset({"bad", "out", "through", "in", "into", "under", "with", "up", "on"})


def _pictured(scan: Scan, begin: int, end: int) -> None:
    """``the photo is of a front``."""
    for k in range(begin, end):
        if scan.key(k) in _PICTURES and any(scan.key(j) in ("of", "shows") for j in range(k + 1, min(k + 4, end))):
            _drop(scan.within(k + 1, end), "pictured")


def _sold_apart(scan: Scan, begin: int, end: int) -> None:
    """``will consider parting: rotors 50, calipers 40``: the whole is what is offered."""
    for k in range(begin, end):
        if scan.key(k) not in _OPENING:
            continue
        phrase = f"{scan.key(k)} {scan.key(k + 1)}"
        if phrase in _PARTING and scan.key(k - 1) not in ("not", "wont", "never"):
            _drop([m for m in scan.within(k, end) if m.attribute != "price_terms"], "sold apart")


def _drop(marks: list[Mark], why: str) -> None:
    for mark in marks:
        if mark.attribute not in OFFER or mark.attribute in ("offer", "price"):
            mark.dropped = why
