"""Conditions: what a build file writes, what is refused, how far a value meets it."""

from typing import Any

import pytest

from donorbase.attributes import attribute
from donorbase.facts import Value
from donorbase.verdict.parse_condition import parse_condition
from donorbase.verdict.subjects import subject_of

MEETS = [
    ("outer_splines", {"at_least": 35}, 35, 1),
    ("outer_splines", {"at_least": 35}, 30, 0),
    ("min_wheel_in", {"at_most": 17}, 17, 1),
    ("width_in", {"between": [67.0, 73.0]}, 67.375, 1),
    ("width_in", {"between": [67.0, 73.0]}, 66.5, 0),
    ("width_in", {"at_least": 60, "at_most": 66}, 67, 0),
    ("ratio", {"near": 4.10, "percent": 1}, 4.11, 1),
    ("ratio", {"near": 4.10, "percent": 1}, 4.30, 0),
    ("ratio", 4.10, 4.11, 1),  # 41/10 against 37/9 is 0.27 %: they run together
    ("ratio", 4.10, 3.73, 0),
    ("bolt_circle_mm", 170.0, 170.3, 1),
    ("bolt_circle_mm", 170.0, 165.1, 0),
    ("lugs", 8, 8, 1),
    ("kind", ["axle", "housing"], "housing", 1),
    ("defects", {"none_of": ["bent", "cracked"]}, "bent", 0),
    ("defects", {"none_of": ["bent", "cracked"]}, "rusty", 1),
    ("differential", {"any_of": ["limited-slip", "spool"]}, "open", 0),
    ("years", {"between": [2005, 2016]}, (2011, 2011), 1),
    ("years", {"between": [2005, 2016]}, (2003, 2006), 0.5),
    ("years", {"between": [2005, 2016]}, (1999, 2004), 0),
    ("years", {"at_least": 2005}, (2005, None), 1),
    ("brake_fluid_enough", True, True, 1),
]


@pytest.mark.parametrize(("name", "raw", "value", "share"), MEETS)
def test_how_far_a_value_meets_a_condition(name: str, raw: Any, value: Value, share: float) -> None:
    subject = subject_of(name)
    assert parse_condition(raw, subject).share(value, subject) == pytest.approx(share)


def test_of_several_values_any_may_meet_and_none_may_be_forbidden() -> None:
    hubs = attribute("hubs")
    both = ("manual-locking", "unit-bearing")
    assert parse_condition("manual-locking", hubs).share_of_set(both, hubs) == 1
    assert parse_condition({"none_of": ["unit-bearing"]}, hubs).share_of_set(both, hubs) == 0
    assert parse_condition({"none_of": ["unit-bearing"]}, hubs).share_of_set((), hubs) == 1


REFUSED = [
    ("bolt_circle_mm", 6.5, "in inches? then write 165.1"),
    ("width_in", 1750, "in millimetres? then write 68.90"),
    ("outer_splines", "35", "a number is wanted"),
    ("drop", "left", "driver, passenger, center"),
    ("outer_splines", {"at_leest": 35}, "no condition is called 'at_leest'"),
    ("drop", {"at_least": "driver"}, "drop is none"),
    ("years", {"between": [2016, 2005]}, "at least 2016 and at most 2005"),
    ("years", {"between": [2005]}, "two values"),
    ("outer_splines", {"at_least": 36, "at_most": 30}, "nothing can be"),
    ("defects", {"any_of": ["bent"], "none_of": ["bent"]}, "wanted and forbidden"),
    ("defects", [], "at least one value"),
    ("ratio", {"near": 4.1}, "near goes with percent"),
    ("ratio", {"near": 4.1, "percent": 0}, "percent is a number over 0"),
    ("brake_fluid_enough", "yes", "true or false"),
    ("lugs", {}, "empty"),
    ("lugs", float("nan"), "a number is wanted"),
    ("lugs", True, "a number is wanted"),
]


@pytest.mark.parametrize(("name", "raw", "word"), REFUSED)
def test_what_cannot_be_a_condition_is_refused_in_words(name: str, raw: Any, word: str) -> None:
    with pytest.raises(ValueError, match=r".+") as wrong:
        parse_condition(raw, subject_of(name))
    assert word in str(wrong.value)


@pytest.mark.parametrize(("name", "raw"), [(name, raw) for name, raw, _, _ in MEETS])
def test_a_condition_is_written_back_as_it_was_read(name: str, raw: Any) -> None:
    subject = subject_of(name)
    condition = parse_condition(raw, subject)
    assert parse_condition(condition.plain(), subject) == condition


def test_a_condition_is_said_in_words() -> None:
    said = {
        "outer_splines": ({"at_least": 35}, "at least 35"),
        "kind": (["axle", "housing"], "axle or housing"),
        "defects": ({"none_of": ["bent", "cracked"]}, "not bent or cracked"),
        "width_in": ({"between": [67.0, 73.0]}, "67 to 73"),
        "ratio": ({"near": 4.1, "percent": 2}, "within 2 percent of 4.1"),
    }
    for name, (raw, words) in said.items():
        assert parse_condition(raw, subject_of(name)).words() == words
