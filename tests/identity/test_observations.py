"""Measurements as they are taken, to facts: geometry, splines, turning, teeth; and what cannot be told."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from donorbase.facts import Known, Value
from donorbase.identity.identify import identify
from donorbase.identity.observations import Observed, Told, observe
from donorbase.reference.load import load_catalogue


def only(name: str, saw: dict[str, Told]) -> tuple[Value, float | None]:
    seen = [f for f in observe(saw).facts if f.attribute == name]
    assert len(seen) == 1
    assert seen[0].known is Known.MEASURED
    return seen[0].value, seen[0].sd


# Chord of neighbours on a circle: s = D sin(pi / n), geometry; the table's values are those worked for 8 and
# 5 studs.
@pytest.mark.parametrize(("lugs", "chord_mm", "circle_mm"), [(8, 65.06, 170.0), (8, 63.18, 165.1), (5, 67.18, 114.3)])
def test_neighbouring_studs_give_the_circle_with_a_larger_error(lugs: int, chord_mm: float, circle_mm: float) -> None:
    circle, sd = only("bolt_circle_mm", {"lugs": lugs, "stud_neighbour_mm": chord_mm})
    assert circle == pytest.approx(circle_mm, abs=0.03)
    # A tape places each centre to +-1 mm and reads 1/16 in: u = 0.94 mm, times 1 / sin(pi / n).
    assert sd == pytest.approx(0.94 / math.sin(math.pi / lugs), rel=0.01)


def test_opposite_studs_give_it_straight_in_either_unit() -> None:
    assert only("bolt_circle_mm", {"lugs": 8, "stud_across_in": "6.5"})[0] == pytest.approx(165.1)
    assert only("bolt_circle_mm", {"lugs": 8, "stud_across_mm": "17 cm"})[0] == pytest.approx(170.0)
    by_edges = only("bolt_circle_mm", {"lugs": 8, "stud_outside_inside_mm": 170, "tool": "caliper"})[1]
    assert by_edges is not None
    assert by_edges < 0.3


def test_some_circles_cannot_be_told_with_a_tape() -> None:
    seen = observe({"lugs": 5, "stud_neighbor_mm": 67.3})
    assert any("5x114.3" in note and "5x115" in note and "cannot" in note for note in seen.notes)
    assert seen.faults == ()


def test_a_caliper_over_the_outer_splines_counts_them() -> None:
    # ANSI B92.1: major diameter (N + 1) / P; 35 teeth of 24 pitch are 1.500 in.
    assert only("outer_splines", {"outer_spline_dia_in": 1.498})[0] == 35
    assert only("outer_splines", {"outer_spline_dia_mm": 32.9})[0] == 30
    assert only("shaft_dia_in", {"spline_dia_mm": 39.37}) == (pytest.approx(1.55), 0.015)


# Differential law: (left + right turns) / 2 = pinion turns / ratio. 10 wheel turns and 36 pinion turns are
# 3.6 with both wheels turning; 18 are 3.6 with one held (both as repair guides print them).
@pytest.mark.parametrize(("pinion", "wheels"), [(36, "both"), (18, "one held")])
def test_the_ratio_by_turning(pinion: int, wheels: str) -> None:
    assert only("ratio", {"pinion_turns": pinion, "wheel_turns": 10, "wheels": wheels})[0] == pytest.approx(3.6)


def test_one_held_doubles_the_error_and_close_ratios_need_more_turns() -> None:
    both, held = (
        only("ratio", {"pinion_turns": p, "wheel_turns": 10, "wheels": w})[1]
        for p, w in ((41, "both"), (20.5, "one held"))
    )
    assert both is not None
    assert held == pytest.approx(2 * both, rel=0.01)
    close = observe({"pinion_turns": 8.2, "wheel_turns": 2, "wheels": "both"})
    assert any("cannot be told" in note for note in close.notes)


def test_rolling_on_a_known_tire_counts_the_wheel_turns() -> None:
    saw: dict[str, Told] = {
        "rolled_in": 1000,
        "tyre_circumference_in": 100,
        "pinion_turns": 41,
        "wheels": "both",
    }
    assert only("ratio", saw)[0] == pytest.approx(4.1)


@pytest.mark.parametrize(("ring", "pinion", "ratio"), [(41, 10, 4.1), (37, 9, 4.1111), (41, 8, 5.125), (47, 7, 6.7143)])
def test_teeth_give_the_ratio_for_certain(ring: int, pinion: int, ratio: float) -> None:
    assert only("ratio", {"ring_teeth": ring, "pinion_teeth": pinion})[0] == pytest.approx(ratio, abs=1e-4)


def test_a_vehicle_number_gives_its_model_years() -> None:
    # 1M8GDM9AXKP042788 is the worked example of the check digit in public descriptions of 49 CFR 565; K is
    # 1989 or 2019.
    seen = observe({"vin": "1M8GDM9AXKP042788"}, latest_year=2026)
    assert {f.value for f in seen.facts} == {(1989, 1989), (2019, 2019)}
    assert "1989 or 2019" in " ".join(seen.notes)


def test_attributes_by_their_own_name_and_in_the_other_unit() -> None:
    saw: dict[str, Told] = {
        "tube-in": "89 mm", "bolt_circle_in": "6 1/2", "pilot_bore_mm": 124.9, "years": "2005-2007", "hubs":
        "unit-bearing", "abs": "yes", "lugs": "8", "rear_wheels": "Single",
    }  # fmt: skip
    seen = observe(saw)
    assert seen.faults == ()
    assert {f.attribute: f.value for f in seen.facts} == {
        "tube_in": 3.5039, "bolt_circle_mm": 165.1, "hub_bore_mm": 124.9, "years": (2005, 2007), "hubs":
        "unit-bearing", "abs": True, "lugs": 8, "rear_wheels": "single",
    }  # fmt: skip


@pytest.mark.parametrize(("saw", "word"), [
    ({"colour": "red"}, "colour is not known"), ({"lugs": "8.5"}, "no whole number"), ({"splines": 0},
    "above 0"), ({"knuckle": "bolted"}, "kingpin"), ({"tube_in": 35}, "above anything known"), ({"abs":
    "perhaps"}, "yes or no"), ({"stud_neighbor_mm": 60}, "Count the studs"), ({"lugs": 5, "stud_across_mm":
    114}, "every second stud"), ({"wheel_turns": 3}, "both counts"), ({"ring_teeth": 41}, "both"),
    ({"ring_teeth": 10, "pinion_teeth": 41}, "ring first"), ({"pinion_turns": 20, "wheel_turns": 5, "wheels":
    "one spun"}, "one held"), ({"bolt_circle_mm": "wide"}, "not a length"), ({"vin": "123"}, "17"), ({"years":
    "old"}, "2005-2007"), ({"lugs": 7, "bolt_circle_mm": 170}, "no hub has that"), ({"width_in": "67 lb"},
    "not a length"), ({"spline_dia_in": "-1"}, "not a length"), ({"lugs": ""}, "above 0"), ({"gawr_lb":
    "6000"}, "not measured"), ({"price_usd": 900}, "not known"),
])  # fmt: skip
def test_what_cannot_be_used_is_a_fault_with_a_clear_word_and_the_rest_is_used(saw: dict[str, Told], word: str) -> None:
    seen: Observed = observe({**saw, "drop": "driver"})
    assert word in " ".join(seen.faults)
    assert ("drop", "driver") in {(f.attribute, f.value) for f in seen.facts}


_NAMES = st.one_of(
    st.sampled_from([
        "lugs", "stud_across_mm", "stud_neighbor_in", "outer_spline_dia_in", "pinion_turns", "wheel_turns",
        "wheels", "ring_teeth", "pinion_teeth", "vin", "years", "bolt_circle_in", "abs", "hubs", "rolled_in",
        "tool", "stud", "family",
    ]),
    st.text(max_size=12),
)  # fmt: skip
_ODD = st.sampled_from(["1/0", "0", "-4", "1e400", "yes", "both", "²", "1 1/2 1/2", "nan"])
_TOLD = st.one_of(st.text(max_size=20), st.integers(), st.floats(allow_nan=True), _ODD)


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(_NAMES, _TOLD, max_size=5))
def test_whatever_is_written_down_it_never_raises(saw: dict[str, Told]) -> None:
    seen = observe(saw)
    found = identify(seen.facts, load_catalogue())
    assert sum(c.probability for c in found.candidates) == pytest.approx(1.0)


def test_what_was_measured_identifies() -> None:
    saw: dict[str, Told] = {
        "position": "front", "lugs": 8, "stud_across_mm": 169.4, "outer_spline_dia_in": 1.502, "suspension":
        "coil", "knuckle": "ball-joint", "years": "2008", "rear_wheels": "single",
    }  # fmt: skip
    best = identify(observe(saw).facts, load_catalogue()).best
    assert best.variant == "front-9.75-balljoint/a-2005-2010-srw"
    assert best.probability > 0.9


LISTS = [
    pytest.param({"years": [2005, 2007]}, [("years", (2005, 2007))], id="first and last year"),
    pytest.param({"years": [2017, None]}, [("years", (2017, None))], id="an open end"),
    pytest.param({"years": [2011]}, [("years", (2011, 2011))], id="one year"),
    pytest.param({"hubs": ["manual-locking"]}, [("hubs", "manual-locking")], id="a list of one"),
    pytest.param({"load_class": ["one-ton", "three-quarter-ton"]},
                 [("load_class", "one-ton"), ("load_class", "three-quarter-ton")], id="several of what can be several"),
    pytest.param({"abs": True, "lugs": None}, [("abs", True)], id="a flag, and what was not seen"),
]  # fmt: skip


@pytest.mark.parametrize(("saw", "expected"), LISTS)
def test_lists_as_json_has_them(saw: dict[str, object], expected: list[tuple[str, object]]) -> None:
    observed = observe(saw)
    assert not observed.faults
    assert [(f.attribute, f.value) for f in observed.facts] == expected


def test_two_values_of_what_has_one_are_told() -> None:
    observed = observe({"bolt_circle_mm": [165.1, 170.0], "lugs": 8})
    assert "one value" in observed.faults[0]
    assert [f.attribute for f in observed.facts] == ["lugs"]


def test_two_readings_of_one_shaft_are_both_kept() -> None:
    """A caliper in inches and one in millimetres are two measurements, whichever comes first."""
    seen = observe({"spline_dia_in": "1.5", "spline_dia_mm": "38.2", "inner_spline_dia_in": "1.31"})
    assert sorted(f.value for f in seen.facts if f.attribute == "shaft_dia_in") == [1.31, 1.5, 1.5039]


def test_how_it_was_turned_is_told_only_where_it_was_not_said() -> None:
    turned: dict[str, Told] = {"pinion_turns": 41, "wheel_turns": 10}
    assert any("both wheels turning" in note for note in observe(turned).notes)
    assert not any("both wheels turning" in note for note in observe({**turned, "wheels": "both"}).notes)


def test_counted_teeth_are_surer_than_turns() -> None:
    counted, turned = (only("ratio", saw)[1] for saw in (
        {"ring_teeth": 41, "pinion_teeth": 10}, {"pinion_turns": 41, "wheel_turns": 10, "wheels": "both"},
    ))  # fmt: skip
    assert counted is not None
    assert turned is not None
    assert 0 < counted < turned


def test_a_fault_is_a_sentence_with_a_next_step() -> None:
    for saw in ({"ring_teeth": 10, "pinion_teeth": 41}, {"ring_teeth": 41}, {"wheel_turns": 3}):
        (fault,) = observe(saw).faults
        assert fault.endswith(".")
        assert "XX" not in fault
        assert any(sentence[:1].isupper() for sentence in fault.split(": ") + fault.split(". "))
