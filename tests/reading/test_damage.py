"""Whose damage it is, what wears, and what is only feared, asked, mended or meant: must match and must not match."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.facts import Known
from donorbase.services.desk import Desk

Read = Callable[[str], dict[str, Any]]

OF_THE_AXLE = [
    ("left tube has a slight bend", "bent"), ("housing is bent at the perch", "bent"),
    ("hairline crack in the housing", "cracked"), ("spring perch is cracked", "cracked"),
    ("some surface rust on the tubes", "rusty"), ("seeps at the axle seal", "leaking"),
    ("pinion seal let go last week", "leaking"), ("little wet around the pinion", "leaking"),
    ("left unit bearing has some play", "worn-bearing"), ("wheel bearing on the left is going out", "worn-bearing"),
    ("carrier bearing sings", "worn-bearing"), ("ball joints: uppers ok, lowers shot", "worn-ball-joint"),
    ("ball joints probably need replaced", "worn-ball-joint"), ("needs lower ball joints", "worn-ball-joint"),
    ("unit bearings, they hum", "worn-bearing"), ("ball joints you can wiggle by hand", "worn-ball-joint"),
    ("oil on the inside of the left wheel", "leaking"), ("tube is shaped like a banana", "bent"),
    ("ring gear has chip on 1 tooth", "damaged-gears"), ("It howls. I'd guess carrier bearings", "worn-bearing"),
    ("pads down to steel", "worn-brakes"), ("condition otherwise unknown", "unknown-condition"),
    ("left tube got pushed back an inch", "bent"), ("ball joints are done for", "worn-ball-joint"),
    ("ring has teeth gone", "damaged-gears"), ("axle seal on the LH side let go", "leaking"),
    ("shoes worn thin", "worn-brakes"), ("pads 2 mm so done", "worn-brakes"),
    ("ring gear has a chipped tooth", "damaged-gears"), ("brackets came off with a cutting torch", "torched-brackets"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "defect"), OF_THE_AXLE)
def test_damage_of_the_axle(read: Read, text: str, defect: str) -> None:
    assert read(f"Rear axle, 3.73, 8 lug. {text}. $300")["items"][0].get("defects") == [defect]


NOT_OF_THE_AXLE = [
    "one drum is cracked", "cracked drum on the left", "tie rod is bent", "brake lines are rusted through",
    "truck was hit in the cab, frame is bent", "rust in the bed", "park brake arm on the left is bent",
    "the hose bracket is bent", "wheel cylinder seeps", "rust: cab corners, some on the bed",
    "no leaks, no bends", "never seen a weld or a crack", "nothing bent, nothing leaking", "isn't cracked, just scale",
    "no play at all in the bearings", "zero play in the ball joints", "bearings not bad at all", "leaks: no",
    "bent? the pipe is straight", "leaked until I replaced the seal", "used to leak, new seal fixed it",
    "ball joints: made noise, replaced all four", "unit bearings were done at 80k", "could be narrowed for a buggy",
    "I'm pricing it like the bearings are junk", "it hums", "buyer bends over and lifts it", "sold as is",
    "not bent, cracked or welded", "none leak", "hasn't leaked since I did the seal",
    "the frame it came out of was rusted", "one brake line rusted off", "tie rod bent like a banana",
    "bent nothing",
    "axle shaft flange is bent", "unit bearings dead quiet", "bearings do not hum",
    "the truck howled, it was the tires",
    "bearings are good", "no broken teeth", "bed, 8 ft, no dents",
]  # fmt: skip


@pytest.mark.parametrize("text", NOT_OF_THE_AXLE)
def test_no_damage_of_the_axle(read: Read, text: str) -> None:
    assert "defects" not in read(f"Rear axle, 3.73, 8 lug. {text}. $300")["items"][0]


def test_damage_of_the_part_that_is_for_sale_is_its_own(read: Read) -> None:
    assert read("Front unit bearings 8x170, one growls. $90")["items"][0]["defects"] == ["worn-bearing"]


def test_a_seeker_tells_no_damage_and_misses_nothing(read: Read) -> None:
    item = read("WTB rear axle, 14 bolt, no leaks, bent ok, no shafts needed")["items"][0]
    assert "defects" not in item
    assert "missing" not in item


REBUILT = [
    ("freshly rebuilt with new bearings", True), ("I rebuilt it top to bottom last winter", True),
    ("calipers were rebuilt", None), ("rebuilt kingpins", None), ("should be rebuilt", None),
    ("I would rebuild it before running it", None), ("hubs manual, rebuilt", None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "rebuilt"), REBUILT)
def test_rebuilt(read: Read, text: str, rebuilt: bool | None) -> None:
    assert read(f"Front axle, 3.73, 8 lug. {text}. $300")["items"][0].get("rebuilt") is rebuilt


NOT_STATED = [
    ("open, would be easy to drop a locker in", {"differential": "open"}),
    ("if it had a locker I'd keep it", {}), ("posi? not sure", {}), ("might be posi, might be open", {}),
    ("I took the spool out and put the posi back", {"differential": "limited-slip"}),
    ("locked up with a limited slip", {"differential": "limited-slip"}),
    ("had a locker from the factory but it's open now", {"differential": "open"}), ("locker extra, ask", {}),
    ("minus the locker", {}), ("ready for your locker", {}),
    ("no ABS wires hanging off it", {}), ("I think it's posi", {"differential": "limited-slip"}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "facts"), NOT_STATED)
def test_only_what_is_stated(read: Read, text: str, facts: dict[str, Any]) -> None:
    item = read(f"Rear axle, 8 lug. {text}. $300")["items"][0]
    assert {k: v for k, v in item.items() if k not in ("kind", "position", "lugs")} == facts


RATIOS = [
    ("EDIT: it is 4.56, not 4.10 like I typed. Rear axle, 4.10", 4.56),
    ("Rear axle. Guy told me 3.73 but I counted 4.10", 4.1),
    ("Rear axle, 3.73. You could run 4.56s in it", 3.73), ("Rear axle. Is it 3.73? I don't know", None),
    ("WTB rear axle, 4.30. I have my 3.73 rear to trade", 4.3), ("Rear axle. My neighbor says 3.73", 3.73),
]  # fmt: skip


@pytest.mark.parametrize(("text", "ratio"), RATIOS)
def test_ratio_that_holds(read: Read, text: str, ratio: float | None) -> None:
    assert read(text)["items"][0].get("ratio") == ratio


def test_a_float_or_a_cover_tells_of_an_axle_whose_drum_is_cracked(read: Read) -> None:
    found = read("Semi float 14 bolt, 9.5, six lug, drums. One drum cracked so figure on a new one. $150")["items"][0]
    assert "defects" not in found


@pytest.mark.parametrize("text", ["I think one axle tube is a hair bent", "I think its bent a hair"])
def test_harm_that_is_only_suspected_is_hedged(text: str) -> None:
    reading = Desk.as_shipped(2026).read(f"Rear axle, 6 lug. {text}.")
    assert [fact.known for fact in reading.items[0].facts if fact.attribute == "defects"] == [Known.HEDGED]
