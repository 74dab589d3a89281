"""Uncertainty of hand measurements against guides on measurement uncertainty."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering.interpolation import between
from donorbase.engineering.uncertainty import (
    combined_sd,
    error_rate,
    likelihood,
    rectangular_sd,
    shares,
    step_sd,
)


def test_rectangular_bounds() -> None:
    # Guide for analytical laboratories, appendix E.1: "not less than 7 or more than 10": a = 1.5, u = 0.87.
    assert rectangular_sd(1.5) == pytest.approx(0.87, abs=0.005)
    # A tape in 1/16 in is read to half of that: 0.794 mm, 0.458 mm; a display of 0.001 in gives 0.00029 in.
    assert rectangular_sd(25.4 / 32) == pytest.approx(0.458, abs=5e-4)
    assert step_sd(0.001) == pytest.approx(0.00029, abs=5e-6)


def test_independent_parts_add_in_squares() -> None:
    assert combined_sd(3.0, 4.0) == 5.0


def test_odds_of_two_circles_after_one_measurement() -> None:
    # 165.1 or 170.0 mm, equally likely, 167.0 measured with u = 1.0 mm (computed from the normal density).
    assert likelihood(167.0, 165.1, 1.0) / likelihood(167.0, 170.0, 1.0) == pytest.approx(0.16447 / 0.01111, rel=1e-3)
    assert likelihood(0.0, 0.0, 2.0) == pytest.approx(0.19947, abs=1e-5)
    assert shares(167.0, (165.1, 170.0), 1.0) == pytest.approx((0.9367, 0.0633), abs=1e-4)


@given(st.floats(-1e6, 1e6), st.lists(st.floats(-1e3, 1e3), min_size=1, max_size=20), st.floats(1e-3, 1e3))
def test_odds_sum_to_one_however_far_the_reading_lies(reading: float, values: list[float], sd: float) -> None:
    assert sum(shares(reading, values, sd)) == pytest.approx(1.0)


def test_a_difference_of_3_29_sd_is_told_with_5_percent_error_each_way() -> None:
    assert error_rate(3.29, 1.0) == pytest.approx(0.05, abs=5e-4)
    assert error_rate(0.0, 1.0) == 0.5


def test_nothing_to_choose_from() -> None:
    assert shares(1.0, (), 1.0) == ()


def test_between_the_rows_of_a_table() -> None:
    rows = ((0, 10.0), (2, 20.0), (4, 0.0))
    assert [between(rows, at) for at in (-1, 0, 1, 2, 3, 4, 9)] == [10.0, 10.0, 15.0, 20.0, 10.0, 0.0, 0.0]
