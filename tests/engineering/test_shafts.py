"""Torsion against a mechanics-of-materials series and SAE J413's table; demand against worked sums."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering import shafts
from donorbase.engineering.splines import spline_diameters
from donorbase.errors import BadInput


def test_published_diameter_for_a_torque() -> None:
    # Multimedia series on mechanics of materials, example M6.17: 424.413 N·m at 75 MPa need 30.660 mm.
    assert shafts.diameter_for_torque_mm(424.413, 75) == pytest.approx(30.660, abs=5e-4)


def test_an_inch_shaft_at_100_ksi() -> None:
    assert shafts.yield_torque_lbft(1.0, 100) == pytest.approx(1636.2, abs=0.05)


@pytest.mark.parametrize(("hrc", "mpa"), [(52, 966), (50, 917), (40, 690), (30, 503), (20, 366), (10, 303), (0, 221)])
def test_torsional_yield_by_hardness(hrc: int, mpa: int) -> None:
    # SAE J413 as printed in Heat Treating Progress, October 2009.
    assert shafts.shear_yield_ksi(hrc) == pytest.approx(mpa * 0.1450377, abs=0.01)


def test_hardness_between_rows_and_outside() -> None:
    assert shafts.shear_yield_ksi(40) < shafts.shear_yield_ksi(45) < shafts.shear_yield_ksi(50)
    with pytest.raises(BadInput):
        shafts.shear_yield_ksi(60)


@pytest.mark.parametrize(("teeth", "at_40_hrc", "at_52_hrc"), [(30, 2786, 3900), (35, 4514, 6319), (40, 6839, 9574)])
def test_capacity_of_unknown_stock_is_a_range(teeth: int, at_40_hrc: float, at_52_hrc: float) -> None:
    found = shafts.capacity(teeth)
    assert found.low_lbft == pytest.approx(at_40_hrc, rel=5e-4)
    assert found.high_lbft == pytest.approx(at_52_hrc, rel=5e-4)
    assert found.diameter_in == spline_diameters(teeth).minor_in


def test_a_neck_thinner_than_the_root_governs() -> None:
    assert shafts.capacity(35, neck_in=1.25).diameter_in == 1.25
    assert shafts.capacity(35, neck_in=1.75).diameter_in == spline_diameters(35).minor_in


def test_every_steel_gives_a_range_never_one_number() -> None:
    for steel in shafts.STEELS:
        found = shafts.capacity(35, steel=steel)
        assert 0 < found.low_lbft < found.high_lbft
    with pytest.raises(BadInput, match="unobtainium"):
        shafts.capacity(35, steel="unobtainium")


@pytest.mark.parametrize(
    ("teeth", "other", "by_outside", "by_root"),
    [
        (31, 28, 1.344, 1.377), (30, 28, 1.221, 1.242), (31, 30, 1.100, 1.108), (32, 30, 1.206, 1.224),
        (33, 30, 1.319, 1.348), (35, 27, 2.125, 2.258), (35, 28, 1.913, 2.013), (35, 30, 1.566, 1.620),
        (35, 31, 1.424, 1.462), (35, 32, 1.298, 1.323), (38, 35, 1.271, 1.292), (40, 35, 1.477, 1.515),
    ],
)  # fmt: skip
def test_strength_goes_with_the_cube_of_the_diameter(teeth: int, other: int, by_outside: float, by_root: float) -> None:
    one, two = spline_diameters(teeth), spline_diameters(other)
    assert shafts.strength_ratio(one.major_in, two.major_in) == pytest.approx(by_outside, abs=6e-4)
    assert shafts.strength_ratio(one.minor_in, two.minor_in) == pytest.approx(by_root, abs=6e-4)


def test_traction_governs_in_low_range() -> None:
    engine = shafts.engine_bound_lbft(330, 4.00, 2.72, 4.56, shafts.EFFICIENCY_LOW)
    assert engine == pytest.approx(13916, abs=1)
    half = shafts.engine_bound_lbft(330, 4.00, 2.72, 4.56, shafts.EFFICIENCY_LOW, axle_share=0.5)
    assert half == pytest.approx(6958, abs=1)
    grip = shafts.traction_bound_lbft(0.9, 3000, 17.5)
    assert grip == 3937.5
    demand = shafts.shaft_demand(half, grip, 4.56, locked=True)
    assert (demand.governs, demand.shaft_lbft) == ("traction", 3937.5)
    assert demand.pinion_lbft == pytest.approx(863.5, abs=0.05)
    assert shafts.shaft_demand(half, grip, 4.56, locked=False).shaft_lbft == 3937.5 / 2
    assert shafts.capacity(30).high_lbft / demand.shaft_lbft == pytest.approx(0.99, abs=0.005)
    assert shafts.capacity(35).high_lbft / demand.shaft_lbft == pytest.approx(1.60, abs=0.006)


def test_engine_governs_in_two_wheel_drive() -> None:
    engine = shafts.engine_bound_lbft(180, 3.00, 1.00, 3.73, shafts.EFFICIENCY_HIGH)
    assert engine == pytest.approx(1812.8, abs=0.05)
    demand = shafts.shaft_demand(engine, shafts.traction_bound_lbft(0.7, 2400, 16.0), 3.73, locked=False)
    assert demand.traction_lbft == 2240
    assert (demand.governs, round(demand.shaft_lbft, 1)) == ("engine", 906.4)


def test_torque_that_one_tire_can_ask() -> None:
    # 1100 lb on the wheel, 20 in radius, grip 1.0 (a worked example of the trade).
    assert shafts.wheel_demand_lbft(1.0, 1100, 20) == pytest.approx(1833, abs=0.5)


def test_what_is_not_known_is_not_reckoned_with() -> None:
    with pytest.raises(BadInput):
        shafts.shaft_demand(0, 100, 4.1, locked=True)
    with pytest.raises(BadInput):
        shafts.yield_torque_lbft(0, 100)
    with pytest.raises(BadInput):
        shafts.strength_ratio(1, 0)


@given(st.floats(1, 1e5), st.floats(1, 1e5), st.booleans())
def test_a_shaft_never_sees_more_than_either_bound(engine: float, traction: float, locked: bool) -> None:
    assert shafts.shaft_demand(engine, traction, 4.1, locked).shaft_lbft <= min(engine, traction)


def test_yields_of_the_steels() -> None:
    # 40-52 HRC and 50-52 HRC of SAE J413; 4340 at 163-200 ksi x 0.577; AMS 6417's 220 ksi x 0.5 and x 0.577.
    ksi = {name: (steel.low_ksi, steel.high_ksi) for name, steel in shafts.STEELS.items()}
    assert ksi["unknown"] == pytest.approx((shafts.shear_yield_ksi(40), shafts.shear_yield_ksi(52)), abs=0.05)
    assert ksi["hardened"] == pytest.approx((shafts.shear_yield_ksi(50), shafts.shear_yield_ksi(52)), abs=0.05)
    assert ksi["4340"] == pytest.approx((163 / 3**0.5, 200 / 3**0.5), abs=0.6)
    assert ksi["300m"] == pytest.approx((220 / 2, 220 / 3**0.5), abs=0.1)
