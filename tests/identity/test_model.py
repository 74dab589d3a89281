"""How facts are sorted and put together before they are weighed."""

import pytest

from donorbase.facts import Fact
from donorbase.identity.model import bearing_on, event_of, groups, model_of, sorted_facts
from donorbase.reference.load import load_catalogue
from donorbase.reference.odds import load_rates

CATALOGUE, RATES = load_catalogue(), load_rates()
MODEL = model_of(CATALOGUE)


def test_what_bears_on_an_attribute() -> None:
    """Its own facts, those of the same event, the years it fits, and what shows that the seller tells two apart."""
    assert {"lugs", "bolt_circle_mm"} <= bearing_on("lugs", RATES)
    assert "fits_years" in bearing_on("years", RATES)
    assert "fits_years" not in bearing_on("lugs", RATES)
    for name, (other, *_) in RATES.told_apart.items():
        assert {name, other} <= bearing_on(name, RATES)
    assert RATES.told_apart


def test_facts_of_one_event_are_weighed_together_and_others_apart() -> None:
    told = (Fact("ratio", 4.1), Fact("lugs", 8), Fact("knuckle", "kingpin"), Fact("bolt_circle_mm", 170.0))
    found = [[one.name for one in group] for group in groups(MODEL.weigh_all(told))]
    assert ["bolt_circle_mm", "lugs"] in [sorted(group) for group in found]
    assert ["ratio"] in found
    assert ["knuckle"] in found
    assert event_of("lugs") == event_of("bolt_circle_mm") != event_of("ratio")


def test_what_tells_no_axles_apart_is_left_out() -> None:
    told = sorted_facts([Fact("ratio", 4.1), Fact("price_usd", 400), Fact("contact", True)], MODEL.traits)
    assert list(told) == ["ratio"]
    sure = [name for name, trait in MODEL.traits.items() if trait.attribute.seller_error == 0.0]
    assert not [name for name in sure if sorted_facts([Fact(name, True)], MODEL.traits)]


@pytest.mark.parametrize("better", [True, False])
def test_years_it_is_said_to_fit_stand_in_where_nothing_better_is_said(better: bool) -> None:
    fits = [Fact("fits_years", (1999, 2004)), Fact("fits_years", (2005, 2010))]
    own = [Fact("years", (2001, 2001))] if better else []
    told = sorted_facts([*fits, *own], MODEL.traits)
    assert told == {"years": own or fits[:1]}
