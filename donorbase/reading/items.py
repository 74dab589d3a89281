"""Step 13: nouns -> the things on offer."""

from donorbase.reading.beside import beside_axles
from donorbase.reading.chief import chief_kind, nameless
from donorbase.reading.clauses import is_sentence_end
from donorbase.reading.draft import AXLE_FACTS, Draft
from donorbase.reading.goods import listed_goods
from donorbase.reading.heads import Head
from donorbase.reading.parts import parts, shafts
from donorbase.reading.rows import listed_rows
from donorbase.reading.scan import Scan

_WITHIN = frozenset({"ratio", "differential"})
_TOGETHER = frozenset({"both", "pair of", "pair", "set of", "set", "par de", "pr of", "pr", "the pair of"})
_OWN, _ENOUGH = 24, 2
"""How far the figures of an end may stand from it, and how many make an axle of it."""


def draft_items(scan: Scan, heads: list[Head]) -> list[Draft]:
    """The things on offer in the order of the text."""
    drafts = _drafted(scan, heads)
    if len(drafts) == 1 and drafts[0].kind in ("part", "wheels-tires", "other") and drafts[0].spans:
        drafts += _said_also(scan, [h for h in heads if not h.beside], drafts[0])
    if len(drafts) > 1 and all(d.kind in ("part", "housing") for d in drafts):
        own = {d.begin for d in drafts}
        outside = [h for h in heads if not drafts[0].begin < h.begin < drafts[-1].begin or not h.beside]
        _of_one_end(scan, drafts, [h for h in outside if h.positions and h.begin not in own and h.kind != "part"])
    return drafts


def _said_also(scan: Scan, living: list[Head], first: Draft) -> list[Draft]:
    """``Four wheels $200. Also the rear they were on: 14 bolt, 4.10``, ``selling the trans also``: another thing."""
    found: list[Draft] = []
    for head in living:
        end = next((e for b, e in scan.sentences if b <= head.begin < e), head.end)
        told = any(m.attribute in AXLE_FACTS for m in scan.within(head.end, end))
        if head.begin <= first.begin or head.kind == "part" or (head.is_axle and not told):
            continue
        if scan.role(head.end, "cue") == "also" or _led_by_also(scan, head):
            where = head.positions[0] if len(head.positions) == 1 else ""
            found.append(Draft(head.kind, head.part, where, head.begin, head.spans))
    return found[:1]


def _led_by_also(scan: Scan, head: Head) -> bool:
    front = min((head.begin, *head.spans))
    for k in range(front - 1, max(front - _LEAD, -1), -1):
        if scan.role(k, "cue") == "also" and scan.key(k) not in ("spare", "extra", "separate"):
            return True
        if is_sentence_end(scan, k) or scan.role(k, "cue"):
            return False
    return False


_LEAD = 5


def _of_one_end(scan: Scan, drafts: list[Draft], said: list[Head]) -> None:
    """``Rear 14 bolt: shafts, gears, cover``; ``Rear of course, all of it``: the end that parts are of, said once.

    Said in the row of one of them, it is of those alone that are ``off same``.
    """
    ends = {h.positions for h in said}
    inside = {n for n, d in enumerate(drafts) for h in said if any(b <= h.begin < e for b, e in d.rows)}
    if inside:
        alike = {n for n, d in enumerate(drafts) if any(scan.key(k) == "same" for b, e in d.rows for k in range(b, e))}
        drafts = [drafts[0], *(d for n, d in enumerate(drafts) if n and n in inside | alike)]
    if len(ends) == 1 and len(said[0].positions) == 1 and not any(d.position for d in drafts[1:]):
        for draft in drafts:
            if not draft.position:
                draft.position, draft.spans = said[0].positions[0], (*draft.spans, said[0].begin)


def _drafted(scan: Scan, heads: list[Head]) -> list[Draft]:
    offered = [h for h in heads if not h.beside]
    living = [h for h in offered if h.mark is None and not _holds_them(scan, h)]
    gears = _gears_alone(scan, living)
    if gears is not None:
        return [gears]
    loose = shafts(scan, living)
    if loose:
        return loose
    kind = chief_kind(scan, living)
    if kind is None:
        alone = nameless(scan)
        others = [h for h in offered if h.kind == "part" and h.begin > alone[0].begin]
        locker = alone[0].part == "differential" and bool(alone[0].spans)
        return alone + parts(scan, others, []) if locker and others else alone
    rows = listed_rows(scan, living, kind)
    if rows:
        return rows
    goods = listed_goods(scan, living) if kind != "vehicle" else []
    if goods:
        return goods
    if kind in ("vehicle", "other"):
        return [_chief_draft(living, kind)] if kind != "vehicle" else [Draft("vehicle", begin=_first(living, kind))]
    if kind == "wheels-tires":
        return [_chief_draft(living, kind)]
    if kind == "part":
        return parts(scan, offered, [h for h in heads if h.bare])
    return _axles(scan, living)


def _holds_them(scan: Scan, head: Head) -> bool:
    """``trailer full of axles``, ``pallet of knuckles``: what is in it is sold."""
    return head.kind == "other" and scan.key(head.end) in _HOLDING and scan.key(head.end + 1) in ("of", "with")


_HOLDING = frozenset({"full", "load", "loaded", "filled"})


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


def _axles(scan: Scan, living: list[Head]) -> list[Draft]:
    """One axle for each position spoken of, and what is sold beside them."""
    bare = any(key.startswith(("bare", "empty", "just the", "housing only")) for key in scan.keys)
    bare = bare or any("only" in scan.keys[h.end : h.end + _NEAR] for h in living if h.kind == "housing")
    geared = not bare and any(m.live and m.attribute == "ratio" for m in scan.marks)
    drafts: list[Draft] = []
    axles = _without_those_gone(scan, [h for h in living if h.is_axle])
    housing = any(h.kind == "housing" and not h.bare for h in axles) and not any(
        h.kind == "axle" and not h.bare for h in axles
    )
    # A bare housing has neither ratio nor brakes: where those are told, the word only describes the axle.
    housing = housing and not any(m.live and m.attribute in _WITHIN for m in scan.marks)
    kind = "housing" if housing else "axle"
    named = [h for h in axles if not h.bare]
    for head in axles:
        if head.bare and (not _names_axle(scan, head, named) or _was_once(scan, head, axles)):
            continue
        for position in head.positions:
            if all(d.position != position for d in drafts):
                drafts.append(Draft(_own_kind(axles, position, kind, geared), "", position, head.begin, head.spans))
    pair = _pair_of_ends(scan, named)
    if pair is not None and len(drafts) < 2:
        begin, spans = pair.begin, pair.spans
        ends = {d.position: d for d in drafts}
        drafts = [ends.get(end) or Draft(kind, "", end, begin, spans) for end in ("front", "rear")]
    if not drafts:
        first = next((h for h in axles), None)
        drafts.append(Draft(kind, begin=first.begin if first else 0, spans=first.spans if first else ()))
    return sorted([*drafts, *beside_axles(scan, living, drafts)], key=lambda d: d.begin)


def _without_those_gone(scan: Scan, axles: list[Head]) -> list[Head]:
    """``The rear I'm keeping``, ``front is promised``: wherever that end is named, the other one is what is sold."""
    gone = {m.value for m in scan.marks if m.attribute == "position" and m.dropped in _NO_LONGER}
    kept = [h for h in axles if not gone or not h.positions or not gone.issuperset(h.positions)]
    if len(kept) == len(axles) and not any(gone & set(h.positions) for h in axles):
        return axles
    for head in kept if any(h.positions for h in kept) else ():
        head.positions = tuple(p for p in head.positions if p not in gone)
    return kept if any(h.positions for h in kept) else axles


_NO_LONGER = frozenset({"gone", "sold"})


def _pair_of_ends(scan: Scan, named: list[Head]) -> Head | None:
    """``both axles off the 98``, ``pair of axles``: a front and a rear, though neither is named."""
    if any(m.attribute == "position" and m.dropped in _NO_LONGER for m in scan.marks):
        return None
    for head in named:
        before = (head.begin - 1, head.begin - 2)
        together = scan.key(head.begin).startswith(("both", "set of")) or any(
            scan.key(k) in _TOGETHER or scan.role(k, "cue") == "whole" for k in before
        )
        from_one = any(scan.role(k, "cue") == "source" for k in (head.end, head.end + 1)) and scan.key(before[0]) != "2"
        if not head.positions and scan.key(head.begin).endswith(("axles", "axels", "ejes")) and (together or from_one):
            return head
    return None


_NEAR = 4


def _own_kind(axles: list[Head], position: str, kind: str, geared: bool) -> str:
    own = [h.kind for h in axles if position in h.positions and not h.bare]
    if geared and kind == "axle" and "housing" in own:
        return "axle"  # front axle housing with everything in it
    return "housing" if own and all(k == "housing" for k in own) else "axle" if own else kind


def _names_axle(scan: Scan, head: Head, named: list[Head]) -> bool:
    """Whether a bare ``front`` means an axle on offer: not where one named axle has the other position alone."""
    around = (*range(head.begin - 5, head.begin), head.end)
    if not named or any(scan.role(k, "cue") == "also" or scan.key(k) in ("too", "also") for k in around):
        return True
    if _added(scan, head) or _told_as_one(scan, head, named):
        return True
    said = {p for h in named for p in h.positions}
    plural = any(
        scan.at(h.begin).key.endswith(("axles", "axels", "axls", "ejes", "ponts", "essieux", "housings", "set", "pair"))
        for h in named
    )
    if plural or not said or set(head.positions) <= said:
        return True
    return scan.key(head.end) == ":" or _priced_end(scan, head) or len(said) == 2


def _priced_end(scan: Scan, head: Head) -> bool:
    """``front $300``; ``3.73 front and rear. $300`` prices no end."""
    return len(head.positions) == 1 and scan.priced(head.begin, head.end + 4) is not None


def _was_once(scan: Scan, head: Head, axles: list[Head]) -> bool:
    """``rear one was 4.10``, beside a front that is sold: of an end that is spoken of only so, nothing is on offer."""
    others = [h for h in axles if h is not head]
    alone = not any(set(h.positions) & set(head.positions) for h in others)
    return alone and bool(others) and scan.key(head.end) in ("was", "had") and len(head.positions) == 1


_ADDS = frozenset({"and", "&", "plus", "+"})


def _added(scan: Scan, head: Head) -> bool:
    """``rear axle from my 99 (3.73) and the front (3.73, good)``: an end added, with a bracket of its own."""
    joined = scan.key(head.begin - 1 - (scan.key(head.begin - 1) in ("the", "a", "its"))) in _ADDS
    return joined and scan.key(head.end) == "(" and _figures(scan, head.end, head.end + _OWN) > 0


def _told_as_one(scan: Scan, head: Head, named: list[Head]) -> bool:
    """``Front housing ... Rear is a 14 bolt, 4.10``: an end that opens its own sentence, with figures."""
    opens = head.begin == 0 or is_sentence_end(scan, head.begin - 1) or scan.key(head.begin - 1) == ":"
    if not opens:
        return False
    ends = next((k for k in range(head.end, head.end + _OWN) if is_sentence_end(scan, k)), head.end + _OWN)
    figures = _figures(scan, head.end, ends)
    if figures and scan.priced(head.end, ends) is not None:
        return True
    if head.begin < named[0].begin:
        return False
    return figures >= _ENOUGH and scan.key(head.end) in ("is", "has", "s")


def _figures(scan: Scan, begin: int, end: int) -> int:
    """How many different figures of an axle stand between two places."""
    return len({m.attribute for m in scan.within(begin, end) if m.attribute in AXLE_FACTS})
