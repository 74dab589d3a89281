"""Step 12: who is spoken of: every clause of a listing -> the ends of a truck that it speaks of.

A clause that names an end speaks of it. One that names none goes on about what was spoken of before it, as far as a
heading, a label or a sentence reaches; behind that it speaks of everything. Later steps ask the blocks.
"""

import itertools
from dataclasses import dataclass, field

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.heads import Head
from donorbase.reading.scan import Mark, Scan

Ends = frozenset[str]
ALL: Ends = frozenset()
"""Of every thing on offer alike."""
_UNTOLD = frozenset({
    "price", "price_terms", "contact", "zip", "mileage_mi", "distance_mi", "vin", "offer", "item", "position", "part",
})  # fmt: skip
"""What tells nothing of an end."""
_ALL_CUES = frozenset({"both-ends", "neither"})
_ALL_WORDS = frozenset({"both", "neither", "both axles"})
_LOOSELY_ALL = frozenset({"they", "theyre", "all", "each", "axles", "pair", "everything", "these", "axels",
    "this", "this one"})  # fmt: skip
_JOINTS = frozenset({"and", "&", "+", "plus", "but", "while", "y", "et", "n", "with", "w/"})
_MERGING = frozenset({"&", "and", "+", "/", "n", "y", "et", "plus", "or"})
_LISTING = frozenset({",", "(", ")", "1", "a", "the", "one"})
_COUNTED = frozenset({"lugs", "bolt_circle_mm", "ratio", "rear_wheels", "years"})
_PLACING = frozenset({"in", "on", "at", "en", "up", "out"})
_BREATH, _CLAUSE, _THOUGHT = 5, 60, 6


@dataclass(frozen=True, slots=True)
class Named:
    """Words at ``begin`` to ``end`` that name one end or both (``ALL``); ``noun`` where an axle is named as well."""

    begin: int
    end: int
    ends: Ends
    noun: bool = False


@dataclass(slots=True)
class Block:
    """The pieces ``begin`` to ``end`` and the ends they speak of; ``named`` where words of their own say so.

    ``carried`` where nothing in the sentence so far says so: what was spoken of in an earlier one still holds.
    """

    begin: int
    end: int
    ends: Ends
    named: bool
    carried: bool = False


@dataclass(slots=True)
class _Course:
    """What is spoken of as the reading goes on."""

    scan: Scan
    named: list[Named]
    together: bool
    """Whether both ends are announced, or told in one breath: then no end is spoken of beyond its sentence."""
    blocks: list[Block] = field(default_factory=list)
    now: Ends = ALL
    heading: Ends = ALL
    labelled: bool = False
    carried: bool = False

    def add(self, begin: int, end: int, ends: Ends, named: bool) -> None:
        self.carried = self.carried and not named
        if begin < end:
            self.blocks.append(Block(begin, end, ends, named, self.carried))


def blocks(scan: Scan, heads: list[Head]) -> list[Block]:
    """The blocks of a listing in their order: each piece is in one."""
    named = _named(scan, heads)
    course = _Course(scan, named, _together(scan, named))
    at, begin = 0, 0
    for begin, end in scan.sentences:
        first = at
        while at < len(named) and named[at].begin < end:
            at += 1
        _open_sentence(course, begin)
        _read_sentence(course, begin, end, named[first:at])
    return _filled(course.blocks, len(scan.pieces))


def _filled(found: list[Block], size: int) -> list[Block]:
    """The same blocks with what stands between them (line ends, stops) given to the one before."""
    for block, following in itertools.pairwise(found):
        block.end = following.begin
    if found:
        found[0].begin, found[-1].end = 0, size
    return found or [Block(0, size, ALL, False)]


# --- what names an end


def _named(scan: Scan, heads: list[Head]) -> list[Named]:
    """Everything that names an end or both, with what is joined in one breath put together."""
    found = [_by_head(scan, h) for h in heads if h.positions and not h.beside and (h.is_axle or h.kind == "part")]
    taken = {k for n in found for k in range(n.begin, n.end)}
    found += [Named(i, i + 1, ALL) for i in range(len(scan.pieces)) if i not in taken and _names_all(scan, i)]
    found += [
        Named(h.begin, h.end, ALL, True)
        for h in heads
        if h.is_axle and not h.positions and not h.beside and h.begin not in taken
        if scan.key(h.begin).endswith(_SEVERAL)
    ]
    found += [
        Named(m.begin, m.end, _ends((str(m.value),)))
        for m in scan.marks
        if m.attribute == "position" and m.dropped not in ("", "asked", "denied") and m.begin not in taken
    ]
    found.sort(key=lambda n: n.begin)
    return _merged(scan, [n for n in found if not _only_priced(scan, n) and not _compared(scan, n)])


def _by_head(scan: Scan, head: Head) -> Named:
    """The words of a noun and its position; the position alone where something is told between the two."""
    begin, end = min((head.begin, *head.spans)), max((head.end, *(k + 1 for k in head.spans)))
    told = end - begin > 1 and (head.kind == "part" or bool(_told(scan, begin, end)))
    placed = [k for k in head.spans if any(name == "position" for name, _ in scan.at(k).facts)]
    where = min(placed, default=begin) if told else begin
    return Named(where, where + 1 if told else end, _ends(head.positions), head.is_axle and not head.bare)


def _ends(positions: tuple[str, ...]) -> Ends:
    return frozenset(positions) if len(positions) == 1 else ALL


def _names_all(scan: Scan, i: int) -> bool:
    piece = scan.pieces[i]
    if piece.roles.get("cue") in _ALL_CUES or piece.key in _ALL_WORDS:
        return not (scan.role(i - 1, "cue") in ("no", "gone", "taken") and is_clause_end(scan, i + 1))
    following = scan.at(i + 1)
    told = following.kind == "num" or any(name not in ("position", "part") for name, _ in following.facts)
    return piece.key in ("all", "everything") and told and is_clause_end(scan, i - 1)


def _only_priced(scan: Scan, n: Named) -> bool:
    """``$900 front``: it says only what the price is for."""
    priced = any(m.attribute == "price" and m.end == n.begin for m in scan.within(n.begin - 4, n.begin))
    return priced and n.end - n.begin == 1


_SEVERAL = ("s", " set", " pair")
_COMPARING = frozenset({"match", "matches", "matched", "matching"})
_OWNERS = frozenset({"the", "my", "your", "his", "their", "a", "any", "to"})


def _compared(scan: Scan, n: Named) -> bool:
    """``3.73s match the rear I have``: what is told is of the one that matches."""
    k = n.begin - 1
    while k > n.begin - 3 and scan.key(k) in _OWNERS:
        k -= 1
    return k < n.begin - 1 and scan.key(k) in _COMPARING


def _merged(scan: Scan, found: list[Named]) -> list[Named]:
    """``front axle & rear axle``, ``(1) front axle, (1) rear axle``: two ends in one breath."""
    merged: list[Named] = []
    for n in found:
        last = merged[-1] if merged else None
        if last is not None and n.begin < last.end:
            merged[-1] = Named(last.begin, max(last.end, n.end), last.ends | n.ends, last.noun or n.noun)
        elif last is not None and last.ends and n.ends and last.ends != n.ends and _in_a_breath(scan, last, n):
            merged[-1] = Named(last.begin, n.end, ALL, last.noun or n.noun)
        else:
            merged.append(n)
    return [n if len(n.ends) < 2 else Named(n.begin, n.end, ALL, n.noun) for n in merged]


def _in_a_breath(scan: Scan, first: Named, second: Named) -> bool:
    gap = [scan.key(k) for k in range(first.end, second.begin)]
    nouns = first.noun and second.noun
    if not 0 < len(gap) <= _BREATH or not all(key in _MERGING or key in _LISTING for key in gap):
        return False
    return nouns or (gap[0] in _MERGING and not _told(scan, second.end, second.end + 2))


def _together(scan: Scan, named: list[Named]) -> bool:
    """Whether both ends are announced before either is, or told in one sentence somewhere."""
    if named and not named[0].ends:
        return True
    return any(len({e for n in named if b <= n.begin < end for e in n.ends}) > 1 for b, end in scan.sentences)


# --- sentences


def _open_sentence(course: _Course, begin: int) -> None:
    """How far what was spoken of before reaches into this sentence."""
    scan = course.scan
    if not begin or _breaks_off(scan, begin):
        return
    course.carried = True
    if scan.at(begin - 1).kind == "line":
        if scan.at(begin - 2).kind == "line":
            course.heading = ALL
        course.now, course.labelled = course.heading, bool(course.heading)
    elif (not course.labelled and course.together and scan.key(begin - 1) != "?") or (
        scan.role(begin, "cue") == "source" and not course.labelled
    ):
        course.now = course.heading


def _breaks_off(scan: Scan, begin: int) -> bool:
    """``drums... no, those are rotors``: the dots end no sentence where the seller puts himself right."""
    dots = scan.key(begin - 1) == "." and scan.key(begin - 2) == "."
    return dots and (scan.role(begin, "cue") == "correct" or scan.key(begin) in ("no", "nope", "nah"))


def _read_sentence(course: _Course, begin: int, end: int, named: list[Named]) -> None:
    scan = course.scan
    named = [n for n in named if not _both_of_a_part(course, n)]
    if len(named) == 1 and _is_heading(scan, begin, end, named[0]):
        course.now = course.heading = named[0].ends
        course.labelled = bool(course.heading)
        course.add(begin, end, course.now, True)
        return
    if named and not told_between(scan, begin, end) and end - begin <= _THOUGHT and _one_of_them(course):
        course.blocks[-1].ends, course.blocks[-1].named = named[0].ends, True  # one has posi; I think the rear
    bounds = _clauses(scan, begin, end, named)
    for number, (b, e) in enumerate(bounds):
        here = [n for n in named if b <= n.begin < e]
        if not here and any(scan.key(k) in _LOOSELY_ALL for k in range(b, e)) and len(bounds) > 0:
            _loosely(course, b, e)
        elif not here:
            course.add(b, e, course.now, False)
        elif len(here) == 1:
            alike = any(scan.role(k, "cue") == "identical" and k + 1 != here[0].begin for k in range(b, e))
            _one(course, b, e, Named(here[0].begin, here[0].end, ALL) if alike else here[0], number)
        else:
            _several(course, b, e, here)


def _both_of_a_part(course: _Course, n: Named) -> bool:
    """``Front: manual hubs, both turn. Both calipers are there``: under a label, both of something that it has."""
    scan, following = course.scan, course.scan.at(n.end)
    told = following.kind == "num" or any(name not in ("part", "position") for name, _ in following.facts)
    told = told or any(m.end == n.begin and m.attribute in _COUNTED for m in scan.within(n.begin - 4, n.begin))
    return course.labelled and scan.key(n.begin) == "both" and n.end - n.begin == 1 and not told


def _one_of_them(course: _Course) -> bool:
    last = course.blocks[-1] if course.blocks else None
    return (
        last is not None
        and not last.named
        and any(course.scan.at(k).raw in ("one", "1") for k in range(last.begin, last.end))
    )


def _is_heading(scan: Scan, begin: int, end: int, n: Named) -> bool:
    """``Front -`` alone on its line."""
    alone = scan.at(end).kind == "line" and (begin == 0 or scan.at(begin - 1).kind == "line")
    return alone and all(scan.at(k).kind == "sym" or n.begin <= k < n.end for k in range(begin, end))


def _loosely(course: _Course, begin: int, end: int) -> None:
    """``they are 8 lug``: of all, unless a heading or label still holds."""
    if not course.labelled:
        course.now = ALL
    course.add(begin, end, course.now, False)


def _clauses(scan: Scan, begin: int, end: int, named: list[Named]) -> list[tuple[int, int]]:
    """The clauses of a sentence, cut as well where a joint stands between two ends that each have something told."""
    cuts, inside = [begin], {k for n in named for k in range(n.begin + 1, n.end)}
    for k in range(begin, end):
        if k not in inside and (is_clause_end(scan, k) or _announces(scan, begin, k, named)):
            cuts.append(k + 1)
    for first, second in itertools.pairwise(named):
        since = max(c for c in cuts if c <= first.begin)
        joint = next((k for k in range(second.begin - 1, first.end - 1, -1) if scan.key(k) in _JOINTS), None)
        until = min((c for c in cuts if c > second.begin), default=end)
        if joint is not None and _told(scan, since, joint) and _told(scan, joint, until):
            cuts = sorted([*cuts, joint])
    return [(b, e) for b, e in zip(cuts, [*cuts[1:], end], strict=True) if b < e]


def _announces(scan: Scan, begin: int, k: int, named: list[Named]) -> bool:
    """``Still here from the 2011 dually: front axle ... and rear axle``: what stands before the sign is of them all."""
    if scan.key(k) != ":":
        return False
    after = {n.ends for n in named if n.begin > k}
    before = [n for n in named if begin <= n.begin < k]
    if before and all(not n.ends and n.noun for n in before):
        return bool(after)  # selling the axles: coil front 3.73, rear 3.73
    return len(after) > 1 and not before


def _told(scan: Scan, begin: int, end: int) -> list[Mark]:
    return [m for m in scan.within(begin, end) if m.attribute not in _UNTOLD]


def told_between(scan: Scan, begin: int, end: int) -> bool:
    """Whether anything is told of an axle between two places."""
    return bool(_told(scan, begin, end))


def _one(course: _Course, begin: int, end: int, n: Named, number: int) -> None:
    """A clause that names one end, or all, speaks of it."""
    scan = course.scan
    tail = bool(_told(scan, begin, n.begin)) and not _told(scan, n.end, end)
    if not _told(scan, begin, end) and _afterthought(scan, begin, end, n) and number and not course.blocks[-1].named:
        course.blocks[-1].ends, course.blocks[-1].named = n.ends, True
    cut = _before_the_last(scan, begin, n) if tail and n.ends and course.now != n.ends else begin
    course.add(begin, cut, course.now, False)
    course.add(cut, end, n.ends, True)
    label = scan.key(n.end) in (":", "=") or (n.begin == begin and (not begin or scan.at(begin - 1).kind == "line"))
    if tail and not n.noun and scan.key(n.end) != "(" and (number or not _named_by_kind(scan, begin, n)):
        other = course.now and course.now != n.ends
        course.now = course.heading if other or not n.ends or _placed(scan, n) else course.now
        if not n.ends and n.end - n.begin == 1 and scan.key(n.begin) == "both":
            course.now, course.labelled = ALL, False  # 5 lug both, 5x4.5
        return
    course.now = n.ends
    course.labelled = label


def _named_by_kind(scan: Scan, begin: int, n: Named) -> bool:
    """``14 bolt rear, 4.10, drums``: an axle by what it is called, not an end that something is told of."""
    return any(m.end == n.begin and m.attribute in _KINDS for m in scan.within(begin, n.begin))


_KINDS = frozenset({"cover_bolts", "ring_gear_in", "knuckle", "float"})


def _before_the_last(scan: Scan, begin: int, n: Named) -> int:
    """``coil, with 8x170 and single wheels out back``: of several things told, the last is of that end."""
    told = _told(scan, begin, n.begin)
    joints = [k for k in range(told[0].end, told[-1].begin) if scan.key(k) in _JOINTS]
    return joints[-1] if joints and _placed(scan, n) else begin


def _placed(scan: Scan, n: Named) -> bool:
    """``3.73 in front``, ``on the rear``."""
    own = scan.key(n.begin).partition(" ")[0]
    return own in _PLACING or scan.key(n.begin - 1) in _PLACING or scan.key(n.begin - 2) in _PLACING


def _afterthought(scan: Scan, begin: int, end: int, n: Named) -> bool:
    """``one of the two leaks, the rear one``."""
    alone = n.end >= end - 1 and n.begin - begin <= 2
    return alone and (scan.key(begin) == "the" or is_sentence_end(scan, end))


def _several(course: _Course, begin: int, end: int, named: list[Named]) -> None:
    """A clause that names several: what is told stands behind each of them, or before each."""
    scan = course.scan
    ahead = _told(scan, begin, named[0].begin)
    behind = _told(scan, named[-1].end, end)
    at = begin
    if behind or not ahead:  # told behind each
        course.add(begin, named[0].begin, course.now, False)
        for n, following in zip(named, [*named[1:], None], strict=True):
            until = following.begin if following else end
            if following is not None and not behind and following is named[-1]:
                nearest = _told(scan, n.end, until)[-1:]
                until = max(nearest[0].begin, n.end) if nearest else until
            at = min(at, n.begin) if n is not named[0] else n.begin
            course.add(at, until, n.ends, True)
            at = until
    else:
        for n in named:
            until = end if n is named[-1] else n.end
            course.add(at, until, n.ends, True)
            at = until
    course.now = named[-1].ends if behind else course.heading
    course.labelled = False
