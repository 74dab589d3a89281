"""Step 13b: what carries a price: things priced one by one, and a truck that is sold whole, apart, or both."""

from bisect import bisect_left
from dataclasses import dataclass

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import AXLE_FACTS, Draft
from donorbase.reading.heads import Head
from donorbase.reading.scan import Mark, Scan

_NEAR, _LEAST = 4, 20
MANY = 9
Bounds = list[tuple[int, int]]
_TELLING = frozenset(
    {"ratio", "cover_bolts", "years", "lugs", "bolt_circle_mm", "ring_gear_in", "load_class", "tube_in", "rear_wheels"}
)
_SURE = frozenset({"sure", "likely"})


@dataclass(slots=True)
class _Cell:
    """The pieces ``begin`` to ``end`` that end with a price, and the thing that leads them, if one does."""

    begin: int
    end: int
    price: Mark
    leader: Head | None
    vehicle: Head | None


def priced_things(scan: Scan, living: list[Head], kind: str) -> list[Draft]:
    """The things that have a price each; nothing where the price is that of one thing or of all.

    ``kind`` is what the listing is about in the first place. Two axles with a price each are told by their ends
    (``items.py``); here they are rows where other things stand beside them, or another axle of the same end.
    """
    if kind != "vehicle" and sum(m.attribute == "price" and m.live for m in scan.marks) < 2:
        return []
    cells = _cells(scan, sorted([*living, *sets_of_gears(scan)], key=lambda h: h.begin))
    found = _things(scan, cells, kind)
    if len(found) < 2 and not _the_only_one_left(scan, living, found, kind):
        return []
    loose = {d.part for d in found if d.kind not in ("axle", "housing")}
    if kind != "vehicle" and len(loose) == len(found) and not _priced_parts(cells, found, len(loose), kind):
        return []
    if kind != "vehicle" and not loose and not _several_of_an_end(scan, found):
        return []
    axles = [d for d in found if d.kind in ("axle", "housing")]
    if kind != "vehicle" and axles and not any(_told(scan, d) for d in axles):
        return [*_whole_truck(scan, cells, kind), *_named_before(living, found)]
    return [*_whole_truck(scan, cells, kind), *by_ends(living, _stretched(scan, found))]


def _told_before(living: list[Head], draft: Draft) -> bool:
    """Whether a part that has a price is named before the place where it has it."""
    return any(h.part == draft.part and h.begin < draft.begin for h in living)


def _priced_parts(cells: list[_Cell], found: list[Draft], kinds: int, kind: str) -> bool:
    """Whether parts with prices are things of their own, though a price of all may stand beside three or more."""
    return kinds > 1 and (not _whole_price(cells) or (kind == "part" and len(found) > 2))


def _the_only_one_left(scan: Scan, living: list[Head], found: list[Draft], kind: str) -> bool:
    """``Parting out an 04. Left: rear axle 3.73 $300, doors, glass``: the one thing that has a price."""
    apart = kind == "vehicle" and any(
        h.kind == "vehicle" and h.begin == 0 and scan.role(0, "cue") != "entire" for h in living
    )
    return apart and len(found) == 1 and found[0].kind == "axle"


def by_ends(living: list[Head], found: list[Draft]) -> list[Draft]:
    """``2 axles 3.73 (front coil, rear limited slip) $1,300``: a row for each end, with what is told before of both."""
    drafts: list[Draft] = []
    for draft in found:
        begin, end = draft.rows[0]
        ends = [h for h in _heads(living, max(begin, draft.begin + 1), end) if h.bare and len(h.positions) == 1]
        if draft.kind != "axle" or draft.position or len(ends) != 2 or ends[0].positions == ends[1].positions:
            drafts.append(draft)
            continue
        for head, until in zip(ends, (ends[1].begin, end), strict=True):
            rows = [(begin, ends[0].begin), (head.begin, until)]
            drafts.append(Draft("axle", "", head.positions[0], head.begin, head.spans, rows))
    return drafts


_TOLD_IN_ROWS = AXLE_FACTS | {"rear_wheels", "years"}


def _told(scan: Scan, draft: Draft) -> bool:
    return any(m.attribute in _TOLD_IN_ROWS for b, e in draft.rows for m in scan.within(b, e))


def _named_before(living: list[Head], found: list[Draft]) -> list[Draft]:
    """``Rear axle, 3.73. Also a ring and pinion. Axle 500, gears 180``: prices alone, of things told of elsewhere."""
    for draft in found:
        same = (h for h in living if (h.kind, h.part) == (draft.kind, draft.part) and h.kind != "other")
        first = next(same, None)
        if first is not None and first.begin < draft.begin and len(first.positions) < 2 and not draft.position:
            draft.position, draft.begin, draft.spans = "".join(first.positions), first.begin, first.spans
        draft.rows = []
    return sorted(found, key=lambda d: d.begin)


def _cells(scan: Scan, living: list[Head]) -> list[_Cell]:
    cells: list[_Cell] = []
    begin, size = 0, len(scan.pieces)
    for i in range(size + 1):
        if i < size and (not _parts_cells(scan, i) or _labels(scan, living, i)):
            continue
        price = scan.priced(begin, i)
        if price is None and scan.key(i) == "," and _heads(living, begin, i):
            continue
        while price is not None:
            following = _second(scan, living, price.end, i)
            until = price.end if following else i
            cells.append(_cell(scan, living, begin, until, price))
            begin, price = price.end, following
        begin = i + 1
    return cells


def sets_of_gears(scan: Scan) -> list[Head]:
    """``Also the gears that were in it, 3.73, $60``: the word that everybody uses for a ring and pinion."""
    places = []
    for k in range(len(scan.pieces)):
        counted = scan.at(k - 1).kind == "num" and scan.key(k - 2) in (*_BEFORE_GEARS, "of")  # the 3.50 gears
        if scan.key(k + 1) in ("are", "is", "were", "look", "have"):
            continue
        if scan.key(k) in _GEARS and (counted or (scan.key(k - 1) in _BEFORE_GEARS and not scan.used[k])):
            places.append(k)
    return [Head("part", "ring-and-pinion", (), k, k + 1, spans=(k,)) for k in places]


_GEARS = frozenset({"gears", "gear set", "gearset"})
_BEFORE_GEARS = frozenset({"the", "also the", "and the", "also", "a", "its", "old", "stock", "set of"})


def _parts_cells(scan: Scan, i: int) -> bool:
    """Whether a cell ends here: at a stop, comma or colon, but not at a dash before a price."""
    return scan.key(i) == ":" or (is_clause_end(scan, i) and scan.key(i) not in ("-", "(", ")"))


def _labels(scan: Scan, living: list[Head], i: int) -> bool:
    """``DRIVESHAFTS: both, $150``: the sign stands behind the thing itself, at the head of a sentence."""
    here = _heads(living, i - 1, i)
    named = bool(here) and here[0].end == i and here[0].kind != "vehicle"
    return named and scan.key(i) == ":" and is_sentence_end(scan, min((here[0].begin, *here[0].spans)) - 1)


def _second(scan: Scan, living: list[Head], begin: int, end: int) -> Mark | None:
    """``front 900 rear 500``: another price of another thing, with nothing between the two."""
    price = scan.priced(begin, end)
    return price if price is not None and _heads(living, begin, price.begin) else None


def _heads(living: list[Head], begin: int, end: int) -> list[Head]:
    first, last = (bisect_left(living, k, key=lambda h: h.begin) for k in (begin, end))
    return living[first:last]


def _cell(scan: Scan, living: list[Head], begin: int, end: int, price: Mark) -> _Cell:
    here = _heads(living, begin, end)
    leader = next((h for h in here if h.kind != "vehicle"), None)
    return _Cell(begin, end, price, leader, next((h for h in here if h.kind == "vehicle"), None))


def _things(scan: Scan, cells: list[_Cell], kind: str) -> list[Draft]:
    found: list[Draft] = []
    for cell in cells:
        head = cell.leader
        if head is not None and (kind == "vehicle" or _carries(scan, cell, head)):
            begin = min((head.begin, *head.spans)) if cell.vehicle else cell.begin
            where = head.positions[0] if len(head.positions) == 1 else ""
            found.append(Draft(head.kind, head.part, where, head.begin, head.spans, [(begin, cell.end)]))
        elif head is None and cell.vehicle is None and found and _unknown_goods(scan, cell):
            gears = scan.key(cell.begin) in ("gears", "gear")
            what, part = ("part", "ring-and-pinion") if gears else ("other", "")
            found.append(Draft(what, part, begin=cell.begin, rows=[(cell.begin, cell.end)]))
    return found


def _carries(scan: Scan, cell: _Cell, head: Head) -> bool:
    """Whether a thing that is no axle is what the price is of: it opens the cell, and nothing calls another price."""
    if head.is_axle:
        return len(head.positions) < 2 and not scan.key(head.begin).endswith("axles")
    front = min((head.begin, *head.spans))
    words = [k for k in range(cell.begin, front) if _says_something(scan, k)]
    sure = bool(cell.price.flags & _SURE) or cell.price.value >= _LEAST
    called = any(scan.role(k, "label") == "price" for k in range(head.end, cell.price.begin))
    return len(words) <= 2 and sure and not called


def _says_something(scan: Scan, k: int) -> bool:
    piece = scan.at(k)
    return piece.kind == "word" and not piece.facts and "label" not in piece.roles and "cue" not in piece.roles


def _unknown_goods(scan: Scan, cell: _Cell) -> bool:
    """``frame $400``: a word that the vocabulary does not know, and its price."""
    lead = [scan.at(k) for k in range(cell.begin, cell.price.begin) if scan.at(k).kind == "word"]
    if "whole" in cell.price.flags or not 0 < cell.price.begin - cell.begin <= _NEAR or not lead:
        return False
    priced = any("label" in p.roles and p.roles["label"] == "price" for p in lead)
    return not priced and not any(p.facts for p in lead) and lead[0].key not in _SPEAKERS


_SPEAKERS = frozenset({
    "i", "id", "im", "ill", "i'd", "i'll", "we", "he", "she", "it", "its", "not", "and", "so", "or", "for", "if",
    "get", "take", "buy", "both", "all", "each", "would", "was", "firm", "my", "your", "yours",
})  # fmt: skip
"""What opens a sentence about a price rather than a thing."""


def _whole_price(cells: list[_Cell]) -> bool:
    """Whether a price is of all: not ``drums $40 the pair``."""
    return any("whole" in c.price.flags and c.leader is None for c in cells)


def _several_of_an_end(scan: Scan, found: list[Draft]) -> bool:
    """``rear 2004 dually $350; rear 2004 single $450``: ends alone do not tell them apart."""
    for end in ("front", "rear"):
        bounds = [d.rows[0] for d in found if d.position == end]
        if len(bounds) > 1 and told_apart(scan, bounds):
            return True
    return False


def told_apart(scan: Scan, bounds: Bounds) -> bool:
    """Whether stretches differ in what is told of each: every one has another value of the same attribute."""
    told = [{(m.attribute, m.value) for m in scan.within(b, e) if m.attribute in _TELLING} for b, e in bounds]
    names = set.intersection(*({name for name, _ in facts} for facts in told))
    return any(
        len({next(v for n, v in facts if n == name) for facts in told}) == len(bounds) and len(bounds) < MANY
        for name in names
    )


def _whole_truck(scan: Scan, cells: list[_Cell], kind: str) -> list[Draft]:
    """The truck itself, where a price of the whole stands beside those of its pieces."""
    for cell in cells:
        if cell.leader is None and (kind == "vehicle" or _opens_with_a_truck(scan)):
            said = any(scan.key(k) in _WHOLE for k in range(cell.begin, cell.end))
            if said or (cell.vehicle is not None and kind == "vehicle"):
                return [Draft("vehicle", begin=cell.vehicle.begin if cell.vehicle else 0)]
    return []


_WHOLE = frozenset({"whole", "whole truck", "entire", "as a unit", "complete truck", "whole thing", "as one", "intact"})


def _opens_with_a_truck(scan: Scan) -> bool:
    """``1988 4x4 3/4 ton, bed rotted off. Axles: ...``: a donor told of before any end of it, from which nothing is."""
    begin, end = scan.sentences[0] if scan.sentences else (0, 0)
    here = scan.within(begin, end)
    donor = {"years", "load_class"} <= {m.attribute for m in here}
    sourced = any(
        scan.role(k, "cue") in ("source", "for", "fits") and not is_clause_end(scan, k + 1) for k in range(begin, end)
    )
    return donor and not sourced and not any(m.attribute == "position" for m in here)


def _of_everything(scan: Scan, begin: int, end: int) -> bool:
    """``two driveshafts $75 each all from one truck``: behind a price, a word that speaks of all rows."""
    return scan.key(end) in ("all", "everything") and scan.priced(begin, end) is not None


def _stretched(scan: Scan, found: list[Draft]) -> list[Draft]:
    """Each thing with what stands behind its price, up to the next thing or the end of the sentence."""
    for draft, following in zip(found, [*found[1:], None], strict=True):
        begin, end = draft.rows[0]
        limit = following.rows[0][0] if following else len(scan.pieces)
        while end < limit and not is_sentence_end(scan, end) and not _of_everything(scan, begin, end):
            end += 1
        draft.rows = [(begin, end)]
    return found
