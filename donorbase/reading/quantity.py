"""Step 14a: how many of a thing there are."""

from dataclasses import replace

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import Draft
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.stock import stock

_MOST = 24
_TELLING_APART = frozenset({"ratio", "differential", "years", "brakes", "lugs", "bolt_circle_mm", "cover_bolts"})
_FIRST = 3
"""A bare number farther on in an advert of some other thing is a size of it."""
_PAIR_KINDS = frozenset({"part", "wheels-tires"})
_SEVERAL_ENDS = frozenset({"fronts", "rears", "front axles", "rear axles", "front ends", "rear ends"})
"""``2 fronts 1 rear``: so many of this end."""


def quantities(scan: Scan, drafts: list[Draft]) -> None:
    """Add a ``quantity`` mark to each draft that is said to be several."""
    axles = [d for d in drafts if d.kind in ("axle", "housing")]
    for draft in drafts:
        found = _before(scan, draft) or _behind(scan, draft)
        if not found and draft.kind in _PAIR_KINDS and len(drafts) == 1:
            found = _pair(scan, draft)
        if not found and len(drafts) == 1 and draft.kind != "vehicle":
            found = _each_or_all(scan)
        if not found and draft.kind in ("other", "wheels-tires") and len(drafts) == 1:
            found = _leading(scan)
        if found is None or found[0] < 2:
            continue
        alone = draft not in axles or len(axles) == 1 or _counted_in_a_row(scan, found[1], draft)
        if alone or _counted_by_end(scan, found[1], draft, axles):
            draft.marks.append(Mark("quantity", found[0], found[1], found[1] + 1))
    stock(scan, drafts)
    _for_each_side(scan, drafts)


_SIDES = {"left": "l", "right": "r", "l": "l", "r": "r", "lh": "l", "rh": "r", "driver": "l", "passenger": "r"}
_PAIRED = frozenset({"l&r", "l+r", "l/r", "r&l", "r/l"})
_OF_A_SIDE = frozenset({
    "knuckle", "spindle", "hub", "rotor", "outer-shaft", "inner-shaft", "axle-shaft", "caliper", "caliper-bracket",
    "unit-bearing", "locking-hub", "brake-drum",
})  # fmt: skip
"""Parts of which an axle has one on each side."""


def _for_each_side(scan: Scan, drafts: list[Draft]) -> None:
    """``knuckles, left and right``, ``stub shafts L+R``: two of each part that the sentence names."""
    bare = [d for d in drafts if d.part in _OF_A_SIDE and not any(m.attribute == "quantity" for m in d.marks)]
    for k in range(len(scan.pieces)) if bare else ():
        joined = scan.key(k + 1) in ("and", "&", "+", "/") and _SIDES.get(scan.key(k), "") != ""
        other = joined and _SIDES.get(scan.key(k + 2), _SIDES.get(scan.key(k))) != _SIDES[scan.key(k)]
        if other or scan.key(k) in _PAIRED:
            begin, end = next(((b, e) for b, e in scan.sentences if b <= k < e), (0, 0))
            for draft in bare:
                if begin <= draft.begin < end and not any(m.attribute == "quantity" for m in draft.marks):
                    draft.marks.append(Mark("quantity", 2, k, k + 1))


def _counted_in_a_row(scan: Scan, k: int, draft: Draft) -> bool:
    """``2 ea rear axle 2008 $500 ea``: a count that opens the row of one axle."""
    each = scan.key(k + 1) in ("ea", "each", "x", "pcs") and k + 2 == min((draft.begin, *draft.spans))
    return each and len(draft.rows) == 1 and draft.rows[0][0] <= k


def _counted_by_end(scan: Scan, k: int, draft: Draft, axles: list[Draft]) -> bool:
    """Whether a count stands right before one end: no list of several of it."""
    own = k + 1 == min((draft.begin, *draft.spans)) and scan.key(k + 1) in _SEVERAL_ENDS
    return own and sum(d.begin == draft.begin for d in axles) == 1


def _count(scan: Scan, k: int) -> int:
    piece = scan.at(k)
    numbers_line = scan.key(k + 1) in (":", ")", ".") and scan.at(k + 1).glued and scan.key(k - 1) != "("
    if numbers_line and (scan.key(k + 1) != "." or k == 0 or scan.at(k - 1).kind == "line"):
        return 0  # 2) or 2: at the head of a line
    if (
        piece.kind == "num"
        and piece.raw.isdigit()
        and not scan.used[k]
        and scan.unit(k) == ""
        and 2 <= int(piece.raw) <= _MOST
        and piece.raw[0] != "0"
    ):
        return int(piece.raw)
    return int(scan.role(k, "count") or 0)


def _before(scan: Scan, draft: Draft) -> tuple[int, int] | None:
    """``2 rotors``, ``(2) front calipers``, ``pair of kingpin knuckles``, ``set of 4 steel wheels``."""
    start = min((draft.begin, *draft.spans)) if draft.kind in ("axle", "housing") else draft.begin
    row = min((b for b, e in draft.rows if b <= start < e), default=0)
    for k in range(start - 1, max(start - 7, row - 1, -1), -1):
        count = _count(scan, k)
        if count and scan.key(k - 1) in ("one of", "1 of"):
            return None  # one of the two rears
        if count:
            return count, k
        if is_sentence_end(scan, k) or scan.key(k) in (",", "|", "/", "-", "for", "with", "off"):
            return None
    return None


def _behind(scan: Scan, draft: Draft) -> tuple[int, int] | None:
    """``Spindles (2)``, ``lock-outs, pair``, ``caliper x2``, ``HUBS 2.``."""
    end = max((draft.begin, *(k for k in draft.spans if k - draft.begin <= _FIRST))) + 1
    loose = draft.kind in _PAIR_KINDS
    apart = end + (scan.key(end) == "," and is_clause_end(scan, end + 2))
    if scan.role(apart, "count") == "2" and loose and scan.key(apart) != "both":
        return 2, apart
    if loose and _count(scan, apart) and is_clause_end(scan, apart + 1):
        return _count(scan, apart), apart
    for k in range(end, end + 10):
        if is_sentence_end(scan, k) and not (scan.key(k) == "." and k - end > 20):
            return None
        if loose and _a_pair_at_a_price(scan, k):
            return 2, k
        found = _counted_at(scan, k)
        if found is not None:
            return found
    return None


def _counted_at(scan: Scan, k: int) -> tuple[int, int] | None:
    """``(2)``, ``x 2``, ``box of 4``, ``3 available``: how many there are, and where that stands."""
    bracketed = scan.key(k) == "(" and scan.key(k + 2) == ")"
    called = scan.key(k) in ("x", "qty", "set of", "box of", "bag of") and not _goes_on(scan, k + 2)
    if (bracketed or called) and _count(scan, k + 1):
        return _count(scan, k + 1), k + 1
    if _count(scan, k) and scan.key(k + 1) in ("of", "avail", "available", "total") and scan.at(k).kind == "num":
        return _count(scan, k), k
    return None


def _a_pair_at_a_price(scan: Scan, k: int) -> bool:
    """``brackets for 14 bolt pr $60``, ``knuckles $200 pr``."""
    if scan.key(k) not in ("pr", "pair", "paire", "par"):
        return False
    return scan.priced(k + 1, k + 3) is not None or any(
        m.end == k for m in scan.within(k - 2, k) if m.attribute == "price"
    )


def _goes_on(scan: Scan, k: int) -> bool:
    """``2x6.5``: a sign or word stuck to a number, which is no count."""
    return scan.at(k).glued and scan.key(k) not in (",", ".", ")", ";", ":")


def _pair(scan: Scan, draft: Draft) -> tuple[int, int] | None:
    for k, piece in enumerate(scan.pieces):
        if piece.key == "both" and scan.key(k + 1) == "joints":
            continue
        if piece.key == "both" and any(name == "part" and value != draft.part for name, value in scan.at(k + 1).facts):
            continue  # both joints new
        if piece.roles.get("count") == "2" or piece.key in (
            "both",
            "for both",
            "for the pair",
            "for the two",
            "the pair",
            "takes both",
            "los dos",
            "for the two",
        ):
            return 2, k
    return None


def _each_or_all(scan: Scan) -> tuple[int, int] | None:
    """``900 ea or 1600 for two``, ``700 each, 1200 for the pair``: so many are sold as the price of all is for."""
    prices = [m for m in scan.marks if m.attribute == "price" and m.live]
    each = next((m for m in prices if "each" in m.flags), None)
    if each is None:
        return None
    for mark in [m for m in prices if "whole" in m.flags and m.value > each.value]:
        for k in range(mark.end, mark.end + _FIRST):
            counted = scan.at(k).raw.isdigit() and scan.key(k - 1) in ("for", "all", "the")
            if counted and 1 < int(scan.at(k).raw) <= _MOST:
                return int(scan.at(k).raw), k
            if scan.key(k).endswith(("pair", "both", "two")):
                return 2, k
    return None


def _leading(scan: Scan) -> tuple[int, int] | None:
    """``FOUR 35x12.50R20``, ``(5) 17x9 wheels``, ``12 one-quart bottles``."""
    for k in range(min(len(scan.pieces), 14)):
        if scan.role(k, "cue") == "also":
            return None
        count = _count(scan, k)
        glued = scan.at(k + 1).glued and scan.key(k + 1) not in (")", ",")
        opened = (k <= _FIRST and scan.key(k - 1) != ",") or _opened(scan, k)
        if count and opened and not glued and scan.unit(k) == "" and not scan.role(k - 1, "label"):
            return count, k
    return None


def _opened(scan: Scan, k: int) -> bool:
    """Whether a number counts things: ``(5)``, ``have 4``, ``, 12 one-quart bottles``; not ``, 4 jaw``."""
    if scan.key(k - 1) in ("(", "of", "have", "i have", "got") or scan.at(k - 1).kind == "line":
        return True
    if scan.key(k + 1) == "for":
        return True  # 2 for $10
    if scan.key(k - 1) != ",":
        return False
    behind = range(k + 1, k + 5)
    stop = next((j for j in behind if scan.key(j) in (",", ".", "")), k + 5)
    return bool(scan.role(k, "count")) or any(
        len(scan.key(j)) > 4 and scan.key(j).endswith("s") for j in range(k + 1, stop)
    )


def apart(drafts: list[Draft]) -> list[Draft]:
    """Axles said to differ in their ratio (``one 3.73 and one 4.10``) are several things, not a quantity."""
    if len(drafts) != 1 or drafts[0].kind != "axle":
        return drafts
    draft = drafts[0]
    count = next((m.value for m in draft.marks if m.attribute == "quantity"), 1)
    values: dict[str, list[object]] = {}
    for mark in draft.marks:
        if mark.attribute in _TELLING_APART and mark.value not in values.setdefault(mark.attribute, []):
            values[mark.attribute].append(mark.value)
    telling = {name: found for name, found in values.items() if len(found) == count}
    if count < 2 or "ratio" not in telling:
        return drafts
    return [replace(draft, marks=_own_marks(draft, telling, number)) for number in range(count)]


def _own_marks(draft: Draft, telling: dict[str, list[object]], number: int) -> list[Mark]:
    """The marks of one of several: what is said of all, and of what tells them apart the value in its turn."""
    return [
        m
        for m in draft.marks
        if m.attribute != "quantity" and (m.attribute not in telling or m.value == telling[m.attribute][number])
    ]
