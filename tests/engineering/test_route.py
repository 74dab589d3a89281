"""The shortest round against every order tried, and against rounds that geometry tells."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering.route import MOST_STOPS, shortest_round
from donorbase.errors import BadInput

miles_tables = st.integers(2, 7).flatmap(
    lambda n: st.lists(st.lists(st.floats(0, 500), min_size=n, max_size=n), min_size=n, max_size=n)
)


def round_miles(miles: list[list[float]], order: tuple[int, ...]) -> float:
    way = (0, *order, 0)
    return sum(miles[a][b] for a, b in itertools.pairwise(way))


@given(miles_tables)
def test_no_other_order_is_shorter(miles: list[list[float]]) -> None:
    order, total = shortest_round(miles)
    assert sorted(order) == list(range(1, len(miles)))
    assert total == pytest.approx(round_miles(miles, order))
    every = itertools.permutations(range(1, len(miles)))
    assert total == pytest.approx(min(round_miles(miles, other) for other in every))


def test_places_on_a_circle_are_passed_in_their_order() -> None:
    """The shortest round past points of a convex outline runs along it (Flood 1956: it never crosses itself)."""
    angles = [2 * math.pi * k / (MOST_STOPS + 1) for k in range(MOST_STOPS + 1)]
    mixed = [0, 5, 2, 7, 1, 8, 3, 6, 4]
    points = [(math.cos(angles[k]), math.sin(angles[k])) for k in mixed]
    order, total = shortest_round([[math.dist(p, q) for q in points] for p in points])
    along = [mixed[stop] for stop in order]
    assert along in (list(range(1, 9)), list(range(8, 0, -1)))
    assert total == pytest.approx(9 * 2 * math.sin(math.pi / 9))


def test_too_many_or_none() -> None:
    for count in (1, MOST_STOPS + 2):
        with pytest.raises(BadInput):
            shortest_round([[0.0] * count] * count)
