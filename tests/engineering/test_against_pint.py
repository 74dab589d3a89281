"""Units and formulas with units against Pint (its registry follows NIST SP 811 and CODATA), over ranges.

Pint carries the units through the formula, so that a constant such as 336.135 or 1728 is not taken from us.
"""

import math
from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering.brakes import mean_deceleration_g, pressure, stopping_distance_ft, stroke
from donorbase.engineering.gearing import engine_rpm
from donorbase.engineering.load import freight_density
from donorbase.engineering.shafts import diameter_for_torque_mm, yield_torque_lbft
from donorbase.engineering.tires import turns_per_mile
from donorbase.engineering.wheels import backspacing_in, offset_mm, width_over_tires_in
from donorbase.reference import units

REGISTRY: pint.UnitRegistry = pint.UnitRegistry()
Q = REGISTRY.Quantity

WRITTEN = [
    (units.parse_length, "in", ["in", "ft", "mm", "cm", "m"]),
    (units.parse_length_mm, "mm", ["mm", "cm", "in", "ft"]),
    (units.parse_weight, "lb", ["lb", "kg", "tonne"]),
    (units.parse_speed, "mile / hour", ["mph", "km/h"]),
    (units.parse_torque, "foot * force_pound", ["lb-ft", "Nm"]),
    (units.parse_force, "force_pound", ["lbf", "N", "kN"]),
    (units.parse_distance, "mile", ["mi", "km"]),
]
THEIR_NAMES = {
    "mph": "mile / hour", "km/h": "km / hour", "lb-ft": "foot * force_pound", "Nm": "newton * meter",
    "lbf": "force_pound", "N": "newton", "kN": "kilonewton", "mi": "mile", "tonne": "tonne",
}  # fmt: skip
CASES = [(parse, ours, unit) for parse, ours, names in WRITTEN for unit in names]


@pytest.mark.parametrize(("parse", "ours", "unit"), CASES, ids=[f"{unit} as {ours}" for _, ours, unit in CASES])
@given(number=st.integers(1, 9_999_999).map(lambda n: n / 1000))
def test_a_written_quantity_is_pints(parse: Callable[[str], float], ours: str, unit: str, number: float) -> None:
    theirs = Q(number, THEIR_NAMES.get(unit, unit)).to(ours).magnitude
    assert parse(f"{number:.3f} {unit}") == pytest.approx(theirs, rel=1e-9)


def test_the_constants_are_pints() -> None:
    assert Q(units.MM_PER_IN, "mm").to("in").magnitude == pytest.approx(1, rel=1e-12)
    assert Q(units.KM_PER_MI, "km").to("mile").magnitude == pytest.approx(1, rel=1e-12)
    assert Q(units.KG_PER_LB, "kg").to("lb").magnitude == pytest.approx(1, rel=1e-12)
    assert Q(1, "newton * meter").to("foot * force_pound").magnitude == pytest.approx(units.LBFT_PER_NM, rel=1e-12)
    assert Q(1, "standard_gravity").to("m / s**2").magnitude == pytest.approx(units.STANDARD_GRAVITY_MPS2, rel=1e-12)


MPH, RATIO, TIRE = st.floats(5, 90), st.floats(2.5, 7.5), st.floats(25, 54)


@given(MPH, RATIO, TIRE, st.floats(0.6, 6))
def test_engine_speed(mph: float, ratio: float, tire_in: float, gear: float) -> None:
    wheel = Q(mph, "mile / hour") / (math.pi * Q(tire_in, "in"))  # turns over time
    assert engine_rpm(mph, ratio, tire_in, gear) == pytest.approx((wheel * ratio * gear).to("1 / minute").magnitude)


@given(TIRE)
def test_turns_a_mile(tire_in: float) -> None:
    assert turns_per_mile(tire_in) == pytest.approx((Q(1, "mile") / (math.pi * Q(tire_in, "in"))).to("").magnitude)


@given(st.floats(10, 200), st.floats(3, 8), st.floats(0.75, 1.5), st.floats(0, 1500))
def test_line_pressure_is_the_same_in_both_systems(pedal: float, lever: float, bore: float, booster: float) -> None:
    psi = pressure(pedal, lever, bore, booster)
    newton, mm = (
        (Q(x, "force_pound").to("newton").magnitude for x in (pedal, booster)),
        Q(bore, "in").to("mm").magnitude,
    )
    pedal_n, booster_n = newton
    assert Q(psi, "psi").to("megapascal").magnitude == pytest.approx(pressure(pedal_n, lever, mm, booster_n), rel=1e-9)


@given(st.floats(0.1, 3), st.floats(0.75, 1.5))
def test_stroke_of_a_master_cylinder(volume: float, bore: float) -> None:
    theirs = Q(volume, "in**3") / (math.pi * Q(bore, "in") ** 2 / 4)
    assert stroke(volume, bore) == pytest.approx(theirs.to("in").magnitude)


@given(st.floats(0.8, 2.2), st.floats(40, 180))
def test_yield_torque_and_back_by_the_metric_formula(dia_in: float, ksi: float) -> None:
    torque = Q(yield_torque_lbft(dia_in, ksi), "foot * force_pound").to("newton * meter").magnitude
    stress = Q(ksi * 1000, "psi").to("megapascal").magnitude
    assert Q(diameter_for_torque_mm(torque, stress), "mm").to("in").magnitude == pytest.approx(dia_in, rel=1e-9)


@given(st.floats(20, 130), st.floats(5, 150))
def test_mean_deceleration(kmh: float, metres: float) -> None:
    theirs = (Q(kmh, "km / hour") ** 2 / (2 * Q(metres, "m"))).to("standard_gravity").magnitude
    assert mean_deceleration_g(kmh, metres) == pytest.approx(theirs, rel=1e-9)


@given(st.floats(10, 80), st.floats(8, 32))
def test_stopping_distance(mph: float, fps2: float) -> None:
    theirs = (Q(mph, "mile / hour") ** 2 / (2 * Q(fps2, "foot / s**2"))).to("foot").magnitude
    assert stopping_distance_ft(mph, fps2) == pytest.approx(theirs, rel=1e-9)


@given(st.floats(50, 2000), st.floats(20, 100), st.floats(20, 60), st.floats(10, 60))
def test_freight_density(weight: float, length: float, width: float, height: float) -> None:
    theirs = Q(weight, "lb") / (Q(length, "in") * Q(width, "in") * Q(height, "in"))
    assert freight_density(weight, length, width, height) == pytest.approx(theirs.to("lb / foot**3").magnitude)


@given(st.floats(55, 80), st.floats(8, 16), st.floats(2, 6), st.floats(6, 12))
def test_wheels(faces: float, section: float, backspacing: float, rim: float) -> None:
    """Offset is from the rim's middle to the face, backspacing from its inner edge; a lip of half an inch each side."""
    offset = Q(backspacing, "in") - (Q(rim, "in") + Q(1, "in")) / 2
    assert offset_mm(backspacing, rim) == pytest.approx(offset.to("mm").magnitude, abs=1e-9)
    assert backspacing_in(offset.to("mm").magnitude, rim) == pytest.approx(backspacing)
    over = Q(faces, "in") + 2 * (Q(section, "in") / 2 - offset)
    assert width_over_tires_in(faces, section, offset.to("mm").magnitude) == pytest.approx(over.to("in").magnitude)
