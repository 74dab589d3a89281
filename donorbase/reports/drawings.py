"""Drawings of where to put the tape, each drawn from figures: what it should be, as far as that is known."""

import math
import textwrap
from collections.abc import Callable, Mapping
from typing import Any

from donorbase.engineering.bolt_circle import NEIGHBOR, circle_factor
from donorbase.engineering.splines import spline_diameters
from donorbase.reference.units import MM_PER_IN
from donorbase.reports.sketch import Sketch

Figures = Mapping[str, Any]
"""The likeliest value of each attribute; what is not known is not in it."""

_USUAL_LUGS = 8
"""Studs on a drawing whose count is not known; the drawing then says so."""


def drawing(name: str, figures: Figures) -> str:
    """The drawing of that name as SVG; KeyError where there is none."""
    return _DRAWINGS[name](figures).svg()


def _both_units(mm: float) -> str:
    return f"{mm:.1f} mm = {mm / MM_PER_IN:.2f} in"


def _bolt_circle(figures: Figures) -> Sketch:
    lugs, circle_mm = figures.get("lugs"), figures.get("bolt_circle_mm")
    drawn = int(lugs or _USUAL_LUGS)
    even = drawn % 2 == 0
    sketch = Sketch(540, 270, "Bolt circle", "tape between opposite studs" if even else "tape between neighbours")
    x, y, r, stud = 135.0, 135.0, 92.0, 9.0
    places = [_around(x, y, r, n / drawn) for n in range(drawn)]
    sketch.circle(x, y, 124)
    sketch.circle(x, y, r, dashed=True)
    for place in places:
        sketch.circle(*place, stud)
    if even:
        # From outer edge to inner edge is centre to centre, and is read more surely.
        (x1, y1), (x2, y2) = places[0], places[drawn // 2]
        sketch.tape(x1, y1 - stud, x2, y2 - stud, "1", away=-16)
    sketch.tape(*places[0], *places[1], "2", away=-14)
    lines = ["1: outer edge of a stud to the", "inner edge of the one across"] if even else []
    lines += ["2: neighbours, middle to middle", ""]
    if lugs is None:
        lines += ["studs not known: count them"]
    elif circle_mm is not None:
        lines += [f"1: {_both_units(circle_mm)}"] if even else []
        lines += [f"2: {_both_units(circle_mm / circle_factor(drawn, NEIGHBOR))}"]
    _beside(sketch, 285, 70, lines)
    return sketch


def _width(figures: Figures) -> Sketch:
    sketch = Sketch(420, 230, "Width", "tape from wheel face to wheel face, and from each face to the differential")
    middle = {"driver": 160.0, "passenger": 260.0}.get(str(figures.get("drop")), 210.0)
    sketch.box(40, 62, 340, 16)
    sketch.circle(middle, 70, 34)
    for x in (30.0, 380.0):
        sketch.box(x, 30, 10, 80)
    sketch.line(30, 20, 30, 190, dashed=True)
    sketch.line(390, 20, 390, 190, dashed=True)
    sketch.line(middle, 20, middle, 150, dashed=True)
    sketch.tape(30, 135, middle, 135, "")
    sketch.tape(middle, 135, 390, 135, "")
    width = figures.get("width_in")
    told = f"face to face {width:g} in" if isinstance(width, int | float) else "wheel face to wheel face"
    sketch.tape(30, 178, 390, 178, told, away=22)
    sketch.words((30 + middle) / 2, 128, "left")
    sketch.words((middle + 390) / 2, 128, "right")
    return sketch


def _side(figures: Figures) -> Sketch:
    drop = figures.get("drop")
    sketch = Sketch(
        420, 260, "Side of the differential", f"seen from above, the nose up; it should be {drop or 'found'}"
    )
    sketch.words(210, 22, "front of the truck")
    sketch.line(210, 30, 210, 58, heavy=True)
    sketch.outline([(200, 44), (220, 44), (210, 28)])
    sketch.box(60, 82, 300, 14)
    for x in (30.0, 360.0):
        sketch.box(x, 58, 30, 62, rounded=6)
    for name, x in (("driver", 135.0), ("center", 210.0), ("passenger", 285.0)):
        if name == drop or (drop is None and name != "center"):
            sketch.circle(x, 89, 27, dashed=name != drop)
    sketch.box(110, 160, 50, 46, rounded=8)
    sketch.words(135, 188, "you", size=14)
    sketch.words(135, 228, "driver's side", size=14)
    sketch.box(260, 160, 50, 46, rounded=8)
    sketch.words(285, 228, "passenger's side", size=14)
    return sketch


def _pinion_height(figures: Figures) -> Sketch:
    pinion = figures.get("pinion")
    sketch = Sketch(480, 230, "Pinion height", "from the side: is the yoke above or below the middle of the tube?")
    sketch.circle(140, 115, 62)
    sketch.circle(140, 115, 24)
    sketch.line(40, 115, 400, 115, dashed=True)
    sketch.words(398, 108, "middle of the tube", anchor="end", size=13)
    for name, y in (("high", 82.0), ("low", 148.0)):
        if pinion in (name, None):
            sketch.box(200, y - 13, 52, 26, dashed=pinion is None)
            sketch.circle(264, y, 15, dashed=pinion is None)
            sketch.words(
                290, y + 5, f"yoke {'above: high' if name == 'high' else 'below: low'}", anchor="start", size=14
            )
    return sketch


def _tube(figures: Figures) -> Sketch:
    tube = figures.get("tube_in")
    sketch = Sketch(480, 220, "Tube", "caliper over the tube on bare metal, or a string once round it")
    sketch.circle(130, 110, 70)
    sketch.circle(130, 110, 52)
    for x in (60.0, 200.0):
        sketch.line(x, 20, x, 125, heavy=True)
    sketch.tape(60, 24, 200, 24, "")
    told = []
    if isinstance(tube, int | float):
        told = [f"caliper: {tube:g} in", f"string once round: {tube * math.pi:.2f} in"]
    _beside(sketch, 235, 90, told or ["caliper, or string once round", "divided by 3.1416"])
    return sketch


def _splines(figures: Figures) -> Sketch:
    count = figures.get("outer_splines") or figures.get("splines")
    teeth = int(count or 30)
    sketch = Sketch(480, 250, "Splines", "chalk on one spline, count once round; caliper over the crests")
    diameters = spline_diameters(teeth)
    r, root = 88.0, 88.0 * diameters.minor_in / diameters.major_in
    x, y = 120.0, 125.0
    shape = []
    for n in range(teeth):
        for part, radius in ((0.0, root), (0.2, r), (0.5, r), (0.7, root)):
            shape.append(_around(x, y, radius, (n + part) / teeth))
    sketch.outline(shape)
    sketch.circle(*_around(x, y, r + 12, 0.35 / teeth), 5, filled=True)
    sketch.words(x, 18, "chalk", size=13)
    for side in (-1, 1):
        sketch.line(x + side * r, y, x + side * r, y + 112, heavy=True)
    sketch.tape(x - r, y + 108, x + r, y + 108, "")
    pitch = [f"about {diameters.major_in:.2f} in over the crests", "where the pitch is 24/48"]
    _beside(sketch, 240, 90, [f"{teeth} splines", *pitch] if count else ["count not known: count them"])
    return sketch


def _cover(figures: Figures) -> Sketch:
    bolts, shape = figures.get("cover_bolts"), str(figures.get("cover_shape") or "")
    sketch = Sketch(480, 250, "Cover", "chalk one bolt of the cover and count once round")
    drawn = int(bolts or 10)
    for n in range(drawn):
        sketch.circle(*_around(120, 120, 88, n / drawn), 7, filled=n == 0)
    sketch.circle(120, 120, 104)
    sketch.words(120, 126, f"{drawn} bolts" if bolts else "count them")
    _beside(sketch, 245, 60, textwrap.wrap(shape or "its outline is not on record", 26))
    _beside(sketch, 245, 205, ["drawn for the count of bolts,", "not for its outline"])
    return sketch


def _straight(_: Figures) -> Sketch:
    sketch = Sketch(420, 230, "Straight", "string along both tubes; rim to rim before and behind")
    sketch.box(60, 70, 300, 14)
    sketch.circle(210, 77, 30)
    for x in (40.0, 360.0):
        sketch.box(x, 40, 20, 74, rounded=5)
    sketch.line(60, 62, 360, 62, dashed=True)
    sketch.words(210, 32, "string: one gap all along each tube", size=14)
    sketch.tape(50, 140, 370, 140, "rim to rim, before the axle", away=20)
    sketch.tape(50, 190, 370, 190, "rim to rim, behind it: the same", away=20)
    return sketch


def _beside(sketch: Sketch, x: float, y: float, lines: list[str]) -> None:
    """Lines of words, one under the other."""
    for row, line in enumerate(lines):
        sketch.words(x, y + 22 * row, line, anchor="start")


def _around(x: float, y: float, r: float, turn: float) -> tuple[float, float]:
    """The point at a part of a turn, from the top, clockwise."""
    angle = 2 * math.pi * turn - math.pi / 2
    return x + r * math.cos(angle), y + r * math.sin(angle)


_DRAWINGS: Mapping[str, Callable[[Figures], Sketch]] = {
    "bolt_circle": _bolt_circle,
    "width": _width,
    "side": _side,
    "pinion_height": _pinion_height,
    "tube": _tube,
    "splines": _splines,
    "cover": _cover,
    "straight": _straight,
}
