"""Trips, hauling, prices of one's own, and words to search for."""

from datetime import date

import pytest

from donorbase.errors import BadInput
from donorbase.services.builds import add_build, find_build
from donorbase.services.desk import Desk
from donorbase.services.hauling import haul_figures, weights
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.prices import family_prices
from donorbase.services.search_words import search_words
from donorbase.services.trips import trip
from donorbase.services.words import add_word
from donorbase.shipped import data_dir

# Another year is another axle: the same advert with another price would be the one that is kept, seen again.
FRONT = "Front axle off a {year} line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. ${price}"
DAY, TODAY = date(2026, 10, 1), date(2026, 11, 20)


@pytest.fixture
def desk(house: House) -> Desk:
    for name in ("crawler", "rock-truck"):
        add_build(house, data_dir() / "demo" / f"{name}.toml")
    return Desk.of_house(house, 2026)


def kept(house: House, desk: Desk, *seen: Seen) -> list[int]:
    found = Keeper(house, desk, ("crawler",)).keep(list(seen))
    return [number for outcome in found for number in outcome.candidates.values()]


class TestTrip:
    def test_stops_along_a_line_are_passed_once(self, house: House, desk: Desk) -> None:
        """Degrees of latitude on one meridian: 69.1 miles each on the mean radius (haversine)."""
        found = trip(house, desk, "40,-105", others={"far": "42,-105", "near": "41,-105"})
        assert sorted(stop.title for stop in found.stops) == ["far", "near"]
        assert found.straight_mi == pytest.approx(4 * 69.09, abs=0.1)
        assert found.road_mi == pytest.approx((1.2 * found.straight_mi, 1.4 * found.straight_mi))

    def test_a_candidate_brings_its_checks(self, house: House, desk: Desk) -> None:
        (number,) = kept(house, desk, Seen(FRONT.format(year=2008, price=900), DAY, zip="80301"))
        (stop,) = trip(house, desk, "80202", [number]).stops
        assert stop.title.startswith(f"{number}: ")
        assert any("splines" in check for check in stop.checks)

    def test_what_cannot_be_driven(self, house: House, desk: Desk) -> None:
        (number,) = kept(house, desk, Seen(FRONT.format(year=2008, price=900), DAY))
        with pytest.raises(BadInput, match="no ZIP"):
            trip(house, desk, "80202", [number])
        with pytest.raises(BadInput, match="no yard"):
            trip(house, desk, "80202", yard_names=["nowhere"])
        with pytest.raises(BadInput, match="0"):
            trip(house, desk, "80202")


class TestPrices:
    def test_few_are_too_few_and_more_have_a_middle(self, house: House, desk: Desk) -> None:
        asked = {2005: 700, 2006: 800, 2007: 900, 2008: 1000}
        kept(house, desk, *(Seen(FRONT.format(year=year, price=usd), DAY) for year, usd in asked.items()))
        (few,) = family_prices(house, desk, TODAY)
        assert (few.family, few.condition, few.what) == ("front-9.75-balljoint", "complete", "asked")
        assert (few.found.number, few.found.median_usd) == (4, None)
        kept(house, desk, Seen(FRONT.format(year=2009, price=1100), DAY))
        (more,) = family_prices(house, desk, TODAY)
        assert more.found.median_usd == pytest.approx(900)

    def test_bought_and_damaged_ones_stand_apart(self, house: House, desk: Desk) -> None:
        bought, _ = kept(
            house,
            desk,
            Seen(FRONT.format(year=2008, price=900), DAY),
            Seen(FRONT.format(year=2006, price=400) + " The tube is bent.", DAY),
        )
        move(house, [bought], "bought", Occasion(TODAY, "owner"))
        found = {(one.what, one.condition) for one in family_prices(house, desk, TODAY)}
        assert found == {("went for", "complete"), ("asked", "parts missing or damaged")}


class TestHauling:
    def test_less_of_it_weighs_less_and_wheels_weigh_more(self, house: House) -> None:
        key = "front-9.25-unit-bearing/c-2003-2008-srw"
        whole, stripped, bare = (
            weights(house, [key], state)[0].weight_lb for state in ("complete", "stripped", "bare")
        )
        wheeled = weights(house, [key], wheels=True)[0].weight_lb
        assert whole == (450, 550)
        assert bare < stripped < whole < wheeled

    def test_nobody_is_asked_to_lift_more_than_the_lifting_equation_allows(self, house: House) -> None:
        """23 kg, 51 lb: the load constant of NIOSH publication 94-110."""
        (one,) = weights(house, ["front-9.25-unit-bearing/c-2003-2008-srw"])
        assert haul_figures()["person"]["limit_lb"] == 51
        assert one.people == 11

    def test_a_kind_without_a_weight_takes_that_of_axles_like_it_or_says_so(self, house: House) -> None:
        (one,) = weights(house, ["rear-10.54-full-float"])
        assert one.of_kind
        with pytest.raises(BadInput, match="nothing is on record"):
            weights(house, ["rear-7.50-ten-bolt"])


class TestSearchWords:
    def test_right_misspelt_and_own(self, house: House, desk: Desk) -> None:
        add_word(house, "zorbly", "donor_line=line-A")
        found = {
            one.wanted.partition(": ")[2]: one for one in search_words(house, find_build(house, "rock-truck"), "front")
        }
        assert found["kingpin"].right == ("kingpin",)
        assert "kingpen" in found["kingpin"].misspelt
        assert "zorbly" in found["line-A"].local
        assert "perno maestro" in found["kingpin"].foreign
        assert "coil" not in found
