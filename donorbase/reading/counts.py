"""Step 5: lugs and bolt circles, cover bolts, pistons: numbers that count something."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Scan
from donorbase.reading.splines import SPLINES, labelled_splines, spline_count

_MM = 25.4
# Published lug circles in inches by number of lugs, and in millimetres; common practice of the trade.
_CIRCLES_IN = {
    4: (4.25, 4.5),
    5: (4.25, 4.5, 4.75, 5.0, 5.5, 6.5),
    6: (4.5, 5.0, 5.5, 7.25, 8.75),
    7: (5.9,),
    8: (6.5, 6.69, 7.25, 7.5),
    10: (7.25, 7.5, 8.75, 11.25),
}  # fmt: skip
_CIRCLES_MM = (100.0, 108.0, 110.0, 112.0, 114.3, 115.0, 120.0, 120.65, 127.0, 130.0, 135.0, 139.7, 150.0,
    165.1, 170.0,
               180.0, 200.0, 205.0, 210.0, 225.0, 275.0, 285.75, 335.0)  # fmt: skip
_PAIRS_MM = frozenset({("8", "6.5"), ("5", "4.5"), ("5", "5.5"), ("6", "5.5"), ("6", "139"), ("5", "139.7"), ("5",
"114"),
    ("8", "165"), ("8", "165.1"), ("8", "170"), ("8", "180"), ("8", "200"), ("8", "210"),
    ("6", "135"), ("6", "139.7"), ("5", "114.3"), ("5", "135"), ("10", "225")})  # fmt: skip
_OVER = frozenset({"x", "on", "by", "-", "*", "en", "sur"})
_COVER_BOLTS = frozenset({9, 10, 12, 14})


def circle_mm(lugs: int, value: float, unit: str) -> float | None:
    """The bolt circle in millimetres, one decimal, that a seller means by a number; None if none is."""
    if unit != "mm" and value < 12:
        near = [c for c in _CIRCLES_IN.get(lugs, ()) if abs(c - value) < 0.02]
        return round(near[0] * _MM + 1e-9, 1) if near else None
    if unit == "inch" or not 95 <= value <= 345:
        return None
    near = [c for c in _CIRCLES_MM if abs(c - value) < 0.8]
    return round(min(near, key=lambda c: abs(c - value)) + 1e-9, 1) if near else round(value, 1)


def bolt_circles(scan: Scan) -> None:
    """``8x6.5``, ``8 on 170``, ``8 lug on a 6 1/2 circle``, ``8-170``, ``8, the 170 kind``."""
    for i in scan.numbers():
        value = scan.pieces[i].value or 0
        if value not in _CIRCLES_IN or not _whole(scan, i):
            _turned_round(scan, i)
            continue
        over, end = _circle_number(scan, i)
        if over is None:
            continue
        begin = i
        unit = "mm" if scan.unit(over) == "mm" else "inch" if scan.unit(over) == "inch" else ""
        circle = circle_mm(int(value), scan.pieces[over].value or 0, unit)
        if circle is None or _point_lost(scan, int(value), over):
            circle = circle_mm(int(value), _with_point(scan, over), "")
            end += 1
        if circle is None or (scan.key(i + 1) == "-" and scan.role(i + 2, "unit") == "" and not _known(circle)):
            continue
        choice = _another_circle(scan, int(value), end) or _after_a_circle(scan, begin)
        scan.mark("lugs", int(value), begin, end)
        scan.mark("bolt_circle_mm", circle, begin, end, *(["choice"] if choice else []))
    _labelled_circles(scan)


def _turned_round(scan: Scan, i: int) -> None:
    """``five and a half on five``: the circle before the lugs."""
    lugs = scan.at(i + 2).value or 0
    if scan.key(i + 1) != "on" or "/" not in scan.at(i).raw or scan.unit(i + 2) or lugs not in _CIRCLES_IN:
        return
    circle = circle_mm(int(lugs), scan.at(i).value or 0, "")
    if circle is not None:
        scan.mark("lugs", int(lugs), i, i + 3)
        scan.mark("bolt_circle_mm", circle, i, i + 3)


def _with_point(scan: Scan, over: int) -> float:
    """The number that two digits with a gap between them were meant to be (``6 5`` for 6.5); 0 where they are not."""
    first, second = scan.at(over), scan.at(over + 1)
    single = len(first.raw) == len(second.raw) == 1 and second.kind == "num" and not scan.unit(over + 1)
    return float(f"{first.raw}.{second.raw}") if single and not scan.unit(over) else 0.0


def _point_lost(scan: Scan, lugs: int, over: int) -> bool:
    """``5x4 5``, ``8x6 5``: a point got lost."""
    return circle_mm(lugs, _with_point(scan, over), "") is not None


_BESIDE = frozenset({"/", "&", "and", "+", "or"})


def _another_circle(scan: Scan, lugs: int, end: int) -> bool:
    """``5x4.5/5x4.75``, ``5x5 & 5.5``: drilled twice, or one of two."""
    end += scan.key(end) in ("drilled", "pattern", "bolt pattern", "lug")
    following = end + 1
    if (
        scan.key(end) not in _BESIDE
        or scan.at(following).kind != "num"
        or scan.unit(following) not in ("", "mm", "inch")
    ):
        return False
    value = scan.at(following).value or 0
    crossed = scan.key(following + 1) in _OVER and scan.at(following + 2).kind == "num"
    if crossed:
        return value in _CIRCLES_IN and circle_mm(int(value), scan.at(following + 2).value or 0, "") is not None
    return (
        scan.key(following + 1) != "/" and circle_mm(lugs, value, "") is not None and (value >= 100 or value % 1 != 0)
    )


def _after_a_circle(scan: Scan, begin: int) -> bool:
    return scan.key(begin - 1) in _BESIDE and any(
        m.attribute == "bolt_circle_mm" and m.end in (begin - 1, begin - 2) and "choice" in m.flags for m in scan.marks
    )


def _lug_word(scan: Scan, i: int) -> int:
    """Where the word behind a count of lugs stands; 0 if there is none."""
    following = scan.after(i)
    unit = scan.role(following, "unit")
    if unit == "lug" or _bare_l(scan, i) or (unit == "bolt" and (scan.at(i).value or 0) in (5, 6, 8)):
        return following
    return 0


def _bare_l(scan: Scan, i: int) -> bool:
    """``8L``: lugs, not litres."""
    if scan.at(i).raw not in ("5", "6", "8") or scan.key(i + 1) != "l":
        return False
    if not scan.at(i + 1).glued:
        return is_clause_end(scan, i + 2)
    return scan.key(i + 2) not in _ENGINES and not (scan.at(i + 2).glued and scan.at(i + 2).kind != "sym")


_ENGINES = frozenset({"v", "v8", "v6", "engine", "motor", "diesel", "gas", "turbo", "oil", "jug", "power"})


def _circle_number(scan: Scan, i: int) -> tuple[int | None, int]:
    j = i + 1
    lug = bool(_lug_word(scan, i))
    if lug:
        j = scan.after(i) + 1
        j += scan.key(j) == "metric"
    lug = lug or (scan.key(j) == "(" and scan.role(scan.before(i), "label") in ("lugs", "circle"))
    j += scan.key(j) in (",", "(", ":") and lug
    over = scan.key(j) in _OVER and (scan.key(j) != "-" or scan.at(j).glued)
    over = over or (scan.key(j) == "/" and _stroke_pair(scan, i))
    over = over or (lug and scan.key(j) in ("and", "with", "at") and _surely_mm(scan, j + 1))
    over = over or (lug and scan.key(j) in ("spaced", "set", "laid") and scan.at(j + 1).kind == "num")
    if over or (scan.key(j) == "," and scan.key(j + 1) == "the"):
        j += 1
    elif not lug and scan.key(j) != "the" and not _side_by_side(scan, i):
        return None, 0
    j += scan.key(j) in ("a", "an", "the")
    if scan.at(j).kind != "num":
        return None, 0
    end = j + 1 + (scan.unit(j) in ("inch", "mm"))
    mm = (scan.at(j).value or 0) >= 95
    exact = lug and scan.unit(j) in ("", "inch") and _is_circle_in(scan, i, j)
    if not over and not mm and not exact and scan.role(end, "label") != "circle":
        return None, 0
    if not over and scan.role(end, "unit") in ("spline", "dollar", "mile", "thousand"):
        return None, 0
    if not over and not exact and not _known(scan.at(j).value or 0) and scan.role(end, "label") != "circle":
        return None, 0
    if scan.key(j + 1) == "x" and scan.at(j + 1).glued is not False:
        return None, 0
    return j, end


def _surely_mm(scan: Scan, j: int) -> bool:
    """``8 lugs and 170``: three digits that are hardly anything but a circle."""
    return scan.at(j).raw in ("165", "165.1", "170", "180", "200", "210") and scan.unit(j) in ("", "mm")


def _stroke_pair(scan: Scan, i: int) -> bool:
    """``8/170``, ``lug: 6/5.5``."""
    announced = scan.role(scan.before(i), "label") in ("lugs", "circle")
    return (scan.at(i).raw, scan.at(i + 2).raw) in _PAIRS_MM or announced


def _is_circle_in(scan: Scan, i: int, j: int) -> bool:
    """``8 lug 6.5``: a circle in inches that no ratio or ring gear of so many lugs is written like."""
    value, raw = scan.at(j).value or 0, scan.at(j).raw
    return value % 1 != 0 and len(raw.partition(".")[2]) < 2 and value in _CIRCLES_IN[int(scan.at(i).value or 0)]


def _side_by_side(scan: Scan, i: int) -> bool:
    """``8 170``: two numbers that are only met together as lugs and circle."""
    pair = (scan.at(i).raw, scan.at(i + 1).raw)
    return pair in _PAIRS_MM and scan.key(i - 1) not in ("$", "#", "x") and not scan.unit(i + 1)


def _known(circle: float) -> bool:
    return any(abs(c - circle) < 0.8 for c in _CIRCLES_MM)


def _labelled_circles(scan: Scan) -> None:
    told = ("label", "circle") in scan.roles
    for i in scan.numbers():
        value, unit = scan.pieces[i].value or 0, scan.unit(i)
        if (not told and unit != "mm") or unit not in ("", "inch", "mm"):
            continue
        end = i + 1 + (unit in ("inch", "mm"))
        labelled = scan.role(scan.before(i), "label") == "circle" or scan.role(end, "label") == "circle"
        bare_mm = unit == "mm" and any(abs(c - value) < 0.01 for c in (165.1, 170, 180, 200, 139.7, 210, 225))
        if not labelled and not bare_mm:
            continue
        for lugs in (8, 6, 5, 10):
            circle = circle_mm(lugs, value, unit)
            if circle is not None:
                scan.mark("bolt_circle_mm", circle, i, end)
                break


def _whole(scan: Scan, i: int) -> bool:
    piece = scan.pieces[i]
    return piece.raw.isdigit() and (len(piece.raw) == 1 or piece.raw[0] != "0")


def counted(scan: Scan) -> None:
    """Numbers whose unit says what they count: splines, lugs, cover bolts, pistons."""
    for i in scan.numbers():
        if scan.used[i] or not _whole(scan, i):
            continue
        value, unit = int(scan.pieces[i].value or 0), scan.unit(i)
        end = scan.after(i) + 1
        if unit == "spline" and value in SPLINES:
            spline_count(scan, value, i, end)
        elif (unit == "lug" or _bare_l(scan, i)) and 4 <= value <= 10 and not _over(scan, i):
            scan.mark("lugs", value, i, end)
        elif (unit == "bolt" or (unit == "lug" and value >= 12)) and value in _COVER_BOLTS and not _coded(scan, i, end):
            scan.mark("cover_bolts", value, i, end)
        elif unit == "bolt" and 4 <= value <= 8 and (_about_wheels(scan, end) or _of_the_axle(scan, i, value, end)):
            scan.mark("lugs", value, i, end)
        elif value in _COVER_BOLTS and not unit and _on_the_cover(scan, i):
            scan.mark("cover_bolts", value, i, i + 1)
        elif value in _CIRCLES_IN and _pattern_of(scan, i):
            scan.mark("lugs", value, i, i + 1)
        elif unit == "piston" and 1 <= value <= 8:
            scan.mark("caliper_pistons", value, i, end - bool(scan.at(end - 1).facts))
    _labelled_counts(scan)


_BOLTED = frozenset({("unit", "bolt"), ("unit", "lug")})


def _on_the_cover(scan: Scan, i: int) -> bool:
    """``eight bolts on the wheel and fourteen on the round cover``: the bolts were told before."""
    placed = scan.key(i + 1) in ("on", "in", "around", "hold", "holding") and not scan.roles.isdisjoint(_BOLTED)
    return placed and any("cover" in scan.key(k) for k in range(i + 2, i + 6)) and scan.key(i - 1) not in ("$", "#")


def _pattern_of(scan: Scan, i: int) -> bool:
    """``the six bolt pattern``: the number counts, for none stands behind the pattern."""
    k = scan.after(i)
    bolts = scan.key(k) in ("bolt pattern", "lug pattern", "wheel bolt pattern", "bolt circle", "stud pattern")
    measured = scan.at(k + 1).kind == "num" or scan.key(k + 1) in (":", "is", "of", "=")
    return bolts and not measured and not _over(scan, i) and scan.key(i - 1) not in ("x", "on", "by")


def _over(scan: Scan, i: int) -> bool:
    """Whether the number stands under a stroke (``3/8 lug``) or behind a dollar sign."""
    return scan.key(i - 1) == "$" or (scan.key(i - 1) == "/" and scan.at(i).glued and scan.at(i - 2).kind == "num")


def _coded(scan: Scan, i: int, end: int) -> bool:
    """``B12-B13``: a place in a hall."""
    behind = scan.at(end).kind == "num" and scan.at(end).glued
    before = scan.at(i).glued and scan.at(i - 1).kind == "word" and len(scan.key(i - 1)) == 1
    return behind or (before and i > 0) or scan.key(scan.before(i)) in ("bag", "box", "pack", "sack")


_LUG_BOLTS = frozenset({5, 6, 8})


def _of_the_axle(scan: Scan, i: int, value: int, end: int) -> bool:
    """``it has 8 bolts.``, ``6 bolt rear axle``, ``8 bolt drums``: nothing else is said to be bolted with them."""
    if value not in _LUG_BOLTS or scan.key(i - 1) == "(" or scan.role(scan.before(i), "label") in ("ring", "tube"):
        return False
    piece = scan.at(end)
    told = (
        is_clause_end(scan, end)
        or scan.key(end) in _SORTS
        or piece.kind in ("", "num")
        or "item" in piece.roles
        or end >= len(scan.pieces)
    )
    return told or any(name in _OF_AN_AXLE for name, _ in piece.facts)


_SORTS = frozenset({"kind", "type", "style", "one", "version", "variety", "wheels", "wheel"})
_OF_AN_AXLE = frozenset(
    {"brakes", "ratio", "differential", "knuckle", "float", "rear_wheels", "suspension", "position"}
)


def _about_wheels(scan: Scan, i: int) -> bool:
    around = [scan.at(k) for k in range(i, i + 3)]
    return any(p.roles.get("item") == "wheels-tires" or p.roles.get("label") == "circle" or ("part", "hub") in p.facts
               for p in around) or _wheels_before(scan, i)  # fmt: skip


def _wheels_before(scan: Scan, i: int) -> bool:
    """``the wheel is held by 8 bolts``: nothing else is named before the count in its clause."""
    for k in range(i - 1, i - 1 - _FAR, -1):
        if is_clause_end(scan, k):
            return False
        if scan.role(k, "item") or any(name == "part" for name, _ in scan.at(k).facts):
            return scan.role(k, "item") == "wheels-tires"
    return False


_FAR = 9


def _is_cover_label(scan: Scan, k: int) -> bool:
    """``cover bolts: 14``, ``bolts on the round cover is 12``."""
    key = scan.key(k)
    return key in _COVER_LABELS or (scan.role(k, "unit") == "bolt" and "cover" in key and scan.at(k - 1).kind != "num")


def _labelled_counts(scan: Scan) -> None:
    """``splines: 35``, ``lugs 8``, ``inner 35``, ``spline, counted 35``."""
    for i in scan.numbers():
        if scan.used[i] or not _whole(scan, i):
            continue
        value, before = int(scan.pieces[i].value or 0), scan.before(i)
        if scan.key(before) == "counted" or scan.key(before) == "count":
            before = scan.before(before)
            before -= scan.key(before) == ","
        if value in SPLINES and labelled_splines(scan, value, i, before):
            continue
        if value in _COVER_BOLTS and before >= i - 3 and _is_cover_label(scan, before):
            scan.mark("cover_bolts", value, i, i + 1)
        elif 4 <= value <= 12 and (_lugs_announced(scan, i, before) or _bolts_told(scan, i, value)):
            scan.mark("lugs", value, i, i + 1)


_COVER_LABELS = frozenset({"cover bolts", "bolts on cover", "bolts on the cover", "cover bolt", "bolts in the cover"})


def _lugs_announced(scan: Scan, i: int, before: int) -> bool:
    labelled = scan.role(before, "label") in ("lugs", "circle") and scan.key(before) not in ("holes", "hole")
    return labelled and before >= i - 3 and not scan.unit(i) and not _counted_already(scan, before)


def _bolts_told(scan: Scan, i: int, value: int) -> bool:
    """``bolts: 8``: the wheel's, where no cover is spoken of."""
    labelled = scan.key(i - 1) in (":", "=") and scan.role(i - 2, "unit") == "bolt"
    opens = labelled and (is_clause_end(scan, i - 3) or scan.key(i - 3) in ("", "-"))
    return opens and value in _LUG_BOLTS and (is_clause_end(scan, i + 1) or i + 1 >= len(scan.pieces))


def _counted_already(scan: Scan, before: int) -> bool:
    """Whether the label has its number before it (``8 lug 4.10``, ``8 lug 10.5``)."""
    return scan.at(before - 1).kind == "num" and scan.key(before + 1) != ":"
