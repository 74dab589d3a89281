"""Waiting against buying now, held against a simulation and against the case where both cost the same."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering.waiting import even_chance, expected_gain_usd
from donorbase.errors import BadInput

usd = st.floats(1, 5000)


@given(usd, usd)
def test_at_the_even_chance_nothing_is_won_or_lost(saving: float, dearer: float) -> None:
    chance = even_chance(saving, dearer)
    assert chance is not None
    assert expected_gain_usd(saving, chance, dearer) == pytest.approx(0, abs=1e-6)


def test_against_a_simulation() -> None:
    """100,000 seeded draws: saved 250 where it stood there still, 300 dearer where it did not."""
    chance = random.Random(7)
    won = [-300 if chance.random() < 0.4 else 250 for _ in range(100_000)]
    assert expected_gain_usd(250, 0.4, 300) == pytest.approx(30)
    assert sum(won) / len(won) == pytest.approx(30, abs=3)


def test_ends() -> None:
    assert even_chance(0, 300) == 0
    assert even_chance(100, -50) is None
    assert expected_gain_usd(100, 0, 500) == 100
    with pytest.raises(BadInput):
        expected_gain_usd(100, 40, 500)
