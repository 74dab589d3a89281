"""Bolt circles: exact geometry, the factors that measuring pages print, and the honest error of tape and
caliper.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering import bolt_circle as bc
from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue


@pytest.mark.parametrize(
    ("lugs", "neighbor", "second"),
    [(4, 1.4142, 1.0), (5, 1.7013, 1.0515), (6, 2.0, 1.1547), (8, 2.6131, 1.4142), (10, 3.2361, 1.7013)],
)
def test_factors(lugs: int, neighbor: float, second: float) -> None:
    assert bc.circle_factor(lugs, "neighbor") == pytest.approx(neighbor, abs=5e-5)
    assert bc.circle_factor(lugs, "second") == pytest.approx(second, abs=5e-5)


def test_published_factors() -> None:
    # A how-to page prints 1.154 for three studs, a measuring page 1.7012 for five, another 1.05 for every
    # second.
    assert bc.circle_factor(3, "neighbor") == pytest.approx(1.154, abs=1e-3)
    assert bc.circle_factor(5, "neighbor") == pytest.approx(1.7012, abs=2e-4)  # printed truncated
    assert bc.circle_factor(5, "second") == pytest.approx(1.05, abs=2e-3)
    assert 1 / bc.circle_factor(5, "to-middle") == pytest.approx(0.9045, abs=5e-5)


# Pattern, neighbours mm, every second mm (computed).
LENGTHS = [
    (5, 114.3, 67.18, 108.71),
    (5, 127.0, 74.65, 120.78),
    (5, 139.7, 82.11, 132.86),
    (6, 139.7, 69.85, 120.98),
    (8, 165.1, 63.18, 116.74),
    (8, 170.0, 65.06, 120.21),
    (8, 180.0, 68.88, 127.28),
    (8, 200.0, 76.54, 141.42),
    (8, 210.0, 80.36, 148.49),
    (10, 285.75, 88.30, 167.96),
]


@pytest.mark.parametrize(("lugs", "circle", "neighbor", "second"), LENGTHS)
def test_lengths_between_studs(lugs: int, circle: float, neighbor: float, second: float) -> None:
    assert bc.read_circle(lugs, neighbor, "neighbor").circle_mm == pytest.approx(circle, abs=0.02)
    assert bc.read_circle(lugs, second, "second").circle_mm == pytest.approx(circle, abs=0.02)


@pytest.mark.parametrize(("lugs", "circle"), bc.KNOWN_PATTERNS)
def test_every_known_pattern_is_found_by_caliper(lugs: int, circle: float) -> None:
    measure = "opposite" if lugs % 2 == 0 else "second"
    length = circle / bc.circle_factor(lugs, measure)
    reading = bc.read_circle(lugs, length, measure, "caliper", by_edges=True)
    assert reading.patterns[0].circle_mm == circle


def test_errors_of_the_tools() -> None:
    # Tape in 1/16 in with centres by eye 0.94 mm, caliper on edges 0.25 mm (computed on assumed bounds).
    assert bc.reading_sd_mm("tape", by_edges=False) == pytest.approx(0.94, abs=0.005)
    assert bc.reading_sd_mm("caliper", by_edges=True) == pytest.approx(0.25, abs=0.005)
    assert bc.reading_sd_mm("caliper", True) < bc.reading_sd_mm("tape", True) < bc.reading_sd_mm("tape", False)


@pytest.mark.parametrize(
    ("lugs", "one", "other", "neighbor_pct", "long_pct"),
    [
        (5, 108, 112, 10.5, 2.1),
        (5, 112, 114.3, 23.5, 12.1),
        (5, 114.3, 115, 41.3, 36.1),
        (5, 115, 120, 5.8, 0.6),
        (5, 120, 120.65, 41.9, 37.1),
        (5, 127, 130, 17.3, 6.4),
        (5, 135, 139.7, 7.0, 0.8),
        (6, 135, 139.7, 10.5, 0.6),
        (8, 165.1, 170, 15.8, 0.4),
        (8, 170, 180, 2.0, 0.05),
        (6, 132, 135, 21.2, 5.5),
    ],
)
def test_chance_that_a_tape_mistakes_two_patterns(
    lugs: int, one: float, other: float, neighbor_pct: float, long_pct: float
) -> None:
    sd = bc.reading_sd_mm("tape", by_edges=False)
    long_way = "opposite" if lugs % 2 == 0 else "second"
    assert 100 * bc.chance_of_mistake(lugs, one, other, "neighbor", sd) == pytest.approx(neighbor_pct, abs=0.15)
    assert 100 * bc.chance_of_mistake(lugs, one, other, long_way, sd) == pytest.approx(long_pct, abs=0.1)


def test_neighbors_cannot_tell_the_eight_lug_patterns_but_opposite_studs_can() -> None:
    unsure = bc.read_circle(8, 64.0, "neighbor")
    assert unsure.settled is None
    assert {p.circle_mm for p in unsure.patterns} >= {165.1, 170.0}
    assert "opposite studs" in unsure.advice
    sure = bc.read_circle(8, 170.0, "opposite")
    assert sure.settled is not None
    assert sure.settled.circle_mm == 170.0


def test_a_tape_cannot_tell_patterns_less_than_a_millimetre_apart() -> None:
    reading = bc.read_circle(5, 108.9, "second")
    assert reading.settled is None
    assert {p.circle_mm for p in reading.patterns} >= {114.3, 115.0}
    assert "cannot tell" in reading.advice


def test_no_known_pattern() -> None:
    reading = bc.read_circle(8, 150.0, "opposite")
    assert reading.patterns == ()
    assert "no known pattern" in reading.advice


@pytest.mark.parametrize(
    ("lugs", "measure"), [(5, "opposite"), (7, "opposite"), (8, "to-middle"), (3, "second"), (2, "neighbor")]
)
def test_what_cannot_be_measured(lugs: int, measure: str) -> None:
    with pytest.raises(BadInput):
        bc.read_circle(lugs, 100.0, measure)


@pytest.mark.parametrize(
    ("text", "lugs", "circle"),
    [
        ("8x6.5", 8, 165.1),
        ("8x170", 8, 170.0),
        ("8 on 170", 8, 170.0),
        ("8x6 1/2in", 8, 165.1),
        ("5x4.5", 5, 114.3),
        ("5x114.3mm", 5, 114.3),
        ("6 on 5.5", 6, 139.7),
        ("6x5-1/2", 6, 139.7),
        ("10x11.25", 10, 285.75),
        ("10x285.75", 10, 285.75),
        ("8 lug x 6.5", 8, 165.1),
        ("5×5", 5, 127.0),
    ],
)
def test_reading_a_pattern(text: str, lugs: int, circle: float) -> None:
    assert bc.read_pattern(text) == (lugs, circle)


@pytest.mark.parametrize("text", ["", "8", "8x", "x6.5", "8x6.5x3", "99x6.5", "8x1", "8x999", "eight on six"])
def test_what_is_no_pattern(text: str) -> None:
    with pytest.raises(BadInput):
        bc.read_pattern(text)


@given(st.integers(3, 12), st.floats(80, 300), st.sampled_from(bc.MEASURES))
def test_the_circle_comes_back_from_any_length(lugs: int, circle: float, measure: str) -> None:
    try:
        length = circle / bc.circle_factor(lugs, measure)
    except BadInput:
        return
    reading = bc.read_circle(lugs, length, measure)
    assert reading.circle_mm == pytest.approx(circle)
    assert math.isclose(sum(p.share for p in reading.patterns), 1, abs_tol=0.1) or not reading.patterns


def test_the_catalogues_patterns_are_known() -> None:
    variants = load_catalogue().variants.values()
    met = {(v.get("lugs"), circle) for v in variants for circle in v.all("bolt_circle_mm") if v.get("lugs")}
    assert len(met) > 10
    assert sorted(met - set(bc.KNOWN_PATTERNS), key=str) == []


# Patterns met on vehicles (common practice), by studs.
MET_ON_VEHICLES = {
    4: (100, 101.6, 108, 114.3),
    5: (108, 112, 114.3, 115, 120, 120.65, 127, 130, 135, 139.7, 150, 165.1),
    6: (114.3, 120, 127, 132, 135, 139.7, 222.25),
    7: (150,),
    8: (165.1, 170, 180, 200, 210, 225),
    10: (184.15, 225, 285.75),
}


def test_known_patterns() -> None:
    assert set(bc.KNOWN_PATTERNS) == {(n, d) for n, circles in MET_ON_VEHICLES.items() for d in circles}
    # Those that the trade writes in inches are exact in mm.
    for inches, mm in (
        (4, 101.6),
        (4.5, 114.3),
        (4.75, 120.65),
        (5, 127),
        (5.5, 139.7),
        (6.5, 165.1),
        (11.25, 285.75),
    ):
        assert inches * 25.4 == pytest.approx(mm)


def test_a_reading_off_the_only_near_pattern_settles_nothing() -> None:
    # 3 mm are 3.2 standard deviations of a tape: the next pattern is further still, this one not proved.
    reading = bc.read_circle(8, 173.0, "opposite")
    assert [p.circle_mm for p in reading.patterns] == [170.0]
    assert reading.settled is None
    assert "measure again" in reading.advice
