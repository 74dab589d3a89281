"""Which things a listing offers, and which thing a fact is said of: lists, questions, pairs, machines, sold rows."""

from collections.abc import Callable
from typing import Any

import pytest

Read = Callable[[str], dict[str, Any]]

THINGS = [
    ("Parting a 2001. Left:\n- front axle 3.73 $400\n- rear axle 4.10 $300\n- doors SOLD\n- tailgate $90",
     ["axle", "axle", "other"]),
    ("Lot 3: front axle, kingpin. Lot 4: rear axle, 14 bolt. Lot 9: lathe.", ["axle", "axle", "other"]),
    ("Front axle $500\n- gears: 4.10\n- brakes: disc, rotors fine\n- cover: steel", ["axle"]),
    ("88 F 3.54 $250 - 88 R 3.54 $200 - 99 F 4.10 $475 - 99 R 4.10 $375", ["axle"] * 4),
    ("Spindles, plus 2 hubs with rotors, plus 1 caliper. 150", ["part"] * 3),
    ("Equipment trailer, 16 ft, one axle bent. $900", ["other"]),
    ("2003 crew cab long bed, 4x4. Front has ball joints. Rear is full float. $6,000", ["vehicle"]),
    ("both axles off an 98, 4.10, 8 lug", ["axle", "axle"]),
    ("rear axle, 4.10. Sold the front last week. $300", ["axle"]),
    ("Rear axle 3.73 8 lug $700. would part: rotors 40, calipers 60", ["axle"]),
    ("2 rear axles: one 10 bolt 3.42, one 12 bolt 3.73", ["axle", "axle"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kinds"), THINGS)
def test_things_on_offer(read: Read, text: str, kinds: list[str]) -> None:
    assert [item["kind"] for item in read(text)["items"]] == kinds


ANSWERS = [
    ("Rear axle, $400. Dually? Nope, single. Gears? 4.10.", {"rear_wheels": "single", "ratio": 4.1}),
    ("Rear axle, $400. Is it drum or disc? Disc.", {"brakes": "disc"}),
    ("Rear axle, $400. duals: no. posi: yes.", {"rear_wheels": "single", "differential": "limited-slip"}),
    ("Rear axle, 2003 3.73 drum brake? no disc.", {"years": [2003, 2003], "ratio": 3.73, "brakes": "disc"}),
]


@pytest.mark.parametrize(("text", "facts"), ANSWERS)
def test_answers(read: Read, text: str, facts: dict[str, Any]) -> None:
    item = read(text)["items"][0]
    assert {k: v for k, v in item.items() if k not in ("kind", "position")} == facts


def test_what_is_said_beside_a_list_goes_to_the_things_it_names(read: Read) -> None:
    items = read("From a 1997:\n- front axle $450\n- rear axle $350\n- steering booster 60\nBoth axles are 8x6.5.")[
        "items"
    ]
    assert [item.get("lugs") for item in items] == [8, 8, None]


def test_what_follows_an_announced_pair_holds_for_both(read: Read) -> None:
    items = read("Both axles from a 2012. Front is ball joint. Rear has a spool. 4.56. 8x170.")["items"]
    assert [(i["ratio"], i["lugs"], i.get("differential")) for i in items] == [(4.56, 8, None), (4.56, 8, "spool")]


def test_the_donor_is_not_anothers_truck(read: Read) -> None:
    assert read("Rear axle out of my brother's truck (2004, dually). $300")["items"][0]["years"] == [2004, 2004]
    assert "ratio" not in read("Pulled this rear when I swapped to a 14 bolt with 5.13s. $300")["items"][0]
