"""Which axle is it? Bayes over the catalogue, checked against worked values and against facts of the
trade."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from donorbase.facts import Fact, Known, Value
from donorbase.identity.identify import identify
from donorbase.identity.model import model_of
from donorbase.identity.weighing import weights
from donorbase.reference.load import load_catalogue
from donorbase.reference.odds import load_rates

CATALOGUE = load_catalogue()
FRONT, REAR = Fact("position", "front"), Fact("position", "rear")
COIL_8X170 = (FRONT, Fact("suspension", "coil"), Fact("lugs", 8), Fact("bolt_circle_mm", 170.0))
BALLJOINT = "front-9.75-balljoint"


def facts(**values: Value) -> tuple[Fact, ...]:
    return tuple(Fact(name, value) for name, value in values.items())


def chance_of(told: tuple[Fact, ...], *patterns: str) -> float:
    found = identify(told, CATALOGUE)
    return sum(c.probability for c in found.candidates if c.variant and any(p in c.variant for p in patterns))


def test_without_facts_the_priors_come_back() -> None:
    found = identify((), CATALOGUE)
    model = model_of(CATALOGUE)
    assert found.none == pytest.approx(0.03)
    for key, prior in zip(model.keys, model.prior, strict=True):
        assert found.probability_of(key) == pytest.approx(0.97 * prior, rel=1e-3)


def test_probabilities_sum_to_one_and_stand_in_order() -> None:
    found = identify(COIL_8X170, CATALOGUE)
    chances = [c.probability for c in found.candidates]
    assert sum(chances) == pytest.approx(1.0)
    assert chances == sorted(chances, reverse=True)
    assert found.as_json()[0] == {
        "variant": found.best.variant, "probability": pytest.approx(found.best.probability, abs=1e-6),
    }  # fmt: skip
    assert {"variant": "none", "probability": round(found.none, 6)} in found.as_json()


def test_prior_times_evidence_is_the_posterior() -> None:
    told = facts(position="front", lugs=8, bolt_circle_mm=170.0, years=(2008, 2008), rear_wheels="single")
    found, model = identify(told, CATALOGUE), model_of(CATALOGUE)
    prior = {
        None: model.none,
        **{k: (1 - model.none) * p for k, p in zip(model.keys, model.prior, strict=True)},
    }
    explained = [c for c in found.candidates if c.evidence]
    assert len(explained) > 2
    worth = [prior[c.variant] * math.exp(sum(e.log_ratio for e in c.evidence)) for c in explained]
    for candidate, one in zip(explained, worth, strict=True):
        assert candidate.probability / explained[0].probability == pytest.approx(one / worth[0], rel=1e-6)
    sizes = [abs(e.log_ratio) for e in found.best.evidence]
    assert sizes == sorted(sizes, reverse=True)


def test_a_measured_circle_between_two_weighs_them_as_the_normal_law_says() -> None:
    # 165.1 or 170 equally likely, 167.0 measured with u = 1.0 mm: exp(-1.9^2/2) = 0.16447 and exp(-3.0^2/2) =
    # 0.01111, so 0.9367 and 0.0633 (normal density, u in the sense of JCGM 100:2008; worked by hand).
    rates = load_rates()
    exact = replace(rates, known={**rates.known, Known.MEASURED: (0.0, 1e-12)}, spread={})
    trait = model_of(CATALOGUE).traits["bolt_circle_mm"]
    row = weights(trait, [Fact("bolt_circle_mm", 167.0, Known.MEASURED, sd=1.0)], "front", exact)
    one, other = row[trait.place[165.1]], row[trait.place[170.0]]
    top = 1.0 / math.sqrt(2.0 * math.pi)
    assert (one / top, other / top) == (pytest.approx(0.16447, abs=2e-5), pytest.approx(0.01111, abs=2e-5))
    assert one / (one + other) == pytest.approx(0.9367, abs=1e-4)


# Facts of the trade (common practice; the generations stand in the catalogue with their basis).


def test_35_spline_outers_with_8x170_on_coils_are_of_2005_or_later() -> None:
    told = (*COIL_8X170, Fact("outer_splines", 35))
    assert chance_of(told, "a-2005-2010-", "a-2011-2016-", "a-2017-on-") > 0.95


def test_30_spline_outers_with_8x170_are_from_before_2005() -> None:
    told = (FRONT, Fact("bolt_circle_mm", 170.0), Fact("outer_splines", 30), Fact("ring_gear_in", 9.75))
    assert chance_of(told, "a-1999-2004-") > 0.85


def test_the_front_of_a_dually_has_another_circle_than_the_single_wheel_truck() -> None:
    told = (FRONT, Fact("suspension", "coil"), Fact("ring_gear_in", 9.75), Fact("bolt_circle_mm", 200.0))
    assert chance_of(told, "-drw") > 0.9
    assert chance_of((*COIL_8X170, Fact("years", (2012, 2012))), "-srw") > 0.95


def test_eight_lugs_and_fourteen_bolts_do_not_make_full_float() -> None:
    told = (REAR, Fact("lugs", 8), Fact("cover_bolts", 14), Fact("years", (1995, 1995)))
    assert chance_of(told, "rear-9.50-fourteen-bolt-semi") > 0.1
    assert chance_of(told, "rear-10.50-fourteen-bolt") > 0.1
    assert chance_of((*told, Fact("float", "full")), "rear-10.50-fourteen-bolt") > 0.85


def test_a_kingpin_one_ton_with_high_pinion_is_line_a() -> None:
    told = facts(position="front", knuckle="kingpin", pinion="high", years=(1988, 1988), rear_wheels="single")
    assert chance_of(told, "front-9.75-kingpin/a-1985-1991-srw") > 0.8


def test_independent_suspension_is_recognised_so_that_it_can_be_refused() -> None:
    told = facts(position="front", donor_line="line-B", years=(1999, 1999), load_class="three-quarter-ton")
    assert chance_of(told, "front-independent/b-1988-2010") > 0.8


# How it bears errors.


def test_one_wrong_statement_does_not_hide_an_axle() -> None:
    told = facts(position="front", years=(2008, 2008), suspension="coil", lugs=6, bolt_circle_mm=170.0)
    assert chance_of((*told, Fact("ring_gear_in", 9.75), Fact("load_class", "one-ton")), BALLJOINT) > 0.7


def test_a_year_one_outside_costs_something_and_ten_outside_much_more() -> None:
    told = (*COIL_8X170, Fact("ring_gear_in", 9.75), Fact("rear_wheels", "single"))
    inside, next_to, far = (
        identify((*told, Fact("years", (y, y))), CATALOGUE).probability_of(f"{BALLJOINT}/a-2005-2010-srw")
        for y in (2010, 2011, 2020)
    )
    assert inside > next_to > far
    assert far < 0.05


def test_what_it_is_said_to_fit_is_weak_word_of_its_years() -> None:
    told = (*COIL_8X170, Fact("rear_wheels", "single"))
    late = f"{BALLJOINT}/a-2017-on-srw"
    silent, fits, came = (
        identify((*told, *more), CATALOGUE).probability_of(late)
        for more in ((), (Fact("fits_years", (2005, 2016)),), (Fact("years", (2005, 2016)),))
    )
    assert silent > fits > 0.1 > came


@pytest.mark.parametrize("weaker", [Known.HEDGED, Known.CONTRADICTED])
def test_the_less_surely_it_is_said_the_less_it_weighs(weaker: Known) -> None:
    sure, unsure = (identify((FRONT, Fact("knuckle", "kingpin", known)), CATALOGUE) for known in (Known.STATED, weaker))
    by_kingpin = [sum(c.probability for c in i.candidates if "kingpin" in str(c.variant)) for i in (sure, unsure)]
    assert by_kingpin[0] > by_kingpin[1] > 0.3


def test_values_that_no_variant_has_speak_for_none_of_these() -> None:
    odd = facts(position="front", lugs=8, bolt_circle_mm=177.0, ring_gear_in=9.4, inner_splines=38, cover_bolts=13)
    assert identify(odd, CATALOGUE).none > 0.95


def test_saying_it_twice_counts_once_and_the_order_does_not_matter() -> None:
    told = (*COIL_8X170, Fact("outer_splines", 35))
    for same in ((*told, *told), tuple(reversed(told))):
        for one, other in zip(identify(told, CATALOGUE).candidates, identify(same, CATALOGUE).candidates, strict=True):
            assert (one.variant, one.probability) == (other.variant, pytest.approx(other.probability))


def test_lugs_and_circle_of_swapped_hubs_count_as_one_change() -> None:
    both = facts(
        position="front",
        ring_gear_in=8.5,
        knuckle="ball-joint",
        drop="passenger",
        lugs=8,
        bolt_circle_mm=170.0,
    )
    found = identify(both, CATALOGUE)
    by_attribute = {
        e.attribute: e.log_ratio for c in found.candidates for e in c.evidence if c.variant == found.best.variant
    }
    assert set(by_attribute) == {"position", "ring_gear_in", "knuckle", "drop", "lugs", "bolt_circle_mm"}
    assert chance_of(both, "front-8.50") > 0.3


def test_the_user_may_overrule_how_common_an_axle_is() -> None:
    key = "front-9.75-kingpin/a-1978-1979-hp"
    rare, common = (
        identify((FRONT,), CATALOGUE),
        identify((FRONT,), CATALOGUE, priors={key: 500.0, "none": 0.2}),
    )
    assert common.probability_of(key) > 20 * rare.probability_of(key)
    assert common.none > rare.none


def test_facts_that_tell_no_axles_apart_are_left_aside() -> None:
    told = (*COIL_8X170, Fact("weight_lb", (400, 500)), Fact("kind", "axle"), Fact("price_usd", 900))
    assert identify(told, CATALOGUE).best.probability == identify(COIL_8X170, CATALOGUE).best.probability


_VALUES = {
    "position": st.sampled_from(["front", "rear"]), "lugs": st.integers(4, 12), "years": st.tuples(
        st.integers(1940, 1990), st.one_of(st.none(), st.integers(1990, 2030))),
    "bolt_circle_mm": st.floats(90, 350), "ring_gear_in": st.floats(5, 20), "ratio": st.floats(1.5, 13),
    "hubs": st.sampled_from(["locking", "unit-bearing"]), "stud": st.text(max_size=5), "abs": st.booleans(),
    "outer_splines": st.integers(8, 50), "differential": st.sampled_from(["locker", "open"]),
    "width_in": st.floats(40, 100),
}  # fmt: skip
_ANY = st.lists(
    st.sampled_from(sorted(_VALUES)).flatmap(
        lambda name: st.builds(Fact, st.just(name), _VALUES[name], st.sampled_from(Known))
    ),
    max_size=8,
)


@settings(max_examples=150, deadline=None)
@given(_ANY)
def test_whatever_is_said_gives_probabilities(told: list[Fact]) -> None:
    found = identify(told, CATALOGUE)
    assert sum(c.probability for c in found.candidates) == pytest.approx(1.0)
    assert 0.0 < found.none < 1.0


def test_what_is_next_to_impossible_is_left_out_and_none_of_these_never() -> None:
    circle = Fact("bolt_circle_mm", 170.0, Known.MEASURED, sd=0.5)
    told = (Fact("position", "front"), Fact("suspension", "coil"), circle, Fact("outer_splines", 35))
    found = identify(told, CATALOGUE)
    kept = {one.variant for one in found.candidates}
    assert None in kept
    assert len(kept) < len(CATALOGUE.variants) / 2
    assert min(one.probability for one in found.candidates if one.variant) > 0
