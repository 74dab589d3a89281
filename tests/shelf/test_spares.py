"""Spares: carried where the odds of breaking times the loss are above the price of the weight, ranked by the ratio."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.reference.parts import part_kinds
from donorbase.reference.upkeep import breakages, cares
from donorbase.shelf.spares import Spare, packed

SPARES = st.lists(
    st.builds(
        Spare,
        st.just("front"),
        st.sampled_from(["u-joint", "hub"]),
        st.none(),
        st.floats(0, 1),
        st.floats(0.1, 100),
    ),
    max_size=8,
)


def test_a_worked_example() -> None:
    """By hand, 600 USD stranded, 1 USD a pound: joint 0.02 x 600 / 3 = 4; shaft 0.01 x 600 / 20 = 0.3; hub 1.2."""
    joint, shaft, hub = (
        Spare("front", "u-joint", None, 0.02, 3),
        Spare("front", "inner-shaft", "left", 0.01, 20),
        Spare("front", "locking-hub", None, 0.01, 5),
    )
    assert packed([shaft, hub, joint], 600, 1) == ((joint, True), (hub, True), (shaft, False))
    assert packed([shaft, hub, joint], 600, 1, limit_lb=7) == ((joint, True), (hub, False), (shaft, False))


@given(SPARES, st.floats(1, 10_000), st.floats(0.01, 100), st.none() | st.floats(0, 200))
def test_what_rides_is_worth_its_weight_and_within_the_limit(
    spares: list[Spare], stranded: float, per_lb: float, limit: float | None
) -> None:
    found = packed(spares, stranded, per_lb, limit)
    assert sorted(map(str, (one for one, _ in found))) == sorted(map(str, spares))
    worths = [one.worth(stranded, per_lb) for one, _ in found]
    assert worths == sorted(worths, reverse=True)
    riding = [one for one, rides in found if rides]
    assert all(one.odds * stranded / one.weight_lb / per_lb > 1 - 1e-9 for one in riding)
    if limit is not None:
        assert sum(one.weight_lb for one in riding) <= limit + 1e-6
    else:
        assert all(rides for (_, rides), worth in zip(found, worths, strict=True) if worth > 1)


def test_joints_break_most_and_say_what_they_take_along() -> None:
    """Trail-spares articles (read): joints break most often, and take shaft ears and ball joints with them."""
    most = max(breakages().values(), key=lambda known: known.in_1000_trips)
    assert most.kind == "u-joint"
    assert most.takes == "shaft ears and ball joints"


def test_every_part_on_a_shaft_or_bearing_has_some_care() -> None:
    cared = {kind for care in cares().values() for kind in care.kinds}
    assert {"axle", "ring-and-pinion", "inner-shaft", "axle-shaft", "hub", "unit-bearing"} <= cared <= set(part_kinds())


@pytest.mark.parametrize("every", [care.every_days for care in cares().values() if care.care == "inhibitor"])
def test_the_inhibitor_is_renewed_about_half_yearly(every: int) -> None:
    """Spare-equipment storage articles (read): vapour inhibitor renewed about half-yearly."""
    assert 150 <= every <= 213
