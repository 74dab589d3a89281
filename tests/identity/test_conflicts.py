"""What cannot be together, why probably, and what would tell."""

import pytest

from donorbase.facts import Fact, Known, Value
from donorbase.identity.conflicts import conflicts
from donorbase.identity.identification import Candidate, Conflict, Identification
from donorbase.identity.identify import identify
from donorbase.identity.possible import check_observations, fault_of
from donorbase.reference.load import load_catalogue

CATALOGUE = load_catalogue()
COIL = (
    Fact("position", "front"), Fact("suspension", "coil"), Fact("lugs", 8), Fact("bolt_circle_mm", 170.0),
    Fact("rear_wheels", "single"),
)  # fmt: skip


def found(*told: Fact) -> tuple[Conflict, ...]:
    return conflicts(told, CATALOGUE, identify(told, CATALOGUE))


def test_facts_that_agree_are_no_conflict() -> None:
    assert found(*COIL, Fact("years", (2011, 2011)), Fact("knuckle", "ball-joint"), Fact("ratio", 3.73)) == ()


def test_thirty_splines_outside_on_a_coil_front_of_2009() -> None:
    first = found(*COIL, Fact("years", (2009, 2009)), Fact("outer_splines", 30))[0]
    assert first.attributes[0] == "outer_splines"
    assert "30" in first.what
    assert "35" in first.what
    assert any("changed" in cause for cause in first.causes)
    assert any("model years" in cause for cause in first.causes)
    assert "spline" in first.tell


def test_what_is_told_in_two_ways_is_named_with_both() -> None:
    torn = found(*COIL, Fact("outer_splines", 30, Known.CONTRADICTED), Fact("outer_splines", 35, Known.CONTRADICTED))
    assert torn[0].attributes == ("outer_splines",)
    assert "30 and 35" in torn[0].what


def test_a_measurement_that_contradicts_the_words_is_a_conflict() -> None:
    torn = found(*COIL, Fact("inner_splines", 35), Fact("inner_splines", 30, Known.MEASURED))
    assert ("inner_splines",) in {c.attributes for c in torn}


def test_list_valued_attributes_may_hold_several() -> None:
    assert found(*COIL, Fact("load_class", "three-quarter-ton"), Fact("load_class", "one-ton")) == ()


def test_a_kingpin_of_2009_is_in_conflict_with_its_year() -> None:
    told = (
        Fact("position", "front"),
        Fact("years", (2009, 2009)),
        Fact("knuckle", "kingpin"),
        Fact("lugs", 8),
    )
    assert "knuckle" in {name for c in found(*told, Fact("suspension", "coil")) for name in c.attributes}


def test_facts_of_no_axle_at_all() -> None:
    odd = found(
        Fact("position", "front"), Fact("lugs", 8), Fact("bolt_circle_mm", 177.0), Fact("ring_gear_in", 9.4),
        Fact("inner_splines", 38), Fact("cover_bolts", 13),
    )  # fmt: skip
    assert odd
    assert any("catalogue" in cause for c in odd for cause in c.causes)


@pytest.mark.parametrize(("name", "value", "word"), [
    ("splines", 0, "above 0"), ("splines", -3, "above 0"), ("tube_in", 35.0, "above anything known"),
    ("width_in", 170.0, "inches"), ("bolt_circle_mm", 6.5, "millimetres"), ("ratio", 41.0, "above anything"),
    ("years", (2016, 2005), "first is after the last"), ("years", (1066, 1066), "below anything"),
])  # fmt: skip
def test_impossible_values_get_a_clear_word(name: str, value: Value, word: str) -> None:
    assert word in fault_of(name, value)
    good = Fact("position", "front")
    kept, words = check_observations([Fact(name, value), good])
    assert kept == (good,)
    assert len(words) == 1


def test_seven_studs_on_170_mm() -> None:
    kept, words = check_observations([Fact("lugs", 7), Fact("bolt_circle_mm", 170.0), Fact("suspension", "coil")])
    assert "no hub has that" in words[0]
    assert "8 studs" in words[0]
    assert [(f.attribute, f.known) for f in kept] == [
        ("lugs", Known.HEDGED), ("bolt_circle_mm", Known.HEDGED), ("suspension", Known.STATED),
    ]  # fmt: skip


@pytest.mark.parametrize(("lugs", "circle"), [(8, 170.0), (8, 169.2), (5, 114.3), (6, 139.7), (8, 247.0)])
def test_patterns_that_can_be_are_left_alone(lugs: int, circle: float) -> None:
    assert check_observations([Fact("lugs", lugs), Fact("bolt_circle_mm", circle)])[1] == ()


def test_what_is_said_what_the_others_leave_and_whom_to_blame() -> None:
    """The sentence names the fact, those that speak against it and what the kinds have that agree with those."""
    first = found(*COIL, Fact("years", (2009, 2009)), Fact("outer_splines", 30))[0]
    assert "hardly any has that" in first.what
    assert "they have" in first.what
    assert first.what.startswith("says outer shaft splines 30; of the kinds that agree with ")
    assert len(first.attributes) <= 3
    # The likeliest causes first: owners change outer shafts more often than the catalogue lacks an axle.
    order = [
        next(i for i, cause in enumerate(first.causes) if word in cause) for word in ("changed", "in the catalogue")
    ]
    assert order == sorted(order)


def test_facts_that_only_together_fit_nothing_are_told_so() -> None:
    """Where no two facts exclude one another and still nothing fits, the conflict names the first of them."""
    told = (Fact("bolt_circle_mm", 177.0), Fact("ring_gear_in", 9.4))
    none = Identification((Candidate(None, 1.0, ()),))
    (only,) = conflicts(told, CATALOGUE, none)
    assert only.attributes == ("bolt_circle_mm", "ring_gear_in")
    assert only.what == "taken together the facts fit none of the axles known"
    assert only.causes[0].startswith("it is an axle that the catalogue does not hold")
    assert only.causes[1] == "several of the facts are wrong"
    assert only.tell
    assert conflicts((), CATALOGUE, Identification((Candidate(None, 0.4, ()),))) == ()
