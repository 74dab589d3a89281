"""Quantities as people write them.

By definition the inch is 25.4 mm, the pound 0.45359237 kg, the mile 1.609344 km.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.errors import BadInput
from donorbase.reference import units

LENGTHS_IN = [
    ("3/4in", 0.75),
    ('1 1/2"', 1.5),
    ("1-1/2 in", 1.5),
    ("1½ in", 1.5),
    ("½in", 0.5),
    ("5 ft 3 in", 63.0),
    ("5'3\"", 63.0),
    ("5' 3 1/2", 63.5),
    ("5’ 3”", 63.0),
    ("6 feet", 72.0),
    ("254mm", 10.0),
    ("254 mm", 10.0),
    ("25.4 cm", 10.0),
    ("2.54 m", 100.0),
    ("69 1/4", 69.25),
    ("69.25", 69.25),
    (".5", 0.5),
    ("40in.", 40.0),
    ("  40 inches ", 40.0),
    ("1,016 mm", 40.0),
    ("0.010in", 0.01),
]
NOT_A_LENGTH = [
    "", "  ", "wide", "in", "3/0 in", "3/00 in", "1 1/000",
    "3 lb", "-3 in", "3 in 5 ft", "5 5", "3 in 4 in", "1e3 in", "5 mm 3",
    "12x3", "3..4", "nan", "inf", "1/2/3", "9" * 60, "170,5 mm", "3 in wide", "٣ ft ٣ ft",
]  # fmt: skip


@pytest.mark.parametrize(("text", "inches"), LENGTHS_IN)
def test_lengths(text: str, inches: float) -> None:
    assert units.parse_length(text) == inches


@pytest.mark.parametrize("text", NOT_A_LENGTH)
def test_what_is_no_length_says_what_would_be(text: str) -> None:
    with pytest.raises(BadInput) as wrong:
        units.parse_length(text)
    assert "170mm" in wrong.value.next_step


def test_the_inch_is_exact() -> None:
    assert units.parse_length_mm("6.5in") == 165.1
    assert units.parse_length_mm("170") == 170.0
    assert units.parse_length_mm('4 1/2"') == 114.3
    assert units.parse_length("170mm") == float(Fraction(1700, 254))
    assert units.mm_to_in(units.in_to_mm(6.5)) == 6.5


def test_a_bare_number_takes_the_unit_that_was_asked_for() -> None:
    assert units.parse_length("60", bare="mm") == pytest.approx(60 / 25.4)
    assert units.parse_length_mm("2", bare="in") == 50.8


@pytest.mark.parametrize(
    ("parse", "text", "value"),
    [
        (units.parse_weight, "2,500 lb", 2500.0),
        (units.parse_weight, "4536 kg", 10000.2),
        (units.parse_weight, "1 ton", 2000.0),
        (units.parse_speed, "65", 65.0),
        (units.parse_speed, "100 km/h", 62.137119),
        (units.parse_torque, "330 ft-lb", 330.0),
        (units.parse_torque, "1000 Nm", 737.562149),
        (units.parse_force, "500 N", 112.404472),
        (units.parse_angle, "-2.5 deg", -2.5),
        (units.parse_angle, "10.5°", 10.5),
        (units.parse_offset_mm, "-44", -44.0),
        (units.parse_offset_mm, "-1.5in", -38.1),
        (units.parse_offset_mm, "+18mm", 18.0),
        (units.parse_distance, "100 km", 62.137119),
        (units.parse_number, "1 1/2", 1.5),
    ],
)
def test_other_quantities(parse, text, value) -> None:  # type: ignore[no-untyped-def]
    assert parse(text) == pytest.approx(value, abs=0.05 if value > 5000 else 1e-5)


@given(st.integers(0, 500), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(0, 63))
def test_every_fraction_of_a_ruler_is_read_exactly(whole: int, parts: int, over: int) -> None:
    over %= parts
    assert units.parse_length(f"{whole} {over}/{parts} in") == whole + over / parts


@given(st.text(max_size=60))
def test_any_text_gives_a_number_or_says_why_not(text: str) -> None:
    try:
        inches = units.parse_length(text)
    except BadInput:
        return
    assert inches >= 0
