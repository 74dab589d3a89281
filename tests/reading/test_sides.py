"""On which side the differential hangs: said as noun, link and side in either order, and what only looks like it.

Left is the driver's side in North America (common practice of the trade; sides are those of somebody in the seat).
"""

import itertools
from collections.abc import Callable
from typing import Any

import pytest

First = Callable[[str], dict[str, Any]]

NOUNS = [
    "diff",
    "differential",
    "pumpkin",
    "punkin",
    "chunk",
    "pig",
    "third member",
    "hog head",
    "center section",
    "drop",
]
LINKS = [" on the", " is on the", " hangs to the", " sits over on the", ": ", "'s on"]
SIDES = [
    ("driver side", "driver"), ("driver's side", "driver"), ("left", "driver"), ("LH side", "driver"), ("street side",
    "driver"),
    ("passenger side", "passenger"), ("pass. side", "passenger"), ("right hand side", "passenger"), ("curb side",
    "passenger"),
    ("glove box side", "passenger"), ("middle", "center"),
]  # fmt: skip


@pytest.mark.parametrize(("noun", "link"), list(itertools.product(NOUNS, LINKS)))
def test_noun_link_side(first: First, noun: str, link: str) -> None:
    for words, side in SIDES:
        assert first(f"front axle, 3.73, {noun}{link} {words}, 8 lug").get("drop") == side, words


BEFORE = [
    ("driver drop", "driver"), ("drivers side drop", "driver"), ("LH drop", "driver"), ("drv. side diff", "driver"),
    ("left-hand-drop", "driver"), ("pass. drop", "passenger"), ("PASS DROP", "passenger"), ("p/s drop", "passenger"),
    ("right side pumpkin", "passenger"), ("psgr side diff", "passenger"), ("r/h drop", "passenger"), ("center diff",
    "center"),
    ("diff's hump is on the left side as you sit in it", "driver"), ("it has a hump on left side", "driver"),
    ("the round part is on the passenger's side", "passenger"), ("drop = pass", "passenger"),
    ("diff location: driver", "driver"),
    ("offset to the passenger side", "passenger"), ("drops on the driver side", "driver"), ("pumpkin passenger",
    "passenger"),
    ("el diferencial queda del lado derecho", "passenger"), ("diferencial del lado del chofer", "driver"),
    ("différentiel à gauche", "driver"), ("dd", "driver"), ("pass offset pumpkin", "passenger"), ("PD", "passenger"),
]  # fmt: skip
NEITHER = [
    "driver side shaft is new", "bent on the passenger side", "left my last diff at home", "price drop, right now",
    "right diff fluid",
    "driver side diff seal leaks", "will drop off on the left side of town", "drop me a line, left a number",
    "diff cover, left side nick",
    "was my dd", "as a dd", "the right axle for you", "diff is open, left tube straight",
    "price dropped, passenger side scratched",
    "a 3 in drop. Left side dent", "drop by the shop on the right",
]  # fmt: skip


@pytest.mark.parametrize(("text", "side"), BEFORE)
def test_side_of_the_drop(first: First, text: str, side: str) -> None:
    assert first(f"front axle, {text}, 3.73").get("drop") == side


@pytest.mark.parametrize("text", NEITHER)
def test_no_side_of_the_drop(first: First, text: str) -> None:
    assert "drop" not in first(f"front axle, 3.73. {text}")


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("1989 kingpin one ton front, driver side, SRW, 8x6.5", "driver"),
        ("85 half ton front, ten bolt, 6x5.5, pass side, disc", "passenger"),
        ("88 one ton passenger side kingpin front, single rear wheel", "passenger"),
        ("Front axle. Leaf, 4.10. Drivers side. 8 lug", "driver"),
        ("kingpin front axle pass side, leaf, 8x6.5, 4.10", "passenger"),
    ],
)
def test_a_side_by_itself_among_what_the_axle_is(first: First, text: str, side: str) -> None:
    assert first(text).get("drop") == side


@pytest.mark.parametrize(
    "text",
    [
        "front axle, 8x170, tube bent, driver side, 2011",
        "front axle, 8 lug, caliper gone, passenger side, 4.10",
        "front axle shaft, drivers side, 35 spline",
        "front axle, 4.10, driver side, ball joint worn",
        "rear axle, 8 lug, driver side, 4.10",
        "front axle from the drivers side of the lot, 4.10",
    ],
)
def test_a_side_of_a_piece_or_of_harm_is_none_of_the_axle(first: First, text: str) -> None:
    assert "drop" not in first(text)
