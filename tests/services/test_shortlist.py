"""The shortlist: best first, judged anew where something changed; which must alone keeps candidates out; pairs."""

from datetime import date

import pytest

from donorbase.errors import BadInput, NotFound
from donorbase.reference.parts import WHOLE
from donorbase.services.builds import add_build
from donorbase.services.cards import measure_facts
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move, note, price
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.pairs import pairs
from donorbase.services.places import miles_between, place_of, zip_miles, zip_place
from donorbase.services.promising import Taking, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.rejudging import candidate_verdict
from donorbase.services.shortlist import relaxed, shortlist
from donorbase.services.words import add_word
from donorbase.shipped import data_dir

TODAY = date(2026, 11, 20)
GOOD = "Front axle off a 2008 line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side, 35 spline outers. $900"
# Of other years, for the same advert with another price would be the same axle again.
DEAR = GOOD.replace("2008", "2009").replace("$900", "$1500")
VAGUE = "coil front axle, ball joint, 8x170, driver side. $700"
LATE = GOOD.replace("2008", "2019")
BENT = GOOD.replace("2008", "2007").replace("$900", "The tube is bent. $300")
FRONT = (
    "1990 kingpin front axle, one ton, SRW, driver drop, 8x6.5, leaf, 35 spline inners, 30 spline outers, 4.10. $1500"
)
REAR = "14 bolt rear, full float, 10.5 ring, 8x6.5, SRW, disc brakes, 1990, 4.10. $300"


@pytest.fixture
def desk(house: House) -> Desk:
    for name in ("crawler", "rock-truck"):
        add_build(house, data_dir() / "demo" / f"{name}.toml")
    return Desk.of_house(house, 2026)


def kept(house: House, desk: Desk, build: str, *texts: str, zips: tuple[str | None, ...] = ()) -> list[int]:
    seen = [
        Seen(text, date(2026, 11, 1), zip=code, distance_mi=40.0 if code else None)
        for text, code in zip(texts, zips or (None,) * len(texts), strict=True)
    ]
    found = Keeper(house, desk, (build,)).keep(seen)
    return [number for outcome in found for number in outcome.candidates.values()]


def test_the_best_stand_first_and_what_does_not_fit_is_left_out(house: House, desk: Desk) -> None:
    dear, bent, vague, good = kept(house, desk, "crawler", DEAR, BENT, VAGUE, GOOD)
    found = shortlist(house, desk, "crawler", TODAY)
    assert [one.candidate.id for one in found.listed] == [good, dear, vague]
    assert bent not in [one.candidate.id for one in found.listed]
    assert found.of == 4
    assert found.listed[0].days_on_market == 19
    assert any("model year" in ask for ask in found.listed[2].asks)


def test_state_price_and_notes_stand_beside_it(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, "crawler", VAGUE)
    asked = Occasion(date(2026, 11, 5), "owner", "sent two questions")
    move(house, [number], "asked", asked)
    note(house, number, Occasion(date(2026, 11, 6), "owner", "he will look on Sunday"))
    price(house, number, 650.0, Occasion(date(2026, 11, 7), "owner"))
    (one,) = shortlist(house, desk, "crawler", TODAY).listed
    assert (one.candidate.state, one.since, one.prices_usd) == ("asked", date(2026, 11, 5), (700.0, 650.0))
    assert one.told == ("he will look on Sunday",)


def test_a_word_that_was_taught_judges_anew_and_tells_the_difference(house: House, desk: Desk) -> None:
    (number,) = kept(house, desk, "crawler", "Zorbly coil front axle, ball joint, 8x170, driver side, 3.73. $700")
    assert not shortlist(house, desk, "crawler", TODAY).judgements.changed
    add_word(house, "zorbly", "years=2008-2010; rear_wheels=single; load_class=one-ton; donor_line=line-A")
    found = shortlist(house, Desk.of_house(house, 2026), "crawler", TODAY)
    assert [(c.candidate_id, c.before, c.after) for c in found.judgements.changed] == [(number, "unclear", "fits")]


def test_which_must_alone_keeps_candidates_out(house: House, desk: Desk) -> None:
    late, bent, _ = kept(house, desk, "crawler", LATE, BENT, GOOD)
    found = {one.subject: one.lets_in for one in relaxed(house, desk, "crawler")}
    assert found["front.defects"] == (bent,)
    assert late in found["front.ratio_sold"]


def test_no_such_build(house: House, desk: Desk) -> None:
    with pytest.raises(NotFound):
        shortlist(house, desk, "crawlre", TODAY)


def test_a_front_of_one_advert_goes_with_a_rear_of_another(house: House, desk: Desk) -> None:
    front, rear = kept(house, desk, "rock-truck", FRONT, REAR)
    kept(house, desk, "rock-truck", REAR.replace("4.10", "3.42").replace("8x6.5", "8x170"))
    best = pairs(house, desk, "rock-truck")[0]
    assert (best.front.id, best.rear.id, best.one_offer) == (front, rear, False)
    assert best.verdict.money.total is not None
    assert best.verdict.money.total.likely == pytest.approx(1800)


def test_one_drive_past_both_is_in_the_sum(house: House, desk: Desk) -> None:
    """Both 40 miles away and next door to each other: one round of 80 miles instead of two."""
    kept(house, desk, "rock-truck", FRONT, REAR, zips=("80202", "80202"))
    (best,) = pairs(house, desk, "rock-truck")
    saved = [line for line in best.verdict.money.lines if line.label == "one drive to both"]
    trips = [line for line in best.verdict.money.lines if line.label == "travel"]
    assert best.apart_mi == 0
    assert saved[0].cost.likely == pytest.approx(-trips[0].cost.likely)


def test_a_build_of_one_end_has_no_pairs(house: House, desk: Desk) -> None:
    with pytest.raises(BadInput, match="only a front"):
        pairs(house, desk, "crawler")


class TestPlaces:
    """ZIP points of the zipcodes package 3.0.0; the distance as computed by haversine on the mean radius."""

    def test_two_zips(self) -> None:
        assert zip_place("80202") == (39.7491, -104.9946)
        assert zip_miles("80202", "84101") == pytest.approx(370.448, abs=0.001)
        assert miles_between(place_of("39.7491,-104.9946"), place_of("84101")) == pytest.approx(370.448, abs=0.001)

    def test_what_is_no_place(self) -> None:
        assert zip_miles("80202", None) is None
        assert zip_miles("80202", "00000") is None
        for text in ("8020", "eighty", "00000", "12,x"):
            with pytest.raises(BadInput):
                place_of(text)


def test_an_axle_of_the_shelf_goes_with_a_candidate(house: House, desk: Desk) -> None:
    when = Occasion(date(2026, 11, 9), "owner")
    (front,) = kept(house, desk, "rock-truck", FRONT)
    assert pairs(house, desk, "rock-truck") == ()
    rear = pull(house, Pulled(WHOLE, axle="rear-10.50-fourteen-bolt/b-1973-2000-srw-drum"), when)
    pull(house, Pulled(WHOLE, axle="rear-10.50-fourteen-bolt"), when)  # which one is not known
    measure_facts(house, desk, rear.tag, {"ratio": "4.10"}, when)
    (best,) = pairs(house, desk, "rock-truck")
    assert (best.front.id, best.rear.id, best.one_offer) == (front, rear.tag, False)
    alone = candidate_verdict(house, desk, front).verdict.money.total
    assert alone is not None
    assert best.verdict.money.total is not None
    assert best.verdict.money.total.likely == pytest.approx(alone.likely), "what lies on the shelf is paid for"
    take(house, rear.tag, Taking("reserved", person="Ann"), when)
    assert pairs(house, desk, "rock-truck") == ()
