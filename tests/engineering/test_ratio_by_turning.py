"""Ratio by turning against a repair guide and a how-to page."""

import pytest

from donorbase.engineering.ratio_by_turning import BOTH_TURN, ONE_HELD, ratio_by_turning, turns_to_tell
from donorbase.errors import BadInput


def test_both_wheels_turning() -> None:
    # Repair guide: 36 pinion turns in 10 wheel turns are 3.6.
    assert ratio_by_turning(10, 36).ratio == 3.6


def test_one_wheel_held() -> None:
    # How-to page: 10 turns of the raised wheel, 18 pinion turns: 18/5 = 3.6. 4.10 gives 2.05 turns a wheel
    # turn.
    assert ratio_by_turning(10, 18, ONE_HELD).ratio == 3.6
    assert ratio_by_turning(1, 2.05, ONE_HELD).ratio == pytest.approx(4.10)


def test_bounds_of_ten_turns() -> None:
    both, held = ratio_by_turning(10, 41), ratio_by_turning(10, 20.5, ONE_HELD)
    assert (both.high - both.ratio, held.high - held.ratio) == (pytest.approx(0.0125), pytest.approx(0.025))
    assert (both.low, both.high) == (pytest.approx(4.0875), pytest.approx(4.1125))
    assert both.sd == pytest.approx(0.0125 / 3**0.5)


def test_what_a_reading_can_be() -> None:
    # Ten turns tell 4.10 from 4.30, never 4.09 from 4.10 and 4.11.
    assert [round(r, 2) for r in ratio_by_turning(10, 41).candidates] == [4.1, 4.09, 4.11]
    assert ratio_by_turning(10, 41, known=(4.30, 4.56)).candidates == ()


def test_turns_that_tell_two_ratios_apart() -> None:
    # 3.55 from 3.73 with an eighth of a turn of error: 2 turns.
    assert turns_to_tell(3.55, 3.73) == 2
    assert turns_to_tell(3.55, 3.73, ONE_HELD) == 3
    assert turns_to_tell(4.10, 4.11) == 25
    assert turns_to_tell(4.10, 4.1025) is None
    assert turns_to_tell(4.10, 4.10) is None


@pytest.mark.parametrize(("ratio", "other"), [(3.55, 3.73), (4.10, 4.30), (4.88, 5.13)])
def test_after_those_turns_no_reading_is_mistaken(ratio: float, other: float) -> None:
    for method in (BOTH_TURN, ONE_HELD):
        turns = turns_to_tell(ratio, other, method)
        assert turns is not None
        share = 2 if method == ONE_HELD else 1
        reading = ratio_by_turning(turns, turns * ratio / share + 0.124, method, known=(ratio, other))
        assert reading.candidates[0] == ratio


def test_both_free_and_one_turned_is_refused_with_the_reason() -> None:
    with pytest.raises(BadInput) as wrong:
        ratio_by_turning(10, 20, "one-turned")
    assert "backwards" in wrong.value.next_step
    with pytest.raises(BadInput):
        ratio_by_turning(0, 20)


def test_nobody_counts_past_fifty_turns() -> None:
    assert turns_to_tell(4.10, 4.105) == 50
    assert turns_to_tell(4.10, 4.1049) is None
