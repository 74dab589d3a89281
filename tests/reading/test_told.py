"""A thing and a word about it tell together what neither tells alone, and a word about another thing tells nothing.

The meanings are common practice of the trade; what each pair gives stands in ``data/tellings.csv``.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from donorbase.errors import BadData
from donorbase.reference.tellings import tellings, tellings_from

First = Callable[[str], dict[str, Any]]

TOLD = [
    ("someone chewed the pinion teeth up", "defects", ["damaged-gears"]),
    ("surface pitting on two teeth of the ring gear", "defects", ["damaged-gears"]),
    ("shoes are down to metal", "defects", ["worn-brakes"]),
    ("rotors have grooves you can feel", "defects", ["worn-brakes"]),
    ("right tube has a bow to it", "defects", ["bent"]),
    ("the balls are wore out top and bottom", "defects", ["worn-ball-joint"]),
    ("pinion comes in below centerline", "pinion", "low"),
    ("yoke sits up above the tube", "pinion", "high"),
    ("a twist knob in the middle of each hub", "hubs", "manual-locking"),
    ("hubs you lock with your fingers", "hubs", "manual-locking"),
    ("diff that engages with a button on the dash", "differential", "selectable-locker"),
    ("has a locker, the kind that ratchets in corners", "differential", "automatic-locker"),
    ("four bolts on top of each knuckle", "knuckle", "kingpin"),
    ("you can slide the shafts out with the wheels on", "float", "full"),
]


@pytest.mark.parametrize(("text", "field", "value"), TOLD)
def test_thing_and_trait(first: First, text: str, field: str, value: object) -> None:
    assert first(f"axle from a 2004, {text}. 3.73").get(field) == value


NOT_TOLD = [
    ("the tie rod has a bow to it", "defects"), ("no teeth chipped", "defects"),
    ("teeth look good, seat chewed up", "defects"),
    ("steering arm above the tube", "pinion"), ("yoke new, price below", "pinion"), ("cab has a twist knob", "hubs"),
    ("hubs good, wipers on a rotary knob", "hubs"), ("4wd engages with a button on the dash", "differential"),
    ("four bolts on top of the battery", "knuckle"), ("drums off with the wheels on a pallet", "float"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "field"), NOT_TOLD)
def test_of_another_thing(first: First, text: str, field: str) -> None:
    assert field not in first(f"axle from a 2004, {text}. 3.73")


@pytest.mark.parametrize(("thing", "trait"), tellings())
def test_every_telling_is_told_by_its_example(first: First, thing: str, trait: str) -> None:
    telling = tellings()[thing, trait]
    said = first(f"axle from a 2004, {telling.example}. 3.73")
    for meaning in telling.says:
        found = said.get(meaning.name)
        assert meaning.value in found if meaning.adds else found == meaning.value  # type: ignore[operator]


def test_faults_of_the_file_are_named(tmp_path: Path) -> None:
    path = tmp_path / "tellings.csv"
    path.write_text("thing,trait,with,says,example\nhub,manual,,hubs=wooden,x\nhub,manual,,hubs=locking,x\n")
    with pytest.raises(BadData) as caught:
        tellings_from(path)
    assert len(caught.value.faults) == 2
