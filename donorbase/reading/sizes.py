"""Step 7: ring gear, width, tube and shaft: numbers that measure something."""

import itertools
from collections.abc import Callable

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.scan import Mark, Scan

_MM = 25.4
# Ring gears of light and medium trucks in inches (common practice); a bare number is only taken for one of these.
_RINGS = frozenset({7.2, 7.25, 7.5, 7.58, 7.6, 7.625, 7.75, 8.0, 8.2, 8.25, 8.4, 8.5, 8.6, 8.8, 8.875, 8.88,
    9.0, 9.25, 9.3, 9.375, 9.5, 9.75,
                    10.0, 10.1, 10.25, 10.3, 10.5, 10.6, 11.0, 11.2, 11.25, 11.5, 11.8, 12.0, 12.25, 13.5,
                    14.0})  # fmt: skip
_RING_SURE = frozenset(
    {7.5, 7.58, 7.625, 8.25, 8.5, 8.6, 8.8, 8.875, 8.88, 9.25, 9.375, 9.5, 9.75, 10.25, 10.5, 11.25, 11.5, 11.8, 10.1}
)
_NOT_RING = frozenset(
    {"noise", "mile", "km", "dollar", "thousand", "grand", "spline", "lug", "mm", "cm", "foot", "piston", "percent"}
)
_SIGNS_BEFORE = frozenset({"$", "x", "#", "+", "<", ">"})
_OTHER_LABELS = frozenset({"wall", "tire", "od", "width", "other-width", "price", "tube", "serial", "mileage"})


def inches(scan: Scan, i: int) -> tuple[float, int]:
    """The number at a place in inches by its unit, and where number and unit end."""
    value, unit = scan.pieces[i].value or 0.0, scan.unit(i)
    end = scan.after(i) + 1
    if unit == "mm":
        return value / _MM, end
    if unit == "cm":
        return value * 10 / _MM, end
    if unit == "foot" or scan.key(i + 1) == "'":
        return _feet(scan, i)
    return value, end if unit == "inch" else i + 1


def _feet(scan: Scan, i: int) -> tuple[float, int]:
    feet, end = (scan.pieces[i].value or 0.0) * 12, scan.after(i) + 1
    if scan.at(end).kind == "num" and (scan.at(end).value or 99) < 12:
        return feet + (scan.at(end).value or 0), end + 1 + (scan.unit(end) == "inch")
    return feet, end


def _labels(scan: Scan, i: int, end: int) -> tuple[str, str]:
    """What is said right before and right after a measure."""
    following = end + (
        scan.key(end)
        in (",", "od", "o.d.", "dia", "diameter", "(", "across", "-", "even", "total", "overall", "exactly")
        and scan.role(end, "label") in ("", "od")
    )
    following += _dotted_inch(scan, i, following)
    before = scan.before(i)
    if scan.role(before, "label") == "od" and scan.role(before - 1, "label") in ("ring", "tube"):
        before -= 1  # ring OD 11.5
    if scan.key(before) == "w" and scan.key(i - 1) == ":":
        return "width", scan.role(following, "label")
    return scan.role(before, "label"), scan.role(following, "label")


def _dotted_inch(scan: Scan, i: int, end: int) -> bool:
    """``4 in. tube``: the dot of a short word, where what follows has no number of its own."""
    short = scan.key(scan.after(i)) == "in" and scan.key(end) == "."
    return short and scan.at(end + 2).kind != "num" and scan.key(end + 2) not in ("is", "are", ":", "=")


def _mm_or_inches(value: float, scan: Scan, i: int, low_mm: float, high_mm: float) -> float:
    return value / _MM if not scan.unit(i) and low_mm <= value <= high_mm else value


_A_YEAR = 73
"""``between 78 and 79``: no measure of an axle is as large as that, in inches."""


def _spanned(scan: Scan, i: int) -> bool:
    """``between 9 and 9.5``, ``66-69``: two ends of which neither is the measure."""
    ends = scan.key(i + 1) in ("and", "&") and scan.at(i + 2).kind == "num" and (scan.at(i + 2).value or 0) < _A_YEAR
    if scan.key(i - 1) == "between" and ends:
        scan.use(i, i + 3)
        return True
    dashed = scan.key(i + 1) in ("-", "to") and scan.at(i + 2).kind == "num" and "/" not in scan.at(i + 2).raw
    low, high = scan.at(i).value or 0, scan.at(i + 2).value or 0
    if dashed and 50 <= low < high <= 80 and scan.role(scan.before(i), "label") == "width":
        scan.use(i, i + 3)
        return True
    return False


def width(scan: Scan, i: int) -> bool:
    """``72 1/8 WMS``, ``WMS to WMS 72 1/8``, ``flange to flange 1,830 mm``, ``67 wide``."""
    value, end = inches(scan, i)
    before, after = _labels(scan, i, end)
    value = _mm_or_inches(value, scan, i, 1000, 2500)
    if not 40 <= value <= 100 or "width" not in (before, after):
        return False
    if scan.unit(i) == "foot" and end <= scan.after(i) + 1:
        return False  # 8 ft wide: a trailer
    if (
        after == "width"
        and before == "width"
        and scan.at(scan.before(i) - 1).kind == "num"
        and scan.used[scan.before(i) - 1]
    ):
        before = ""
    if before == "width" and after != "width" and scan.unit(i) in ("noise", "dollar", "mile", "thousand"):
        return False
    scan.mark("width_in", round(value, 4), i, end)
    return True


def tube(scan: Scan, i: int) -> bool:
    """``3-1/8" tubes``, ``tube 89 mm dia``, ``tubes 3 3/4 OD``."""
    value, end = inches(scan, i)
    before, after = _labels(scan, i, end)
    if scan.key(end) == "x" and scan.role(end + 2, "label") == "tube":
        after = "tube"
    elif scan.key(end) == "x" and "wall" in (scan.role(end + 2, "label"), scan.role(end + 3, "label")):
        after = "tube" if any(scan.role(k, "label") == "tube" for k in range(end + 3, end + 6)) else ""
    named = after == "tube" or (before == "tube" and after != "shaft-dia")
    od = scan.role(end, "label") == "od" and scan.role(scan.before(i), "label") in ("", "tube") and 2.4 <= value <= 5.5
    if not (named or od) or after == "wall" or not 2.2 <= value <= 6.5 or scan.unit(i) in _NOT_RING - {"mm", "cm"}:
        return False
    scan.mark("tube_in", round(value, 4), i, end + (scan.role(end, "label") == "od"), *([] if named else ["od"]))
    return True


def shaft(scan: Scan, i: int) -> bool:
    """``1.5 in shafts``, ``shaft 38 mm``, ``1 5/16 shaft``."""
    value, end = inches(scan, i)
    if not 0.9 <= value <= 2.6:
        return False
    before, after = scan.before(i), end + (scan.key(end) in ("dia", "diameter", "od")) + _dotted_inch(scan, i, end)
    shafts = {"axle-shaft", "inner-shaft", "outer-shaft"}
    named = any(
        dict(scan.at(k).facts).get("part") in shafts or scan.role(k, "label") == "shaft-dia" for k in (before, after)
    )
    named = named or (("unit", "spline") in scan.roles and _of_a_splined_shaft(scan, i, end))
    counted = scan.pieces[i].raw.isdigit() and scan.unit(i) == ""
    if not named or counted or scan.unit(i) in _NOT_RING - {"mm", "cm"}:
        return False
    scan.mark("shaft_dia_in", round(value, 4), i, end)
    return True


def _of_a_splined_shaft(scan: Scan, i: int, end: int) -> bool:
    """``35 spline 1 1/2``, ``40 spline shafts, 1.708 dia``: a diameter beside a count of splines."""
    value = scan.at(i).value or 0
    if value % 1 == 0 or not 1.1 <= value <= 2.1 or scan.key(i - 1) in _SIGNS_BEFORE or scan.key(end) in ("x", "/"):
        return False
    told = scan.role(end, "label") == "od" or scan.role(scan.before(i), "label") == "od"
    if scan.role(end, "label") not in ("", "od", "splines"):
        return False
    counts = [m for m in scan.marks if m.attribute.endswith("splines")]
    beside = any(0 <= i - m.end <= (3 if told else 1) or 0 <= m.begin - end <= 1 for m in counts)
    if beside and not told and scan.unit(i) != "inch":
        return "/" in scan.at(i).raw or scan.at(i).raw in ("1.5", "1.50", "1.31", "1.25", "1.20", "1.38")
    return beside


def ring(scan: Scan, i: int) -> bool:
    """``10.5 ring``, ``ring gear measures 10 1/2 in``, ``9 inch``, ``9-1/4" R&P``."""
    value, end = inches(scan, i)
    if not 5 <= value <= 20:
        return False
    before, after = _labels(scan, i, end)
    part = dict(scan.at(end).facts).get("part")
    if scan.unit(i) == "mm" and before != "ring" and after != "ring":
        return False
    named = after == "ring" or (
        before == "ring" and not (scan.at(scan.before(i) - 1).kind == "num" and scan.used[scan.before(i) - 1])
    )
    named = named or (part == "ring-and-pinion" and scan.unit(i) == "inch")
    if named and scan.unit(i) not in _NOT_RING - {"mm", "cm"}:
        scan.mark("ring_gear_in", round(value, 3), i, end)
        return True
    return False


def named_ring(scan: Scan, i: int) -> bool:
    """``8.8``, ``the 9.75``, ``9"``: a number that names an axle by its ring gear."""
    value, end = inches(scan, i)
    value = round(value, 3)
    if value not in _RINGS or scan.pieces[i].raw[0] == "0" or _means_else(scan, i, end):
        return False
    if not _names_ring(scan, i, end, value):
        return False
    scan.mark("ring_gear_in", value, i, end, "named")
    return True


def _means_else(scan: Scan, i: int, end: int) -> bool:
    """Whether a unit, sign or word beside the number makes it anything but a ring gear."""
    if scan.unit(i) in _NOT_RING or scan.key(i - 1) in _SIGNS_BEFORE or scan.key(i + 1) in ("x", "%", "k"):
        return True
    if (scan.key(i - 1) == "/" and scan.at(i).glued) or (scan.key(i + 1) == "/" and scan.at(i + 2).glued):
        return True
    priced = scan.key(i + 1) == "$" and not scan.at(i + 2).glued
    spoken = scan.pieces[i].words and "/" in scan.pieces[i].raw and is_clause_end(scan, i - 1) and not scan.unit(i)
    priced = priced or (spoken and (end >= len(scan.pieces) or is_clause_end(scan, end)))  # eight and a quarter.
    wheels = any(scan.role(k, "item") == "wheels-tires" for k in (end, end + 1))
    labels = {scan.role(end, "label"), scan.role(scan.before(i), "label")}
    counted = scan.role(scan.before(i), "label") in ("lugs", "circle")
    return priced or wheels or counted or bool(labels & _OTHER_LABELS)


def _names_ring(scan: Scan, i: int, end: int, value: float) -> bool:
    pointless, sure = scan.pieces[i].raw.isdigit(), value in _RING_SURE
    if scan.unit(i) == "inch" and (scan.key(scan.after(i)) != "in" or value < 14):
        alone = value == 9.0 and (
            scan.key(end) in (",", ".", ";", "|", "") or scan.at(end).kind == "line" or _opens_a_rear(scan, i, end)
        )
        if sure or (value in (7.5, 8.0, 9.0, 12.0) and (alone or _axle_near(scan, i, end))):
            return True
    return not pointless and (sure or ("." in scan.pieces[i].raw and _axle_near(scan, i, end)))


def _opens_a_rear(scan: Scan, i: int, end: int) -> bool:
    """``9 inch 31 spline 5x5.5 rear``: the name opens what is said of the axle, up to the noun."""
    if i and not is_clause_end(scan, i - 1):
        return False
    ahead = itertools.takewhile(lambda k: not is_clause_end(scan, k), range(end, end + _FAR_NOUN))
    return any(("position", "rear") in scan.at(k).facts for k in ahead) and scan.unit(end) == "spline"


_FAR_NOUN = 9


def _axle_near(scan: Scan, i: int, end: int) -> bool:
    for k in (*range(end, end + 3), i - 1, i - 2):
        piece = scan.at(k)
        names = {name for name, _ in piece.facts}
        if "hump" in piece.roles or piece.key == "center":
            return True
        if piece.roles.get("item") in ("axle", "housing") or names & {"position", "differential", "float"}:
            return True
        if dict(piece.facts).get("part") in ("third-member", "carrier", "ring-and-pinion", "axle-shaft", "diff-cover"):
            return True
    return scan.unit(i) == "inch" and scan.at(end).kind == "num" and (scan.at(end).value or 0) in (14, 12, 10)


_RULES: tuple[tuple[Callable[[Scan, int], bool], frozenset[tuple[str, str]]], ...] = (
    (width, frozenset({("label", "width"), ("cue", "with")})), (tube, frozenset({("label", "tube"), ("label", "od")})),
    (shaft, frozenset()), (ring, frozenset()),
)  # fmt: skip
"""Each rule with the roles without any of which it finds nothing (``W: 65`` is written like ``with``)."""


def labelled_sizes(scan: Scan) -> None:
    """Every measure that a word beside it explains."""
    rules = [rule for rule, needed in _RULES if not needed or not needed.isdisjoint(scan.roles)]
    for i in scan.numbers():
        if not scan.used[i] and not _spanned(scan, i):
            any(rule(scan, i) for rule in rules)


_WIDEST, _NARROWEST = 80, 48
_LONG = frozenset({"tie-rod", "drag-link", "track-bar", "driveshaft", "axle-shaft", "inner-shaft", "outer-shaft"})


def lone_widths(scan: Scan) -> None:
    """``66 3/8.``, ``Front 69, rear 67.5``: what measures an axle, stands alone and is as large as its width."""
    large = [i for i in scan.numbers() if _NARROWEST <= (scan.pieces[i].value or 0) <= _WIDEST]
    if large and _of_an_axle(scan):
        for i in large:
            _lone_width(scan, i)
        for mark in [m for m in scan.marks if m.attribute == "width_in" and _at_an_end(scan, m.begin)]:
            _other_end(scan, mark.begin)


def _of_an_axle(scan: Scan) -> bool:
    return ("item", "axle") in scan.roles or any(name == "position" for p in scan.pieces for name, _ in p.facts)


def _lone_width(scan: Scan, i: int) -> None:
    end, raw = _alone_till(scan, i), scan.pieces[i].raw
    broken = "/" in raw or (len(raw.partition(".")[2]) == 1 and _at_an_end(scan, i))
    if end and (broken or scan.unit(i) == "inch") and not _of_something_long(scan, i):
        scan.mark("width_in", round(scan.pieces[i].value or 0.0, 4), i, end)


def _alone_till(scan: Scan, i: int) -> int:
    """Where the measure ends, if nothing stands beside it in its clause but the end of the truck; else 0."""
    end = scan.after(i) + 1 if scan.unit(i) == "inch" else i + 1
    opened = is_clause_end(scan, i - 1) or i == 0 or _at_an_end(scan, i)
    closed = end >= len(scan.pieces) or is_clause_end(scan, end) or scan.key(end) in ("wide", "and", "/")
    plain = scan.unit(i) in ("", "inch") and scan.key(i - 1) not in _SIGNS_BEFORE and not scan.pieces[i].words
    return end if opened and closed and plain else 0


def _at_an_end(scan: Scan, i: int) -> bool:
    return any(name == "position" for name, _ in scan.at(scan.before(i)).facts)


def _other_end(scan: Scan, i: int) -> None:
    """``front 68, rear 66.5``: the round number is a width like the other one."""
    for j in (*range(i - 4, i - 1), *range(i + 2, i + 5)):
        value = scan.at(j).value or 0 if scan.at(j).kind == "num" and not scan.used[j] else 0
        if _NARROWEST <= value <= _WIDEST and _at_an_end(scan, j) and _alone_till(scan, j):
            scan.mark("width_in", round(value, 4), j, j + 1)
            return


def _of_something_long(scan: Scan, i: int) -> bool:
    """Whether a rod, a shaft or tires were named before in the sentence."""
    for k in range(i - 1, max(i - _SENTENCE, -1), -1):
        if is_sentence_end(scan, k):
            return False
        if dict(scan.at(k).facts).get("part") in _LONG or scan.role(k, "item") in ("wheels-tires", "other"):
            return True
    return False


_SENTENCE = 12


def bare_rings(scan: Scan) -> None:
    """Ring gears said as the name of an axle."""
    for i in scan.numbers():
        if not scan.used[i] and not _ring_and_bolts(scan, i):
            named_ring(scan, i)


def _ring_and_bolts(scan: Scan, i: int) -> bool:
    """``11.5/14``: a ring gear and the bolts of its cover."""
    bolts, behind = scan.at(i + 2), scan.at(i + 3)
    paired = scan.key(i + 1) == "/" and bolts.raw in ("10", "12", "14") and scan.pieces[i].value in _RING_SURE
    if not paired or "." not in scan.pieces[i].raw or behind.kind == "num" or scan.unit(i + 2) not in ("", "bolt"):
        return False
    if behind.glued and behind.key not in (".", ",", ")", ";"):
        return False
    scan.mark("ring_gear_in", scan.pieces[i].value, i, i + 1)
    scan.mark("cover_bolts", int(bolts.value or 0), i + 2, i + 3)
    return True


SERIES = frozenset({"1310", "1330", "1350", "1410", "1480", "1550"})
"""Sizes of universal joints."""
_ELLIPTIC = frozenset({"width_in", "tube_in", "ring_gear_in", "shaft_dia_in", "lugs", "ratio", "splines"})


def _behind_its_end(scan: Scan, i: int) -> Mark | None:
    """``wms 69 front, 68 rear``, ``67.5 F / 68 R``: the measure before, where each stands before its end."""
    link = i - 1
    own_end = scan.at(i + 1 + (scan.key(i + 1) in ('"', "''", "in")))
    ends = any(n == "position" for n, _ in scan.at(link - 1).facts) and any(n == "position" for n, _ in own_end.facts)
    if scan.key(link) not in (",", "/", "and", "&") or not ends:
        return None
    near = [m for m in scan.within(link - 6, link) if m.attribute in _ELLIPTIC and link - 1 - m.end in (0, 1)]
    return near[-1] if near else None


def elliptic(scan: Scan) -> None:
    """``front 65 1/4 wms, rear 63 3/4``: the second number measures what the first did."""
    for i in scan.numbers():
        before = scan.before(i)
        measure = None if scan.used[i] else _behind_its_end(scan, i)
        if scan.used[i] or not (measure or any(name == "position" for name, _ in scan.at(before).facts)):
            continue
        if (
            scan.at(i).glued
            or scan.at(i).raw.startswith("0")
            or scan.at(i + 1).kind == "num"
            or scan.unit(i) not in ("", "inch")
        ):
            continue
        near = [
            m
            for m in scan.within(before - 12, before)
            if m.end <= before and before - m.end <= 4 and m.attribute in _ELLIPTIC
        ]
        last = measure or max(near, key=lambda m: m.end, default=None)
        value = scan.at(i).value or 0
        if last is not None and last.value and 0.6 < value / last.value < 1.6:
            scan.mark(last.attribute, int(value) if isinstance(last.value, int) else round(value, 4), i, i + 1)
