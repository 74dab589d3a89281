"""What is denied, lacking, another's, only fitted or in doubt; and which thing a fact belongs to."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.facts import Known
from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing

Read = Callable[[str], dict[str, Any]]

DENIED = [
    ("not a dually", {"rear_wheels": "single"}), ("no ABS", {"abs": False}), ("not limited slip", {}),
    ("no leaks, not bent", {}),
    ("never been welded on", {}), ("kingpins no, ball joints yes", {"knuckle": "ball-joint"}),
    ("closed? no its open knuckle", {}),
    ("ball joint (not kingpin)", {"knuckle": "ball-joint"}), ("auto hubs NOT manual",
    {"hubs": "automatic-locking"}), ("Que no esté torcido", {}),
    ("needs rebuilt", {}), ("drive flanges instead of lockouts", {"hubs": "drive-flange"}), ("4.10 posi",
    {"ratio": 4.1, "differential": "limited-slip"}),
    ("no rust", {}), ("8 ON 170, will NOT take your old 8x6.5 wheels", {"lugs": 8, "bolt_circle_mm": 170.0}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "facts"), DENIED)
def test_denied(read: Read, text: str, facts: dict[str, Any]) -> None:
    item = read(f"front axle. {text}")["items"][0]
    assert {k: v for k, v in item.items() if k not in ("kind", "position")} == facts


PARTS = [
    ("comes with calipers and rotors", ["caliper", "rotor"], []), ("spindles and drums included", ["spindle",
    "brake-drum"], []),
    ("no calipers no rotors, minus the hubs", [], ["caliper", "rotor", "hub"]), ("lockouts r missing", [],
    ["locking-hub"]),
    ("Rotors, knuckles, tie rod all there", ["rotor", "knuckle", "tie-rod"], []),
    ("everything except the calipers and the drag link", [], ["caliper", "drag-link"]),
    ("without calipers, rotors or hubs", [], ["caliper", "rotor", "hub"]), ("Diff cover not included", [],
    ["diff-cover"]), ("with disc brakes", [], []),
    ("drum to drum", ["brake-drum"], []), ("hub to hub", ["hub"], []), ("1310 yoke", [], []),
    ("manual locking hubs included", [], []),
    ("no shafts no calipers", [], ["axle-shaft", "caliper"]), ("ball joints shot", [], []), ("no driveshafts",
    [], ["driveshaft"]),
    ("ring gear is missing two teeth", [], []), ("needs calipers", [], []),
]  # fmt: skip


@pytest.mark.parametrize(("text", "has", "missing"), PARTS)
def test_parts(read: Read, text: str, has: list[str], missing: list[str]) -> None:
    item = read(f"front axle 8 lug. {text}. $300")["items"][0]
    assert sorted(item.get("has", [])) == sorted(has)
    assert sorted(item.get("missing", [])) == sorted(missing)


ANOTHERS = [
    "My 2017 has 4.88s and 8x170", "I have 5.13s going in", "regearing to 5.13", "I want a 4.30 same width",
    "replaced with a 9.75",
    "came off because I'm going to kingpins", "the other guy has 4.10",
]  # fmt: skip


@pytest.mark.parametrize("text", ANOTHERS)
def test_anothers_facts_are_no_facts(read: Read, text: str) -> None:
    item = read(f"rear axle, 3.73, 8 lug, $400. {text}.")["items"][0]
    assert item == {"kind": "axle", "position": "rear", "ratio": 3.73, "lugs": 8}


def test_sentence_about_something_else_changes_nothing(read: Read) -> None:
    plain = "Rear axle out of a 2004, 3.73, 8x170, disc brakes. $400 obo"
    for other in (
        "Selling because we are moving.",
        "My dog is friendly.",
        "Bring help to load.",
        "I go fishing on weekends.",
    ):
        assert read(f"{other} {plain}") == read(plain) == read(f"{plain} {other}")


PAIRS = [
    ("Front and rear axles from a 2011. Front has unit bearings. Rear is full float.", {"hubs": "unit-bearing"},
    {"float": "full"}),
    ("Front and rear axles. disc front, drum rear.", {"brakes": "disc"}, {"brakes": "drum"}),
    ("both axles 600. front 8 lug rear 6 lug", {"lugs": 8}, {"lugs": 6}),
    ("Front axle 4.10 kingpin, rear axle 4.56 full float", {"ratio": 4.1, "knuckle": "kingpin"}, {"ratio": 4.56,
    "float": "full"}),
    ("Axle set. Front 65 1/4 wms, rear 63 3/4.", {"width_in": 65.25}, {"width_in": 63.75}),
    ("Par de ejes, delantero y trasero. Discos adelante, tambor atrás.", {"brakes": "disc"}, {"brakes": "drum"}),
    ("F+R axles. 4.10 in the front. 3.73 in the rear.", {"ratio": 4.1}, {"ratio": 3.73}),
    ("Front & rear. Neither has ABS. Rear weeps a bit, front is dry.", {"abs": False}, {"abs": False,
    "defects": ["leaking"]}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "front", "rear"), PAIRS)
def test_pairs_do_not_leak_into_each_other(read: Read, text: str, front: dict[str, Any], rear: dict[str, Any]) -> None:
    items = {item["position"]: item for item in read(text)["items"]}
    assert set(items) == {"front", "rear"}
    for position, expected in (("front", front), ("rear", rear)):
        own = {k: v for k, v in items[position].items() if k not in ("kind", "position", "years")}
        assert own == expected


KINDS = [
    ("2 rotors, vented, fit 05 up. $70 for the two", [("part", "rotor")]),
    ("brake booster & master cyl off 2003", [("part", "booster"), ("part", "master-cylinder")]),
    ("Rear axle 3.73. Also a spare ring and pinion, 4.56", [("axle", None), ("part", "ring-and-pinion")]),
    ("4.88 gears for 10.5 14 bolt", [("part", "ring-and-pinion")]),
    ("air locker, 35 spline, 10.5 ring", [("part", "differential")]), ("(5) 17x9 wheels 8x6.5, no axle",
    [("wheels-tires", None)]),
    ("Bass boat trailer, spare tire 5x4.5", [("other", None)]), ("parting out my 04, 3.73 rear, SRW",
    [("vehicle", None)]),
    ("Parting 1996: front axle $450, rear axle $350, t-case $200, hood 100", [("axle", None), ("axle", None),
    ("other", None), ("other", None)]),
    ("bare housing, rear, 9 inch", [("housing", None)]), ("14b. 5.13. 300", [("axle", None)]),
    ("clutch kit for 94-98", [("other", None)]),
    ("rear axle shafts, 35 spline", [("part", "axle-shaft")]), ("1979 3/4 ton 4x4 project, runs rough",
    [("vehicle", None)]),
    ("2 rear axles, one 3.73 and one 4.10", [("axle", None), ("axle", None)]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kinds"), KINDS)
def test_kinds(read: Read, text: str, kinds: list[tuple[str, str | None]]) -> None:
    assert [(item["kind"], item.get("part")) for item in read(text)["items"]] == kinds


def test_board_and_columns(read: Read) -> None:
    board = "LOC A-07 | FRT AXLE | 2008 | 3.73 | 895.00\nLOC A-08 | RR AXLE | 2009 | 4.10 | 595.00"
    assert [(i["position"], i["years"], i["ratio"]) for i in read(board)["items"]] == [
        ("front", [2008, 2008], 3.73),
        ("rear", [2009, 2009], 4.1),
    ]
    columns = "POS   YR   TON   RATIO   LUG     PRICE\nF     96   1/2   3.55    5x5.5   225"
    item = read(columns)["items"][0]
    assert item == {
        "kind": "axle", "position": "front", "years": [1996, 1996], "load_class": "half-ton", "ratio": 3.55,
        "lugs": 5, "bolt_circle_mm": 139.7,
    }  # fmt: skip


KNOWN = [
    ("I think 4.10", Known.HEDGED),
    ("4.10", Known.STATED),
    ("4.10. 3.73", Known.CONTRADICTED),
    ("maybe 4.10", Known.HEDGED),
]


@pytest.mark.parametrize(("text", "known"), KNOWN)
def test_how_it_is_known(lexicon: Lexicon, text: str, known: Known) -> None:
    item = read_listing(f"rear axle, 8 lug, {text}", lexicon, 2026).items[0]
    assert {fact.known for fact in item.facts if fact.attribute == "ratio"} == {known}


def test_correction_replaces(read: Read) -> None:
    assert read("rear axle 4.10 posi. Edit: its 3.73")["items"][0]["ratio"] == 3.73
    assert read("rear axle. prev owner said 4.56 but i counted so its 4.10")["items"][0]["ratio"] == 4.1


HAZARDS = [
    ("flood truck", "flood"), ("deposit holds it", "deposit-first"), ("VIN filed off", "vin-removed"),
    ("gift cards only", "payment"),
    ("narrowed by who knows", "narrowed-unknown"), ("no viewing", "no-viewing"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sign"), HAZARDS)
def test_hazards(lexicon: Lexicon, text: str, sign: str) -> None:
    assert sign in {f.attribute for f in read_listing(f"rear axle $200. {text}", lexicon, 2026).hazards}
    assert not read_listing("rear axle $200. pick up any time", lexicon, 2026).hazards
