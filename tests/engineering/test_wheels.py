"""Wheels against an offset page's example, and worked sums."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering import wheels
from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue


@pytest.mark.parametrize(
    ("rim_in", "offset_mm", "backspacing"),
    [(8, 35, 5.878), (9, -12, 4.528), (10, -44, 3.768), (8.5, -18, 4.041), (9, 18, 5.709)],
)
def test_backspacing(rim_in: float, offset_mm: float, backspacing: float) -> None:
    # 8 in and +35 mm: a wheel page prints 5.877; the others computed.
    assert wheels.backspacing_in(offset_mm, rim_in) == pytest.approx(backspacing, abs=6e-4)


@pytest.mark.parametrize(("rim_in", "backspacing", "offset_mm"), [(9, 4.75, -6.35), (8, 3.75, -19.05)])
def test_offset(rim_in: float, backspacing: float, offset_mm: float) -> None:
    assert wheels.offset_mm(backspacing, rim_in) == pytest.approx(offset_mm)


def test_width_over_tires() -> None:
    # 69.5 in face to face, 9.5 in rim, 3.75 in backspacing, 13.5 in section: 1.5 in negative offset, 86.0 in.
    offset = wheels.offset_mm(3.75, 9.5)
    assert offset == pytest.approx(-1.5 * 25.4)
    assert wheels.width_over_tires_in(69.5, 13.5, offset) == pytest.approx(86.0)
    # Each millimetre of offset taken away widens the pair by two.
    assert wheels.width_over_tires_in(69.5, 13.5, offset - 1) == pytest.approx(86.0 + 2 / 25.4)


def test_width_beside_the_law() -> None:
    # 23 CFR 658.15: 102 in, which are 2,590.8 mm; the 2.6 m of the same rule are 102.362 in.
    limits = wheels.width_limits(86.0)
    assert [(limit.limit_in, limit.left_in) for limit in limits] == [
        (80.0, -6.0),
        (96.0, 10.0),
        (102.0, 16.0),
    ]
    assert [round(limit.limit_in * 25.4, 1) for limit in limits] == [2032.0, 2438.4, 2590.8]


def test_wheel_over_brakes() -> None:
    assert wheels.smallest_wheel_in(17, 360) == (17, 17)
    assert wheels.smallest_wheel_in(None, None) is None
    low, high = wheels.smallest_wheel_in(None, 338) or (0, 0)
    assert low < 17 < high + 1
    assert wheels.wheel_clears(18, (17, 17)) is True
    assert wheels.wheel_clears(16, (17, 17)) is False
    assert wheels.wheel_clears(17, (16.3, 17.3)) is None
    assert wheels.wheel_clears(17, None) is None
    assert wheels.barrel_needed_in(7.5) == 15.25
    for call in (lambda: wheels.wheel_for_rotor_in(10), lambda: wheels.barrel_needed_in(0)):
        with pytest.raises(BadInput):
            call()


@given(st.floats(-150, 150), st.floats(4, 20), st.floats(0.25, 0.75))
def test_offset_and_backspacing_undo_each_other(offset: float, rim: float, flange: float) -> None:
    assert wheels.offset_mm(wheels.backspacing_in(offset, rim, flange), rim, flange) == pytest.approx(offset, abs=1e-9)


def test_what_is_no_wheel() -> None:
    with pytest.raises(BadInput):
        wheels.offset_mm(4.5, 0)
    with pytest.raises(BadInput):
        wheels.width_over_tires_in(0, 12, 0)


def test_what_a_13_in_rotor_asks_for() -> None:
    # Rotor plus 2.75 to 4 in (from memory).
    assert wheels.wheel_for_rotor_in(330.2) == pytest.approx((15.75, 17.0))


def test_no_wheel_that_the_catalogue_lets_on_is_refused_by_its_rotor() -> None:
    seen = 0
    for variant in load_catalogue().variants.values():
        rotor, smallest = variant.get("rotor_dia_mm"), variant.get("min_wheel_in")
        if isinstance(rotor, float) and isinstance(smallest, int | float):
            seen += 1
            assert wheels.wheel_clears(smallest, wheels.wheel_for_rotor_in(rotor)) is not False, variant.key
    assert seen > 3
