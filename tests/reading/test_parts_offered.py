"""Adverts of parts, lots and trucks: what is offered, how many, and what only looks like another thing.

The labels' rules: priced things are items each, things said not to be for sale are none, a whole truck is one vehicle.
"""

from collections.abc import Callable
from typing import Any

import pytest

Read = Callable[[str], dict[str, Any]]

COUNTED_OFF = [
    "Got 3 fronts, all kingpin. #1 is 4.10, $900. #2 is 3.54, $700. #3 is 4.56, $800.",
    "Three front axles, all kingpin. No. 1: 4.10, $900. No. 2: 3.54, $700. No. 3: 4.56, $800.",
    "3 fronts, kingpin all of them. Number 1 has 4.10, $900. Number 2 has 3.54, $700. Number 3 has 4.56, $800.",
]


@pytest.mark.parametrize("text", COUNTED_OFF)
def test_axles_counted_off_are_each_an_item(read: Read, text: str) -> None:
    items = read(text)["items"]
    assert [(i["position"], i["ratio"]) for i in items] == [("front", 4.1), ("front", 3.54), ("front", 4.56)]
    assert not any("quantity" in i for i in items)


COUNTING_NOTHING = [
    "Rear axle, 4.10. Buyer #1 never came, #2 offered 200, #3 wanted it delivered. $300",
    "Rear axle, 4.10, drums. No. 2 son will help load. $300",
    "Rear axle, 4.10. Shafts? No. 2 of the studs are gone. $300",
]


@pytest.mark.parametrize("text", COUNTING_NOTHING)
def test_numbers_that_count_no_axle(read: Read, text: str) -> None:
    assert len(read(text)["items"]) == 1


PRICED_PARTS = [
    "Front end parts, 1990 kingpin. Spindles pair $80. Stubs 30 spline pair $100. Knuckles pair $300. Take all 420.",
    "Front end parts off a 1990 kingpin: spindles $80 pr, stubs 30 spline $100 pr, knuckles $300 pr. All for 420",
]


@pytest.mark.parametrize("text", PRICED_PARTS)
def test_parts_with_prices_beside_a_price_of_all(read: Read, text: str) -> None:
    said = read(text)
    assert said["price_usd"] == 420
    assert [(i["part"], i["quantity"]) for i in said["items"]] == [("spindle", 2), ("outer-shaft", 2), ("knuckle", 2)]
    assert all(i["position"] == "front" for i in said["items"])


HOW_MANY = [
    ("Rear brake calipers, 2, single piston. 100 for all", 2),
    ("Rear axles out of box trucks. 4.88, drums. 700 ea or 1200 for the pair", 2),
    ("Steer axle out of a 6x6, 6.44 gears. 900 ea or 1600 for two", 2),
    ("Rotors 2. Off a 1996 front.", 2),
    ("Rear axle, 14 bolt, 4.10. $300", None),
    ("Front axle, 2 wheel seals new, 4.10. $300", None),
    ("Diff cover, chrome, 12 bolt. $40 for it, $60 shipped", None),
]


@pytest.mark.parametrize(("text", "count"), HOW_MANY)
def test_how_many(read: Read, text: str, count: int | None) -> None:
    assert read(text)["items"][0].get("quantity") == count


OFFERS = [
    ("Anyone need an axle?? Its a rear, 4.10, $500", "for-sale"),
    ("Who needs a rear? 2011, 3.73. 650", "for-sale"),
    ("Anybody looking for a kingpin front? I got one, 4.10, $850", "for-sale"),
    ("Anyone have a kingpin front? Need 4.10", "wanted"),
    ("Who has a rear for a 2011? 3.73", "wanted"),
    ("Need a rear axle, 4.10", "wanted"),
    ("Will trade my 2008 rear plus $400 for a single wheel rear. No straight sale", "trade"),
    ("Will trade my 2012 rear and $300 cash for a dually rear. Not looking to sell", "trade"),
    ("Rear axle 2010, 3.73, $600, or trade for a welder", "for-sale"),
    ("Wheels off an axle swap, $600. The axles aren't for sale", "for-sale"),
]


@pytest.mark.parametrize(("text", "offer"), OFFERS)
def test_what_kind_of_offer(read: Read, text: str, offer: str) -> None:
    assert read(text)["offer"] == offer


def test_money_on_top_of_a_swap_is_no_price_and_what_is_sought_no_fact(read: Read) -> None:
    said = read("Will trade my complete dually rear (2008, 4.30) plus $400 for a single wheel 3.73 rear")
    assert "price_usd" not in said
    assert [(i["rear_wheels"], i["ratio"]) for i in said["items"]] == [("dual", 4.3)]


NOT_OFFERED = [
    "Tie rod and drag link off my 2011. $120 for both. Track bar stays.",
    "Tie rod, drag link, off a 2011. $120 both. The track bar stays with the truck.",
    "Tie rod and drag link, 2011, $120. Track bar is promised.",
]


@pytest.mark.parametrize("text", NOT_OFFERED)
def test_a_part_that_stays_is_no_word_of_the_others(read: Read, text: str) -> None:
    items = read(text)["items"]
    assert [i["part"] for i in items] == ["tie-rod", "drag-link"]
    assert not any({"has", "missing"} & i.keys() for i in items)


def test_a_part_that_is_not_included_is_missing(read: Read) -> None:
    knuckle = read("Kingpin knuckle, machined. $150. Spindle is not included, neither is the hub")["items"][0]
    assert sorted(knuckle["missing"]) == ["hub", "spindle"]


TRUCKS = [
    ("Complete donor: 1996 3/4 ton, title in hand, front ball joint, rear semi float. $1,900 for it all", "vehicle"),
    ("Whole truck 1985 1 ton 4x4, kingpin front 4.10 and 14 bolt rear 4.10, title, $2,200. Will not part", "vehicle"),
    ("Cutting up a 2015 cab chassis, 2WD. Rear axle has duals, 4.10, 8x210. 189,400 mi. $650 at the shop", "axle"),
    ("Scrapping a 2009 service truck. Front axle: coil, 3.73, 8x170. $800", "axle"),
    ("2007 half ton front diff, IFS clamshell, NOT a solid axle, 3.73. $150", "part"),
    ("2007 half ton front diff, not IFS, 3.73, ball joint, 8 lug. $150", "axle"),
    ("just the front, rear's sold. 2014 8x170 coil sprung 3.55 1400 bucks", "axle"),
]


@pytest.mark.parametrize(("text", "kind"), TRUCKS)
def test_what_kind_of_thing(read: Read, text: str, kind: str) -> None:
    assert [i["kind"] for i in read(text)["items"]] == [kind]


def test_a_number_in_brackets_counts_nothing_in_a_numbered_list(read: Read) -> None:
    said = read(
        "Leftovers: (1) disc brackets for a 14 bolt pr $60 (2) tie rod $40 (3) spider gears and case, 4.10, $60"
    )
    assert [(i["part"], i.get("quantity")) for i in said["items"]] == [
        ("caliper-bracket", 2), ("tie-rod", None), ("carrier", None),
    ]  # fmt: skip


def test_gears_of_both_ends_are_two_sets(read: Read) -> None:
    front, rear = read("ring & pinion 4.10, out of front and rear of a 2016. 9.75 front and 10.5 rear. $150 both sets")[
        "items"
    ]
    assert (front["position"], front["ring_gear_in"]) == ("front", 9.75)
    assert (rear["position"], rear["ring_gear_in"], rear["ratio"]) == ("rear", 10.5, 4.1)
