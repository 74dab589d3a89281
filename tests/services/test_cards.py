"""The card: measured facts replace what was said, differences are kept, set-up and return stand on it."""

import json
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from donorbase.errors import BadInput
from donorbase.services.builds import add_build
from donorbase.services.cards import KIND, LISTING, PIECES, card_of, measure_facts, relearn
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.ledger import claims
from donorbase.services.pulling import Pulled, pull
from donorbase.services.setting_up import set_return, set_up, setup_of
from donorbase.services.shelf import Part, part_history
from donorbase.services.shelf_files import export_shelf, import_shelf
from donorbase.services.splitting import assemble
from donorbase.services.tending import undo_part
from donorbase.shipped import data_dir

WHEN = Occasion(date(2026, 11, 9), "owner")
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
ADVERT = "Front axle off an 06 one ton, 8x170, 35 spline outers, 3.73 gears, $500"


@pytest.fixture
def desk(house: House) -> Desk:
    return Desk.of_house(house, 2026)


@pytest.fixture
def bought(house: House, desk: Desk) -> Part:
    """An axle that came from a listing."""
    add_build(house, data_dir() / "demo" / "crawler.toml")
    (kept,) = Keeper(house, desk, ("crawler",), "owner").keep([Seen(ADVERT, date(2026, 11, 1))])
    return pull(house, Pulled("axle", axle="front-9.75-balljoint", candidate_id=kept.new_candidates[0]), WHEN)


def by_attribute(house: House, desk: Desk, part: Part) -> dict[str, tuple[str, str, str]]:
    return {line.attribute: (line.stands, line.by, line.state) for line in card_of(house, desk, part.tag).lines}


def test_what_was_measured_replaces_what_the_listing_said_and_both_stand(
    house: House, desk: Desk, bought: Part
) -> None:
    """41 over 10 teeth is 4.10, which no reading of 3.73 agrees with; 165.1 mm is 6.5 in."""
    assert by_attribute(house, desk, bought)["ratio"] == ("3.73", LISTING, "said")
    saw = {"ring_teeth": "41", "pinion_teeth": "10", "outer_splines": "35", "tube_in": "80 mm"}
    card = measure_facts(house, desk, bought.tag, saw, WHEN)
    lines = by_attribute(house, desk, bought)
    assert lines["ratio"] == ("4.10", LISTING, "differs")
    assert lines["outer_splines"] == ("35", LISTING, "agrees")
    assert lines["bolt_circle_mm"] == ("170 mm", LISTING, "said")
    assert lines["tube_in"][2] == "measured"
    assert [line.attribute for line in card.differing] == ["ratio"]
    kept = {(row["attribute"], row["claimed"], row["measured"], row["agrees"]) for row in claims(house)}
    assert kept == {("ratio", "3.73", "4.10", False), ("outer_splines", "35", "35", True)}
    (event,) = [e for e in part_history(house, bought.tag).events if e.kind == "measured"]
    assert event.after["said ratio, its listing"] == "3.73"


def test_undoing_a_measurement_brings_back_what_was_said(house: House, desk: Desk, bought: Part) -> None:
    measure_facts(house, desk, bought.tag, {"lugs": "8"}, WHEN)
    measure_facts(house, desk, bought.tag, {"lugs": "6", "outer_splines": "30"}, WHEN)
    assert by_attribute(house, desk, bought)["lugs"] == ("6", LISTING, "differs")
    undo_part(house, bought.tag, WHEN)
    relearn(house, desk, bought.tag)
    assert by_attribute(house, desk, bought)["lugs"] == ("8", LISTING, "agrees")
    assert by_attribute(house, desk, bought)["outer_splines"] == ("35", LISTING, "said")
    assert [(row["attribute"], row["agrees"]) for row in claims(house)] == [("lugs", True)]


def test_of_an_assembled_axle_its_pieces_speak_before_its_kind(house: House, desk: Desk) -> None:
    hub = pull(house, Pulled("hub", axle=KINGPIN), WHEN)
    measure_facts(house, desk, hub.tag, {"bolt_circle_mm": "170"}, WHEN)
    whole = assemble(house, KINGPIN, [hub.tag], WHEN).whole
    lines = by_attribute(house, desk, whole)
    assert lines["bolt_circle_mm"] == ("170 mm", PIECES, "said")
    assert lines["lugs"] == ("8", KIND, "said")
    measure_facts(house, desk, whole.tag, {"lugs": "6"}, WHEN)
    assert by_attribute(house, desk, whole)["lugs"] == ("6", KIND, "differs")
    assert claims(house) == (), "no seller is to blame for what a kind of axle is like"


def test_a_measurement_that_cannot_be_is_refused_and_nothing_kept(house: House, desk: Desk, bought: Part) -> None:
    with pytest.raises(BadInput):
        measure_facts(house, desk, bought.tag, {"lugs": "8", "bolt_circle_mm": "wide"}, WHEN)
    assert [e.kind for e in part_history(house, bought.tag).events] == ["added"]


def test_a_set_up_is_kept_as_it_was_read_and_judged_by_its_limit(house: House) -> None:
    """An inch is 25.4 mm: 0.15 mm of backlash is 0.0059 in."""
    part = pull(house, Pulled("axle", axle=KINGPIN), WHEN)
    set_up(house, part.tag, {"backlash": "0.15 mm", "pinion-torque": "20 in-lbs", "pattern": "centred, coast"}, WHEN)
    lines = {line.point.name: line for line in set_up(house, part.tag, {"backlash": "0.060in"}, WHEN)}
    assert {name: line.text for name, line in lines.items()} == {
        "backlash": "0.060in", "pinion-torque": "20 in-lbs", "pattern": "centred, coast",
    }  # fmt: skip
    assert lines["pattern"].judgement is None
    assert lines["backlash"].judgement is not None
    assert lines["backlash"].judgement.state == "out"
    undo_part(house, part.tag, WHEN)
    assert setup_of(house, part.tag)[0].text == "0.15 mm"


@pytest.mark.parametrize("told", [{"backlash": "0.006"}, {"pinion-nut": "300"}, {"shims": "1in"}, {"backlash": "thin"}])
def test_a_set_up_without_units_or_sense_is_refused(house: House, told: dict[str, str]) -> None:
    part = pull(house, Pulled("axle"), WHEN)
    with pytest.raises(BadInput):
        set_up(house, part.tag, told, WHEN)
    assert setup_of(house, part.tag) == ()


def test_the_day_of_return_counts_from_the_day_it_came(house: House, desk: Desk) -> None:
    part = pull(house, Pulled("axle"), WHEN)
    assert set_return(house, part.tag, WHEN, days=30, prove="noise") == date(2026, 12, 9)
    assert card_of(house, desk, part.tag).about("return") == {"by": "2026-12-09", "prove": "noise"}
    wrongs: tuple[dict[str, Any], ...] = (
        {"days": -1},
        {"by": date(2026, 1, 1)},
        {},
        {"days": 1, "by": date(2027, 1, 1)},
    )
    for wrong in wrongs:
        with pytest.raises(BadInput):
            set_return(house, part.tag, WHEN, **wrong)


def test_card_and_set_up_go_out_and_come_back(house: House, desk: Desk, new_place: Callable[[], str]) -> None:
    part = pull(house, Pulled("axle", axle=KINGPIN), WHEN)
    measure_facts(house, desk, part.tag, {"lugs": "8"}, WHEN)
    set_up(house, part.tag, {"backlash": "0.15 mm"}, WHEN)
    other = House(new_place())
    try:
        import_shelf(other, json.dumps(export_shelf(house)).encode(), "shelf.json")
        assert [line.text for line in setup_of(other, part.tag)] == ["0.15 mm"]
        lines = card_of(other, Desk.of_house(other, 2026), part.tag).lines
        assert [line.state for line in lines if line.attribute == "lugs"] == ["agrees"]
    finally:
        other.close()
