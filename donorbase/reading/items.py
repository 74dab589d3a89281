"""Step 13: nouns -> the things on offer, and which stretch of the text speaks of which of them."""

from dataclasses import dataclass, field

from donorbase.reading.heads import Head, line_bounds
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.scope import is_clause_end, is_sentence_end

_LIST_LINKS = frozenset({"&", "and", "+", ",", "/", "n", "y", "et", "w/"})
_LEADING = frozenset({"•", "-", "*", "(", ")", "|", "#", ":", "1", "2", "3", "4", "a", "b", "c", "d", ".", "loc", "stk", "row", "lot", "item"})


@dataclass(slots=True, eq=False)
class Draft:
    """A thing on offer in the making; ``begin`` is where it is first named."""

    kind: str
    part: str = ""
    position: str = ""
    begin: int = 0
    spans: tuple[int, ...] = ()
    rows: list[tuple[int, int]] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)


def draft_items(scan: Scan, heads: list[Head]) -> list[Draft]:
    """The things on offer in the order of the text."""
    living = [h for h in heads if not h.beside]
    gears = _gears_alone(scan, living)
    if gears is not None:
        return [gears]
    kind = _chief(scan, living)
    if kind is None:
        return _nameless(scan)
    rows = _rows(scan, living, kind)
    if rows:
        return rows
    if kind in ("vehicle", "other"):
        return [_chief_draft(living, kind)] if kind != "vehicle" else [Draft("vehicle", begin=_first(living, kind))]
    if kind == "wheels-tires":
        return [_chief_draft(living, kind)]
    if kind == "part":
        return _parts(scan, living, [h for h in heads if h.bare])
    return _axles(scan, living)


def _gears_alone(scan: Scan, living: list[Head]) -> Draft | None:
    """``4.88 gears for a 9.75 front``: a ring and pinion, by the word that everybody uses for it."""
    if any(h.is_axle and not h.bare for h in living):
        return None
    for k in range(min(6, len(scan.pieces))):
        if scan.key(k) in ("gears", "gear set", "gearset", "gear") and scan.role(k + 1, "cue") in ("for", "fits"):
            return Draft("part", "ring-and-pinion", begin=k, spans=(k,))
    return None


def _first(living: list[Head], kind: str) -> int:
    return next((h.begin for h in living if h.kind == kind), 0)


def _chief_draft(living: list[Head], kind: str) -> Draft:
    head = next(h for h in living if h.kind == kind)
    position = head.positions[0] if len(head.positions) == 1 and kind != "vehicle" else ""
    return Draft(kind, head.part, position, head.begin, head.spans)


def _chief(scan: Scan, living: list[Head]) -> str | None:
    """What kind of thing the listing is about in the first place."""
    named = [h for h in living if not h.bare]
    axles = [h for h in named if h.is_axle]
    if not named:
        if any(h.bare for h in living):
            return "axle" if _axle_facts(scan) or not _truck(scan) else "vehicle"
        return None
    first = named[0]
    if first.kind != "vehicle" and not axles and _starts_with_locker(scan, living):
        return None
    vehicle = next((h for h in named if h.kind == "vehicle"), None)
    if vehicle and (not axles or vehicle.begin < axles[0].begin):
        return "vehicle"
    if first.kind in ("other", "wheels-tires") and axles:
        return "axle"
    if first.kind == "other":
        better = next((h for h in named if h.kind == "part" and h.begin < first.begin + 4), None)
        bare_first = any(h.bare for h in living) and _axle_facts(scan, 2)
        return "part" if better else "axle" if bare_first else "other"
    if first.kind == "part":
        bare = [h for h in living if h.bare and h.begin < first.begin]
        if bare and _axle_facts(scan):
            return "axle"
        if axles and _mere_mention(scan, first, axles[0]):
            return "axle"
        if not axles and _whole_axle_words(scan, first):
            return "axle"
        return "part"
    if first.kind == "wheels-tires" and any(h.bare and h.begin < first.begin for h in living) and _axle_facts(scan):
        return "axle"
    return "axle" if first.is_axle else first.kind


def _starts_with_locker(scan: Scan, living: list[Head]) -> bool:
    """Whether a kind of differential stands first, and no end of a vehicle is named: the unit itself is sold."""
    said = [m for m in scan.marks if m.live and m.attribute not in ("price", "offer", "contact", "price_terms", "rebuilt")]
    return bool(said) and said[0].attribute == "differential" and said[0].begin <= 4 and not any(h.bare for h in living)


def _mere_mention(scan: Scan, part: Head, axle: Head) -> bool:
    """Whether the part only describes the axle that follows it in the same sentence or starts a later one."""
    return not any(m.attribute == "price" and m.live and part.begin < m.begin < axle.begin for m in scan.marks) and axle.begin - part.begin < 12 and bool(axle.positions)


def _whole_axle_words(scan: Scan, part: Head) -> bool:
    """``14 bolt, 4.10, shafts and covers good``: an axle by its cover bolts before any part is named."""
    return any(m.attribute in ("cover_bolts",) and m.live and m.end <= part.begin - 2 for m in scan.marks) and any(
        m.attribute in ("ratio", "float") and m.live and m.end <= part.begin for m in scan.marks
    )


_AXLE_FACTS = frozenset({"ratio", "knuckle", "float", "lugs", "cover_bolts", "width_in", "ring_gear_in", "drop", "splines", "differential", "bolt_circle_mm", "suspension", "pinion", "tube_in", "inner_splines", "outer_splines"})  # fmt: skip


def _axle_facts(scan: Scan, least: int = 1) -> bool:
    return len({m.attribute for m in scan.marks if m.attribute in _AXLE_FACTS and m.live}) >= least


def _truck(scan: Scan) -> bool:
    return any(p.roles.get("cue") == "truck" for p in scan.pieces)


def _nameless(scan: Scan) -> list[Draft]:
    """No noun at all: a truck, an axle by its figures, a differential by its kind, or something else."""
    live = [m for m in scan.marks if m.live]
    if any(scan.at(i).raw == "x" and scan.at(i - 1).kind == scan.at(i + 1).kind == "num" and (scan.at(i - 1).value or 0) > 12 for i in range(len(scan.pieces))):
        return [Draft("wheels-tires", spans=())]
    locker = next((m for m in live if m.attribute == "differential"), None)
    if locker is not None and _starts_with_locker(scan, []):
        return [Draft("part", "differential", begin=locker.begin, spans=(locker.begin,))]
    if any(m.attribute in ("cover_bolts", "float", "knuckle") for m in live) or (any(m.attribute == "ratio" for m in live) and not _truck(scan)):
        return [Draft("axle")]
    if any(m.attribute in ("ring_gear_in", "width_in") for m in live) and not any(m.attribute == "differential" for m in live):
        return [Draft("axle")]
    if _truck(scan):
        return [Draft("vehicle")]
    if locker is not None:
        return [Draft("part", "differential", begin=locker.begin, spans=(locker.begin,))]
    return [Draft("other")]


def _parts(scan: Scan, living: list[Head], positions: list[Head]) -> list[Draft]:
    """The first part, and those listed with it."""
    nouns = [h for h in living if h.kind == "part"]
    first = nouns[0]
    drafts = [_part(first, positions)]
    previous = first
    for head in nouns[1:]:
        if any(d.part == head.part and (not head.positions or d.position in ("", *head.positions)) for d in drafts):
            previous = head if _adjacent(scan, previous, head) else previous
            continue
        if _adjacent(scan, previous, head) or _starts_anew(scan, head):
            drafts.append(_part(head, []))
            drafts[-1].position = drafts[-1].position or (drafts[0].position if _adjacent(scan, previous, head) else "")
            previous = head
    return drafts


def _part(head: Head, positions: list[Head]) -> Draft:
    where = head.positions[0] if len(head.positions) == 1 else ""
    draft = Draft("part", head.part, where, head.begin, head.spans)
    if not where and len({p.positions for p in positions}) == 1 and len(positions[0].positions) == 1:
        draft.position, draft.spans = positions[0].positions[0], (*draft.spans, positions[0].begin)
    return draft


def _adjacent(scan: Scan, previous: Head, head: Head) -> bool:
    gap = range(previous.end, head.begin)
    return len(gap) <= 3 and all(scan.key(k) in _LIST_LINKS or k in head.spans or scan.key(k) in ("the", "2", "two", "both") for k in gap)


def _starts_anew(scan: Scan, head: Head) -> bool:
    """Whether a noun opens a segment of its own: after ``also``, or after a semicolon or line end."""
    k = head.spans[0] - 1 if head.spans else head.begin - 1
    for _ in range(6):
        if scan.role(k, "cue") == "also":
            return True
        if scan.key(k) == ";" or scan.at(k).kind == "line":
            return True
        if k < 0 or is_clause_end(scan, k):
            return False
        k -= 1
    return False


def _axles(scan: Scan, living: list[Head]) -> list[Draft]:
    """One axle for each position spoken of, and what is sold beside them."""
    drafts: list[Draft] = []
    axles = [h for h in living if h.is_axle]
    housing = any(h.kind == "housing" and not h.bare for h in axles) and not any(h.kind == "axle" and not h.bare for h in axles)
    kind = "housing" if housing else "axle"
    named = [h for h in axles if not h.bare]
    for head in axles:
        if head.bare and not _names_axle(scan, head, named):
            continue
        for position in head.positions:
            if all(d.position != position for d in drafts):
                drafts.append(Draft(_own_kind(axles, position, kind), "", position, head.begin, head.spans))
    if not drafts:
        first = next((h for h in axles), None)
        drafts.append(Draft(kind, begin=first.begin if first else 0, spans=first.spans if first else ()))
    return sorted([*drafts, *_beside_axles(scan, living, drafts)], key=lambda d: d.begin)


def _own_kind(axles: list[Head], position: str, kind: str) -> str:
    own = [h.kind for h in axles if position in h.positions and not h.bare]
    return "housing" if own and all(k == "housing" for k in own) else "axle" if own else kind


def _names_axle(scan: Scan, head: Head, named: list[Head]) -> bool:
    """Whether a bare ``front`` means an axle on offer: not where one named axle has the other position alone."""
    if not named:
        return True
    said = {p for h in named for p in h.positions}
    plural = any(scan.at(h.begin).key.endswith(("axles", "axels", "axls", "ejes", "ponts", "essieux", "housings", "set", "pair")) for h in named)
    if plural or not said or set(head.positions) <= said:
        return True
    return scan.key(head.end) == ":" or any(m.attribute == "price" and m.live and head.begin < m.begin <= head.end + 3 for m in scan.marks) or len(said) == 2


def _beside_axles(scan: Scan, living: list[Head], drafts: list[Draft]) -> list[Draft]:
    """Loose parts and wheels sold with an axle."""
    found: list[Draft] = []
    for head in living:
        if head.kind == "wheels-tires" and _thrown_in(scan, head):
            if not any(d.kind == "wheels-tires" for d in found):
                found.append(Draft("wheels-tires", "", "", head.begin, (head.begin,)))
        elif head.kind == "part" and any(h.is_axle and head.end < h.begin and _adjacent(scan, head, h) and scan.key(head.end) in ("and", "&", "+", "plus") for h in living):
            found.append(_part(head, []))
        elif head.kind in ("part", "other") and head.begin > drafts[0].begin and _starts_anew(scan, head) and _own_thing(scan, head):
            where = head.positions[0] if len(head.positions) == 1 else ""
            found.append(Draft(head.kind, head.part, where, head.begin, head.spans))
    return found


def _thrown_in(scan: Scan, head: Head) -> bool:
    for k in range(head.begin - 1, max(head.begin - 12, -1), -1):
        if is_sentence_end(scan, k):
            return False
        if scan.role(k, "cue") in ("with", "also") or scan.key(k) in ("and", "&", "plus"):
            return scan.role(k - 1, "cue") != "source" and scan.key(k - 1) not in ("off", "ran", "came off")
    return False


def _own_thing(scan: Scan, head: Head) -> bool:
    """Whether a part named after a break is sold as such: with ``also``, a number of them, or a price."""
    begin = head.spans[0] if head.spans else head.begin
    lead = range(max(begin - 6, 0), begin)
    if any(scan.role(k, "cue") == "also" for k in lead):
        return True
    ends = next((k for k in range(head.end, len(scan.pieces)) if is_sentence_end(scan, k)), len(scan.pieces))
    priced = any(m.attribute == "price" and m.live and head.end <= m.begin < min(ends, head.end + 8) for m in scan.marks)
    counted = scan.key(head.end) == "(" and scan.at(head.end + 1).kind == "num"
    return (priced or counted) and head.kind == "part"


def _rows(scan: Scan, living: list[Head], kind: str) -> list[Draft]:
    """Things listed one by one: lines of a yard board, ``(A) ... (B) ...``, or pieces of a part-out with prices."""
    for bounds in (line_bounds(scan), _lettered(scan)):
        rows = [(b, e, _row_head(scan, living, b, e)) for b, e in bounds]
        rows = [r for r in rows if r[2] is not None]
        if len(rows) >= 2 and _is_list(scan, rows):
            return [_row(head, b, e) for b, e, head in rows if head is not None]
    lettered = _lettered(scan)
    announced = [h for h in living if lettered and h.end <= lettered[0][0] and len(h.positions) <= 1]
    if announced and not any(h.is_axle and h.begin >= lettered[0][0] for h in living):
        return [_row(announced[-1], b, e) for b, e in lettered]
    if kind == "vehicle":
        return _priced(scan, living)
    return []


def _row(head: Head, begin: int, end: int) -> Draft:
    where = head.positions[0] if len(head.positions) == 1 else ""
    return Draft(head.kind, head.part, where, head.begin, head.spans, [(begin, end)])


def _row_head(scan: Scan, living: list[Head], begin: int, end: int) -> Head | None:
    """The noun that a row is about: the first that has nothing but figures before it."""
    for head in living:
        if begin <= head.begin < end:
            front = min((head.begin, *head.spans))
            lead = [k for k in range(begin, front) if not scan.used[k] and scan.at(k).kind == "word" and not scan.at(k).facts and scan.key(k) not in _LEADING
                    and not scan.role(k, "label")]  # fmt: skip
            return head if len(lead) <= 2 else None
    return None


def _is_list(scan: Scan, rows: list[tuple[int, int, Head | None]]) -> bool:
    heads = [h for _, _, h in rows if h is not None]
    priced = sum(any(m.attribute == "price" and m.live and "was" not in m.flags and b <= m.begin < e for m in scan.marks) for b, e, _ in rows)
    same = len({(h.kind, h.part, h.positions) for h in heads}) < len(heads)
    both = any(len(h.positions) > 1 for h in heads)
    full = all(sum(m.attribute in _AXLE_FACTS and m.live and b <= m.begin < e for m in scan.marks) >= 2 for b, e, _ in rows)
    return not both and (priced >= 2 or (same and priced == 0 and full) or _board(scan, rows))


def _board(scan: Scan, rows: list[tuple[int, int, Head | None]]) -> bool:
    return all(any(scan.key(k) == "|" for k in range(b, e)) for b, e, _ in rows)


def _lettered(scan: Scan) -> list[tuple[int, int]]:
    """The stretches that begin with ``(A)``, ``1)`` or ``#2``."""
    starts = [i for i in range(len(scan.pieces))
              if scan.key(i) == "(" and scan.key(i + 2) == ")" and (scan.key(i + 1) in "abcdef" or scan.key(i + 1) in ("1", "2", "3", "4"))
              and (i == 0 or is_clause_end(scan, i - 1) or scan.at(i - 1).kind in ("num", "word", "sym"))]  # fmt: skip
    starts = [i for i in starts if scan.key(i + 1) != ""]
    if len(starts) < 2:
        starts = [i for i in range(len(scan.pieces)) if scan.key(i + 1) == ")" and scan.key(i) in ("1", "2", "3", "4", "a", "b", "c") and scan.key(i - 1) != "("]
    return [(a, b) for a, b in zip(starts, [*starts[1:], len(scan.pieces)], strict=True)] if len(starts) >= 2 else []


def _priced(scan: Scan, living: list[Head]) -> list[Draft]:
    """The pieces of a part-out that have a price each."""
    found: list[Draft] = []
    begin = 0
    for i in range(len(scan.pieces) + 1):
        if i < len(scan.pieces) and not (is_clause_end(scan, i) or scan.key(i) in (":",)):
            continue
        price = next((m for m in scan.marks if m.attribute == "price" and m.live and begin <= m.begin < i and "was" not in m.flags), None)
        head = next((h for h in living if begin <= h.begin < i and h.kind != "vehicle"), None)
        if price is not None and (head is not None or (found and price.begin - begin <= 4 and price.begin > begin)):
            vehicle = any(h.kind == "vehicle" and begin <= h.begin < i for h in living)
            start = min((head.begin, *head.spans)) if head and vehicle else begin
            found.append(_row(head, start, i) if head else Draft("other", begin=begin, rows=[(begin, i)]))
        elif price is not None and found and i - begin <= 3 and head is None and price.begin == begin:
            pass
        elif head is not None and price is None and scan.key(i) == ",":
            continue
        begin = i + 1
    return found if len(found) >= 2 else []
