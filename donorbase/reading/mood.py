"""Step 12d: what is not stated: conditions, wishes, plans and comparisons, and a value that another one replaced."""

from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sentence import OFFER, Sentence
from donorbase.reference.word_sets import word_set

_VALUES = frozenset({
    "ratio", "differential", "lugs", "bolt_circle_mm", "knuckle", "brakes", "hubs", "drop", "pinion", "splines",
    "inner_splines", "outer_splines", "ring_gear_in", "years", "suspension", "load_class", "cover_bolts", "width_in",
})  # fmt: skip
_NEAR = 10
_BREAKS = frozenset({"but", "though", "however", "because"})


def unsaid(s: Sentence, i: int) -> None:
    """``if you want a locker``, ``could be narrowed``, ``priced like the bearings are junk``: nothing is stated."""
    end = s.clause_end(i)
    if any(s.scan.role(k, "answer") == "yes" and s.scan.key(k - 1) == ":" for k in range(i + 1, end)):
        return  # asked if it has 4.10s: yes
    end = next((k for k in range(i + 1, end) if s.scan.key(k) in _BREAKS), end)
    for mark in s.marks(i + 1, end):
        if mark.attribute not in OFFER and mark.attribute not in ("position", "item", "fits_years"):
            mark.dropped = "not stated"


def possible(s: Sentence, i: int) -> None:
    """``might be a limited slip``, ``could have 4.56s``: nothing is stated; of a year, that it is in doubt."""
    end = s.clause_end(i)
    for mark in s.marks(i + 1, next((k for k in range(i + 1, end) if s.scan.key(k) in _BREAKS), end)):
        if mark.attribute == "years":
            mark.hedged = True
        elif mark.attribute not in OFFER and mark.attribute not in ("position", "item", "part"):
            mark.dropped = "not stated"


def supposed(s: Sentence, i: int) -> None:
    """``an 84 half ton would be six lug``: neither what stands before nor what stands behind is of this one."""
    begin, end = s.clause_begin(i), s.clause_end(i)
    end = next((k for k in range(i + 1, end) if s.scan.key(k) in _TURNS), end)
    for mark in s.marks(begin, end):
        if mark.attribute in ("lugs", "load_class", "years", "ratio", "bolt_circle_mm", "differential"):
            mark.dropped = "not stated"


_TURNS = frozenset({"and", "but", "so", "this"})


def superseded(scan: Scan) -> None:
    """``4.56, not 4.10 like I first typed``: the value that is put right is dropped wherever it stands."""
    denied = [m for m in scan.marks if m.dropped == "denied" and m.attribute in _VALUES]
    if not denied or len({m.value for m in scan.marks if m.attribute == "position" and m.live}) > 1:
        return
    for wrong in denied:
        near = scan.within(wrong.begin - _NEAR, wrong.end + _NEAR)
        if any(m.attribute == wrong.attribute and m.value != wrong.value and not m.hedged for m in near):
            _drop_like(scan, wrong)


def _drop_like(scan: Scan, wrong: Mark) -> None:
    for mark in scan.marks:
        if mark.live and mark.attribute == wrong.attribute and mark.value == wrong.value:
            mark.dropped = "put right"


_TURN_TOGETHER = frozenset({"limited-slip", "welded", "spool"})


def loosely(scan: Scan) -> None:
    """``locked up with a limited slip``: the loose word gives way to the name of the thing."""
    named = any(m.attribute == "differential" and m.live and m.value in _TURN_TOGETHER for m in scan.marks)
    for mark in scan.marks if named else ():
        if mark.attribute == "differential" and mark.value == "locker" and scan.key(mark.begin).startswith("lock"):
            mark.dropped = mark.dropped or ("put right" if "locked" in scan.key(mark.begin) else "")


def undecided(scan: Scan) -> None:
    """``posi? not sure``, ``might be posi, might be open``, ``dont know front or rear``: no fact."""
    for mark in scan.marks if ("cue", "unsure") in scan.roles else ():
        either = mark.attribute == "position" and "or" in (scan.key(mark.end), scan.key(mark.begin - 1))
        if either and any(scan.role(k, "cue") == "unsure" for k in range(mark.begin - _NEAR // 2, mark.begin)):
            mark.dropped = mark.dropped or "choice"
    said = [m for m in scan.marks if m.live and m.attribute in _VALUES]
    for mark in said:
        if mark.hedged and _never_looked(scan, mark):
            mark.dropped = "not stated"
        if scan.key(mark.end) == "?" and any(
            scan.role(k, "cue") == "unsure" for k in range(mark.end + 1, mark.end + 4)
        ):
            mark.dropped = "asked"
    for first in said:
        if not first.hedged:
            continue
        for second in scan.within(first.end, first.end + _NEAR):
            alike = second.attribute == first.attribute and second.value != first.value and second.hedged
            if alike and not _another_end(scan, first.end, second.begin):
                first.dropped = second.dropped = "choice"


def _never_looked(scan: Scan, mark: Mark) -> bool:
    """``maybe posi, haven't checked``."""
    maybe = any(scan.role(k, "doubt") == "possible" for k in range(mark.begin - 2, mark.begin))
    return maybe and any(scan.role(k, "doubt") == "unchecked" for k in range(mark.end, mark.end + _NEAR))


_OPTIONAL = word_set("optional")
_FAR = 25


def not_of_now(scan: Scan) -> None:
    """``had a locker from the factory but it's open now``; ``locker extra``: what it was, or could have."""
    said = [m for m in scan.marks if m.live and m.attribute in ("differential", "brakes", "hubs", "knuckle")]
    for mark in said:
        if mark.attribute == "differential" and scan.key(mark.end) in _OPTIONAL:
            mark.dropped = "not stated"
        if scan.role(mark.end, "cue") != "now":
            continue
        for other in said:
            before = 0 < mark.begin - other.begin < _FAR and not _another_end(scan, other.end, mark.begin)
            if before and other.attribute == mark.attribute and other.value != mark.value:
                other.dropped = "as it was"


def _another_end(scan: Scan, begin: int, end: int) -> bool:
    return any(name == "position" for k in range(begin, end) for name, _ in scan.at(k).facts)


def of_things_sought(scan: Scan) -> None:
    """Drop what a seeker does not want: it is missing from nothing."""
    for mark in scan.marks if scan.wanted else ():
        if mark.attribute == "missing" and mark.live:
            mark.dropped = "not wanted"
