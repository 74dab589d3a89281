"""Step 13e: what is sold beside axles: loose parts, wheels, other goods."""

from donorbase.reading.clauses import is_sentence_end
from donorbase.reading.draft import GEARED, Draft
from donorbase.reading.heads import Head
from donorbase.reading.parts import added, adjacent, counted, part_draft, starts_anew
from donorbase.reading.priced import sets_of_gears
from donorbase.reading.scan import Scan

_AND = frozenset({"and", "&", "+", "plus"})
_WHEEL_VERBS = frozenset({
    "turn", "turns", "spin", "spins", "off", "nuts", "studs", "bolts", "face", "faces", "surfaces", "surface", "roll",
    "go", "lock", "locked", "side", "ends",
})  # fmt: skip


def beside_axles(scan: Scan, living: list[Head], drafts: list[Draft]) -> list[Draft]:
    """Loose parts and wheels sold with an axle."""
    found = [part_draft(gears, []) for gears in sets_of_gears(scan) if _also(scan, gears)]
    for head in living:
        if head.kind == "wheels-tires" and (_thrown_in(scan, head) or _set_first(scan, head, drafts)):
            if not any(d.kind == "wheels-tires" for d in found):
                found.append(Draft("wheels-tires", "", "", head.begin, (head.begin,)))
        elif head.kind == "part" and (added(scan, head) or any(_joined(scan, head, h) and h.is_axle for h in living)):
            found.append(part_draft(head, []))
        elif head.kind == "other" and counted(scan, head, _AND):
            where = head.positions[0] if len(head.positions) == 1 else ""
            found.append(Draft(head.kind, head.part, where, head.begin, head.spans))
        elif head.kind == "part" and (_boxed(scan, head) or _counted_anew(scan, head) or _listed_on(scan, head, found)):
            found.append(part_draft(head, []))
        elif _comes_apart(scan, head) and any(h.is_axle and not h.bare and _joined(scan, h, head) for h in living):
            where = head.positions[0] if len(head.positions) == 1 and head.kind == "part" else ""
            found.append(Draft(head.kind, head.part, where, head.begin, head.spans))
        elif (
            head.kind in ("part", "other")
            and head.begin > drafts[0].begin
            and starts_anew(scan, head)
            and _own_thing(scan, head)
        ):
            where = head.positions[0] if len(head.positions) == 1 else ""
            found.append(Draft(head.kind, head.part, where, head.begin, head.spans))
    return found


def _also(scan: Scan, gears: Head) -> bool:
    """``Also a set of 4.10 gears, never used``."""
    for k in range(gears.begin - 1, max(gears.begin - _LEAD, -1), -1):
        if scan.role(k, "cue") == "also":
            return True
        if is_sentence_end(scan, k):
            return False
    return False


_LEAD = 7


def _joined(scan: Scan, first: Head, second: Head) -> bool:
    """``calipers and front axle``."""
    return first.end < second.begin and scan.key(first.end) in _AND and adjacent(scan, first, second)


def _comes_apart(scan: Scan, head: Head) -> bool:
    """Whether a thing beside an axle is none of it: ``front axle + t case``."""
    return scan.role(head.begin, "cue") == "component" or head.part in ("driveshaft", "booster", "master-cylinder")


def _boxed(scan: Scan, head: Head) -> bool:
    """``and in a box the 4.88 ring and pinion``: gears that lie beside the axle."""
    around = [k for k in range(head.begin - _NEAR, head.end + _NEAR) if "box" in scan.key(k)]
    between = (range(min(k, head.begin), max(k, head.begin)) for k in around)
    return head.part in GEARED and any(not any(is_sentence_end(scan, k) for k in gap) for gap in between)


def _listed_on(scan: Scan, head: Head, found: list[Draft]) -> bool:
    """``Four rotors and calipers``: what is joined to a part that is a thing of its own."""
    last = found[-1] if found else None
    return (
        last is not None and last.kind == "part" and last.begin == head.begin - 2 and scan.key(last.begin + 1) in _AND
    )


_NEAR = 5


_MANY = 13


def _counted_anew(scan: Scan, head: Head) -> bool:
    """``Two (2) front knuckles, also 2010.``: a sentence that opens with how many there are."""
    k = min((head.begin, *head.spans)) - 1
    while scan.key(k) in ("(", ")") or scan.role(k, "count") or (scan.at(k).value or _MANY) < _MANY:
        k -= 1
    opened = k + 1 < min((head.begin, *head.spans)) and (k < 0 or is_sentence_end(scan, k))
    return opened and scan.key(head.end) in (",", ".", ";", "(", "-")


def _thrown_in(scan: Scan, head: Head) -> bool:
    if scan.key(head.begin) == "wheel" or scan.key(head.end) in ("stay", "stays"):
        return False  # a wheel seal, a wire wheel
    if scan.role(head.begin - 1, "cue") == "no" or scan.key(head.begin - 1) == "have":
        return False  # with no wheels; still have wheels
    if scan.key(head.end) in _WHEEL_VERBS or scan.key(head.begin - 1) in ("through", "thru", "per", "for", "the"):
        return False
    for k in range(head.begin - 1, max(head.begin - 12, -1), -1):
        if is_sentence_end(scan, k):
            return False
        if scan.role(k, "cue") in ("with", "also") or scan.key(k) in ("and", "&", "plus"):
            return scan.role(k - 1, "cue") != "source" and scan.key(k - 1) not in ("off", "ran", "came off")
    return False


def _set_first(scan: Scan, head: Head, drafts: list[Draft]) -> bool:
    """``set of wheels off my old truck and the rear axle they bolt to``: goods that are named before the axle."""
    first = head.begin < min(d.begin for d in drafts) and head.begin <= _NEAR
    counts = (k for k in range(head.begin) if scan.key(k) != "both")
    return first and any(scan.role(k, "count") or scan.key(k) in ("set", "set of") for k in counts)


def _own_thing(scan: Scan, head: Head) -> bool:
    """Whether a part named after a break is sold as such: with ``also``, a number of them, or a price."""
    begin = head.spans[0] if head.spans else head.begin
    lead = range(max(begin - 6, 0), begin)
    if any(scan.role(k, "cue") == "also" for k in lead):
        return True
    ends = next((k for k in range(head.end, head.end + 8) if is_sentence_end(scan, k)), head.end + 8)
    priced = scan.priced(head.end, min(ends, head.end + 8)) is not None
    counted = scan.key(head.end) == "(" and scan.at(head.end + 1).kind == "num"
    return (priced or counted) and head.kind == "part"
