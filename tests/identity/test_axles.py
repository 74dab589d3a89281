"""One thing on offer -> the axles in it."""

from donorbase.facts import Fact, Item
from donorbase.identity.axles import axles_of
from donorbase.identity.identify import identify
from donorbase.reference.load import load_catalogue


def values(facts: tuple[Fact, ...]) -> dict[str, object]:
    return {fact.attribute: fact.value for fact in facts}


def test_an_axle_is_one_set_of_its_own_facts() -> None:
    item = Item((Fact("kind", "axle"), Fact("position", "front"), Fact("lugs", 8), Fact("missing", "caliper")))
    assert [values(facts) for facts in axles_of(item)] == [{"position": "front", "lugs": 8}]


def test_years_that_it_fits_go_along() -> None:
    item = Item((Fact("kind", "axle"), Fact("fits_years", (2005, 2016))))
    assert values(axles_of(item)[0]) == {"fits_years": (2005, 2016)}


def test_a_vehicle_is_a_front_and_a_rear() -> None:
    item = Item((
        Fact("kind", "vehicle"), Fact("years", (1994, 1994)), Fact("load_class", "one-ton"), Fact("ratio",
        4.1), Fact("lugs", 8), Fact("float", "full"), Fact("cover_bolts", 14), Fact("knuckle", "kingpin"),
        Fact("drop", "driver"), Fact("hubs", "manual-locking"), Fact("ring_gear_in", 10.5),
        Fact("rear_wheels", "dual"),
    ))  # fmt: skip
    front, rear = map(values, axles_of(item))
    both = {"years": (1994, 1994), "load_class": "one-ton", "ratio": 4.1, "lugs": 8, "rear_wheels": "dual"}
    assert front == {
        "position": "front",
        **both,
        "knuckle": "kingpin",
        "drop": "driver",
        "hubs": "manual-locking",
    }
    assert rear == {"position": "rear", **both, "float": "full", "cover_bolts": 14, "ring_gear_in": 10.5}


def test_both_axles_of_a_vehicle_can_be_told() -> None:
    truck = Item((
        Fact("kind", "vehicle"), Fact("donor_line", "line-A"), Fact("years", (2002, 2002)), Fact("load_class",
        "one-ton"), Fact("rear_wheels", "single"), Fact("bolt_circle_mm", 170.0), Fact("lugs", 8),
    ))  # fmt: skip
    front, rear = (identify(facts, load_catalogue()).best for facts in axles_of(truck))
    assert (front.variant, rear.variant) == (
        "front-9.75-balljoint/a-1999-2004-srw", "rear-10.50-twelve-bolt/a-1999-2004",
    )  # fmt: skip
