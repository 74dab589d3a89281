"""Verdicts against those of a person of the trade: the floors that a change must not fall below."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from measure_scenarios import cases, report

FLOORS = {"open": 23, "blind": 38, "blind2": 37, "drill": 100, "rounds": 130, "sight1": 23, "held": 10}
"""So many verdicts of each set are to be right: a little under what they were."""
Judged = tuple[str, list[tuple[bool, bool]]]


@pytest.fixture(scope="module", params=FLOORS)
def judged(request: pytest.FixtureRequest) -> Judged:
    return request.param, [(case.right, case.false_fit) for case in cases(request.param)]


def test_no_axle_is_said_to_fit_that_does_not(judged: Judged) -> None:
    _, verdicts = judged
    assert verdicts
    assert sum(false_fit for _, false_fit in verdicts) == 0


def test_most_verdicts_are_those_of_a_person_of_the_trade(judged: Judged) -> None:
    name, verdicts = judged
    assert sum(right for right, _ in verdicts) >= FLOORS[name]


def test_the_report_of_the_held_back_ones_shows_no_text() -> None:
    shown = report("held", show=True)
    assert shown.startswith("held:")
    assert all(line.startswith(("held:", "  ")) and "->" in line for line in shown.splitlines()[1:])
