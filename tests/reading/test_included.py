"""Which parts are there, which are not, and which are only a choice; how many there are."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.services.desk import Desk

Read = Callable[[str], dict[str, Any]]

PARTS = [
    ("Missing: both shafts, both drums, cover.", [], ["axle-shaft", "brake-drum", "diff-cover"]),
    ("Includes: rotors, brackets for calipers.", ["caliper-bracket", "rotor"], []),
    ("What's there: shafts, knuckles. What's not: hubs, rotors", ["axle-shaft", "knuckle"], ["hub", "rotor"]),
    ("Not incl.: driveshaft, spare tire hoist", [], ["driveshaft"]),
    ("Everything's there but the driveshaft, the calipers and one brake line", [], ["caliper", "driveshaft"]),
    ("tracbar & tierod incl, rotors not", ["tie-rod", "track-bar"], ["rotor"]),
    ("Tie rod and drag link go with it. Calipers don't", ["drag-link", "tie-rod"], ["caliper"]),
    ("Calipers on the shelf, they come along", ["caliper"], []),
    ("Cover comes along, so do the calipers", ["caliper", "diff-cover"], []),
    ("Both rotors, both knuckles, tie rod.", ["knuckle", "rotor", "tie-rod"], []),
    ("I pulled the calipers for my truck", [], ["caliper"]), ("Drums were sold last month", [], ["brake-drum"]),
    ("complete except no brakes (calipers, rotors)", [], ["caliper", "rotor"]),
    ("minus gears", [], ["ring-and-pinion"]),
    ("does not have the drag link", [], ["drag-link"]), ("Shafts are out but included", ["axle-shaft"], []),
    ("knuckles (left one is scratched), rotors and calipers included", ["caliper", "rotor"], []),
    ("maybe I throw in the track bar", [], []), ("with calipers add $80", [], []),
    ("I never had the cover off", [], []), ("measured with the cover off", [], []), ("calipers optional", [], []),
    ("nothing missing but a caliper", [], ["caliper"]), ("I'm holding on to the calipers", [], ["caliper"]),
    ("calipers stay here", [], ["caliper"]), ("calipers seized but there", ["caliper"], []),
    ("calipers? Gone. Rotors? Gone.", [], ["caliper", "rotor"]), ("add $50 and you get the driveshaft", [], []),
    ("It's all here: shafts, hubs, cover", ["axle-shaft", "diff-cover", "hub"], []),
    ("drum... no those are rotors", [], []), ("no spindle nuts", [], []),
    ("Knuckles - present. Calipers - absent.", ["knuckle"], ["caliper"]), ("Shafts? Both.", ["axle-shaft"], []),
    ("Disc Y, Locker N, Calipers N, Dually N", [], ["caliper"]), ("Calipers, ABS, n that is all", [], []),
    ("Drums both sides", [], []), ("Shafts: in. Calipers: gone", ["axle-shaft"], ["caliper"]),
    ("35 spline shafts still in it", ["axle-shaft"], []), ("35 spline shaft stock fits", [], []),
    ("calipers are froze up but they're on it", ["caliper"], []), ("tie rod stayed on it", ["tie-rod"], []),
    ("shafts pulled (sold)", [], ["axle-shaft"]), ("track bar stayed home", [], ["track-bar"]),
    ("calipers removed and on the bench, they go with it", ["caliper"], []),
    ("2 hubs 2 drums 2 shafts, 4.10", ["axle-shaft", "brake-drum", "hub"], []), ("with the hub sticking out", [], []),
    ("8 lug hub, drums, 4.10", [], []),
    ("I took the cover off and counted", [], []), ("Rotors yes, hubs: left no", ["rotor"], ["hub"]),
    ("stubs still in", ["outer-shaft"], []), ("35 spline stubs are what I bought", [], []),
    ("I robbed one axle shaft out of it", [], ["axle-shaft"]), ("I pulled both shafts to count them", [], []),
    ("calipers, brackets, rotors all there", ["caliper", "caliper-bracket", "rotor"], []),
    ("spring brackets all there", [], []),
]  # fmt: skip


@pytest.mark.parametrize(("text", "has", "missing"), PARTS)
def test_parts(read: Read, text: str, has: list[str], missing: list[str]) -> None:
    item = read(f"Front axle, 8 lug, 3.73, $300. {text}")["items"][0]
    assert sorted(item.get("has", [])) == sorted(has)
    assert sorted(item.get("missing", [])) == sorted(missing)


OPTIONS = ["front axle for 500, or 300 without the hubs", "front axle $325, or $350 with the driveshaft",
           "front axle, $500 without calipers, $600 with"]  # fmt: skip


@pytest.mark.parametrize("text", OPTIONS)
def test_a_choice_at_a_price_is_neither_there_nor_missing(read: Read, text: str) -> None:
    item = read(text)["items"][0]
    assert "has" not in item
    assert "missing" not in item


def test_a_bare_housing_needs_no_list(read: Read) -> None:
    assert "missing" not in read("Bare 9 inch housing, rear. No gears no shafts. $85")["items"][0]
    assert read("Stripped rear axle, 14 bolt. No gears no shafts. $85")["items"][0]["missing"]


COUNTS = [
    ("Rear axle 3.73 open, 8 lug. $395 each, I have 3 of them", 3), ("Diff cover, 12 bolt, chrome. $25 ea, have 2", 2),
    ("Rear axle 4.30, 8x170. 3 avail. $900 ea", 3), ("QTY 3 - AXLE SHAFT RR, 35 SPL. 45.00 EA", 3),
    ("Rear axle assembly 4.30. Qty on hand: 3. $900", 3), ("wheel spacers 8x6.5, set of 4, $180", 4),
    ("rear leaf springs, 3 in wide, 5+1. $150/pr", 2), ("Lathe, 14 x 40, with steady, 4 jaw. 1,800 obo", None),
    ("Rear axle, one of the two rears of a tandem. $350", None), ("Rear axle. I have 2 dogs. $350", None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "quantity"), COUNTS)
def test_how_many(read: Read, text: str, quantity: int | None) -> None:
    assert read(text)["items"][0].get("quantity") == quantity


@pytest.mark.parametrize("text", ["It is missing the left hub.", "Rear is missing a hub and a cable."])
def test_what_an_axle_is_missing_is_named_behind_it(text: str) -> None:
    (axle,) = Desk.as_shipped(2026).read(f"Rear axle, 6 lug, 4.10. {text}").items
    assert axle.all("missing") == ("hub",)
    assert axle.get("position") == "rear"


def test_an_axle_told_before_any_part_is_named_is_an_axle() -> None:
    told = "05 SRW 10.5 full float disc, 8x170, 35 spline. Cover was off for a year in my garage. $300"
    assert Desk.as_shipped(2026).read(told).items[0].get("kind") == "axle"


def test_a_part_that_stays_is_no_part_of_another_part(first: Callable[[str], dict[str, Any]]) -> None:
    assert "has" not in first("Tie rod off my 2011, $60. Track bar stays.")
    assert first("Front axle, 3.73, $600. Track bar stays.")["has"] == ["track-bar"]
