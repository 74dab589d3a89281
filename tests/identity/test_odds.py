"""Rates and priors: read once, overruled by the user's own, refused where they cannot be."""

from dataclasses import replace
from fnmatch import fnmatchcase

import pytest

from donorbase.attributes import attribute, attributes
from donorbase.errors import BadData
from donorbase.facts import Fact, Known
from donorbase.identity.identify import identify
from donorbase.reference.load import load_catalogue
from donorbase.reference.odds import load_priors, load_rates


def test_every_rate_speaks_of_an_attribute_there_is() -> None:
    rates = load_rates()
    for table in (rates.stated_sd, rates.spread, rates.changed_to, rates.told_apart):
        assert set(table) <= set(attributes())
    assert set(rates.known) == set(Known)


def test_what_is_less_surely_known_is_wrong_more_often() -> None:
    rates, name = load_rates(), attribute("knuckle")
    order = [Known.MEASURED, Known.STATED, Known.INFERRED, Known.HEDGED]
    errors = [rates.error(name, known) for known in order]
    assert errors == sorted(errors)
    assert all(0.0 < rates.error(a, known) <= 0.5 for a in attributes().values() for known in Known)


def test_the_last_matching_pattern_counts() -> None:
    priors = load_priors()
    family = "front-9.75-balljoint"
    assert priors.of_variant(f"{family}/a-2005-2010-srw") > priors.of_variant(f"{family}/a-2005-2010-drw")
    assert priors.overruled({f"{family}/*": 99.0}).of_variant(f"{family}/a-2005-2010-drw") == 99.0


def test_every_variant_has_a_weight_of_its_kind() -> None:
    priors = load_priors()
    patterns = [pattern for pattern in priors.weight if pattern not in ("front-*", "rear-*")]

    for key in load_catalogue().variants:
        assert any(fnmatchcase(key, pattern) for pattern in patterns), key


def test_old_trucks_have_left_the_road() -> None:
    priors = load_priors()
    assert priors.of_year(priors.full_from + 5) == 1.0
    assert priors.of_year(priors.full_from - 20) == pytest.approx(0.5)


@pytest.mark.parametrize("own", [{"front-*": 0.0}, {"front-*": -1.0}, {"none": 1.0}, {"none": 0.0}])
def test_priors_that_cannot_be_are_refused(own: dict[str, float]) -> None:
    with pytest.raises(BadData):
        load_priors().overruled(own)


def test_a_ledger_of_sellers_errors_changes_what_their_words_weigh() -> None:
    told = (Fact("position", "front"), Fact("lugs", 8), Fact("knuckle", "kingpin"))
    catalogue, rates = load_catalogue(), load_rates()
    careless = replace(rates, seller_error={"knuckle": 0.4})
    sure, unsure = (
        sum(c.probability for c in identify(told, catalogue, rates=r).candidates if "kingpin" in str(c.variant))
        for r in (rates, careless)
    )
    assert sure > unsure + 0.1
