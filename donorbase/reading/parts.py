"""Step 13c: which of the parts named are things for sale of their own."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import Draft
from donorbase.reading.heads import Head
from donorbase.reading.scan import Mark, Scan

_LINKS = frozenset({"&", "and", "+", ",", "/", "n", "y", "et", "w/"})
_SMALL = frozenset({"the", "2", "two", "both", "a", "set of", "pair of", "set", "pair"})
_PARTING = frozenset({",", ";", ":", "+", "plus", "&", "and", "•", "|"})
_BEFORE_A_NOUN = frozenset(
    {"the", "a", "an", "new", "good", "used", "nice", "spare", "set of", "complete", "of", "(", ")", "x"}
)


def parts(scan: Scan, living: list[Head], positions: list[Head]) -> list[Draft]:
    """The first part, and those listed with it."""
    nouns = [h for h in living if h.kind == "part"]
    first = nouns[0]
    if len({h.part for h in nouns}) == 1 and _sets_of_both_ends(scan, first, positions):
        return [Draft("part", first.part, end, first.begin, first.spans) for end in ("front", "rear")]
    drafts = [part_draft(first, positions)]
    previous = first
    for head in nouns[1:]:
        beside = adjacent(scan, previous, head)
        if beside and _as_one(scan, head):
            if head.mark is None:
                scan.marks.append(Mark("has", head.part, head.begin, head.end))
            continue
        if beside and {previous.part, head.part} == {"hub", "unit-bearing"}:
            drafts[-1].part, previous = "unit-bearing", head
            continue
        if any(d.part == head.part and (not head.positions or d.position in ("", *head.positions)) for d in drafts):
            previous = head if beside else previous
            continue
        if beside or starts_anew(scan, head) or counted(scan, head) or _alone(scan, head) or _added_on(scan, head):
            _no_longer_included(head)
            drafts.append(part_draft(head, []))
            drafts[-1].position = drafts[-1].position or (drafts[0].position if beside else "")
            previous = head
    own = [Head("axle", "", first.positions, k, k + 1, bare=True) for k in first.spans if k > first.begin]
    ends = [p for p in (*own, *positions) if len(p.positions) == 1 and scan.priced(p.end, p.end + 3) is not None]
    if len(drafts) == 1 and {p.positions[0] for p in ends} == {"front", "rear"}:
        return _one_for_each(drafts[0], ends)
    return drafts


def _sets_of_both_ends(scan: Scan, head: Head, positions: list[Head]) -> bool:
    """``Gears 4.10 out of front and rear of a 2016, both sets``: an end has one set of gears."""
    ends = {end for h in (head, *positions) for end in h.positions}
    several = any(
        scan.key(k) in _SETS and scan.key(k - 1) in ("both", "2", "for both", "the") for k in range(len(scan.pieces))
    )
    return head.part == "ring-and-pinion" and len(ends) > 1 and (several or len(head.positions) > 1)


_SETS = frozenset({"sets", "both sets"})


def _one_for_each(draft: Draft, ends: list[Head]) -> list[Draft]:
    """``Driveshafts: front $75, rear $90``: a part for each end, at its own price."""
    spans = tuple(k for k in draft.spans if k <= draft.begin)
    first = {p.positions[0]: p for p in reversed(ends)}
    two = sorted(first.values(), key=lambda p: p.begin)
    return [Draft("part", draft.part, p.positions[0], p.begin, (*spans, p.begin)) for p in two]


def part_draft(head: Head, positions: list[Head]) -> Draft:
    """The part of a noun; where it has no position of its own, the one that all of ``positions`` name."""
    where = head.positions[0] if len(head.positions) == 1 else ""
    draft = Draft("part", head.part, where, head.begin, head.spans)
    if not where and len({p.positions for p in positions}) == 1 and len(positions[0].positions) == 1:
        draft.position, draft.spans = positions[0].positions[0], (*draft.spans, positions[0].begin)
    return draft


def adjacent(scan: Scan, previous: Head, head: Head) -> bool:
    """Whether nothing but links stands between two nouns."""
    gap = range(previous.end, head.begin)
    if len(gap) > 1 and scan.key(gap[0]) == "(" and scan.at(gap[1]).kind == "num":
        gap = gap[3:]  # knuckles (2), spindles (2)
    return 0 < len(gap) <= 5 and all(scan.key(k) in _LINKS or k in head.spans or scan.key(k) in _SMALL for k in gap)


def starts_anew(scan: Scan, head: Head) -> bool:
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


def added(scan: Scan, head: Head) -> bool:
    """``+ pair of rotors``."""
    return counted(scan, head, frozenset({"+"}))


def counted(scan: Scan, head: Head, behind: frozenset[str] = _PARTING) -> bool:
    """``, 2 calipers``, ``plus 1 caliper``, ``pair of shafts``: whether a number of them opens the segment."""
    k = min((head.begin, *head.spans)) - 1
    count = False
    while k >= 0 and (
        scan.key(k) in _BEFORE_A_NOUN or scan.at(k).facts or scan.role(k, "count") or scan.at(k).kind == "num"
    ):
        count = count or bool(scan.role(k, "count")) or (scan.at(k).raw.isdigit() and int(scan.at(k).raw) < 13)
        k -= 1
    return count and (scan.key(k) in behind or (behind is _PARTING and (k < 0 or is_sentence_end(scan, k))))


def _alone(scan: Scan, head: Head) -> bool:
    """``Cover.``, ``HUBS 2.``: the noun is all that its sentence says."""
    begin = min((head.begin, *head.spans))
    counted = scan.at(head.end).raw.isdigit() and is_clause_end(scan, head.end + 1) and not scan.used[head.end]
    closed = counted or is_sentence_end(scan, head.end)
    return is_sentence_end(scan, begin - 1) and closed and scan.key(head.end) != "?"


def _as_one(scan: Scan, head: Head) -> bool:
    """``hub & rotor assys``: two parts that come as one."""
    return scan.key(head.end) in ("assy", "assys", "assembly", "assemblies", "assy's", "combo", "combos")


def _added_on(scan: Scan, head: Head) -> bool:
    """``And the master.``, ``and a 1-1/4 master``, ``Drag link to match``: a sentence that adds a thing."""
    front = min((head.begin, *head.spans))
    begin = next((b for b, e in scan.sentences if b <= front < e), front)
    lead = [scan.key(k) for k in range(begin, front)]
    opens = not lead or is_clause_end(scan, front - 1)
    matched = opens and scan.key(head.end) in ("to match", "too", "also", "as well")
    if scan.key(front - 1) in ("and", "&", "plus", "+") and is_clause_end(scan, front - 2):
        return True  # stubs, 30 spl, and lockouts
    if lead and lead[0] in ("and", "&", "plus", "+"):
        rest = lead[1:]
        return len(rest) <= 5 and any(key in ("the", "a", "one", "an") for key in rest[:1])
    return matched or (not lead and scan.key(head.end) == "to" and scan.key(head.end + 1) == "match")


def _no_longer_included(head: Head) -> None:
    if head.mark is not None:
        head.mark.attribute = "part"


_SHAFTS = {"inner": "inner-shaft", "outer": "outer-shaft"}
_NO_SHAFTS = frozenset({"ratio", "lugs", "width_in", "float", "differential", "drop", "price_terms", "knuckle"})


def shafts(scan: Scan, living: list[Head]) -> list[Draft]:
    """``2 inners 35 spl, 2 outers``, ``35 spline inner/outer set``, ``passenger inner``: shafts by their side alone."""
    if ("side", "inner") not in scan.roles and ("side", "outer") not in scan.roles:
        return []
    told = {m.attribute for m in scan.marks if m.live and m.attribute != "price_terms"}
    if told & _NO_SHAFTS or not told & {"splines", "inner_splines", "outer_splines"} or _other_things(living):
        return []
    named: dict[str, int] = {}
    for k in range(len(scan.pieces)):
        part = _SHAFTS.get(scan.role(k, "side"), "")
        if part and not any(m.attribute == "part" for m in scan.within(k, k + 2)) and _is_a_noun(scan, k):
            named.setdefault(part, k)
    named |= {h.part: h.begin for h in living if h.part in _SHAFTS.values() and named}
    bare = [h for h in living if h.bare]
    drafts = [Draft("part", part, "", k, (k,)) for part, k in sorted(named.items(), key=lambda pair: pair[1])]
    where = {h.positions for h in (*bare, *(h for h in living if h.part == "axle-shaft" and h.positions))}
    for draft in drafts:
        draft.position = next(iter(where))[0] if len(where) == 1 else ""
    return drafts


def _other_things(living: list[Head]) -> bool:
    return any(h.part not in ("axle-shaft", "u-joint", *_SHAFTS.values()) and not h.bare for h in living)


def _is_a_noun(scan: Scan, k: int) -> bool:
    """Whether a word of side names the shaft: counted, many, a set of both, or one for a side of the truck."""
    both = scan.key(k + 1) == "/" and scan.role(k + 2, "side") != ""
    again = scan.key(k - 1) == "/" and scan.role(k - 2, "side") != ""
    many = scan.key(k) in ("inners", "outers") and scan.at(k - 1).kind != "num" and not scan.unit(k - 2)
    counted = scan.at(k - 1).raw.isdigit() and int(scan.at(k - 1).raw) < _FEW and not scan.used[k - 1]
    sided = bool(scan.role(k - 1, "hand") or scan.role(k + 1, "hand")) or scan.key(k + 1) in _ONE_SIDE
    return both or again or many or counted or sided or scan.key(k + 1) in ("set", "sets")


_ONE_SIDE = frozenset({"short", "long", "short side", "long side", "passenger side", "driver side"})
_FEW = 9
