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
    ("Front axle 3.73 with new rotors $550. Rear axle 3.73, new pads, good cover $400. Transfer case $175",
     ["axle", "axle", "other"]),
    ("Rear 2004 dually 4.10 $350; rear 2004 single 3.73 $450; front 2004 $600", ["axle"] * 3),
    ("9 inch, 4.11, posi, 31 spline, 54 1/2 flange to flange. drums. $650", ["axle"]),
    ("Rear drums off my full float rear with 4.10s, 8 lug. $60 for two", ["part"]),
    ("Rear from an 05, hubs and drums are dry, 3.73, 8x170. 350", ["axle"]),
    ("Whole truck or parts: 06 dually. Whole $3800. Front axle $1100. Rear axle $700", ["vehicle", "axle", "axle"]),
    ("1976 one ton 4x4, V8. Front axle kingpin 4.10, rear 4.10. $4,100, title", ["vehicle"]),
    ("My 2006 one ton 4x4 is staying. So: its old rear, 3.73, 8x170. $400", ["axle"]),
    ("Two axles, 3.73, 8 lug. I'm keeping the front. Rear has discs. $400", ["axle"]),
    ("Front axle 2013, coil, 3.73. $1000, rear already promised", ["axle"]),
    ("Sold the rear, front still available. 2013, coil, 3.31. $975", ["axle"]),
    ("Front springs are gone. Front and rear axles, 3.73, $900", ["axle", "axle"]),
    ("2 inners 35 spl, 2 outers 35 spl, front, never installed. $750", ["part", "part"]),
    ("Front hub & rotor assys x2, 8x6.5. $120", ["part"]),
    ("Four wheel set 8x6.5 $200. Also the rear they were on: 14 bolt, 4.10 $175", ["wheels-tires", "axle"]),
    ("Swap my 14 bolt rear with a spool for a 5x5.5 nine inch with a locker. Not selling.", ["axle"]),
    ("Kingpin knuckles (2), spindles (2), hubs (2). $350 for the works", ["part"] * 3),
    ("Driveshafts: front $75, rear $90", ["part", "part"]),
    ("Rear axle 3.73, 8.8. Also a set of 4.10 gears, never used $150. axle 250", ["axle", "part"]),
    ("Rear axle, 8.8. Also the gears are 4.10", ["axle"]),
    ("1996 one ton SRW. FRONT: sold\nREAR: 2007, 4.10, $500\nDRIVESHAFTS: both, $150", ["axle", "part"]),
    ("Axles from two trucks. 2011 SRW: front 3.73 $1,000 / rear 3.73 $600. 1999 DRW: front 4.10 $700 / rear 4.10 $350",
     ["axle"] * 4),
    ("Two rears. 2010 10.5 and 2006 10.5, both 3.73. $700 takes both", ["axle", "axle"]),
    ("Front pumpkin out of a 2008, 8.25 ring, 3.73, no tubes. $275", ["part"]),
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


def test_a_table_whose_cells_are_parted_by_commas(read: Read) -> None:
    items = read("end,year,ratio,brakes,wheels,price\nfront,2012,3.73,disc,single,1100\nrear,2012,4.10,drum,dual,700")[
        "items"
    ]
    assert [(i["position"], i["ratio"], i["brakes"], i["rear_wheels"]) for i in items] == [
        ("front", 3.73, "disc", "single"),
        ("rear", 4.1, "drum", "dual"),
    ]


def test_behind_the_rows_a_year_names_those_of_it(read: Read) -> None:
    items = read("- Rear axle 2012 3.55 $875\n- Rear axle 1999 4.30 $300\nThe 2012 is single wheel. Both are 8x170.")[
        "items"
    ]
    assert [(i.get("rear_wheels"), i["lugs"]) for i in items] == [("single", 8), (None, 8)]


def test_a_sold_row_leaves_the_others_for_sale(read: Read) -> None:
    reading = read(
        "Row 3: 2001 front axle 3.73 $395\nRow 5: 1994 rear axle 4.10 drum $250 SOLD\nRow 9: 2010 rear axle 3.55 $300"
    )
    assert reading["offer"] == "for-sale"
    assert [item["years"][0] for item in reading["items"]] == [2001, 2010]


PRICES = [
    ("Rear axle 4.10 and 2 front knuckles. 120 for the knuckles. Axle 420.", 420),
    ("selling whole truck or parts '03 dually. whole = 3,200. front 900 rear 500 if you pull", 3200),
    ("725 in hand and it's yours. Rear, dually, 2007, 4.10", 725),
    ("parting my 95. rear axle 4.10 drum 350. front axle ball joint 4.10 600. cab 300", 350),
    ("rear 2004 dually $350; rear 2004 srw $450; front srw $600; front drw $500. Buy the drw pair, both for 750", 350),
]


@pytest.mark.parametrize(("text", "price_usd"), PRICES)
def test_which_price_is_asked(read: Read, text: str, price_usd: float) -> None:
    assert read(text)["price_usd"] == price_usd


def test_what_announces_both_ends_is_of_both(read: Read) -> None:
    items = read("Still here from the 2011 dually: front axle, coil, and rear axle with a locker. $900 both")["items"]
    assert [(i["years"], i["rear_wheels"]) for i in items] == [([2011, 2011], "dual")] * 2


def test_what_is_told_last_is_of_the_end_named_last(read: Read) -> None:
    items = read("Front axle, $700. It is the coil kind with 8x170 and single wheels out back.")["items"]
    assert [(i["suspension"], i["lugs"], i["rear_wheels"]) for i in items] == [("coil", 8, "single")]


def test_each_of_the_parts_has_what_it_can_have(read: Read) -> None:
    items = read("2 front rotors and 2 front calipers off a 2014, 8x180. $160")["items"]
    assert [(i["part"], i.get("lugs"), i["quantity"]) for i in items] == [("rotor", 8, 2), ("caliper", None, 2)]
