"""What to carry for a build, and what is due with what lies on the shelf."""

from datetime import date
from typing import Any

import pytest

from donorbase.errors import BadInput
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.matching import Target
from donorbase.services.promising import Taking, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.setting_up import set_return
from donorbase.services.tending import undo_part
from donorbase.services.upkeep import care_done, due_by, packing_of

WHEN = Occasion(date(2026, 1, 1), "owner")
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
FLOATING = "rear-10.50-fourteen-bolt"


def test_a_left_shaft_is_no_spare_for_the_right_and_one_part_serves_one_spare(house: House) -> None:
    left = pull(house, Pulled("inner-shaft", side="left", axle=KINGPIN), WHEN)
    pull(house, Pulled("inner-shaft", axle=KINGPIN), WHEN)
    other = pull(house, Pulled("inner-shaft", side="right", axle=KINGPIN), WHEN)
    take(house, other.tag, Taking("sold", person="Kim"), WHEN)
    joint = pull(house, Pulled("u-joint", axle=KINGPIN), WHEN)
    targets = [Target(KINGPIN, "one"), Target(KINGPIN, "two")]
    found = packing_of(house, targets, stranded_usd=50_000)
    told = {(one.target.build, one.spare.kind, one.spare.side): one for one in found}
    assert told["one", "inner-shaft", "left"].fits == (left.tag,)
    assert told["one", "inner-shaft", "right"].fits == ()
    joints = [told["one", "u-joint", None].fits, told["two", "u-joint", None].fits]
    assert sorted(joints) == [(), (joint.tag,)]
    assert told["one", "inner-shaft", "left"].spare.odds * 2 == pytest.approx(0.006)


def test_only_what_an_axle_has_is_a_spare_for_it(house: House) -> None:
    kinds = {one.spare.kind for one in packing_of(house, [Target(FLOATING, "b")])}
    assert "axle-shaft" in kinds
    assert not kinds & {"knuckle", "u-joint", "locking-hub"}


def test_more_trips_break_more(house: House) -> None:
    """1 - (1 - p)^n: twenty in a thousand once, 18.3 % in ten trips."""
    (once,) = [o for o in packing_of(house, [Target(KINGPIN, "b")]) if o.spare.kind == "u-joint"]
    (ten,) = [o for o in packing_of(house, [Target(KINGPIN, "b")], trips=10) if o.spare.kind == "u-joint"]
    assert (once.spare.odds, ten.spare.odds) == (pytest.approx(0.02), pytest.approx(0.18293, abs=1e-4))


@pytest.mark.parametrize("wrong", [{"stranded_usd": -1}, {"usd_per_lb": 0}, {"trips": 0}, {"usd_per_lb": float("nan")}])
def test_amounts_that_are_none(house: House, wrong: dict[str, Any]) -> None:
    with pytest.raises(BadInput):
        packing_of(house, [Target(KINGPIN, "b")], **wrong)


def dues(house: House, until: date) -> list[tuple[str, str, str]]:
    return [(one.on.isoformat(), one.part.tag, one.what) for one in due_by(house, until)]


def test_care_is_due_from_the_day_it_came_then_from_the_day_it_was_done(house: House) -> None:
    """By the calendar: 90 days from 1 January 2026 is 1 April, 180 days 30 June."""
    axle = pull(house, Pulled("axle", axle=KINGPIN), WHEN)
    end = date(2026, 6, 30)
    assert dues(house, end) == [("2026-04-01", axle.tag, "turned"), ("2026-06-30", axle.tag, "inhibitor")]
    care_done(house, axle.tag, "turned", Occasion(date(2026, 3, 1), "owner"))
    assert dues(house, end) == [("2026-05-30", axle.tag, "turned"), ("2026-06-30", axle.tag, "inhibitor")]
    undo_part(house, axle.tag, WHEN)
    assert dues(house, date(2026, 4, 1)) == [("2026-04-01", axle.tag, "turned")]
    take(house, axle.tag, Taking("lent", person="Kim"), WHEN)
    assert dues(house, end) == [], "what does not lie here is not cared for here"


def test_days_of_return_are_due_too(house: House) -> None:
    part = pull(house, Pulled("caliper"), WHEN)
    set_return(house, part.tag, WHEN, days=30, prove="it leaks")
    (one,) = due_by(house, date(2026, 2, 1))
    assert (one.on, one.what, one.do) == (date(2026, 1, 31), "return", "prove: it leaks")


@pytest.mark.parametrize("word", ["washed", "oiled"])
def test_care_that_such_a_part_does_not_need(house: House, word: str) -> None:
    part = pull(house, Pulled("unit-bearing"), WHEN)
    with pytest.raises(BadInput, match=word):
        care_done(house, part.tag, word, WHEN)
