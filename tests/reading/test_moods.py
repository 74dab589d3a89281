"""What is stated is read, and what is only possible, past, meant, mended or told by two voices is not.

The expectations follow the labelling rules of the accuracy sets (``tests/accuracy/README.md``, 5 and 8, and the
conventions on choices and hedges).
"""

from collections.abc import Callable
from typing import Any

import pytest

First = Callable[[str], dict[str, Any]]

STATED = [
    ("closed knuckle NO, open w ball joints", "differential", None), ("semi rusty", "float", None),
    ("semi float", "float", "semi"), ("slugs (no lockouts)", "missing", None), ("slugs (no lockouts)", "hubs",
    "drive-flange"),
    ("drums converted to disc", "brakes", "disc"), ("low pinion pass side", "drop", "passenger"),
    ("1987, driver, HP", "drop", "driver"), ("HP, driver side bearing is new", "drop", None),
    ("rebuilt kingpins", "knuckle", "kingpin"), ("rebuilt kingpins", "rebuilt", None),
    ("one bad unit bearing on the left and the tie rod ends are sloppy", "defects", ["worn-bearing"]),
    ("eight bolts on the wheel and fourteen on the round cover", "cover_bolts", 14),
    ("fourteen on hand", "cover_bolts", None), ("big pins not ball joints", "knuckle", "kingpin"),
    ("push a button in the cab and both sides lock", "differential", "selectable-locker"),
    ("minus one shaft, the other shaft is there", "has", None),
    ("left the factory with 3.31s. I run 3.92s in it these days", "ratio", 3.92),
    ("regeared from 3.73 to 4.88 last year", "ratio", 4.88), ("somebody asked if it has 4.10s: yes", "ratio", 4.1),
    ("3.73 to the tag", "ratio", 3.73), ("05 to 07 style but this one came out of an 06", "years", [2006, 2006]),
    ("05 to 07 style", "years", [2005, 2007]),
    ("I think it's a limited slip", "differential", "limited-slip"), ("probably 4.10", "ratio", 4.1),
    ("was a drum axle, is a disc axle", "brakes", "disc"), ("came with 3.73s, left with 4.88s", "ratio", 4.88),
    ("converted from auto hubs to manual lockouts", "hubs", "manual-locking"), ("was 4.10, is 5.38", "ratio", 5.38),
    ("ball joints, might have 4.56s", "knuckle", "ball-joint"), ("set up for leaf springs", "suspension", "leaf"),
    ("buddy says 3.55 but it's 3.73", "ratio", 3.73), ("welded, 4.88", "differential", "welded"),
    ("it was 4.10 from day one", "ratio", 4.1), ("unit bearings are shot", "defects", ["worn-bearing"]),
    ("was leaking when I parked it", "defects", ["leaking"]), ("welded the spiders", "differential", "welded"),
]  # fmt: skip
NOT_STATED = [
    ("I thought it leaked but that was the tcase", "defects"), ("I run 3.92s in my flatbed", "ratio"),
    ("never opened", "defects"),
    ("for srw & drw", "rear_wheels"),
    ("3.73 to 4.30 whatever", "ratio"), ("anything from 3.73 to 4.30", "ratio"), ("3.73 or taller", "ratio"),
    ("3.55 3.73 4.10 in stock", "ratio"), ("a 14 bolt or a 10.5", "cover_bolts"), ("half ton or 3/4", "load_class"),
    ("people keep asking if it's open", "differential"), ("an 84 one ton would be 8 lug", "load_class"),
    ("could be a locker in it, could be nothing", "differential"), ("might be 3.55", "ratio"),
    ("maybe posi, haven't checked", "differential"), ("clean tubes for a 4 link", "suspension"),
    ("bought it for a disc swap", "brakes"), ("unit bearings were shot so both were done", "defects"),
    ("used to leak till I put a seal in it", "defects"), ("far from bent", "defects"),
    ("hasn't got a leak", "defects"), ("one sticker says 4.10, the other sticker says 3.73", "ratio"),
    ("told by one man 3.73 and told by the next 4.10", "ratio"), ("housing cracked so I V'd it and welded it",
    "differential"),
    ("was going to be 5.13 but I never got to it", "ratio"), ("I have 4.56s in my other rig", "ratio"),
    ("if you're looking for a locker keep scrolling", "differential"), ("unit bearings dead quiet", "defects"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "field", "value"), STATED)
def test_what_is_stated_is_a_fact(first: First, words: str, field: str, value: object) -> None:
    assert first(f"Front axle for sale. 8 lug, {words}. $400").get(field) == value


@pytest.mark.parametrize(("words", "field"), NOT_STATED)
def test_what_is_not_stated_is_none(first: First, words: str, field: str) -> None:
    assert field not in first(f"Front axle for sale. 8 lug, {words}. $400")


ANSWERED = [
    ("Does it leak? Only from the plug.", "defects", ["leaking"]), ("3.73? no 4.30", "ratio", 4.3),
    ("hub does NOT stick out thru the wheel, so semi I guess?", "float", "semi"),
    ("says 3.31 on the tag and says 3.73 on the sticker", "ratio", None),
    ("Twin piston brakes", "brakes", "disc"), ("off a truck 250 (2010)", "years",
    [2010, 2010]),
    ("Is it dually? I wish.", "rear_wheels", "single"), ("Locker? Negative.", "differential", None),
    ("DRUM OR DISC: DISC", "brakes", "disc"), ("DRUM/DISC: DRUM", "brakes", "drum"),
    ("Disc Y, ABS N, Dually N", "rear_wheels", "single"), ("Disc Y, ABS N, Dually N", "abs", False),
    ("LSD: N", "differential", None), ("LSD: Y", "differential",
    "limited-slip"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "field", "value"), ANSWERED)
def test_questions_lists_and_labels_are_answered(first: First, words: str, field: str, value: object) -> None:
    assert first(f"Rear axle for sale. 8 lug, {words}. $400").get(field) == value


NEVER_OF_A_PART = [
    ("Tie rod from an 8 lug 4.10 front, $50", {"lugs", "ratio"}), ("Diff cover off a 3.73 limited slip 10.5 rear, $20",
    {"ratio", "differential"}),
    ("Calipers off my 8x170 2006 front axle, $70", {"lugs", "bolt_circle_mm"}),
    ("Driveshaft from a 4.56 geared 35 spline rear, $80", {"ratio", "splines"}),
]  # fmt: skip


@pytest.mark.parametrize(("words", "fields"), NEVER_OF_A_PART)
def test_what_is_told_of_the_axle_is_none_of_the_part(first: First, words: str, fields: set[str]) -> None:
    item = first(words)
    assert item["kind"] == "part"
    assert fields.isdisjoint(item)
