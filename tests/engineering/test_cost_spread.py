"""The spread of a sum of costs against SciPy's triangular distribution and against a simulation."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from donorbase.engineering.cost_spread import (
    Hidden,
    Triple,
    chance_within,
    expected,
    mean_of,
    triangular_chance,
    variance_of,
    within_by_chance,
)

LINES: list[Triple] = [(900, 900, 900), (300, 550, 800), (300, 400, 700), (200, 450, 700)]
FAULTS: list[Hidden] = [(0.5, (450, 700, 950)), (0.8, (150, 300, 450)), (0.02, (200, 500, 800))]


@st.composite
def triples(draw: st.DrawFn) -> Triple:
    low, rise, fall = (draw(st.floats(1, 2000)) for _ in range(3))
    return (low, low + rise, low + rise + fall)


def scipy_of(cost: Triple) -> "stats.rv_continuous_frozen":
    low, likely, high = cost
    return stats.triang((likely - low) / (high - low), loc=low, scale=high - low)


@given(triples(), st.floats(0, 1))
def test_one_triangular_cost_is_that_of_scipy(cost: Triple, part: float) -> None:
    theirs = scipy_of(cost)
    x = cost[0] + part * (cost[2] - cost[0])
    assert mean_of(cost) == pytest.approx(theirs.mean(), rel=1e-9)
    assert variance_of(cost) == pytest.approx(theirs.var(), rel=1e-6)
    assert triangular_chance(cost, x) == pytest.approx(theirs.cdf(x), abs=1e-9)
    assert chance_within([cost], x - 0.005) == pytest.approx(theirs.cdf(x), abs=1e-6)


def simulated(limit: float, hidden: list[Hidden], draws: int = 20_000) -> float:
    dice = random.Random(7)

    def one() -> float:
        told = sum(dice.triangular(low, high, likely) for low, likely, high in LINES)
        return told + sum(dice.triangular(c[0], c[2], c[1]) for p, c in hidden if dice.random() < p)

    return sum(one() <= limit for _ in range(draws)) / draws


@pytest.mark.parametrize("limit", [1900, 2100, 2300, 2500, 2800, 3200, 3600])
@pytest.mark.parametrize("hidden", [[], FAULTS], ids=["nothing hidden", "hidden faults"])
def test_the_closed_form_agrees_with_a_simulation(limit: float, hidden: list[Hidden]) -> None:
    assert chance_within(LINES, limit, hidden) == pytest.approx(simulated(limit, hidden), abs=0.02)


def test_many_hidden_faults_are_summed_up_nearly_alike_when_the_small_ones_are_folded() -> None:
    many = [*FAULTS, *[(0.3, (100.0 + 10 * n, 150.0 + 10 * n, 300.0 + 10 * n)) for n in range(7)]]
    for limit in (2500, 3000, 3500, 4000):
        assert chance_within(LINES, limit, many) == pytest.approx(simulated(limit, many), abs=0.04)


@given(st.lists(triples(), min_size=1, max_size=5), st.floats(0, 0.9), st.floats(0, 20_000))
def test_the_chance_never_falls_as_the_limit_rises_nor_rises_with_a_fault(
    costs: list[Triple], p: float, limit: float
) -> None:
    hidden: list[Hidden] = [(p, (100, 200, 300))]
    assert chance_within(costs, limit) <= chance_within(costs, limit + 100) + 1e-9
    assert chance_within(costs, limit, hidden) <= chance_within(costs, limit) + 1e-9


@pytest.mark.parametrize("chance", [0.1, 0.5, 0.9])
def test_the_sum_that_is_kept_to_with_a_chance(chance: float) -> None:
    limit = within_by_chance(LINES, chance, FAULTS)
    assert simulated(limit, FAULTS) == pytest.approx(chance, abs=0.03)


def test_the_mean_with_hidden_faults() -> None:
    # (900 + 1650/3 + 1400/3 + 1350/3) + .5 x 700 + .8 x 300 + .02 x 500, by hand
    assert expected(LINES, FAULTS) == pytest.approx(900 + 550 + 1400 / 3 + 450 + 350 + 240 + 10)


def test_sure_costs_are_within_their_own_sum_and_no_less() -> None:
    assert chance_within([(500, 500, 500), (45, 45, 45)], 545) == 1
    assert chance_within([(500, 500, 500), (45, 45, 45)], 544) == 0
    assert chance_within([(500, 500, 500), (-100, -100, -100)], 400) == 1
