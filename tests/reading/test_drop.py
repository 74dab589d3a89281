"""The differential's side where a seller names no more than the side: said of the axle, or of something on it."""

from collections.abc import Callable
from typing import Any

import pytest

First = Callable[[str], dict[str, Any]]

OF_THE_AXLE = [
    ("kingpin front axle, driver side, SRW, 8x6.5", "driver"),
    ("85 half ton front, ten bolt, pass side, disc", "passenger"),
    ("1988 one ton passenger side kingpin front, 4.10", "passenger"),
    ("Front axle. Driver's side. 8 lug", "driver"),
    ("driver side front axle, 8x170", "driver"),
]
OF_SOMETHING_ON_IT = [
    "front axle, bent tube, driver side, 3.73",
    "front axle, ball joint worn, passenger side",
    "front axle, drivers side is longer",
    "front axle, passenger side unit bearing has play",
    "front axle, driver side shaft missing",
    "rear axle, driver side, 3.73",
]


@pytest.mark.parametrize(("text", "side"), OF_THE_AXLE)
def test_a_side_by_itself_is_that_of_the_differential(first: First, text: str, side: str) -> None:
    assert first(text)["drop"] == side


@pytest.mark.parametrize("text", OF_SOMETHING_ON_IT)
def test_a_side_of_something_else_is_not(first: First, text: str) -> None:
    assert "drop" not in first(text)


def test_the_count_behind_a_comma_is_of_the_shafts_before_it(first: First) -> None:
    found = first("front axle 2009. Counted the outer shafts, 30 splines. Inner 35.")
    assert (found["outer_splines"], found["inner_splines"]) == (30, 35)


def test_a_count_after_a_counted_shaft_is_not_taken_for_that_shaft_again(first: First) -> None:
    assert first("front axle, 35 spline outer shafts, 30 spline inners")["inner_splines"] == 30


def test_a_price_before_a_telephone_number_is_no_part_of_it(read: Callable[[str], dict[str, Any]]) -> None:
    found = read("Front axle, 8x170. Asking 900 555-0132")
    assert found["price_usd"] == 900
    assert found["contact"] is True


@pytest.mark.parametrize(
    "text",
    [
        "14 bolt full float, 8 on 6.5, 3.73. Brake lines were cut. $275",
        "Unit bearings howl on this one. 2005 coil front, SRW, 8 lug, 3.73. $500",
    ],
)
def test_a_fault_or_a_line_that_is_named_makes_no_part_of_an_axle(first: First, text: str) -> None:
    assert first(text)["kind"] == "axle"
    assert first(text)["lugs"] == 8


def test_a_worn_part_on_offer_stays_a_part(first: First) -> None:
    assert first("Unit bearings, worn, $50. Off a 2005 coil front, SRW, 8 lug.")["kind"] == "part"
