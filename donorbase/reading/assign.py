"""Step 14: every fact -> the thing on offer that it speaks of."""

from bisect import bisect_left

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import WHEEL_FACTS, Draft
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
_GEARED = frozenset({"differential", "carrier", "third-member", "ring-and-pinion"})
_PARTS_WITH = {
    "caliper_pistons": frozenset({"caliper"}),
    "differential": frozenset({"differential", "carrier", "third-member"}),
    "ratio": _GEARED,
    "hubs": frozenset({"hub", "locking-hub", "unit-bearing"}),
}
"""What only some parts can have, where one of these is on offer."""
_BREATH = 5
_BREATH_WORDS = frozenset({"&", "and", "+", "/", "n", "y", "et", ",", "(", ")", "1", "a", "the", "one"})
_CLAUSE = 60
"""No clause is longer."""
_ALL_CUES = frozenset({"both-ends", "neither"})
_ALL_WORDS = frozenset({"both", "neither", "they", "all", "each", "axles", "pair"})


def assign(scan: Scan, drafts: list[Draft], heads: list[Head]) -> None:
    """Give each draft its marks; a mark that speaks of all goes to each."""
    if len(drafts) == 1:
        drafts[0].marks += [m for m in scan.marks if not m.dropped and m.attribute not in _NAMING]
        return
    subjects = _subjects(scan, drafts, heads)
    listed = any(d.rows for d in drafts)
    for mark in scan.marks:
        if not mark.live or mark.attribute in _OFFER or mark.attribute in ("item", "position"):
            continue
        for draft in _narrowed(mark, subjects[mark.begin] or drafts, drafts):
            if not listed or _said_of(mark, draft):
                draft.marks.append(mark)
    share(scan, drafts)


def _said_of(mark: Mark, draft: Draft) -> bool:
    """Whether what is said outside a list's rows is meant of a row: of a part only what its truck or axle was."""
    if draft.kind != "part" or any(b <= mark.begin < e for b, e in draft.rows):
        return True
    name = mark.attribute
    return name in _OF_THE_DONOR or (name in ("lugs", "bolt_circle_mm") and draft.part in _BOLTED)


def _narrowed(mark: Mark, subject: list[Draft], drafts: list[Draft]) -> list[Draft]:
    """Where a fact that only a front can have is said of a front and a rear alike, it is the front's."""
    if mark.attribute not in WHEEL_FACTS and all(d.kind in ("wheels-tires", "other") for d in subject):
        return [d for d in drafts if d.kind in ("axle", "housing")] or subject
    if len(subject) < 2:
        return subject
    parts = _PARTS_WITH.get(mark.attribute)
    if parts and any(d.part in parts for d in subject):
        return [d for d in subject if d.part in parts or d.kind in ("axle", "vehicle")]
    front = mark.attribute in _FRONT_ONLY or (mark.attribute in ("has", "missing") and mark.value in _FRONT_PARTS)
    rear = mark.attribute in _REAR_ONLY
    wanted = "front" if front else "rear" if rear else ""
    kept = [d for d in subject if not wanted or d.position in (wanted, "") or d.kind not in ("axle", "housing")]
    return kept or subject


def _subjects(scan: Scan, drafts: list[Draft], heads: list[Head]) -> list[list[Draft]]:
    """For each piece, the drafts it speaks of; empty for all of them."""
    subjects: list[list[Draft]] = [[] for _ in scan.pieces]
    subjects.append([])
    if len(drafts) < 2:
        return subjects
    rows = [(b, e, d) for d in drafts for b, e in d.rows]
    if rows:
        for begin, end, draft in rows:
            for k in range(begin, min(end, len(scan.pieces))):
                subjects[k] = [draft]
        _outside_rows(scan, drafts, heads, subjects)
        return subjects
    _walk(scan, drafts, heads, subjects)
    return subjects


def _outside_rows(scan: Scan, drafts: list[Draft], heads: list[Head], subjects: list[list[Draft]]) -> None:
    """What a sentence beside the rows speaks of: the axles, those of one end, the wheels ..., else everything."""
    for begin, end in scan.sentences:
        first, last = (bisect_left(heads, k, key=lambda h: h.begin) for k in (begin, end))
        said = [h for h in heads[first:last] if h.kind != "vehicle" and not subjects[h.begin]]
        for number, head in enumerate(said):
            until = min((said[number + 1].begin, *said[number + 1].spans)) if number + 1 < len(said) else end
            named = _meant(head, drafts)
            for k in range(begin, until):
                subjects[k] = subjects[k] or named
            begin = until


def _meant(head: Head, drafts: list[Draft]) -> list[Draft]:
    if not head.is_axle:
        return [d for d in drafts if d.kind == head.kind and d.part == head.part]
    axles = [d for d in drafts if d.kind in ("axle", "housing")]
    return [d for d in axles if not head.positions or d.position in head.positions or not d.position]


def _walk(scan: Scan, drafts: list[Draft], heads: list[Head], subjects: list[list[Draft]]) -> None:
    switches = _switches(scan, drafts, heads)
    paired = _paired(scan, drafts, heads)
    announced = _announced(scan, heads, switches)
    main = [d for d in drafts if d.kind in ("axle", "housing")] or (
        [] if _listed_close(scan, drafts, drafts[0]) or _one_list(scan, drafts) else drafts[:1]
    )
    current: list[Draft] = main if len(main) < len(drafts) else []
    rest = current
    lasting = False
    opening = drafts[0].begin if sum(d.kind == "other" for d in drafts) > 1 else 0
    for i in range(opening, len(scan.pieces)):
        if i in switches:
            named, kind = switches[i]
            if kind == "price":
                subjects[i] = current
                continue
            if kind == "tail":
                begin = _clause_begin(scan, i)
                begin = _clause_begin(scan, begin - 1) if _afterthought(scan, begin, i) else begin
                begin = _after_the_pair(scan, heads, begin, i)
                for k in range(begin, i + 1):
                    subjects[k] = named
                if len(named) > 1 or (not lasting and current and current != named):
                    current, lasting = rest, False
                continue
            current, lasting = named, kind == "label"
        elif is_sentence_end(scan, i) and not _breaks_off(scan, i):
            if scan.at(i).kind == "line" or (not lasting and (paired or (announced and scan.key(i) != "?"))):
                current, lasting = rest, False
            elif (not lasting and current and current[0].kind not in ("axle", "housing")) or _speaks_of_all(
                scan, i + 1
            ):
                current = rest
        subjects[i] = current


def _breaks_off(scan: Scan, i: int) -> bool:
    """``drums... no, those are rotors``: the dots end no sentence where the seller puts himself right."""
    end = i
    while scan.key(end) == "." and end < i + _BREATH:
        end += 1
    dots = end - i > 1 or (i > 0 and scan.key(i - 1) == "." and scan.key(i) == ".")
    return dots and (scan.role(end, "cue") == "correct" or scan.key(end) in ("no", "nope", "nah"))


def _announced(scan: Scan, heads: list[Head], switches: dict[int, tuple[list[Draft], str]]) -> bool:
    """Whether both axles are named together before either is (``Both axles from a 2019. Front has ...``)."""
    first = next((h for h in heads if h.is_axle and not h.beside), None)
    if first is None:
        return False
    together = len(first.positions) > 1 or (not first.positions and scan.key(first.begin).endswith("s"))
    return together or any(k < first.begin and len(named) > 1 for k, (named, _) in switches.items())


def _one_list(scan: Scan, drafts: list[Draft]) -> bool:
    """Whether parts are all named in one sentence: what the next ones say is of all of them."""
    first, last = min(d.begin for d in drafts), max(d.begin for d in drafts)
    return not any(is_sentence_end(scan, k) for k in range(first, last))


def _paired(scan: Scan, drafts: list[Draft], heads: list[Head]) -> bool:
    """Whether front and rear are spoken of in one breath somewhere (``front is 4.10, rear is 3.73``)."""
    if sum(d.kind in ("axle", "housing") for d in drafts) < 2:
        return False
    living = [h for h in heads if h.is_axle and not h.beside and h.positions]
    for begin, end in scan.sentences:
        first, last = (bisect_left(living, k, key=lambda h: h.begin) for k in (begin, end))
        if len({p for h in living[first:last] for p in h.positions}) > 1:
            return True
    return False


def _after_the_pair(scan: Scan, heads: list[Head], begin: int, i: int) -> int:
    """``pair of axles 4.56 gears kingpin front``: only what stands next to the position is of it alone."""
    pair = any(
        begin <= h.begin < i and h.is_axle and not h.bare and (len(h.positions) > 1 or scan.key(h.begin).endswith("s"))
        for h in heads
    )
    said = [m for m in scan.within(begin, i) if m.attribute not in _NAMING]
    return max(said[-1].begin, begin) if pair and said else begin


def _speaks_of_all(scan: Scan, i: int) -> bool:
    if scan.role(i, "cue") == "source" and scan.key(i - 1) == ".":
        return True  # From a 1985 one ton.
    for k in range(i, len(scan.pieces)):
        if is_sentence_end(scan, k):
            return False
        if scan.key(k) in _ALL_WORDS or scan.role(k, "cue") in ("both-ends", "neither"):
            return True
    return False


def _switches(scan: Scan, drafts: list[Draft], heads: list[Head]) -> dict[int, tuple[list[Draft], str]]:
    found: dict[int, tuple[list[Draft], str]] = {}
    by_position = {d.position: d for d in drafts if d.kind in ("axle", "housing") and d.position}
    for i, piece in enumerate(scan.pieces):
        of_all = piece.roles.get("cue") in _ALL_CUES or piece.key in ("both", "neither", "both axles")
        if (of_all and not _both_of_a_part(scan, i)) or _all_at_once(scan, i):
            found[i] = ([d for d in drafts if d.kind in ("axle", "housing")] or drafts, _form(scan, i, i + 1))
    joined: list[Draft] = []
    for number, head in enumerate(heads):
        if head.beside:
            continue
        joined = joined if number and _joined(scan, heads[number - 1], head) else []
        own = next((d for d in drafts if d.begin == head.begin and d.kind not in ("axle", "housing")), None)
        if own is not None and own.kind == "part" and _listed_close(scan, drafts, own):
            continue
        if own is not None:
            found[_opening(scan, min((head.begin, *head.spans)))] = ([own], "head")
        elif head.is_axle and head.positions:
            named = [by_position[p] for p in head.positions if p in by_position]
            named = [*(d for d in joined if d not in named), *named]
            joined = named
            if named:
                found[min((head.begin, *head.spans))] = (named, _form(scan, min((head.begin, *head.spans)), head.end))
        elif (
            head.kind == "part"
            and len(head.positions) == 1
            and head.positions[0] in by_position
            and not any(d.kind == "part" for d in drafts)
        ):
            found[min((head.begin, *head.spans))] = ([by_position[head.positions[0]]], "head")
    return found


def _both_of_a_part(scan: Scan, i: int) -> bool:
    """``calipers missing both.``: both of one end's, not both ends."""
    return scan.key(i) == "both" and scan.role(i - 1, "cue") in ("no", "gone", "taken") and is_clause_end(scan, i + 1)


def _all_at_once(scan: Scan, i: int) -> bool:
    """``2 fronts 1 rear, all single wheel``: what opens a clause with ``all`` is told of each."""
    following = scan.at(i + 1)
    told = following.kind == "num" or any(name not in ("position", "part") for name, _ in following.facts)
    return scan.key(i) in ("all", "everything") and told and is_clause_end(scan, i - 1)


def _joined(scan: Scan, first: Head, second: Head) -> bool:
    """``front axle & rear axle 3.73``, ``(1) front axle, (1) rear axle``: two ends in one breath."""
    begin = min((second.begin, *second.spans))
    both = first.is_axle and second.is_axle and not first.bare and not second.bare
    gap = range(first.end, begin)
    return both and 0 < len(gap) <= _BREATH and all(scan.key(k) in _BREATH_WORDS for k in gap)


def _form(scan: Scan, begin: int, end: int) -> str:
    """``head``: what follows belongs to it; ``label``: even over sentences; ``tail``: what stands before.

    ``price``: it says only what a price before it is for (``$900 front``).
    """
    if any(m.attribute == "price" and m.end == begin for m in scan.within(begin - 4, begin)) and end - begin == 1:
        return "price"
    if scan.key(end) in (":", "="):
        return "label"
    clause = _clause_begin(scan, begin)
    if _thought_of_late(scan, begin, end):
        return "tail"
    said = [m for m in scan.within(clause, begin) if m.attribute not in _NAMING]
    paired = scan.key(begin - 1) in ("and", "&", "or") and clause > 0 and _is_position(scan, clause - 1)
    if said and not paired and (_closes(scan, end) or _placed(scan, begin)):
        return "tail"
    if clause == begin and (begin == 0 or scan.at(begin - 1).kind == "line"):
        return "label"
    return "head"


def _thought_of_late(scan: Scan, begin: int, end: int) -> bool:
    """``..., the rear one.``"""
    late = scan.key(begin - 1) == "the" and scan.key(begin - 2) == "," and begin > 1
    return late and is_clause_end(scan, end) and end - begin <= 2


def _is_position(scan: Scan, k: int) -> bool:
    return any(name == "position" for name, _ in scan.at(k).facts)


def _closes(scan: Scan, end: int) -> bool:
    """Whether a position ends what was said: before a stop or ``and``, or where the clause ends in a position too."""
    if (
        end >= len(scan.pieces)
        or is_clause_end(scan, end)
        or scan.key(end) in ("and", "&", "but", "or", "-", "y", "too")
    ):
        return True
    stops = (k for k in range(end, end + _CLAUSE) if k >= len(scan.pieces) or is_clause_end(scan, k))
    last = next(stops, end + _CLAUSE) - 1
    return last > end and _is_position(scan, last) and bool(scan.within(end, last))


def _placed(scan: Scan, begin: int) -> bool:
    """``3.73 in front``, ``on the rear``."""
    return scan.key(begin - 1) in ("in", "on", "at", "en", "up", "out") or scan.key(begin - 2) in (
        "in",
        "on",
        "at",
        "en",
    )


def _listed_close(scan: Scan, drafts: list[Draft], own: Draft) -> bool:
    """Whether a part is named in one breath with another (``booster & master cylinder off an 03``)."""
    near = (abs(d.begin - own.begin) <= 3 for d in drafts if d is not own and d.kind == "part")
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


def _afterthought(scan: Scan, begin: int, i: int) -> bool:
    """``one of the two leaks, the rear one``."""
    return (
        begin > 1
        and scan.key(begin - 1) == ","
        and i - begin <= 1
        and is_clause_end(scan, i + 1)
        and scan.key(begin) in ("the", scan.key(i))
    )


def _clause_begin(scan: Scan, i: int) -> int:
    farthest = max(i - _CLAUSE, 0)
    while i > farthest and not is_clause_end(scan, i - 1) and scan.key(i - 1) not in ("but",):
        i -= 1
        if scan.pieces[i].facts and any(n == "position" for n, _ in scan.pieces[i].facts):
            return i + 1
    return i
