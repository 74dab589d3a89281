"""The shelf out and back in: equal, never doubled, and nothing kept of a file that lies."""

import json
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

import pytest

from donorbase.errors import BadData, BadInput
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.measuring import measure_part
from donorbase.services.promising import Taking, release, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf import parts
from donorbase.services.shelf_files import export_shelf, import_shelf
from donorbase.services.splitting import assemble, split_part
from donorbase.services.tending import move_part, photo_part, undo_part

WHEN = Occasion(date(2026, 11, 9), "owner", "=1+1, ünïcode")
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"


@pytest.fixture
def full(house: House) -> House:
    """A shelf on which everything happened."""
    whole = pull(house, Pulled("axle", axle=KINGPIN, year=1985, miles=9, place="yard", cost_cents=65_001), WHEN)
    pieces = split_part(house, whole.tag, WHEN, asked=["rotor", "rotor", "knuckle:left"]).pieces
    measure_part(house, pieces[0].tag, "rotor-thickness", "1.47in", WHEN, instrument="micrometer", cast="1.465in")
    take(house, pieces[0].tag, Taking("reserved", person="Kim"), WHEN)
    take(house, pieces[0].tag, Taking("sold", person="Kim", price_cents=1_999), WHEN)
    undo_part(house, pieces[0].tag, WHEN)
    release(house, pieces[0].tag, WHEN)
    move_part(house, pieces[1].tag, "loft", WHEN)
    photo_part(house, pieces[1].tag, "a.jpg", WHEN)
    assemble(house, KINGPIN, [pieces[1].tag, pieces[2].tag], WHEN)
    return house


@pytest.fixture
def other(new_place: Callable[[], str]) -> Iterator[House]:
    house = House(new_place())
    yield house
    house.close()


def test_what_goes_out_comes_back_equal_and_is_not_doubled(full: House, other: House) -> None:
    text = json.dumps(export_shelf(full)).encode()
    assert import_shelf(other, text, "shelf.json") == (5, 0)
    assert json.dumps(export_shelf(other)).encode() == text
    assert import_shelf(other, text, "shelf.json") == (0, 5)
    assert json.dumps(export_shelf(other)).encode() == text
    undo_part(other, parts(other, kinds=["rotor"])[0].tag, WHEN)
    assert pull(other, Pulled("yoke"), WHEN).id == 6


def drop_event(part: dict[str, Any]) -> None:
    part["events"].pop()


def other_cost(part: dict[str, Any]) -> None:
    part["cost_cents"] = 1


def twice_promised(part: dict[str, Any]) -> None:
    part["holds"] += [{**part["holds"][0], "ended_by": None}] * 2


def no_such_kind(part: dict[str, Any]) -> None:
    part["kind"] = part["events"][0]["detail"]["after"]["kind"] = "wing"


def misread(part: dict[str, Any]) -> None:
    part["tag"] = "AAC7"


def not_events(part: dict[str, Any]) -> None:
    part["events"] = "none"


def no_amount(part: dict[str, Any]) -> None:
    part["readings"] = [{"event": 1}]


LIES = [no_amount, drop_event, other_cost, twice_promised, no_such_kind, misread, not_events]


@pytest.mark.parametrize("lie", LIES)
def test_of_a_file_that_lies_nothing_is_kept(full: House, other: House, lie: Callable[[dict[str, Any]], None]) -> None:
    shelf = export_shelf(full)
    lie(shelf["parts"][1])
    with pytest.raises(BadInput):
        import_shelf(other, json.dumps(shelf).encode(), "shelf.json")
    assert parts(other) == ()


def test_another_part_of_the_same_tag_is_refused(full: House, other: House) -> None:
    pull(other, Pulled("yoke"), WHEN)
    with pytest.raises(BadData, match="AAC4: another part"):
        import_shelf(other, json.dumps(export_shelf(full)).encode(), "shelf.json")
    assert len(parts(other)) == 1


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"form": "donorbase shelf 1"}', '{"parts": []}', "[" * 100_000])
def test_what_is_no_shelf(house: House, text: str) -> None:
    with pytest.raises(BadInput):
        import_shelf(house, text.encode("utf-16"), "shelf.json")
