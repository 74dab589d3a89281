"""Reasons as a person of the trade would say them: short, what decides first, nothing twice; and what two plain
statements that cannot both be true leave known.

That this one-ton front of before 2005 has leaf springs and 30-spline outers, and that of 2005 on coils and 35, is
common practice.
"""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.facts import Fact, Known
from donorbase.verdict.build import parse_build
from donorbase.verdict.verdicts import Call, ListingVerdict

Judge = Callable[..., ListingVerdict]
Plain = dict[str, Any]

MOST = 8
"""About six: what fails or is not known is never dropped for the sake of the count."""


@pytest.fixture
def too_early(coil_front: Plain) -> Plain:
    """Coils and 35 splines, said of a year that had neither."""
    return coil_front | {"years": (2003, 2003), "outer_splines": 35}


def test_a_year_against_springs_and_splines_is_not_decided(
    plain_front: Plain, too_early: Plain, verdict: Judge
) -> None:
    found = verdict(parse_build(plain_front), too_early)
    assert found.verdict is Call.UNCLEAR
    assert "axles of the stated years have 30" in found.reasons[0]
    assert found.questions[0].subject == "outer_splines"


def test_counted_splines_stand_against_the_year(plain_front: Plain, too_early: Plain, verdict: Judge) -> None:
    counted = too_early | {"outer_splines": Fact("outer_splines", 35, Known.MEASURED)}
    assert verdict(parse_build(plain_front), counted).verdict is Call.FITS


def test_a_year_that_goes_with_the_rest_is_believed(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    assert verdict(parse_build(plain_front), coil_front | {"outer_splines": 35}).verdict is Call.FITS


def test_what_is_met_takes_a_line_for_each_way(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    reasons = verdict(parse_build(plain_front), coil_front).reasons
    assert sum(reason.startswith("met as stated: ") for reason in reasons) == 1
    assert sum(reason.startswith("met by its kind: ") for reason in reasons) == 1
    assert len(reasons) <= MOST


def test_many_open_things_are_summed_up(plain_front: Plain, verdict: Judge) -> None:
    bare = {"kind": "axle", "position": "front", "load_class": "one-ton"}
    reasons = verdict(parse_build(plain_front), bare).reasons
    assert len(reasons) <= MOST
    summed = [reason for reason in reasons if reason.startswith("not known either: ")]
    assert len(summed) == 1
    assert "front outer shaft splines" in " ".join(reasons)


def test_what_it_probably_is_stands_once(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    found = verdict(parse_build(plain_front), coil_front)
    kind = found.items[found.chosen[0]].taken_for
    assert kind.startswith("probably the ")
    assert not any(kind in line for line in (*found.reasons, *found.notes))
