"""What is said beside the verdict, each with its sum; none of it changes the verdict."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.verdict.build import parse_build
from donorbase.verdict.verdicts import Call, ListingVerdict

Judge = Callable[..., ListingVerdict]
Plain = dict[str, Any]


def noted(found: ListingVerdict, word: str) -> bool:
    return any(word in note for note in found.notes)


def test_the_width_over_the_tires_is_worked_out(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    """69.5 in faces, 9.5 in rim, 3.75 in backspacing, 13.5 in section: offset -1.5 in, 86.0 in (worked by hand)."""
    plain_front["vehicle"]["tires"] = "40x13.50R17"
    found = verdict(parse_build(plain_front), coil_front | {"width_in": 69.5})
    assert found.verdict is Call.FITS
    assert noted(found, "about 86 in")
    assert noted(found, "past 80 in")


def test_the_builder_s_own_limit_is_named(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    plain_front["vehicle"] |= {"tires": "40x13.50R17", "track_limit_in": 85}
    assert noted(verdict(parse_build(plain_front), coil_front | {"width_in": 69.5}), "your limit of 85 in")


def test_the_carrier_s_side_of_the_split_is_told(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    build = parse_build(plain_front)
    assert noted(verdict(build, coil_front), "other side of the split")
    assert not noted(verdict(build, coil_front | {"ratio": 4.56}), "other side of the split")


@pytest.mark.parametrize(("load_lb", "word"), [(1000, "within"), (9000, "more than")])
def test_what_a_shaft_is_asked_stands_against_what_it_carries(
    load_lb: float, word: str, plain_front: Plain, coil_front: Plain, verdict: Judge
) -> None:
    plain_front["vehicle"]["front_load_lb"] = load_lb
    assert noted(verdict(parse_build(plain_front), coil_front), f"lb-ft, {word}")


def test_nothing_computed_leaves_no_sums(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    plain_front["computed"] = False
    assert not noted(verdict(parse_build(plain_front), coil_front), "split")


def test_the_wanted_ratio_follows_from_tires_and_cruising_speed(
    plain_front: Plain, coil_front: Plain, verdict: Judge
) -> None:
    """rpm x D / (mph x 336.135): 2802 x 40 / (65 x 336.135) = 5.13 (arithmetic); 2017 on has no such set."""
    del plain_front["gearing"]
    del plain_front["front"]["must"]["ratio_sold"]
    plain_front["vehicle"] |= {"cruise_mph": 65, "cruise_rpm": 2802}
    found = verdict(parse_build(plain_front), coil_front | {"years": (2018, 2018)})
    assert found.verdict is Call.NO
    assert any("5.13" in reason for reason in found.reasons)
