"""Caster and pinion against an owner's worked example; links against exact geometry."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering import steering
from donorbase.errors import BadInput


def test_knuckle_rotation() -> None:
    # Owner's thread: 2.5 + 10.5 = 13.0; 5.75 + 10.5 wanted; rotate 3.25 degrees (his own figure 3 to 3.5).
    budget = steering.caster_budget(2.5, 10.5, 5.75, 10.5)
    assert (budget.constant_deg, budget.wanted_deg, budget.knuckle_rotation_deg) == (13.0, 16.25, 3.25)
    assert steering.caster_left_deg(2.5, 10.5, 10.5) == 2.5
    assert steering.caster_left_deg(5.0, 0.0, 6.0) == -1.0


def test_a_level_link_pulls_in_both_ways() -> None:
    for travel in (-4.0, 4.0):
        assert steering.link_shift_in(40, 0, travel) == pytest.approx(math.sqrt(40**2 - 16) - 40)


def test_a_sloping_link_moves_out_as_it_flattens() -> None:
    drop = 40 * math.sin(math.radians(10))
    assert steering.link_shift_in(40, 10, drop) == pytest.approx(40 - 40 * math.cos(math.radians(10)))


@given(st.floats(20, 60), st.floats(-15, 15), st.floats(-5, 5), st.floats(5, 9))
def test_equal_links_never_steer(length: float, slope: float, travel: float, arm: float) -> None:
    assert steering.bump_steer(length, slope, length, slope, travel, arm).steer_deg == 0


def test_angle_matters_before_length() -> None:
    by_angle = steering.bump_steer(36, 8, 36, 4, 3, 7).steer_deg
    by_length = steering.bump_steer(36, 4, 30, 4, 3, 7).steer_deg
    assert abs(by_angle) > abs(by_length) > 0


@pytest.mark.parametrize(
    "links", [(0, 0, 30, 0, 1, 7), (30, 85, 30, 0, 1, 7), (30, 0, 30, 0, 31, 7), (30, 0, 30, 0, 1, 0)]
)
def test_what_cannot_be(links: tuple[float, ...]) -> None:
    with pytest.raises(BadInput):
        steering.bump_steer(*links)


def test_links_that_pull_too_far_apart() -> None:
    with pytest.raises(BadInput, match="apart"):
        steering.bump_steer(30, 40, 30, -40, 5, 5)
