"""What is asked: open musts first, those whose answer moves the verdict most, never more than five."""

import copy
from collections.abc import Callable
from typing import Any

from donorbase.facts import Fact
from donorbase.reference.judging import judging
from donorbase.verdict.build import parse_build
from donorbase.verdict.questions import MOST, first
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Asked, Call, ListingVerdict

Judge = Callable[..., ListingVerdict]


def test_the_answer_that_decides_is_asked_and_decides(plain_builds: dict[str, dict[str, Any]], verdict: Judge) -> None:
    """Fourteen cover bolts and eight lugs: full or semi float is one look, and the verdict hangs on it."""
    build = parse_build(plain_builds["V31"])
    rear = {
        "kind": "axle", "position": "rear", "cover_bolts": 14, "years": (1995, 1995), "lugs": 8, "ratio": 4.1,
        "load_class": "three-quarter-ton", "bolt_circle_mm": 165.1, "rear_wheels": "single", "brakes": "drum",
    }  # fmt: skip
    found = verdict(build, rear, price=175)
    assert found.verdict is Call.UNCLEAR
    assert found.questions[0].subject == "float"
    assert found.questions[0].weight > 0.9
    assert verdict(build, rear | {"float": "full"}, price=175).verdict is Call.FITS
    assert verdict(build, rear | {"float": "semi"}, price=175).verdict is Call.NO


def test_the_weight_is_the_chance_that_the_answer_moves_the_verdict(
    front_build: Build, coil_front: dict[str, Any], verdict: Judge
) -> None:
    """By enumeration: each year that it can be of, put in the seller's mouth, and the verdicts compared."""
    unsaid = {name: value for name, value in coil_front.items() if name != "years"}
    found = verdict(front_build, unsaid)
    weight = next(q.weight for q in found.questions if q.subject == "ratio_sold")
    moved = [verdict(front_build, unsaid | {"years": (year, year)}).verdict for year in range(2005, 2026)]
    assert Call.FITS in moved
    assert Call.NO in moved
    assert weight > 0.8


def test_nothing_is_asked_where_nothing_can_help(
    front_build: Build, coil_front: dict[str, Any], verdict: Judge
) -> None:
    assert verdict(front_build, coil_front | {"defects": ["bent"]}).questions == ()


def test_a_fitting_axle_is_still_looked_at(front_build: Build, coil_front: dict[str, Any], verdict: Judge) -> None:
    asked = {q.subject for q in verdict(front_build, coil_front).questions}
    assert "defects" in asked
    assert "outer_splines" in asked


def test_questions_never_repeat_and_are_five_at_most() -> None:
    many = [Asked(f"s{n}", f"question {n % 9}?", "", n / 20) for n in range(20)]
    found = first(many, judging())
    assert len(found) == MOST
    assert len({q.ask for q in found}) == MOST
    assert max(q.weight for q in found) == 0.95


def test_deal_killers_come_first() -> None:
    asked = [Asked("brakes", "brakes?", "", 0.5), Asked("years", "years?", "", 0.3), Asked("drop", "drop?", "", 0.4)]
    assert [q.subject for q in first(asked, judging())] == ["years", "drop", "brakes"]


def test_each_end_of_a_pair_is_asked_by_name(
    plain_builds: dict[str, dict[str, Any]], coil_front: dict[str, Any], verdict: Judge
) -> None:
    plain = copy.deepcopy(plain_builds["V34"])
    rear = {"kind": "axle", "position": "rear", "years": Fact("years", (2011, 2011)), "lugs": 8, "float": "full"}
    found = verdict(parse_build(plain), coil_front, rear, price=1300)
    assert found.verdict is Call.UNCLEAR
    assert any(q.ask.startswith("Rear: ") for q in found.questions)
