"""Middle and spread of prices against SciPy's, and their laws."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import median_abs_deviation

from donorbase.engineering.comparables import ENOUGH, HALF_AFTER_DAYS, HALF_AFTER_MI, Price, compare_prices

usd = st.floats(50, 20000)


@given(st.lists(usd, min_size=ENOUGH, max_size=40))
def test_with_equal_weights_it_is_scipys(prices: list[float]) -> None:
    """scipy.stats.median_abs_deviation with scale='normal', on the logarithms."""
    found = compare_prices(Price(p) for p in prices)
    logs = sorted(map(math.log, prices))
    middle = (logs[(len(logs) - 1) // 2] + logs[len(logs) // 2]) / 2
    assert found.median_usd == pytest.approx(math.exp(middle), rel=1e-6)
    spread = median_abs_deviation(logs, scale="normal")
    assert found.high_usd == pytest.approx(math.exp(middle + spread), rel=1e-3)


@given(st.lists(usd, min_size=ENOUGH, max_size=20), st.floats(0.5, 3))
def test_dearer_money_scales_it(prices: list[float], factor: float) -> None:
    one, other = compare_prices(map(Price, prices)), compare_prices(Price(p * factor) for p in prices)
    assert one.median_usd is not None
    assert other.median_usd == pytest.approx(one.median_usd * factor)


def test_old_and_distant_prices_count_less() -> None:
    assert Price(1, HALF_AFTER_DAYS).weight == pytest.approx(0.5)
    assert Price(1, 0, 2 * HALF_AFTER_MI).weight == pytest.approx(0.25)
    new, old = [Price(900)] * 3, [Price(300, 5 * HALF_AFTER_DAYS)] * 5
    assert compare_prices([*new, *old]).median_usd == pytest.approx(900)


def test_one_wild_price_moves_nothing() -> None:
    five = [Price(p) for p in (800, 850, 900, 950, 1000)]
    found = compare_prices([*five, Price(90000), Price(1)])
    assert found.median_usd == pytest.approx(900)


def test_too_few_to_say() -> None:
    found = compare_prices([Price(500, 10), Price(700, 40), Price(0), Price(600, 90), Price(650, 4)])
    assert (found.number, found.median_usd, found.newest_days, found.oldest_days) == (4, None, 4, 90)
