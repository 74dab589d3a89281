"""Step 14: every fact -> the thing on offer that it speaks of."""

import itertools
from bisect import bisect_left, bisect_right

from donorbase.reading.blocks import Block
from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import GEARED, WHEEL_FACTS, Draft, part_may_have
from donorbase.reading.heads import Head
from donorbase.reading.sames import DONOR, share
from donorbase.reading.scan import Mark, Scan

_OFFER = frozenset({"price", "price_terms", "contact", "zip", "mileage_mi", "distance_mi", "vin", "offer"})
_NAMING = _OFFER | {"item", "position"}
_FRONT_ONLY = frozenset({"knuckle", "hubs", "inner_splines", "outer_splines"})
_REAR_ONLY = frozenset({"float"})
_FRONT_PARTS = frozenset(
    {"knuckle", "locking-hub", "tie-rod", "drag-link", "track-bar", "spindle", "outer-shaft", "inner-shaft"}
)
_OF_THE_DONOR = frozenset(
    {*DONOR, "rear_wheels", "fits_years", "cover_bolts", "ring_gear_in", "knuckle", "part", "has", "quantity"}
)
_BOLTED = frozenset({"hub", "rotor", "brake-drum", "unit-bearing"})
"""Parts that carry the wheel's bolts."""
_PARTS_WITH = {
    "caliper_pistons": frozenset({"caliper"}),
    "differential": frozenset({"differential", "carrier", "third-member"}),
    "ratio": GEARED,
    "inner_splines": frozenset({"inner-shaft", "axle-shaft"}),
    "outer_splines": frozenset({"outer-shaft", "axle-shaft"}),
    "hubs": frozenset({"hub", "locking-hub", "unit-bearing"}),
}
"""What only some parts can have, where one of these is on offer."""


_BEFORE_A_PART = frozenset({"knuckle", "splines", "inner_splines", "outer_splines", "shaft_dia_in", "caliper_pistons"})
_IN_A_BREATH = 5
_CLOSE = 8
"""An end that stands farther before a part was said of all parts."""


def assign(scan: Scan, drafts: list[Draft], heads: list[Head], said: list[Block]) -> None:
    """Give each draft its marks; a mark that speaks of all goes to each."""
    if len(drafts) == 1:
        told = [m for m in scan.marks if not m.dropped and m.attribute not in _NAMING]
        drafts[0].marks += [m for m in told if not _of_the_other(m, drafts[0], said)]
        return
    subjects = _subjects(scan, drafts, heads, said)
    listed = any(d.rows for d in drafts)
    if not listed:
        _of_one_truck(scan, drafts, said, subjects)
        _in_turn(scan, drafts, subjects)
    for mark in scan.marks:
        if not mark.live or mark.attribute in _OFFER or mark.attribute in ("item", "position"):
            continue
        for draft in _narrowed(mark, subjects[mark.begin] or drafts, drafts):
            if draft.kind == "other" and mark.attribute in _OF_WHEELS and not _in_row(mark, draft):
                continue
            if not listed or _said_of(scan, mark, draft):
                draft.marks.append(mark)
    share(scan, drafts)
    for draft in drafts:
        if draft.kind == "vehicle":
            _of_its_axles(draft, [d for d in drafts if d.kind in ("axle", "housing")])


def _of_its_axles(truck: Draft, axles: list[Draft]) -> None:
    """A truck that is offered beside its axles has what is told of them, where they do not disagree."""
    told = list(dict.fromkeys([*truck.marks, *(m for d in axles for m in d.marks)]))
    values: dict[str, set[object]] = {}
    for mark in told:
        values.setdefault(mark.attribute, set()).add(mark.value)
    truck.marks = [m for m in told if len(values[m.attribute]) == 1 and m.attribute != "quantity"]


def _block(said: list[Block], i: int) -> Block:
    return said[bisect_right(said, i, key=lambda b: b.begin) - 1]


def _of_the_other(mark: Mark, only: Draft, said: list[Block]) -> bool:
    """Whether a mark speaks of the end that is not on offer (``the rear, 4.10, went to my neighbor``)."""
    if only.kind not in ("axle", "housing") or not only.position or mark.attribute in _OF_A_DONOR:
        return False
    block = _block(said, mark.begin)
    return bool(block.ends) and only.position not in block.ends and not block.carried


def _of_one_truck(scan: Scan, drafts: list[Draft], said: list[Block], subjects: list[list[Draft]]) -> None:
    """``Came under an 89 3/4 ton`` behind a front and a rear: of each that is told of no truck of its own."""
    axles = [d for d in drafts if d.kind in ("axle", "housing") and d.position]
    told = [m for m in scan.marks if m.live and m.attribute in _OF_A_TRUCK]
    for mark in told:
        block = _block(said, mark.begin)
        if not (block.carried and block.ends and all(d.begin < mark.begin for d in axles)):
            continue
        own = [
            d
            for d in axles
            if d.position not in block.ends
            and any(d in subjects[m.begin] and m is not mark and m.attribute == mark.attribute for m in told)
        ]
        subjects[mark.begin] = [d for d in axles if d not in own]


def _in_turn(scan: Scan, drafts: list[Draft], subjects: list[list[Draft]]) -> None:
    """``Brakes: disc / drum`` of a front and a rear: two values of one kind, each of the end named in its turn."""
    axles = [d for d in drafts if d.kind in ("axle", "housing") and d.position]
    if len(axles) != len(_TWO):
        return
    told = [m for m in scan.marks if m.live and m.attribute not in _NAMING]
    told.sort(key=lambda m: m.begin)
    for first, second in itertools.pairwise(told):
        between = [scan.key(k) for k in range(first.end, second.begin)]
        alike = first.attribute == second.attribute and first.value != second.value
        respectively = scan.key(second.end + (scan.key(second.end) == ",")) == "respectively"
        of_both = all(len(subjects[m.begin] or axles) == len(_TWO) for m in (first, second))
        if alike and of_both and (between == ["/"] or (respectively and between == ["and"])):
            subjects[first.begin], subjects[second.begin] = [axles[0]], [axles[1]]


_TWO = ("front", "rear")
_OF_A_DONOR = frozenset({"years", "fits_years", "rear_wheels"})
"""What is told of a truck, whatever end of it is named beside."""
_OF_A_TRUCK = frozenset({*DONOR, "rear_wheels"})


_OF_WHEELS = frozenset({"lugs", "bolt_circle_mm"})


def _in_row(mark: Mark, draft: Draft) -> bool:
    return not draft.rows or any(b <= mark.begin < e for b, e in draft.rows)


def _said_of(scan: Scan, mark: Mark, draft: Draft) -> bool:
    """Whether what is said outside a list's rows is meant of a row: of a part only what its truck or axle was."""
    if draft.kind != "part" or any(b <= mark.begin < e for b, e in draft.rows):
        return True
    name = mark.attribute
    if name in _OF_WHEELS and part_may_have(draft.part, name):
        begin = next((b for b, e in scan.sentences if b <= mark.begin < e), mark.begin)
        return draft.part in _BOLTED or scan.key(begin) in _EVERYTHING  # all for 8 lug fronts
    return name in _OF_THE_DONOR


def _narrowed(mark: Mark, subject: list[Draft], drafts: list[Draft]) -> list[Draft]:
    """Where a fact that only a front can have is said of a front and a rear alike, it is the front's."""
    if mark.attribute not in WHEEL_FACTS and all(d.kind in ("wheels-tires", "other") for d in subject):
        return [d for d in drafts if d.kind in ("axle", "housing")] or subject
    if len(subject) < 2:
        return subject
    own = [d for d in subject if d.kind == "part" and mark.end == d.begin and mark.attribute in _BEFORE_A_PART]
    if own:
        return own  # kingpin knuckles, spindles
    parts = _PARTS_WITH.get(mark.attribute)
    if parts and any(d.part in parts for d in subject):
        return [d for d in subject if d.part in parts or d.kind in ("axle", "vehicle")]
    front = mark.attribute in _FRONT_ONLY or (mark.attribute in ("has", "missing") and mark.value in _FRONT_PARTS)
    rear = mark.attribute in _REAR_ONLY
    wanted = "front" if front else "rear" if rear else ""
    kept = [d for d in subject if not wanted or d.position in (wanted, "") or d.kind not in ("axle", "housing")]
    return kept or subject


def _subjects(scan: Scan, drafts: list[Draft], heads: list[Head], said: list[Block]) -> list[list[Draft]]:
    """For each piece, the drafts it speaks of; empty for all of them."""
    subjects: list[list[Draft]] = [[] for _ in range(len(scan.pieces) + 1)]
    rows = [(b, e, d) for d in drafts for b, e in d.rows]
    for begin, end, draft in rows:
        for k in range(begin, min(end, len(scan.pieces))):
            subjects[k] = [*subjects[k], draft]
    if rows:
        _outside_rows(scan, drafts, heads, said, subjects)
        _named_by_year(scan, drafts, subjects)
        return subjects
    axles = [d for d in drafts if d.kind in ("axle", "housing")]
    gears = [d.position for d in drafts if d.part == "ring-and-pinion"] == ["front", "rear"]
    axles = drafts if gears and len(drafts) == len(_TWO) else axles
    rest = axles if len(axles) < len(drafts) else []
    if not axles and not _listed_close(scan, drafts, drafts[0]) and not _one_list(scan, drafts):
        rest = drafts[:1]
    for block in said:
        named = [d for d in axles if d.position in block.ends] or rest
        if (not axles or scan.key(block.begin) in _EVERYTHING) and any(
            scan.key(k) in _ALIKE for k in range(block.begin, min(block.begin + _OPENS, block.end))
        ):
            named = []
        for k in range(block.begin, block.end):
            subjects[k] = named
    if not axles:
        heading = _heading(scan, drafts[0].begin)
        subjects[:heading] = [[] for _ in range(heading)]
    if axles is not drafts:
        _loose_things(scan, drafts, said, subjects)
    return subjects


def _heading(scan: Scan, first: int) -> int:
    """``Front end parts, 1990 kingpin. Spindles ...``: how far what stands before the first of several parts goes."""
    return next((k for k in range(first - 1, -1, -1) if is_sentence_end(scan, k) or scan.key(k) == ":"), 0)


_ALIKE = frozenset({"both", "all", "everything", "each"})
_EVERYTHING = frozenset({"all", "everything"})
_OPENS = 2


def _outside_rows(
    scan: Scan, drafts: list[Draft], heads: list[Head], said: list[Block], subjects: list[list[Draft]]
) -> None:
    """What a sentence beside the rows speaks of: the axles, those of one end, the wheels ..., else everything."""
    axles = [d for d in drafts if d.kind in ("axle", "housing")]
    for begin, end in scan.sentences:
        first, last = (bisect_left(heads, k, key=lambda h: h.begin) for k in (begin, end))
        named = [h for h in heads[first:last] if h.kind != "vehicle" and not subjects[h.begin]]
        for number, head in enumerate(named):
            until = min((named[number + 1].begin, *named[number + 1].spans)) if number + 1 < len(named) else end
            meant = _meant(head, drafts)
            for k in range(begin, until):
                if len(head.positions) == 1 and head.is_axle:
                    meant = [d for d in axles if d.position in _block(said, k).ends]
                subjects[k] = subjects[k] or meant
            begin = until


def _named_by_year(scan: Scan, drafts: list[Draft], subjects: list[list[Draft]]) -> None:
    """``The 2012s are single wheel``: behind the rows, the year names those that are of it."""
    within = {k for d in drafts for b, e in d.rows for k in range(b, e)}
    own = {m.begin: m for m in scan.marks if m.attribute == "years" and m.live}
    for begin, end in scan.sentences:
        named: list[Draft] = []
        for k in range(begin, end):
            year = own.get(k)
            if year is not None and k not in within and k - begin <= _OPENS:
                named = [
                    d
                    for d in drafts
                    if any(year.value == own[j].value for b, e in d.rows for j in range(b, e) if j in own)
                ]
                named = named if len(named) < len(drafts) else []
            if scan.key(k) in _ALIKE and named:
                named, subjects[k:end] = [], [[] for _ in range(k, end)]
            if named and k not in within:
                subjects[k] = named


def _meant(head: Head, drafts: list[Draft]) -> list[Draft]:
    if not head.is_axle:
        return [d for d in drafts if d.kind == head.kind and d.part == head.part]
    axles = [d for d in drafts if d.kind in ("axle", "housing")]
    return [d for d in axles if not head.positions or d.position in head.positions or not d.position]


def _loose_things(scan: Scan, drafts: list[Draft], said: list[Block], subjects: list[list[Draft]]) -> None:
    """What stands about a thing beside the axles: from where it opens to the end of its sentence or to the next."""
    loose = [d for d in drafts if d.kind not in ("axle", "housing", "vehicle")]
    if sum(d.kind == "other" for d in drafts) > 1:
        subjects[: drafts[0].begin] = [[] for _ in range(drafts[0].begin)]
    loose = [d for d in loose if not (d.kind == "part" and _listed_close(scan, drafts, d))]
    opens = [_opening(scan, min(k for k in (d.begin, *d.spans) if d.begin - k < _CLOSE)) for d in loose]
    turns = [b.begin for b in said if b.named and (len(loose) < len(drafts) or not b.ends)]
    for draft, begin, following in zip(loose, opens, [*opens, len(scan.pieces)][1:], strict=True):
        end = min([t for t in turns if t > draft.begin] + [following])
        stop = next((k for k in range(draft.begin, end) if is_sentence_end(scan, k)), end)
        for k in range(begin, stop):
            subjects[k] = [draft]


def _one_list(scan: Scan, drafts: list[Draft]) -> bool:
    """Whether parts are all named in one sentence: what the next ones say is of all of them."""
    first, last = min(d.begin for d in drafts), max(d.begin for d in drafts)
    return not any(is_sentence_end(scan, k) for k in range(first, last))


def _listed_close(scan: Scan, drafts: list[Draft], own: Draft) -> bool:
    """Whether a part is named in one breath with another (``booster & master cylinder off an 03``)."""
    near = (
        abs(d.begin - own.begin) <= _IN_A_BREATH
        and scan.priced(min(d.begin, own.begin), max(d.begin, own.begin)) is None
        for d in drafts
        if d is not own and d.kind == "part"
    )
    return (
        any(near)
        and all(d.kind == "part" for d in drafts)
        and not any(is_sentence_end(scan, k) for k in range(drafts[0].begin, own.begin))
    )


def _opening(scan: Scan, begin: int) -> int:
    """Where the stretch about a loose part opens: at ``also``, or at the figures that stand before its noun."""
    for k in range(begin - 1, max(begin - 9, -1), -1):
        if scan.role(k, "cue") == "also":
            return k
        if is_clause_end(scan, k):
            return k + 1 if begin - k <= 6 else begin
    return begin
