"""What is believed of one attribute of this axle: words beat the catalogue, silence keeps it, blanks stay
unknown."""

import pytest

from donorbase.facts import Fact, Known, Value
from donorbase.identity.belief import attribute_belief, beliefs
from donorbase.identity.identification import Belief, Candidate, Identification
from donorbase.identity.identify import identify
from donorbase.reference.load import load_catalogue

CATALOGUE = load_catalogue()
FRONT, REAR = Fact("position", "front"), Fact("position", "rear")
COIL_2008 = (
    FRONT, Fact("years", (2008, 2008)), Fact("suspension", "coil"), Fact("lugs", 8), Fact("bolt_circle_mm",
    170.0), Fact("rear_wheels", "single"), Fact("ring_gear_in", 9.75),
)  # fmt: skip


def believed(name: str, told: tuple[Fact, ...]) -> Belief:
    return attribute_belief(name, told, identify(told, CATALOGUE), CATALOGUE)


def of_variant(name: str, key: str | None, *told: Fact) -> Belief:
    return attribute_belief(name, told, Identification((Candidate(key, 1.0),)), CATALOGUE)


def holds(belief: Belief, value: Value) -> float:
    return belief.chance(lambda v: v == value)[0]


def test_weights_and_unknown_sum_to_one() -> None:
    for name in (
        "outer_splines",
        "ratio",
        "width_in",
        "gear_set",
        "min_wheel_in",
        "weight_lb",
        "float",
        "years",
    ):
        belief = believed(name, COIL_2008)
        assert sum(p for _, p in belief) + belief.unknown == pytest.approx(1.0)


def test_silence_leaves_the_figure_of_the_kind() -> None:
    belief = believed("outer_splines", COIL_2008)
    assert belief.best == 35
    assert belief.chance(lambda v: isinstance(v, int) and v >= 35)[0] > 0.95
    assert not belief.stated


def test_what_is_blank_in_the_catalogue_and_unsaid_is_unknown() -> None:
    belief = of_variant("inner_splines", "front-9.75-balljoint/c-1994-1999")
    assert (belief.weights, belief.unknown, belief.best) == ((), 1.0, None)
    assert belief.chance(lambda v: True) == (0, 1.0)


def test_none_of_these_is_unknown_until_it_is_said() -> None:
    assert of_variant("outer_splines", None).unknown == pytest.approx(1.0)
    said = of_variant("outer_splines", None, FRONT, Fact("outer_splines", 38))
    assert holds(said, 38) > 0.6  # an odd value is a slip more often than a common one


def test_a_statement_stands_with_its_sellers_error_where_the_kind_agrees() -> None:
    told = (*COIL_2008, Fact("ratio", 4.10))
    assert holds(believed("ratio", told), 4.1) > 0.95


def test_a_statement_against_the_kind_is_believed_in_part() -> None:
    belief = believed("outer_splines", (*COIL_2008, Fact("outer_splines", 30)))
    assert 0.05 < holds(belief, 30) < 0.95
    assert 0.05 < holds(belief, 35) < 0.95


def test_who_tells_inner_from_outer_is_believed_more() -> None:
    leaf = (
        FRONT, Fact("years", (2003, 2003)), Fact("suspension", "leaf"), Fact("bolt_circle_mm", 170.0),
        Fact("ring_gear_in", 9.75), Fact("outer_splines", 35),
    )  # fmt: skip
    alone, both = (
        believed("outer_splines", leaf),
        believed("outer_splines", (*leaf, Fact("inner_splines", 35))),
    )
    assert holds(alone, 35) < holds(both, 35)


@pytest.mark.parametrize(("surer", "less_sure"), [
    (Known.MEASURED, Known.STATED), (Known.STATED, Known.HEDGED), (Known.HEDGED, Known.CONTRADICTED),
])  # fmt: skip
def test_the_better_it_is_known_the_more_it_counts(surer: Known, less_sure: Known) -> None:
    kept = [
        holds(
            of_variant("knuckle", "front-9.75-balljoint/a-2005-2010-srw", Fact("knuckle", "kingpin", known)),
            "kingpin",
        )
        for known in (surer, less_sure)
    ]
    assert kept[0] >= kept[1]


def test_a_measured_circle_is_the_nominal_one() -> None:
    told = (FRONT, Fact("lugs", 8), Fact("bolt_circle_mm", 169.2, Known.MEASURED, sd=0.94))
    belief = believed("bolt_circle_mm", told)
    assert belief.best == 170.0
    assert holds(belief, 170.0) > 0.95


def test_a_stated_width_is_this_axles_own() -> None:
    told = (
        REAR,
        Fact("ring_gear_in", 10.5),
        Fact("float", "full"),
        Fact("cover_bolts", 14),
        Fact("width_in", 67.375),
    )
    assert holds(believed("width_in", told), 67.375) > 0.95


def test_years_that_it_is_said_to_fit_are_not_its_years() -> None:
    told = (*(f for f in COIL_2008 if f.attribute != "years"), Fact("fits_years", (2005, 2016)))
    belief = believed("years", told)
    assert not belief.stated
    assert belief.chance(lambda v: isinstance(v, int) and v > 2016)[0] > 0.05


def test_ring_gears_are_not_changed_but_ratios_are() -> None:
    key = "front-9.75-balljoint/a-1999-2004-srw"
    made = {3.73, 4.1, 4.3}
    assert holds(of_variant("ring_gear_in", key), 9.75) > 0.99
    assert 0.6 < of_variant("ratio", key).chance(lambda v: v in made)[0] < 0.95


def test_new_hubs_are_told_by_the_lugs_for_the_circle_too() -> None:
    key = "front-8.50-ten-bolt/b-1977-1991-half"
    six, eight = (of_variant("bolt_circle_mm", key, Fact("lugs", n, Known.MEASURED)) for n in (6, 8))
    assert holds(six, 139.7) > 0.95
    assert holds(eight, 139.7) < 0.8


def test_texts_and_ranges_come_from_the_words_or_the_kind() -> None:
    key = "front-9.75-balljoint/a-1999-2004-srw"
    silent, said = of_variant("gawr_lb", key), of_variant("gawr_lb", key, Fact("gawr_lb", (6000, 6000)))
    assert silent.best == CATALOGUE.variants[key].get("gawr_lb") or silent.unknown == 1.0
    assert said.best == (6000, 6000)


def test_several_at_once_are_the_same_as_one_by_one() -> None:
    found = identify(COIL_2008, CATALOGUE)
    together = beliefs(("drop", "pilot_bore_mm"), COIL_2008, found, CATALOGUE)
    assert together["drop"] == attribute_belief("drop", COIL_2008, found, CATALOGUE)
    assert together["pilot_bore_mm"].attribute == "hub_bore_mm"


def test_an_unknown_name_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        believed("no_such_thing", COIL_2008)
