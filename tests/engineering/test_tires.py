"""Tire sizes against the published diameters of tire pages and the Tire and Rim Association."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering.tires import (
    design_diameter_mm,
    load_index_kg,
    read_tire,
    section_height_mm,
    turns_per_mile,
)
from donorbase.errors import BadInput
from donorbase.reference.units import in_to_mm

# size, section height mm, exact diameter mm, diameter as the standards round it, where it is published
PUBLISHED_DIAMETERS = [
    ("205/60R15", 123.00, 627.0, 627, "Tire and Rim Association design value 24.69 in, as quoted"),
    ("215/60R16", 129.00, 664.4, 664, "how-to page: 664.4 mm"),
    ("225/65R17", 146.25, 724.3, 724, "how-to page: 724.3 mm"),
    ("195/50R15", 97.50, 576.0, 577, "how-to page: 22.677 in"),
    ("215/55R16", 118.25, 642.9, 642, "how-to page: 25.311 in"),
    ("245/55R18", 134.75, 726.7, 727, "how-to page: 726.7 mm"),
    ("285/75R17", 213.75, 859.3, 860, "how-to page: 33.8 in"),
    ("285/70R17", 199.50, 830.8, 832, "computed"),
    ("265/70R17", 185.50, 802.8, 804, "computed"),
    ("315/70R17", 220.50, 872.8, 874, "computed"),
    ("235/85R16", 199.75, 805.9, 806, "computed"),
    ("275/65R18", 178.75, 814.7, 815, "computed"),
]


@pytest.mark.parametrize(("size", "height_mm", "exact_mm", "rounded_mm", "source"), PUBLISHED_DIAMETERS)
def test_metric_sizes(size: str, height_mm: float, exact_mm: float, rounded_mm: int, source: str) -> None:
    width, aspect, rim = int(size[:3]), int(size[4:6]), float(size[7:])
    tire = read_tire(size)
    assert section_height_mm(width, aspect) == height_mm, source
    assert tire.diameter_in is not None
    assert in_to_mm(tire.diameter_in) == pytest.approx(exact_mm, abs=0.051), source
    # How the standards round a height that ends in .5 was not read: 2 mm are allowed, inside tires' scatter.
    assert design_diameter_mm(width, aspect, rim) == pytest.approx(rounded_mm, abs=2), source


def test_the_tire_and_rim_association_value() -> None:
    assert design_diameter_mm(205, 60, 15) / 25.4 == pytest.approx(24.69, abs=0.006)


METRIC_WRITINGS = [
    "LT285/70R17",
    "lt285/70r17",
    "LT 285/70R17",
    "LT285/70R17 121/118R",
    "LT285/70R17E",
    "LT285/70R17/E 121/118R BSW",
    "LT285/70-17",
    "LT285/70x17",
]
FLOTATION_WRITINGS = [
    "40x13.50R17",
    "40X13.5R17LT",
    "40x13.50-17",
    "40 x 13.50 R 17",
    "40×13.50R17",
    "40/13.50R17",
    "40x13.50x17",
    "40x13.50R17LT/D 121Q",
]


def test_flotation_sizes_state_their_diameter() -> None:
    for text in FLOTATION_WRITINGS:
        tire = read_tire(text)
        assert (tire.kind, tire.diameter_in, tire.section_width_in, tire.rim_in) == (
            "flotation",
            40.0,
            13.5,
            17.0,
        )


@pytest.mark.parametrize(
    ("size", "new_in"),
    [("31x10.50R15", 30.51), ("33x12.50R15", 32.52), ("35x12.50R15", 34.53), ("30x9.50R15", 29.53)],
)
def test_a_new_flotation_tire_runs_smaller_than_its_name(size: str, new_in: float) -> None:
    # Standard design values of UN Regulation 54, annex 5 (from memory).
    tire = read_tire(size)
    assert tire.new_low_in is not None
    assert tire.new_high_in is not None
    assert tire.new_low_in < new_in < tire.new_high_in < (tire.diameter_in or 0)


def test_light_truck_sizes_and_service_descriptions() -> None:
    for text in METRIC_WRITINGS:
        tire = read_tire(text)
        assert tire.kind == "metric, light truck"
        assert tire.diameter_in == pytest.approx(32.709, abs=5e-4)
    assert read_tire("LT285/70R17 121/118R").load_index == 121
    assert read_tire("P205/60R15 90H").kind == "metric, passenger"
    assert read_tire("35x12.50-15").rim_in == 15


def test_a_numeric_size_states_no_diameter() -> None:
    tire = read_tire("7.50-16LT")
    assert (tire.kind, tire.diameter_in, tire.section_width_in, tire.rim_in) == ("numeric", None, 7.5, 16.0)


def test_a_measured_diameter() -> None:
    assert read_tire("40").diameter_in == 40.0
    assert read_tire('36 1/2"').diameter_in == 36.5
    assert read_tire("1000mm").diameter_in == pytest.approx(39.37, abs=0.001)


NO_TIRES = [
    "",
    "big",
    "40x13.50R41",
    "285/70R99",
    "999/70R17",
    "285/05R17",
    "99x13.50R17",
    "4.10",
    "8x6.5",
    "5in",
]


@pytest.mark.parametrize("text", NO_TIRES)
def test_what_is_no_tire(text: str) -> None:
    with pytest.raises(BadInput) as wrong:
        read_tire(text)
    assert wrong.value.next_step


@given(st.text(max_size=40))
def test_any_text_is_a_tire_or_says_why_not(text: str) -> None:
    try:
        tire = read_tire(text)
    except BadInput:
        return
    assert tire.diameter_in is None or 10 <= tire.diameter_in <= 80


@pytest.mark.parametrize(
    ("diameter_in", "free", "loaded"),
    [(29.5, 683.7, 704.8), (31, 650.6, 670.7), (33, 611.2, 630.1), (35, 576.2, 594.1), (37, 545.1, 561.9)],
)
def test_turns_a_mile(diameter_in: float, free: float, loaded: float) -> None:
    # Rolling circumference = 63,360 in / turns a mile (a tire guide's glossary).
    assert turns_per_mile(diameter_in) == pytest.approx(free, abs=0.06)
    assert turns_per_mile(diameter_in, 0.97) == pytest.approx(loaded, abs=0.06)
    with pytest.raises(BadInput):
        turns_per_mile(0)


@pytest.mark.parametrize(("index", "kg"), [(100, 800), (110, 1060), (119, 1360), (142, 2650), (165, 5150), (168, 5600)])
def test_load_index_as_tables_print_it(index: int, kg: int) -> None:
    assert load_index_kg(index) == kg
    # The series runs near 45 x 10^(index/80): a sanity check within 2 %.
    assert kg == pytest.approx(45 * 10 ** (index / 80), rel=0.02)


def test_an_index_that_we_have_not_read_is_not_made_up() -> None:
    assert load_index_kg(150) is None


# Kilograms a tire by load index, as tire pages print them (120-130 from memory).
LOAD_INDEX = """
100 800  104 900  108 1000 110 1060 112 1120 113 1150 114 1180 115 1215 116 1250 117 1285 118 1320 119 1360
120 1400 121 1450 122 1500 123 1550 124 1600 125 1650 126 1700 127 1750 128 1800 129 1850 130 1900
"""


def test_load_index_table() -> None:
    words = LOAD_INDEX.split()
    for index, kg in zip(map(int, words[::2]), map(int, words[1::2]), strict=True):
        assert load_index_kg(index) == kg


def test_a_new_metric_tire_lies_within_3_percent_of_its_height() -> None:
    # 285/70R17: height 199.5 mm, so 2 x 3 % of it is 11.97 mm either way.
    tire = read_tire("285/70R17")
    assert tire.new_low_in == pytest.approx((830.8 - 11.97) / 25.4, abs=1e-3)
    assert tire.new_high_in == pytest.approx((830.8 + 11.97) / 25.4, abs=1e-3)
