"""Step 13a: what a listing is about in the first place."""

from collections.abc import Callable

from donorbase.reading.clauses import is_sentence_end
from donorbase.reading.draft import AXLE_FACTS, Draft, part_may_have
from donorbase.reading.heads import Head, announces_parts
from donorbase.reading.parts import starts_anew
from donorbase.reading.scan import Mark, Scan

_TITLE = 6
"""What a listing is of stands before this piece."""
_ITS_PRICE = 24
_NEXT = 3
_OF_A_TRUCK = frozenset({"years", "load_class", "rear_wheels", "mileage_mi", "vin", "price", "lugs", "ratio", "offer"})
_DESCRIBES = frozenset({"are", "is", "have", "has", "still", "both"})


def chief_kind(scan: Scan, living: list[Head]) -> str | None:
    """What kind of thing the listing is about in the first place; None where no noun says it."""
    named = [h for h in living if not h.bare]
    if _a_truck(scan, living, named):
        return "vehicle"
    if not named:
        return _by_an_end(scan, living) if any(h.bare for h in living) else None
    axles = [h for h in named if h.is_axle]
    first = named[0]
    if any(h.kind == "part" for h in named) and _only_parts(scan, first, axles):
        return "part"
    if first.kind == "part" and not axles and _opens_as_an_axle(scan, first):
        return "axle"
    if first.kind != "vehicle" and not axles and _starts_with_locker(scan, living):
        return None
    if _is_machine(scan, first) and first.begin <= _TITLE and not any(starts_anew(scan, h) for h in axles):
        return "other"
    if first.is_axle:
        return "axle"
    if not any(h.is_axle and h.positions for h in axles) and _truck_first(scan, living):
        return "vehicle"
    return _BY_FIRST[first.kind](scan, living, first, axles)


def _opens_as_an_axle(scan: Scan, part: Head) -> bool:
    """``05 SRW 10.5 full float, 8x170, 35 spline. Cover was off``: a whole axle is told before any part is named."""
    _, end = scan.sentences[0] if scan.sentences else (0, 0)
    told = {m.attribute for m in scan.within(0, min(part.begin, end)) if m.attribute in AXLE_FACTS}
    # Full float 10.25, 8x6.5, 3.55, drums good: in one sentence there must be a fact that such a part has not.
    own = part.begin >= end or not all(part_may_have(part.part, name) for name in told)
    return own and len(told) > _A_FEW


def _a_truck(scan: Scan, living: list[Head], named: list[Head]) -> bool:
    """Whether what is on offer is a truck, whole or in pieces."""
    one_price = sum(m.attribute == "price" and m.live for m in scan.marks) < 2
    if _sold_whole(scan, named) and (one_price or not any(_priced_apart(scan, h) for h in living if h.is_axle)):
        return True
    if living and _whole_vehicle(scan, living):
        return True
    axles = [h for h in named if h.is_axle]
    vehicle = next((h for h in named if h.kind == "vehicle"), None)
    if vehicle and (not axles or (vehicle.begin < axles[0].begin and not _sum_for_the_ends(scan, axles))):
        return True
    opens = bool(axles) and named[0].is_axle and _truck_first(scan, living)
    return opens and scan.key(named[0].end) in _DESCRIBES


def _by_an_end(scan: Scan, living: list[Head]) -> str:
    """Where only ends are named: whether they are axles, or those of a truck that is on offer."""
    if any(_out_of_a_truck(scan, h) for h in living):
        return "axle"
    return "axle" if (_axle_facts(scan) or not _truck(scan)) and not _truck_first(scan, living) else "vehicle"


def _out_of_a_truck(scan: Scan, head: Head) -> bool:
    """``rear from a chassis cab``, ``the front here is from the 05``: the truck is only where it came from."""
    behind = range(head.end, head.end + _NEXT)
    return head.bare and any(scan.role(k, "cue") == "source" for k in behind)


def _sold_whole(scan: Scan, named: list[Head]) -> bool:
    """``for sale whole or not at all``, ``selling the truck entire``, ``not parting out``."""
    return any(scan.role(h.begin, "cue") == "entire" and scan.key(h.begin - 1) != "or" for h in named)


def _whole_vehicle(scan: Scan, living: list[Head]) -> bool:
    """``1976 one ton 4x4, V8, runs. Front axle kingpin 4.10, rear 4.10. $4,100``: the first words are of a truck.

    Its first words name no end and nothing it came from, something tells that all of it is sold, and no end is priced.
    """
    begin, end = scan.sentences[0] if scan.sentences else (0, 0)
    ends = [h.begin for h in living if h.is_axle or h.kind in ("part", "wheels-tires")]
    until = min([end, *ends])
    cues = [scan.role(k, "cue") for k in range(begin, until)]
    if "truck" not in cues or {"source", "for", "fits", "not"} & set(cues) or until <= _A_FEW:
        return False
    if any(h.is_axle and _priced_apart(scan, h) and not _whole_sum(scan) for h in living):
        return False
    told = {m.attribute for m in scan.within(begin, until)}
    if not told & {"years", "load_class", "rear_wheels"}:
        return False
    return "vin" in {m.attribute for m in scan.marks} or _whole_sum(scan) or _sells_all(scan)


_A_FEW = 2
_A_TRUCKS_PRICE = 2_500


def _whole_sum(scan: Scan) -> bool:
    """Whether all prices are those of a truck rather than of an axle."""
    prices = [m.value for m in scan.marks if m.attribute == "price" and m.live and not m.flags & {"was", "each"}]
    return bool(prices) and min(prices) >= _A_TRUCKS_PRICE


def _sells_all(scan: Scan) -> bool:
    return any(key in _ALL_OF_IT for key in scan.keys)


_ALL_OF_IT = frozenset({"whole", "title", "clean title", "runs", "drives", "entire", "salvage title"})


def _is_machine(scan: Scan, head: Head) -> bool:
    """``18 ft equipment trailer, one axle bent``: a thing that has axles of its own and is sold whole."""
    return head.kind == "other" and scan.role(head.begin, "cue") == "machine"


def _only_parts(scan: Scan, first: Head, axles: list[Head]) -> bool:
    """Whether what is named are parts: none of an axle that is there, or what is left where its housing is gone."""
    housing = any((m.attribute, m.value, m.dropped) == ("item", "housing", "gone") for m in scan.marks)
    return housing or (not axles and (_without_axle(scan) or _parts_announced(scan, first)))


def _without_axle(scan: Scan) -> bool:
    """``NO AXLE``, ``no housing``: what is sold are parts of one."""
    return any(m.attribute == "item" and m.value in ("axle", "housing") and m.dropped == "denied" for m in scan.marks)


def _parts_announced(scan: Scan, first: Head) -> bool:
    """``Front end parts, 1990 kingpin. Spindles ...``: an axle is named before, only to say of what the parts are."""
    return any(scan.role(k, "item") == "axle" and announces_parts(scan, k) for k in range(first.begin))


def _bare_before(living: list[Head], first: Head) -> bool:
    return any(h.bare and h.begin < first.begin for h in living)


def _other_first(scan: Scan, living: list[Head], first: Head, axles: list[Head]) -> str:
    if axles and first.begin < 3 and not any(h.positions for h in axles):
        return "other"
    if axles or (any(h.bare for h in living) and _axle_facts(scan, 2)) or _whole_axle_words(scan, first):
        return "axle"
    return "part" if any(h.kind == "part" and h.begin < first.begin + 4 for h in living) else "other"


def _wheels_first(scan: Scan, living: list[Head], first: Head, axles: list[Head]) -> str:
    return "axle" if axles or (_bare_before(living, first) and _axle_facts(scan)) else "wheels-tires"


def _part_first(scan: Scan, living: list[Head], first: Head, axles: list[Head]) -> str:
    described = bool(axles) and _mere_mention(scan, first, axles[0])
    told = (_bare_before(living, first) and _axle_facts(scan)) or (not axles and _whole_axle_words(scan, first))
    told = told or _more_than_parts(scan, living) or any(scan.key(h.end) == "itself" for h in axles)
    return "axle" if described or told or _only_a_fault(scan, living, first) else "part"


def _more_than_parts(scan: Scan, living: list[Head]) -> bool:
    """``9 inch, 4.11, posi, 54 wide, drums``: what no part that is named can have, so they are parts of an axle."""
    named = {h.part for h in living if h.kind == "part"}
    told = {
        m.attribute
        for m in scan.marks
        if m.live and "fits" not in m.flags and not any(part_may_have(p, m.attribute) for p in named)
        if not _of_the_source(scan, m.begin)
    }
    axles = [h.begin for h in living if h.is_axle]
    axles += [m.begin for m in scan.marks if m.attribute == "item" and m.value == "axle" and m.live]
    return len(told) > 1 or (bool(told) and not all(_of_the_source(scan, k) for k in axles))


def _of_the_source(scan: Scan, i: int) -> bool:
    """``drums off my rear with 4.10s``: told of the axle that something came from, or goes on."""
    begin = next(b for b, e in scan.sentences if i < e)
    return any(scan.role(k, "cue") in ("source", "for", "fits") for k in range(begin, i))


def _only_a_fault(scan: Scan, living: list[Head], part: Head) -> bool:
    """``Unit bearings howl on this one. 2005 coil front, SRW ...``: a fault is told first, and then what has it."""
    begin, end = next(((b, e) for b, e in scan.sentences if b <= part.begin < e), (0, 0))
    worn = any(m.attribute == "defects" for m in scan.within(begin, end))
    named = any(h.bare and h.begin >= end for h in living)
    return worn and named and _axle_facts(scan, 3) and scan.priced(begin, end) is None


def _vehicle_first(scan: Scan, living: list[Head], first: Head, axles: list[Head]) -> str:
    return "axle" if _sum_for_the_ends(scan, axles) else "vehicle"


_BY_FIRST: dict[str, Callable[[Scan, list[Head], Head, list[Head]], str]] = {
    "other": _other_first, "wheels-tires": _wheels_first, "part": _part_first, "vehicle": _vehicle_first,
}  # fmt: skip
"""What the first noun makes of the whole, by its kind."""


def _starts_with_locker(scan: Scan, living: list[Head]) -> bool:
    """Whether a kind of differential stands first, and no end of a vehicle is named: the unit itself is sold."""
    said = [
        m for m in scan.marks if m.live and m.attribute not in ("price", "offer", "contact", "price_terms", "rebuilt")
    ]
    return bool(said) and said[0].attribute == "differential" and said[0].begin <= 4 and not any(h.bare for h in living)


def _mere_mention(scan: Scan, part: Head, axle: Head) -> bool:
    """Whether the part only describes the axle that follows it in the same sentence or starts a later one."""
    near = axle.begin - part.begin < 12 and bool(axle.positions)
    return near and scan.priced(part.begin, axle.begin) is None


def _whole_axle_words(scan: Scan, part: Head) -> bool:
    """``14 bolt, 4.10, shafts and covers good``: an axle by its cover bolts before any part is named."""
    return any(m.attribute in ("cover_bolts",) and m.live and m.end <= part.begin - 2 for m in scan.marks) and any(
        m.attribute in ("ratio", "float") and m.live and m.end <= part.begin for m in scan.marks
    )


def _axle_facts(scan: Scan, least: int = 1) -> bool:
    return len({m.attribute for m in scan.marks if m.attribute in AXLE_FACTS and m.live}) >= least


def _truck_first(scan: Scan, living: list[Head]) -> bool:
    """``1978 short bed project. Front is ..., rear ...``: the first sentence is of a truck and names no end of it."""
    begin, end = scan.sentences[0] if scan.sentences else (0, 0)
    if any(begin <= h.begin < end for h in living):
        return False
    if any(h.is_axle and _priced_apart(scan, h) for h in living) or _cut_up(scan, begin, end, living):
        return False
    cues = [scan.role(k, "cue") for k in range(begin, end)]
    if not {m.attribute for m in scan.within(begin, end)} & _OF_A_TRUCK:
        return False  # got bored of the project
    return "truck" in cues and not {"source", "for", "fits", *_kept_back(scan, begin, end)} & set(
        cues[: cues.index("truck")]
    )


def _kept_back(scan: Scan, begin: int, end: int) -> tuple[str, ...]:
    """``My 2006 4x4 is staying``: the seller's own, which he does not say to be for sale."""
    offered = any(m.attribute == "offer" for m in scan.within(begin, end))
    return () if offered else ("mine",)


def _sum_for_the_ends(scan: Scan, axles: list[Head]) -> bool:
    """``part out ... front axle and rear axle, $1500 for the two``: the two ends are what is priced."""
    ends = {position for head in axles for position in head.positions}
    sums = [m for m in scan.marks if m.attribute == "price" and m.live and "was" not in m.flags]
    return len(ends) == _BOTH and any(not _FOR_TWO.isdisjoint(scan.keys[m.begin : m.end + 4]) for m in sums)


_BOTH = 2
_FOR_TWO = frozenset({"both", "two", "pair", "2", "for both", "for the pair", "the pair", "for the two", "for pair"})


def _priced_apart(scan: Scan, head: Head) -> bool:
    """Whether one end of the truck has a price in its sentence (``Rear: 3.73, discs, $800``)."""
    ends = (k for k in range(head.end, head.end + _ITS_PRICE) if k >= len(scan.pieces) or is_sentence_end(scan, k))
    return scan.priced(head.end, next(ends, head.end + _ITS_PRICE)) is not None


def _cut_up(scan: Scan, begin: int, end: int, living: list[Head]) -> bool:
    """``Cutting up a 2015 cab chassis. Rear axle has ...``: a truck that goes to pieces, of which axles are named."""
    axles = any(h.is_axle and not h.bare for h in living)
    return axles and any(scan.role(k, "cue") == "apart" for k in range(begin, end))


def _truck(scan: Scan) -> bool:
    return any(p.roles.get("cue") == "truck" for p in scan.pieces)


def nameless(scan: Scan) -> list[Draft]:
    """No noun at all: a truck, an axle by its figures, a differential by its kind, or something else."""
    live = [m for m in scan.marks if m.live]
    if any(
        scan.at(i).raw == "x"
        and scan.at(i - 1).kind == scan.at(i + 1).kind == "num"
        and (scan.at(i - 1).value or 0) > 12
        for i in range(len(scan.pieces))
    ):
        return [Draft("wheels-tires", spans=())]
    if _gears_first(scan, live):
        return [Draft("part", "ring-and-pinion", begin=live[0].begin, spans=(live[0].begin,))]
    locker = next((m for m in live if m.attribute == "differential"), None)
    if locker is not None and _starts_with_locker(scan, []):
        part = "carrier" if scan.key(locker.begin).endswith("carrier") else "differential"
        return [Draft("part", part, begin=locker.begin, spans=(locker.begin,))]
    if any(m.attribute in ("cover_bolts", "float", "knuckle") for m in live) or (
        any(m.attribute == "ratio" for m in live) and not _truck(scan)
    ):
        return [Draft("axle")]
    if any(m.attribute in ("ring_gear_in", "width_in") for m in live) and not any(
        m.attribute == "differential" for m in live
    ):
        return [Draft("axle")]
    if _truck(scan):
        return [Draft("vehicle")]
    if locker is not None:
        return [Draft("part", "differential", begin=locker.begin, spans=(locker.begin,))]
    return [Draft("other")]


def _gears_first(scan: Scan, live: list[Mark]) -> bool:
    """``5.13 gears for 8.8, new in box``: gears by their ratio come first, and what they fit is told."""
    first = next((m for m in live if m.attribute not in ("offer", "price", "price_terms", "quantity")), None)
    if first is None or first.attribute != "ratio" or first.begin > 4:
        return False
    named = "ratio" in (scan.role(first.begin - 1, "label"), scan.role(first.end, "label"))
    return named and any(
        scan.role(k, "cue") in ("for", "fits") or scan.key(k) == "install kit" for k in range(first.end, first.end + 8)
    )
