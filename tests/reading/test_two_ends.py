"""Adverts of two or more axles: announced together, then told end by end; and what only looks like two.

The labels' rules: a front and a rear are two items; what is said once of both goes on each, what is said of one stays.
"""

from collections.abc import Callable
from typing import Any

import pytest

Read = Callable[[str], dict[str, Any]]

ANNOUNCED = [
    "Pair of axles from a 1979 one ton. Front kingpin 4.10 with manual hubs, rear full float with drums.",
    "Set of axles out of a 1979 one ton. Front is kingpin, 4.10, manual hubs. Rear is full float, drums.",
    "got both axles from a 1979 one ton. the front has 4.10 and manual hubs, kingpin, the back is full float w/ drums",
    "Front and rear from a 1979 one ton. Front has manual hubs, kingpin, 4.10. Rear has drums, full float.",
    "Both axles under my parts truck, a 1979 one ton. Front kingpin, manual hubs, 4.10. Rear full float, drums.",
    "F: kingpin 4.10 manual hubs, R: full float drums. From a 1979 one ton.",
]  # fmt: skip


@pytest.mark.parametrize("text", ANNOUNCED)
def test_each_end_keeps_its_own_and_the_donor_is_of_both(read: Read, text: str) -> None:
    items = read(text)["items"]
    assert [i.get("position") for i in items] == ["front", "rear"]
    front, rear = items
    assert all(i["years"] == [1979, 1979] and i["load_class"] == "one-ton" for i in items)
    assert (front["ratio"], front["knuckle"], front["hubs"]) == (4.1, "kingpin", "manual-locking")
    assert (rear["float"], rear["brakes"]) == ("full", "drum")
    assert not {"float", "brakes"} & front.keys()
    assert not {"ratio", "knuckle", "hubs"} & rear.keys()


ADDED = [
    "Rear axle from my 99 (3.73, leaking) AND the front (3.73, good). 450 each",
    "Rear axle out of a 99 (3.73, leaks at the pinion) plus the front (3.73). $700 both",
    "Rear axle off a 99 (3.73, leaks) & the front (3.73, ball joint). 800",
]


@pytest.mark.parametrize("text", ADDED)
def test_an_end_added_came_from_the_same_truck(read: Read, text: str) -> None:
    rear, front = read(text)["items"]
    assert (rear["position"], front["position"]) == ("rear", "front")
    assert rear["defects"] == ["leaking"]
    assert "defects" not in front
    assert front["years"] == [1999, 1999]


SEVERAL = [
    ("3 rears, pick one: 12 bolt 3.73 6 lug $250 / 14 bolt 4.10 8 lug $350 / 10 bolt 3.42 6 lug $200", "rear", 3),
    ("Three fronts: 1979 kingpin 3.54 / 1986 kingpin 4.10 / 1995 ball joint 4.10. $500 each", "front", 3),
    ("front axle 1978 4.10 -- $1000\nsame thing but 3.54 -- $800", "front", 2),
    ("rear axle 2006 3.73 - $400\nsame axle but 4.30 - $500", "rear", 2),
]


@pytest.mark.parametrize(("text", "where", "count"), SEVERAL)
def test_several_of_one_end(read: Read, text: str, where: str, count: int) -> None:
    items = read(text)["items"]
    assert [i.get("position") for i in items] == [where] * count
    assert len({(str(i["ratio"]), str(i.get("years"))) for i in items}) == count


def test_same_thing_takes_the_rest_from_the_row_before(read: Read) -> None:
    first, second = read("front axle 1978 kingpin pass drop 4.10 -- $1000\nsame thing but 3.54 -- $800")["items"]
    assert (first["ratio"], second["ratio"]) == (4.1, 3.54)
    assert (second["knuckle"], second["drop"], second["years"]) == ("kingpin", "passenger", [1978, 1978])


def test_counted_ends_and_what_is_said_of_all(read: Read) -> None:
    front, rear = read("2 fronts 1 rear, all SRW 2012 8x170 3.73. fronts have coils. $900")["items"]
    assert (front["quantity"], front["suspension"]) == (2, "coil")
    assert "quantity" not in rear
    assert "suspension" not in rear
    assert all((i["rear_wheels"], i["lugs"], i["ratio"]) == ("single", 8, 3.73) for i in (front, rear))


def test_a_measure_before_each_end(read: Read) -> None:
    front, rear = read("Front and rear axles, 4.88. WMS 69 front, 68 rear. $3000")["items"]
    assert (front["width_in"], rear["width_in"]) == (69, 68)


ONE = [
    "Rear axle from a 99 half ton, 3.73 front and rear. $300",
    "Front axle, 2004, 4.10, calipers missing both. The rear of the truck was hit. $300",
    "Rear axle 14 bolt 4.10, same truck as my front driveshaft ad. $300",
    "front cover off, front axle is 4.10 and open. $300",
]


@pytest.mark.parametrize("text", ONE)
def test_one_axle_stays_one(read: Read, text: str) -> None:
    assert len([i for i in read(text)["items"] if i["kind"] == "axle"]) == 1


SLIPS = [
    ("Front axle, 2002, drums... no those are rotors, 8 lug. $300", "brakes", "disc"),
    ("Rear axle out of an 06. Disc... no drum brakes, I looked again. $200", "brakes", "drum"),
    ("Rear axle, 4.10, semi float... no, it's full float. $250", "float", "full"),
    ("front axle 1989, ball joint.. no, kingpin. 4.10. $400", "knuckle", "kingpin"),
]


@pytest.mark.parametrize(("text", "name", "value"), SLIPS)
def test_a_slip_put_right_in_mid_sentence(read: Read, text: str, name: str, value: str) -> None:
    item = read(text)["items"][0]
    assert item[name] == value
    assert "missing" not in item


def test_a_plain_no_still_tells_what_is_missing(read: Read) -> None:
    item = read("Rear axle, 8 lug. Yes it rolls... no calipers, no rotors. $90")["items"][0]
    assert item["missing"] == ["caliper", "rotor"]
