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
    ("I think it's a limited slip", "differential", "limited-slip"), ("probably 4.10", "ratio", 4.1),
    ("was a drum axle, is a disc axle", "brakes", "disc"), ("came with 3.73s, left with 4.88s", "ratio", 4.88),
    ("converted from auto hubs to manual lockouts", "hubs", "manual-locking"), ("was 4.10, is 5.38", "ratio", 5.38),
    ("ball joints, might have 4.56s", "knuckle", "ball-joint"), ("set up for leaf springs", "suspension", "leaf"),
    ("buddy says 3.55 but it's 3.73", "ratio", 3.73), ("welded, 4.88", "differential", "welded"),
    ("it was 4.10 from day one", "ratio", 4.1), ("unit bearings are shot", "defects", ["worn-bearing"]),
    ("was leaking when I parked it", "defects", ["leaking"]), ("welded the spiders", "differential", "welded"),
]  # fmt: skip
NOT_STATED = [
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
    ("Is it dually? I wish.", "rear_wheels", "single"), ("Locker? Negative.", "differential", None),
    ("DRUM OR DISC: DISC", "brakes", "disc"), ("DRUM/DISC: DRUM", "brakes", "drum"),
    ("Disc Y, ABS N, Dually N", "rear_wheels", "single"), ("Disc Y, ABS N, Dually N", "abs", False),
    ("LSD: N", "differential", None), ("LSD: Y", "differential",
    "limited-slip"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "field", "value"), ANSWERED)
def test_questions_lists_and_labels_are_answered(first: First, words: str, field: str, value: object) -> None:
    assert first(f"Rear axle for sale. 8 lug, 3.73. {words}. $400").get(field) == value
