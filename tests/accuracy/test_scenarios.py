"""Verdicts against those of a person of the trade: the floors that a change must not fall below."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from measure_scenarios import cases, report

OPEN_FLOOR = 22
"""Of 24 open scenarios; of the others in the same measure."""


@pytest.fixture(scope="module", params=["open", "blind", "drill", "rounds", "held"])
def judged(request: pytest.FixtureRequest) -> list[tuple[bool, bool]]:
    return [(case.right, case.false_fit) for case in cases(request.param)]


def test_no_axle_is_said_to_fit_that_does_not(judged: list[tuple[bool, bool]]) -> None:
    assert judged
    assert sum(false_fit for _, false_fit in judged) == 0


def test_most_verdicts_are_those_of_a_person_of_the_trade(judged: list[tuple[bool, bool]]) -> None:
    right = sum(right for right, _ in judged)
    assert right >= OPEN_FLOOR * len(judged) // 24


def test_the_report_of_the_held_back_ones_shows_no_text() -> None:
    shown = report("held", show=True)
    assert shown.startswith("held:")
    assert all(line.startswith(("held:", "  ")) and "->" in line for line in shown.splitlines()[1:])
