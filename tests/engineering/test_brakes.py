"""Brakes against OpenStax College Physics, NHTSA letters and a machine-calculation page."""

import pytest

from donorbase.engineering import brakes
from donorbase.errors import BadInput


def test_hydraulic_brake_of_a_physics_book() -> None:
    # OpenStax College Physics 11.5: 500 N on a 0.500 cm cylinder, wheel cylinder 2.50 cm: 1.25e4 N each.
    line_mpa = brakes.pressure(500, 1.0, 5.00)
    assert line_mpa == pytest.approx(25.46, abs=0.005)
    assert line_mpa * brakes.circle_area(25.0) == pytest.approx(12500, abs=0.5)


def test_pedal_without_booster() -> None:
    # Machine-calculation page: 100 lb, 6:1, 1.0 in bore: about 760 psi.
    assert brakes.pressure(100, 6.0, 1.0) == pytest.approx(763.9, abs=0.05)


def test_truck_example_in_inches() -> None:
    area = brakes.one_side_area(2, 2.10)
    assert area == pytest.approx(6.92721, abs=1e-5)
    boosted = brakes.stop(100 * 4.0 + 500, 1.125, area, 0.40, 5.3, 17.5)
    assert boosted.pressure_psi == pytest.approx(905.4, abs=0.05)
    assert boosted.clamp_lb == pytest.approx(6272, abs=0.5)
    assert boosted.torque_lbft == pytest.approx(2216.1, abs=0.05)
    assert boosted.ground_lb == pytest.approx(1519.6, abs=0.05)
    dead = brakes.stop(100 * 4.0, 1.125, area, 0.40, 5.3, 17.5)
    assert (dead.pressure_psi, dead.torque_lbft, dead.ground_lb) == (
        pytest.approx(402.4, abs=0.05), pytest.approx(984.9, abs=0.06), pytest.approx(675.4, abs=0.05),
    )  # fmt: skip
    volume = brakes.fluid(area, 0.010, 0.010)
    assert volume == pytest.approx(0.2771, abs=5e-5)
    assert brakes.stroke(volume, 1.125) == pytest.approx(0.2788, abs=5e-5)


def test_fixed_caliper_example_in_millimetres() -> None:
    area = brakes.one_side_area(4, 42, fixed=True)
    assert area == pytest.approx(2770.9, abs=0.05)
    line = brakes.pressure(300 * 3, 3.5, 25.4)
    assert line == pytest.approx(6.217, abs=5e-4)
    assert 2 * 0.38 * line * area * 0.140 == pytest.approx(1832.8, abs=0.3)
    assert brakes.fluid(area, 0.25, 0.25) == pytest.approx(2771, abs=1)
    assert brakes.stroke(brakes.fluid(area, 0.25, 0.25), 25.4) == pytest.approx(5.47, abs=5e-3)


def test_bigger_bore_moves_more_fluid_at_less_pressure() -> None:
    change = brakes.change(1.0, 1.0, 1.00, 1.25)
    assert change.pressure == pytest.approx(0.640)
    assert 1 / change.pedal_travel == pytest.approx(1.5625)


def test_bore_that_keeps_the_pedal() -> None:
    old, new = brakes.one_side_area(1, 2.94), brakes.one_side_area(2, 2.36)
    bore = brakes.bore_for_same_travel(old, new, 1.125)
    assert brakes.change(old, new, 1.125, bore).pedal_travel == pytest.approx(1.0)


def test_whether_a_master_cylinder_feeds_the_calipers() -> None:
    assert brakes.fluid_enough(2, 60.0, 1.25) is True
    assert brakes.fluid_enough(2, None, 1.25) is True
    assert brakes.fluid_enough(2, None, 1.0) is None
    assert brakes.fluid_enough(2, 60.0, 0.75) is False
    assert brakes.fluid_enough(None, 60.0, 1.25) is None
    assert brakes.fluid_enough(2, 60.0, None) is None
    assert brakes.fluid_enough(4, None, 1.25) is None
    least, most = brakes.stroke_share(2, 54.0, 1.125)
    assert 0 < least < most


def test_yardsticks_of_the_safety_standard() -> None:
    # 49 CFR 571.135 S7.11.4, NHTSA letter 21978ogm: 168 m from 100 km/h; S7.5, letter 11409.MLS: 70 m.
    assert brakes.stopping_limit_m(100, assisted=False) == pytest.approx(168.0)
    assert brakes.stopping_limit_m(80, assisted=False) == pytest.approx(109.1, abs=0.05)
    assert brakes.stopping_limit_m(100) == pytest.approx(70.0)
    assert brakes.mean_deceleration_g(100, 70) == pytest.approx(0.562, abs=5e-4)
    assert brakes.mean_deceleration_g(100, 168) == pytest.approx(0.234, abs=5e-4)
    assert brakes.mean_deceleration_g(100, 158) == pytest.approx(0.249, abs=5e-4)


def test_a_letters_stopping_distance() -> None:
    # NHTSA letter nht70-2.5: 60 mph at a constant 20 ft/s^2 is 194 ft.
    assert brakes.stopping_distance_ft(60, 20) == pytest.approx(193.6, abs=0.05)


@pytest.mark.parametrize(
    ("mass", "speed", "rotors", "heat", "rise"),
    [(750, 24, 15, 450, 32.0), (1500, 60 / 3.6, 15, 460, 30.2)],
)
def test_heat_of_a_stop(mass: float, speed: float, rotors: float, heat: float, rise: float) -> None:
    # Physics problem pages: 216 kJ and 32 K; 208 kJ and 30 K.
    assert brakes.rotor_rise_k(mass, speed, 1.0, rotors, heat) == pytest.approx(rise, abs=0.05)


def test_heat_of_a_truck() -> None:
    rise = brakes.rotor_rise_k(5500 * 0.45359237, 60 * 0.44704, 0.65, 24)
    assert rise == pytest.approx(53.8, abs=0.05)


def test_what_cannot_be() -> None:
    for call in (
        lambda: brakes.circle_area(0),
        lambda: brakes.one_side_area(0, 50),
        lambda: brakes.one_side_area(3, 40, fixed=True),
        lambda: brakes.stroke_share(4, None, 1.0),
        lambda: brakes.mean_deceleration_g(100, 0),
        lambda: brakes.rotor_rise_k(1, 1, 1, 0),
    ):
        with pytest.raises(BadInput):
            call()


def test_normal_stops_may_take_60_percent_of_the_stroke() -> None:
    # Two pistons of 50 mm, both pads 0.0125 in, 0.60 in of stroke: 60 % at a bore of 1.0362 in (computed).
    share = 2 * 2 * 50**2 * 2 * 0.0125 / 25.4**2 / 0.60
    bore = (share / 0.60) ** 0.5
    assert brakes.fluid_enough(2, 50.0, bore * 1.001) is True
    assert brakes.fluid_enough(2, 50.0, bore * 0.999) is None
