"""Drawings carry the figures they are drawn from; the figures are checked against geometry and ANSI B92.1."""

import re
import xml.etree.ElementTree as ET

import pytest

from donorbase.reference.inspection import DRAWINGS, looks
from donorbase.reports.drawings import drawing

SVG = "{http://www.w3.org/2000/svg}"


def words(svg: str) -> str:
    return " ".join(element.text or "" for element in ET.fromstring(svg).iter(f"{SVG}text"))


def numbers(svg: str) -> list[float]:
    return [float(n) for n in re.findall(r"\d+\.\d+", words(svg))]


# Neighbouring studs: the chord of a regular polygon, PCD / c1 = 1.7012 for five studs on a measuring page (read,
# truncated), 2.000 for six and 2.6131 for eight by geometry.
@pytest.mark.parametrize(("lugs", "circle_mm", "near_mm"), [(5, 139.7, 82.11), (6, 139.7, 69.85), (8, 170.0, 65.06)])
def test_the_bolt_circle_shows_what_neighbours_measure(lugs: int, circle_mm: float, near_mm: float) -> None:
    shown = numbers(drawing("bolt_circle", {"lugs": lugs, "bolt_circle_mm": circle_mm}))
    assert any(abs(near_mm - n) < 0.06 for n in shown)
    assert (circle_mm in shown) is (lugs % 2 == 0)  # odd counts have no stud across


def test_as_many_studs_are_drawn_as_there_are() -> None:
    circles = ET.fromstring(drawing("bolt_circle", {"lugs": 6})).iter(f"{SVG}circle")
    assert sum(circle.get("r") == "9" for circle in circles) == 6


# (N + 1) / P over the crests, ANSI B92.1: 35 splines of 24/48 are 1.500 in, 30 are 1.29 in.
@pytest.mark.parametrize(("count", "over_crests"), [(35, "1.50 in"), (30, "1.29 in")])
def test_splines_show_the_caliper_reading(count: int, over_crests: str) -> None:
    svg = drawing("splines", {"outer_splines": count})
    assert over_crests in words(svg)
    outline = next(ET.fromstring(svg).iter(f"{SVG}polygon")).get("points", "")
    assert len(outline.split()) == 4 * count


def test_the_cover_has_its_bolts() -> None:
    circles = list(ET.fromstring(drawing("cover", {"cover_bolts": 14})).iter(f"{SVG}circle"))
    assert sum(circle.get("r") == "7" for circle in circles) == 14


@pytest.mark.parametrize("name", DRAWINGS)
def test_nothing_known_is_drawn_without_a_figure(name: str) -> None:
    svg = drawing(name, {})
    assert ET.fromstring(svg).get("role") == "img"
    assert not [n for n in numbers(svg) if n != 3.1416]


def test_words_of_data_are_escaped() -> None:
    assert "<script" not in drawing("cover", {"cover_shape": "<script>alert(1)</script>"})


def test_every_drawing_is_of_a_look() -> None:
    assert {look.drawing for look in looks() if look.drawing} == set(DRAWINGS)
