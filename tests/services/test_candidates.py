"""Candidates: kept once, moved, put right, undone; nothing is lost, and a verdict is due when its grounds change."""

import subprocess
import sys
from datetime import date

import pytest

from donorbase.errors import BadInput, NotFound
from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates, history
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, correct, move, note, price, undo
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.learning import record_corrections
from donorbase.services.rejudging import count_due, judge_due, read_anew
from donorbase.services.words import add_word
from donorbase.shipped import data_dir

YEAR = 2026
FITS = (
    "Front axle off a 2008 line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side, 35 spline outers. $900 obo"
)
REAR = "10.5 inch 14 bolt full float rear axle, 8 lug, disc brakes, 4.10. $450"
DAY, LATER = date(2026, 11, 1), date(2026, 11, 9)
WHEN = Occasion(LATER, "owner", "by phone")


@pytest.fixture
def desk(house: House) -> Desk:
    for name in ("crawler", "trail-wagon"):
        add_build(house, data_dir() / "demo" / f"{name}.toml")
    return Desk.of_house(house, YEAR)


def kept(house: House, desk: Desk, *texts: str, builds: tuple[str, ...] = ("crawler",)) -> list[int]:
    outcomes = Keeper(house, desk, builds, "owner").keep([Seen(text, DAY) for text in texts])
    return [number for outcome in outcomes for number in outcome.candidates.values()]


def test_a_listing_is_kept_once_for_each_build(house: House, desk: Desk) -> None:
    (first,) = kept(house, desk, FITS)
    assert kept(house, desk, FITS.replace(". ", ".\r\n"), FITS)[1] == first
    both = kept(house, desk, FITS, builds=("crawler", "trail-wagon"))
    assert both[0] == first
    found = candidates(house)
    assert len({c.listing_id for c in found if c.id in both}) == 1
    assert [c.build for c in found if c.id in both] == ["crawler", "trail-wagon"]


def test_the_same_text_at_another_address_is_another_listing(house: House, desk: Desk) -> None:
    """Two sellers may use the same few words: that they are one must be found out, not taken for granted."""
    keeper = Keeper(house, desk, ("crawler",))
    here, there = Seen(REAR, DAY, url="https://ads.example/1"), Seen(REAR, DAY, url="https://ads.example/2")
    one, two, again, blank = keeper.keep([here, there, here, Seen(REAR, LATER)])
    assert one.listing_id != two.listing_id
    assert again.listing_id == one.listing_id
    assert blank.listing_id in {one.listing_id, two.listing_id}


def test_seen_again_widens_the_days_and_tells_of_a_price(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    Keeper(house, desk, ("crawler",)).keep([Seen(FITS, LATER, price_usd=750)])
    Keeper(house, desk, ("crawler",)).keep([Seen(FITS, LATER, price_usd=1)])
    found = history(house, number)
    assert (found.candidate.first_seen_on, found.candidate.last_seen_on) == (DAY, LATER)
    assert found.prices == ((DAY, 900.0), (LATER, 750.0))
    assert found.candidate.price_usd == 750
    assert [e.note for e in found.events if e.kind == "price"] == ["asks 750 USD, before 900"]


def test_every_move_is_an_event_and_undo_takes_back_the_newest(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    move(house, [number], "asked", WHEN)
    move(house, [number], "passed", Occasion(LATER, "owner"))
    note(house, number, Occasion(LATER, "owner", "hub was cracked"))
    assert undo(house, number, WHEN).kind == "note"
    assert undo(house, number, WHEN).state_to == "passed"
    found = history(house, number)
    assert found.candidate.state == "asked"
    assert [e.kind for e in found.events] == ["added", "state", "state", "note", "undo", "undo"]
    assert [e.undone for e in found.events] == [False, False, True, True, False, False]
    assert found.events[1].who == "owner"
    undo(house, number, WHEN)
    with pytest.raises(NotFound, match="nothing is left"):
        undo(house, number, WHEN)
    assert history(house, number).candidate.state == "watching"


def test_moves_are_all_or_none(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    with pytest.raises(NotFound, match="no candidate 99"):
        move(house, [number, 99], "asked", WHEN)
    assert history(house, number).candidate.state == "watching"
    with pytest.raises(BadInput, match="no state"):
        move(house, [number], "sold", WHEN)


def test_a_correction_counts_at_once_and_survives_a_new_reading(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    judge_due(house, desk)
    assert history(house, number).candidate.verdict == "fits"
    correct(house, desk, number, ["rear_wheels=dual", "bolt_circle_mm=200"], WHEN, measured=True)
    assert history(house, number).candidate.due
    (change,) = judge_due(house, desk).changed
    assert (change.before, change.after) == ("fits", "fits with work")
    add_word(house, "snorkelwort", "donor_line=line-A")
    fresh = Desk.of_house(house, YEAR)
    assert read_anew(house, fresh) == 1
    assert judge_due(house, fresh).changed == ()
    undo(house, number, WHEN)
    assert judge_due(house, fresh).changed[0].after == "fits"
    assert house.rows()["correction"] == []


def test_undoing_a_correction_brings_back_the_one_before(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, REAR)
    correct(house, desk, number, ["splines=30"], WHEN, measured=True)
    correct(house, desk, number, ["splines=35"], WHEN)
    undo(house, number, WHEN)
    (row,) = house.rows()["correction"]
    assert (row["meaning"], row["known"]) == ("splines=30", "measured")


def test_corrections_made_while_reading_count_too(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    judge_due(house, desk)
    record_corrections(house, desk.read(f"{FITS}\n"), 1, ["rear_wheels=dual"])
    assert count_due(house, desk) == {"crawler": 1}
    assert judge_due(house, desk).changed[0].candidate_id == number
    assert count_due(house, desk) == {}


def test_a_correction_goes_on_with_another_text_of_the_same_listing(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    correct(house, desk, number, ["rear_wheels=dual", "bolt_circle_mm=200"], WHEN, measured=True)
    listing_id = history(house, number).candidate.listing_id
    repost = FITS.replace("8x170, ", "").replace("SRW, ", "")
    (other,) = Keeper(house, desk, ()).keep([Seen(repost, LATER)])
    with house.keeping() as connection:
        connection.exec_driver_sql(f"UPDATE sighting SET listing_id = {listing_id} WHERE id = {other.sighting_id}")
    judge_due(house, desk)
    assert history(house, number).sightings[-1].text == repost
    assert history(house, number).candidate.verdict == "fits with work"
    assert count_due(house, desk) == {}


def test_where_it_is_may_be_told_later(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    judge_due(house, desk)
    far = Seen(FITS, DAY, url="https://ads.example/3", distance_mi=2400, zip="07103")
    Keeper(house, desk, ("crawler",)).keep([far])
    assert count_due(house, desk) == {"crawler": 1}
    judge_due(house, desk)
    found = history(house, number).candidate
    assert (found.url, found.zip, found.distance_mi) == ("https://ads.example/3", "07103", 2400)
    assert found.verdict == "does not fit", "travel alone is over the limit"
    Keeper(house, desk, ("crawler",)).keep([far, Seen(FITS, DAY)])
    assert count_due(house, desk) == {}
    assert len(candidates(house)) == 1


def test_a_price_told_by_phone_judges_anew_and_can_be_undone(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    judge_due(house, desk)
    price(house, number, 9000, WHEN)
    assert judge_due(house, desk).changed[0].after == "does not fit"
    undo(house, number, WHEN)
    assert judge_due(house, desk).changed[0].after == "fits"
    assert history(house, number).prices == ((DAY, 900.0),)


def test_a_changed_build_or_word_makes_verdicts_due_and_shows_the_difference(house: House, desk: Desk) -> None:
    kept(house, desk, FITS, REAR)
    assert judge_due(house, desk).judged == 2
    assert judge_due(house, desk).judged == 0
    text = house.build("crawler").toml
    house.keep_build("crawler", text.replace("landed_limit_usd = 2200", "landed_limit_usd = 300"))
    found = judge_due(house, desk)
    assert found.judged == 2
    assert [(c.before, c.after) for c in found.changed] == [("fits", "does not fit")]
    assert history(house, 1).events[-1].note == "fits -> does not fit"


def test_a_forgotten_build_loses_no_candidate(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, FITS)
    house.forget_build("crawler")
    assert judge_due(house, desk).judged == 0
    assert history(house, number).candidate.build == "crawler"


ADDING = """
import sys
from datetime import date
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.keeping import Keeper, Seen
house = House(sys.argv[1])
keeper = Keeper(house, Desk.of_house(house, 2026), ("crawler",))
for number in range(40):
    keeper.keep([Seen(f"front axle 8 lug, ref {number}", date(2026, 11, 1))])
"""


def test_two_processes_that_add_at_once_double_and_lose_nothing(house: House, desk: Desk) -> None:
    assert desk.catalogue.variants
    running = [subprocess.Popen([sys.executable, "-c", ADDING, house.place]) for _ in range(2)]
    assert [one.wait(120) for one in running] == [0, 0]
    found = candidates(house)
    assert len(found) == 40
    assert len({c.listing_id for c in found}) == 40
