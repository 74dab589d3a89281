"""Whatever a person types where a quantity is asked for: a value in bounds, or BadInput with a next step."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering.bolt_circle import read_pattern
from donorbase.engineering.teeth import read_ratio
from donorbase.engineering.tires import read_tire
from donorbase.engineering.vin import check_holds, read_vin
from donorbase.errors import BadInput
from donorbase.reference import units

READERS: list[Callable[[str], Any]] = [
    read_pattern,
    read_ratio,
    read_tire,
    lambda text: read_vin(text, 2027),
    units.parse_length,
    units.parse_length_mm,
    units.parse_weight,
    units.parse_speed,
    units.parse_torque,
    units.parse_force,
    units.parse_angle,
    units.parse_offset_mm,
    units.parse_distance,
    units.parse_number,
]

# Signs that such writings are made of, so that most texts come near to meaning something.
NEAR_MISSES = st.text(alphabet="0123456789 ./-+xX×R\"'inmftlbkgPLTE½,:#", max_size=25)


@pytest.mark.parametrize("reader", READERS)
@given(text=st.one_of(NEAR_MISSES, st.text(max_size=60)))
def test_any_text(reader: Callable[[str], Any], text: str) -> None:
    try:
        reader(text)
    except BadInput as wrong:
        if not wrong.next_step:
            raise AssertionError(f"no next step for {text!r}") from wrong


@given(st.text(alphabet="ABCDEFGHJKLMNPRSTUVWXYZ0123456789IOQ", min_size=17, max_size=17))
def test_every_repair_of_a_vehicle_number_passes_and_is_near(number: str) -> None:
    for repair in read_vin(number, 2027).repairs:
        assert check_holds(repair.vin)
        changed = sum(a != b for a, b in zip(number, repair.vin, strict=True))
        assert 1 <= changed <= max(2, sum(sign in "IOQ" for sign in number))


@pytest.mark.parametrize("reader", READERS)
def test_a_pasted_page_is_refused_at_once(reader: Callable[[str], Any]) -> None:
    for page in ("9" * 200_000, "1 " * 100_000, "4.10/" * 50_000, "8x" * 100_000, "I" * 17 + "O" * 200_000):
        with pytest.raises(BadInput) as wrong:
            reader(page)
        assert len(wrong.value.what) < 300


def test_the_examples_of_the_documentation_hold() -> None:
    import doctest

    done = doctest.testmod(units)
    assert done.attempted >= 2
    assert done.failed == 0
