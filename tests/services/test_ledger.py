"""Claims against measurements: kept, counted, shrunk towards the shipped rates, and switched off."""

import pytest

from donorbase.attributes import attribute
from donorbase.errors import BadInput, NotFound
from donorbase.facts import Fact, Item
from donorbase.identity.identify import identify
from donorbase.reference.odds import load_rates
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.ledger import (
    ENOUGH,
    PRIOR_CLAIMS,
    claims,
    forget_claims,
    own_priors,
    own_rates,
    own_rates_count,
    rates_of,
    record_claims,
    set_prior,
    switch_own_rates,
)

SAID = Item((Fact("kind", "axle"), Fact("outer_splines", 35), Fact("lugs", 8), Fact("width_in", 69.0)))


def test_what_was_said_is_kept_beside_what_was_measured(house: House) -> None:
    found = record_claims(
        house, "barn", SAID, {"outer_splines": 30, "lugs": 8, "width_in": "69 1/4", "knuckle": "kingpin"}
    )
    assert [(d.attribute, d.agrees) for d in found] == [("outer_splines", False), ("lugs", True), ("width_in", True)]
    assert [row["measured"] for row in claims(house)][:1] == ["30"]


def test_the_same_axle_is_counted_once(house: House) -> None:
    for _ in range(3):
        record_claims(house, "barn", SAID, {"outer_splines": 30})
    assert len(claims(house)) == 1
    forget_claims(house, "barn")
    assert not claims(house)
    with pytest.raises(NotFound):
        forget_claims(house, "barn")


def test_own_rates_count_from_enough_on_and_are_shrunk(house: House) -> None:
    shipped = attribute("outer_splines").seller_error
    for number in range(ENOUGH - 1):
        record_claims(house, f"axle {number}", SAID, {"outer_splines": 30})
    assert not own_rates(house)[0].counts
    assert rates_of(house) is load_rates()
    record_claims(house, "one more", SAID, {"outer_splines": 30})
    (rate,) = own_rates(house)
    # The mean of a beta distribution with PRIOR_CLAIMS claims of the shipped rate and ENOUGH wrong ones.
    assert rate.rate == pytest.approx((ENOUGH + PRIOR_CLAIMS * shipped) / (ENOUGH + PRIOR_CLAIMS))
    assert rates_of(house).seller_error == {"outer_splines": rate.rate}


def test_own_rates_move_the_identification_and_can_be_switched_off(house: House) -> None:
    for number in range(12):
        record_claims(house, f"axle {number}", SAID, {"outer_splines": 30})
    facts = (
        Fact("position", "front"),
        Fact("years", (2001, 2001)),
        Fact("outer_splines", 35),
        Fact("suspension", "leaf"),
    )
    catalogue = house.catalogue()
    trusting = identify(facts, catalogue).probability_of("front-9.75-balljoint/a-1999-2004-srw")
    warned = identify(facts, catalogue, rates=rates_of(house)).probability_of("front-9.75-balljoint/a-1999-2004-srw")
    assert warned > trusting
    switch_own_rates(house, on=False)
    assert not own_rates_count(house)
    assert rates_of(house) is load_rates()
    switch_own_rates(house, on=True)
    assert Desk.of_house(house, 2026).rates.seller_error


def test_nothing_in_common_is_told(house: House) -> None:
    with pytest.raises(BadInput, match="both said and measured"):
        record_claims(house, "barn", SAID, {"knuckle": "kingpin"})
    with pytest.raises(BadInput, match="tube"):
        record_claims(house, "barn", SAID, {"lugs": 8, "tube_in": 35})
    assert not claims(house)


def test_own_priors_count_before_the_shipped_ones(house: House) -> None:
    facts = (Fact("position", "rear"), Fact("lugs", 8))
    before = identify(facts, house.catalogue()).probability_of("rear-10.50-line-c/c-2003-2013")
    set_prior(house, "rear-10.50-line-c/*", 60.0)
    assert own_priors(house) == {"rear-10.50-line-c/*": 60.0}
    after = Desk.of_house(house, 2026).identify_facts(facts).identification
    assert after.probability_of("rear-10.50-line-c/c-2003-2013") > 3 * before
    set_prior(house, "rear-10.50-line-c/*", None)
    assert not own_priors(house)


def test_a_prior_of_no_variant_is_refused(house: House) -> None:
    with pytest.raises(BadInput, match="no variant"):
        set_prior(house, "rear-99/*", 1.0)
    with pytest.raises(NotFound):
        set_prior(house, "rear-*", None)
