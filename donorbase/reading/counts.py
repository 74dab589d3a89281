"""Step 5: lugs and bolt circles, splines, cover bolts, pistons: numbers that count something."""

from donorbase.reading.scan import Scan

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
               180.0, 200.0, 205.0, 210.0, 222.25, 225.0, 275.0, 285.75, 335.0)  # fmt: skip
_PAIRS_MM = frozenset({("8", "165"), ("8", "165.1"), ("8", "170"), ("8", "180"), ("8", "200"), ("8", "210"),
    ("6", "135"), ("6", "139.7"), ("5", "114.3"), ("5", "135"), ("10", "225")})  # fmt: skip
_OVER = frozenset({"x", "on", "by", "-", "*", "en", "sur"})
_COVER_BOLTS = frozenset({9, 10, 12, 14})
_SPLINES = range(10, 51)


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
    for i in list(scan.numbers()):
        value = scan.pieces[i].value or 0
        if value not in _CIRCLES_IN or not _whole(scan, i):
            continue
        over, end = _circle_number(scan, i)
        if over is None:
            continue
        begin = i
        unit = "mm" if scan.unit(over) == "mm" else "inch" if scan.unit(over) == "inch" else ""
        circle = circle_mm(int(value), scan.pieces[over].value or 0, unit)
        if circle is None or (scan.key(i + 1) == "-" and scan.role(i + 2, "unit") == "" and not _known(circle)):
            continue
        scan.mark("lugs", int(value), begin, end)
        choice = scan.key(end) == "/" or scan.key(begin - 1) == "/"
        scan.mark("bolt_circle_mm", circle, begin, end, *(["choice"] if choice else []))
    _labelled_circles(scan)


def _circle_number(scan: Scan, i: int) -> tuple[int | None, int]:
    j = i + 1
    lug = scan.role(scan.after(i), "unit") == "lug"
    if lug:
        j = scan.after(i) + 1
    j += scan.key(j) in (",", "(", ":") and lug
    over = scan.key(j) in _OVER and (scan.key(j) != "-" or scan.at(j).glued)
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
    for i in list(scan.numbers()):
        value, unit = scan.pieces[i].value or 0, scan.unit(i)
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


def spline_pairs(scan: Scan) -> None:
    """``35/30 spline``, ``30/35 spl (outer/inner)``, ``35 inner 30 outer``."""
    for i in list(scan.numbers()):
        if scan.used[i] or not (_is_spline(scan, i) and scan.key(i + 1) in ("/", "-", "over")):
            continue
        if not (_is_spline(scan, i + 2) and scan.role(scan.after(i + 2), "unit") == "spline"):
            continue
        end = scan.after(i + 2) + 1
        first, second = int(scan.pieces[i].value or 0), int(scan.pieces[i + 2].value or 0)
        sides = [scan.role(k, "side") for k in range(end, end + 4) if scan.role(k, "side")]
        if sides[:1] == ["outer"]:
            first, second = second, first
        scan.mark("inner_splines", first, i, end)
        scan.mark("outer_splines", second, i, end)


def _is_spline(scan: Scan, i: int) -> bool:
    return scan.at(i).kind == "num" and (scan.at(i).value or 0) in _SPLINES and _whole(scan, i)


def counted(scan: Scan) -> None:
    """Numbers whose unit says what they count: splines, lugs, cover bolts, pistons."""
    for i in list(scan.numbers()):
        if scan.used[i] or not _whole(scan, i):
            continue
        value, unit = int(scan.pieces[i].value or 0), scan.unit(i)
        end = scan.after(i) + 1
        if unit == "spline" and value in _SPLINES:
            _spline(scan, value, i, end)
        elif unit == "lug" and 4 <= value <= 12 and scan.key(i - 1) not in ("/", "$"):
            scan.mark("lugs", value, i, end)
        elif unit == "bolt" and value in _COVER_BOLTS:
            scan.mark("cover_bolts", value, i, end)
        elif unit == "bolt" and 4 <= value <= 8 and _about_wheels(scan, end):
            scan.mark("lugs", value, i, end)
        elif unit == "piston" and 1 <= value <= 8:
            scan.mark("caliper_pistons", value, i, end)
    _labelled_counts(scan)


def _about_wheels(scan: Scan, i: int) -> bool:
    around = [scan.at(k) for k in range(i, i + 3)]
    return any(p.roles.get("item") == "wheels-tires" or p.roles.get("label") == "circle" or ("part", "hub") in p.facts
               for p in around)  # fmt: skip


def _spline(scan: Scan, value: int, i: int, end: int) -> None:
    side = scan.role(end, "side") or scan.role(i - 1, "side")
    part = dict(scan.at(end).facts).get("part") or dict(scan.at(i - 1).facts).get("part")
    side = side or {"outer-shaft": "outer", "inner-shaft": "inner"}.get(str(part), "")
    if scan.key(end) in ("in", "inner") and scan.key(end + 1) in ("and", "&", "n", "/") and scan.key(end + 2) == "out":
        scan.mark("inner_splines", value, i, end + 3)
        scan.mark("outer_splines", value, i, end + 3)
        return
    if scan.key(end) in ("in", "out") and any(scan.key(k) in ("in", "out") for k in (*range(end + 1, end + 6), i - 1)):
        side = {"in": "inner", "out": "outer"}[scan.key(end)]
    both = end + 1 + (scan.key(end + 1) in ("and", "&", "/", "+"))
    if side and scan.role(both, "side") not in ("", side) and both > end + 1 and scan.at(both + 1).kind != "num":
        scan.mark("inner_splines", value, i, both + 1)
        scan.mark("outer_splines", value, i, both + 1)
        return
    scan.mark(f"{side}_splines" if side else "splines", value, i, end)


def _labelled_counts(scan: Scan) -> None:
    """``splines: 35``, ``lugs 8``, ``inner 35``, ``spline, counted 35``."""
    for i in list(scan.numbers()):
        if scan.used[i] or not _whole(scan, i):
            continue
        value, before = int(scan.pieces[i].value or 0), scan.before(i)
        if scan.key(before) == "counted" or scan.key(before) == "count":
            before = scan.before(before)
            before -= scan.key(before) == ","
        label, side = scan.role(before, "label"), scan.role(before, "side")
        following = scan.role(scan.after(i), "side")
        if value in _SPLINES and (
            label == "splines" or (before != i - 1 and scan.key(before) in ("at the spline", "at the splines"))
        ):
            scan.mark("splines", value, i, i + 1)
        elif value in _SPLINES and side and scan.key(before) != "in" and _spline_near(scan, i):
            scan.mark(f"{side}_splines", value, i, i + 1)
        elif value in _SPLINES and following and scan.key(i + 1) != "in" and value >= 26 and scan.unit(i) != "inch":
            scan.mark(f"{following}_splines", value, i, i + 1)
        elif 4 <= value <= 12 and _lugs_announced(scan, i, before):
            scan.mark("lugs", value, i, i + 1)


def _lugs_announced(scan: Scan, i: int, before: int) -> bool:
    labelled = scan.role(before, "label") in ("lugs", "circle") and scan.key(before) not in ("holes", "hole")
    return labelled and before >= i - 3 and not scan.unit(i) and not _counted_already(scan, before)


def _counted_already(scan: Scan, before: int) -> bool:
    """Whether the label has its number before it (``8 lug 4.10``, ``8 lug 10.5``)."""
    return scan.at(before - 1).kind == "num" and scan.key(before + 1) != ":"


def _spline_near(scan: Scan, i: int) -> bool:
    return any(scan.role(k, "unit") == "spline" for k in range(max(0, i - 6), i + 7))
