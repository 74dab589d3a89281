"""What cannot be is refused, at each place where it can stand, in a sentence that says what is wrong and what to do.

The ends of what is taken: a length, weight, torque or ratio of nought or under it is none; hubs have 3 to 12 studs
(common practice); SAE J413 has hardness from 0 to 52 HRC; a chance lies from 0 to 1; places on the earth lie within
90 degrees of latitude and 180 of longitude. Each good value beside the end is taken.
"""

import math
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from donorbase.engineering import (
    bolt_circle,
    brakes,
    distance,
    gearing,
    grade,
    joints,
    load,
    ratio_by_turning,
    route,
    shafts,
    splines,
    steering,
    teeth,
    tires,
    vin,
    waiting,
    wheels,
)  # fmt: skip
from donorbase.errors import BadInput

NOT_ABOVE_0 = (0, -1, -0.001, math.nan)
Case = tuple[Callable[..., Any], tuple[Any, ...], dict[int, tuple[Any, ...]]]


def above_0(function: Callable[..., Any], *good: Any, at: tuple[int, ...] | None = None) -> Case:
    return function, good, dict.fromkeys(range(len(good)) if at is None else at, NOT_ABOVE_0)


CASES: tuple[Case, ...] = (
    above_0(gearing.engine_rpm, 65, 4.10, 40, at=(1, 2)),
    above_0(gearing.road_mph, 2800, 4.10, 40, at=(1, 2)),
    above_0(gearing.wanted_ratio_for_tires, 3.73, 31, 40),
    above_0(gearing.wanted_ratio_for_rpm, 65, 2800, 40),
    above_0(gearing.crawl_ratio, 4, 2.7, 4.10),
    above_0(shafts.yield_torque_lbft, 1.5, 80),
    above_0(shafts.strength_ratio, 1.5, 1.3),
    (shafts.shaft_demand, (300.0, 3000.0, 4.10, True), {0: (0, -1), 1: (0, -1), 2: (0, -1)}),
    (shafts.shear_yield_ksi, (0,), {0: (-0.1, 52.1, math.nan)}),
    (shafts.shear_yield_ksi, (52,), {0: (53,)}),
    (shafts.capacity, (35, 24, "unknown"), {0: (5, 61), 1: NOT_ABOVE_0, 2: ("cheese",)}),
    (splines.spline_diameters, (6, 24.0), {0: (5, 0), 1: NOT_ABOVE_0}),
    (splines.spline_diameters, (60, 24.0), {0: (61,)}),
    (splines.read_pitch, (30, 1.31), {1: NOT_ABOVE_0}),
    (splines.spline_candidates, (1.5, 0.015), {1: NOT_ABOVE_0}),
    (bolt_circle.circle_factor, (3, bolt_circle.NEIGHBOR), {0: (2, 13)}),
    (bolt_circle.circle_factor, (12, bolt_circle.OPPOSITE), {0: (13, 7), 1: ("to the moon",)}),
    (bolt_circle.reading_sd_mm, ("tape", True), {0: ("eye",)}),
    (bolt_circle.read_circle, (8, 170.0, bolt_circle.OPPOSITE), {1: NOT_ABOVE_0}),
    (bolt_circle.read_pattern, ("8x170mm",), {0: ("2x170mm", "13x170mm", "8x59mm", "8x401mm", "8 by far", "")}),
    above_0(brakes.circle_area, 38),
    (brakes.one_side_area, (2, 38.0, True), {0: (0, -2, 3), 1: NOT_ABOVE_0}),
    (brakes.mean_deceleration_g, (100.0, 50.0), {1: NOT_ABOVE_0}),
    (brakes.rotor_rise_k, (2500.0, 30.0, 0.7, 30.0), {3: NOT_ABOVE_0}),
    (joints.joint_series, (1.188, 3.622), {0: NOT_ABOVE_0, 1: NOT_ABOVE_0}),
    (joints.greatest_angle_deg, (5000,), {0: (0, -1, 5001, math.nan)}),
    (joints.speed_swing, (0,), {0: (-0.1, 90, math.nan)}),
    (joints.speed_ratio, (89.0, 10.0), {0: (90.0,)}),
    (load.tie_down, (500, 60, ()), {0: NOT_ABOVE_0, 1: NOT_ABOVE_0}),
    (load.trailer_limit, ({"tires": 3000.0},), {0: ({},)}),
    above_0(load.freight_density, 500, 80, 48, 36, at=()),
    (load.freight_density, (500, 80, 48, 36), dict.fromkeys(range(4), (0, -1))),
    above_0(load.gvwr_class, 9900),
    above_0(ratio_by_turning.ratio_by_turning, 10.0, 41.0, at=(0, 1)),
    (ratio_by_turning.ratio_by_turning, (10.0, 41.0, "both-turn", 0.1), {2: ("by guess",), 3: NOT_ABOVE_0}),
    (route.shortest_round, ([[0.0, 1.0], [1.0, 0.0]],), {0: ([[0.0, 1.0], [1.0]],)}),
    (steering.link_shift_in, (36.0, 80.0, 3.0), {0: NOT_ABOVE_0, 1: (80.1, -80.1), 2: (400.0,)}),
    (steering.link_shift_in, (36.0, -80.0, 0.0), {1: (-81.0,)}),
    (steering.link_of, ((20.0, 5.0), (-20.0, 0.0)), {1: ((20.0, 0.0),)}),
    (steering.bump_steer, (40.0, 5.0, 38.0, 5.0, 3.0, 8.0), {0: (0,), 2: (0,), 3: (81,), 4: (90,), 5: NOT_ABOVE_0}),
    (steering.bump_steer, (40.0, 60.0, 38.0, -60.0, 1.0, 30.0), {5: (0.01,)}),
    (teeth.read_ratio, ("4.10",), {0: ("", "4..1", "0/10", "41/0", "1.49", "13.1", "four", "1/100")}),
    (teeth.exact_ratios, (4.1,), {0: (0, -4.1, 1000, math.nan)}),
    above_0(tires.turns_per_mile, 37),
    (tires.read_tire, ("37x12.50R17",), {0: ("", "big", "1x1R1", "0", "500", "37x12.50R90")}),
    (vin.weighted_sum, ("11111111111111111",), {0: ("1" * 16, "1" * 18, "I" * 17, "")}),
    (vin.read_vin, ("11111111111111111", 2026), {0: ("1" * 16, "1" * 18, "1111111111111111é", "1111_111111111111")}),
    (waiting.expected_gain_usd, (300.0, 1.0, 100.0), {1: (1.01, -0.01, math.nan)}),
    (waiting.expected_gain_usd, (300.0, 0.0, 100.0), {1: (-0.5,)}),
    (wheels.width_over_tires_in, (69.0, 12.5, 0.0), {0: NOT_ABOVE_0, 1: NOT_ABOVE_0}),
    (wheels.wheel_for_rotor_in, (150,), {0: (149.9, 501, math.nan)}),
    (wheels.wheel_for_rotor_in, (500,), {0: (500.1,)}),
    above_0(wheels.barrel_needed_in, 7.5),
    (wheels.backspacing_in, (0.0, 3.0), {1: (2.9, 24.1, math.nan)}),
    (wheels.offset_mm, (4.5, 24.0), {1: (24.5, 2.5)}),
    (grade.recyclers_grade, (0, 0), {0: (-1,), 1: (-1,)}),
    (distance.great_circle_mi, (90.0, 180.0, -90.0, -180.0), {0: (90.1,), 1: (180.1,), 2: (-90.1,), 3: (-180.1,)}),
)


def told_well(wrong: BadInput) -> bool:
    """What is wrong in words, and a next step that is a sentence."""
    said = isinstance(wrong.what, str) and re.search(r"[a-z]{2}", wrong.what) and "XX" not in wrong.what
    step = re.fullmatch(r"[A-Z].*[a-z].*\.", str(wrong.next_step)) and "XX" not in wrong.next_step
    return bool(said and step and wrong.next_step != str(None))


def refused() -> Iterator[Any]:
    for function, good, bad in CASES:
        for place, values in bad.items():
            for value in values:
                args = (*good[:place], value, *good[place + 1 :])
                yield pytest.param(function, args, id=f"{function.__name__}-{place}-{str(value)[:12]}")


@pytest.mark.parametrize(("function", "good"), [case[:2] for case in CASES])
def test_what_can_be_is_taken(function: Callable[..., Any], good: tuple[Any, ...]) -> None:
    function(*good)


@pytest.mark.parametrize(("function", "args"), list(refused()))
def test_what_cannot_be_is_refused(function: Callable[..., Any], args: tuple[Any, ...]) -> None:
    with pytest.raises(BadInput) as wrong:
        function(*args)
    assert told_well(wrong.value), (wrong.value.what, wrong.value.next_step)
