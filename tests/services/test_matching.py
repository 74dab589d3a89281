"""The shelf against builds: what covers what they lack, one part once, and what is left to buy."""

from datetime import date

import pytest

from donorbase.errors import BadInput, NotFound
from donorbase.services.builds import add_build
from donorbase.services.cards import measure_facts
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.matching import Target, matches, needs, targets_of
from donorbase.services.measuring import measure_part
from donorbase.services.promising import Taking, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.tending import undo_part
from donorbase.shipped import data_dir

WHEN = Occasion(date(2026, 11, 9), "owner")
KINGPIN, TWIN = "front-9.75-kingpin/b-1977-1991-srw", "front-9.75-kingpin/mil-1984-1987"


@pytest.fixture
def shelf(house: House) -> House:
    """Two builds, each with a housing, and five parts off the twin of the one."""
    for name, axle in (("crawler", KINGPIN), ("trail-wagon", "rear-10.50-fourteen-bolt/b-1973-2000-srw-drum")):
        add_build(house, data_dir() / "demo" / f"{name}.toml")
        housing = pull(house, Pulled("housing", axle=axle), WHEN)
        take(house, housing.tag, Taking("used", build=name), WHEN)
    for kind, side in (("rotor", None), ("rotor", None), ("rotor", None), ("knuckle", "left"), ("caliper", None)):
        pull(house, Pulled(kind, side=side, axle=KINGPIN), WHEN)
    return house


def test_each_part_against_each_axle_of_each_build(shelf: House) -> None:
    targets = targets_of(shelf)
    assert [(t.build, t.whole) for t in targets] == [("crawler", False), ("trail-wagon", False)]
    found = {(m.part.name, m.target.build): m.fit.state for m in matches(shelf, targets)}
    assert found == {
        ("rotor", "crawler"): "yes",
        ("rotor", "trail-wagon"): "no",
        ("knuckle, left", "crawler"): "yes",
        ("knuckle, left", "trail-wagon"): "no",
        ("caliper, side not known", "crawler"): "not known",
        ("caliper, side not known", "trail-wagon"): "no",
    }


def test_what_is_promised_elsewhere_or_worn_out_covers_nothing(shelf: House) -> None:
    (target,) = targets_of(shelf, builds=["crawler"])
    one, two, three = (m.part for m in matches(shelf, [target]) if m.part.kind == "rotor")
    take(shelf, one.tag, Taking("reserved", person="Kim"), WHEN)
    assert measure_part(shelf, two.tag, "rotor-thickness", "1.40in", WHEN).judgement.state == "out"
    (need,) = needs(shelf, "crawler", target, ["rotor"])
    assert (need.wanted, need.covered, need.left) == (2, (three.tag,), 1)
    assert (need.each_usd, need.source) == (75, "the build's own price")


def test_a_part_covers_one_need_and_only_on_its_side(shelf: House) -> None:
    (target,) = targets_of(shelf, builds=["crawler"])
    left, right = needs(shelf, "crawler", target, ["knuckle"])
    assert (left.side, left.left, right.side, right.left) == ("left", 0, "right", 1)
    (rotors,) = needs(shelf, "crawler", target, ["rotor"])
    assert (len(rotors.covered), rotors.left) == (2, 0)
    twice = needs(shelf, "crawler", target)
    tags = [tag for need in twice for tag in need.covered]
    assert len(tags) == len(set(tags)) == 3
    assert {need.kind.kind for need in twice} >= {"rotor", "knuckle", "inner-shaft", "spindle"}


def test_an_axle_lacks_nothing_that_such_axles_do_not_have(shelf: House) -> None:
    """Unit bearings have no spindle, disc brakes no drum; what the catalogue does not know stays on the list."""
    late = Target("front-9.75-balljoint/a-2005-2010-srw", "crawler", whole=False)
    kinds = {need.kind.kind for need in needs(shelf, "crawler", late)}
    assert {"unit-bearing", "rotor", "inner-shaft"} <= kinds
    assert not kinds & {"spindle", "brake-drum", "axle-shaft"}
    (old,) = targets_of(shelf, builds=["crawler"])
    assert "unit-bearing" not in {need.kind.kind for need in needs(shelf, "crawler", old)}


def test_of_a_whole_axle_it_must_be_told_what_it_lacks(shelf: House) -> None:
    assert needs(shelf, "crawler", Target(KINGPIN, "crawler")) == ()
    with pytest.raises(BadInput, match="no kind of part"):
        needs(shelf, "crawler", Target(KINGPIN, "crawler"), ["rotors"])


def test_targets_that_are_none(shelf: House) -> None:
    assert [t.axle for t in targets_of(shelf, axles=[TWIN])] == [TWIN]
    with pytest.raises(NotFound):
        targets_of(shelf, builds=["crawlr"])
    with pytest.raises(BadInput, match="no axle"):
        targets_of(shelf, axles=["line-A"])


def test_a_part_that_measured_otherwise_than_its_kind_is_not_promised(house: House) -> None:
    hub = pull(house, Pulled("hub", axle=KINGPIN), WHEN)
    (before,) = matches(house, [Target(KINGPIN)], hub.tag)
    measure_facts(house, Desk.of_house(house, 2026), hub.tag, {"lugs": "6"}, WHEN)
    (after,) = matches(house, [Target(KINGPIN)], hub.tag)
    assert (before.fit.state, after.fit.state) == ("yes", "not known")
    assert "measured otherwise than its kind of axle: lugs 6" in after.fit.because
    undo_part(house, hub.tag, WHEN)
    measure_facts(house, Desk.of_house(house, 2026), hub.tag, {"lugs": "8"}, WHEN)
    assert matches(house, [Target(KINGPIN)], hub.tag)[0].fit.state == "yes"
