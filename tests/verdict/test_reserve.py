"""The reserve for what nobody tells: by the kind of donor, and not for what is made good anyway."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.verdict.build import parse_build
from donorbase.verdict.verdicts import Call, ListingVerdict

Judge = Callable[..., ListingVerdict]


def bare(plain: dict[str, Any]) -> dict[str, Any]:
    """The same build with nothing planned, so that every hidden fault costs something."""
    return plain | {"work": plain["work"] | {"planned": ["regear"]}, "money": {"landed_limit_usd": 3000}}


def reserve(found: ListingVerdict) -> dict[str, float]:
    return {fault.name: fault.chance for fault in found.money.faults}


def test_planned_work_needs_no_reserve(plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge) -> None:
    planned = reserve(verdict(parse_build(plain_front), coil_front))
    nothing = reserve(verdict(parse_build(bare(plain_front)), coil_front))
    assert "ball joints or kingpins loose" in nothing
    assert "ball joints or kingpins loose" not in planned
    assert "gears chipped or rusted under the cover" not in nothing  # the regear is planned


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("came out of a mud truck", "hubs or unit bearings with play"),
        ("flood truck", "brakes seized or worn out"),
        ("truck got rolled", "housing bent"),
        ("sat outside for years", "bearings and seals worn or rusted"),
    ],
)
def test_the_kind_of_donor_raises_it(
    text: str, fault: str, plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge
) -> None:
    build = parse_build(bare(plain_front))
    usual, told = (
        verdict(build, coil_front, mileage_mi=90_000),
        verdict(build, coil_front, mileage_mi=90_000, text=text),
    )
    assert reserve(told)[fault] > reserve(usual)[fault]
    assert told.money.reserve_usd > usual.money.reserve_usd
    assert told.money.total == usual.money.total  # the likely sum holds only what is told


def test_miles_told_lower_it_and_many_miles_raise_it(
    plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge
) -> None:
    build = parse_build(bare(plain_front))
    few, unsaid, many = (verdict(build, coil_front, mileage_mi=n).money.reserve_usd for n in (50_000, None, 240_000))
    assert few < unsaid < many


def test_a_stated_fault_is_certain(plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge) -> None:
    found = verdict(parse_build(bare(plain_front)), coil_front | {"defects": "worn-brakes"})
    assert reserve(found)["brakes seized or worn out"] == 1


def test_the_reserve_lowers_the_chance_and_changes_no_verdict(
    plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge
) -> None:
    plain = bare(plain_front)
    plain["money"]["landed_limit_usd"] = 950
    found = verdict(parse_build(plain), coil_front, price=850)
    assert found.verdict is Call.FITS
    assert found.money.chance < found.money.chance_as_told == 1


@pytest.mark.parametrize(("half", "tax"), [(False, 0), (False, 8), (True, 0), (True, 8.25)])
def test_at_the_break_even_price_the_no_turns(
    half: bool, tax: float, plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge
) -> None:
    """Worked out: what is left of the limit beside all other lines, over what is paid for each dollar asked."""
    plain_front["money"] = {
        "landed_limit_usd": 1000, "travel_usd_per_mi": 0.5, "tax_pct": tax, "yard": {"half_price_day": half}
    }  # fmt: skip
    build, text = parse_build(plain_front), "half price saturday at the yard"
    dear = verdict(build, coil_front, price=2500, text=text, miles=40)
    even = dear.money.break_even_usd
    assert dear.verdict is Call.NO
    assert dear.money_alone
    assert even == pytest.approx((1000 - 40) / ((0.5 if half else 1) * (1 + tax / 100)), abs=0.01)
    assert verdict(build, coil_front, price=even - 0.01, text=text, miles=40).verdict is Call.FITS
    assert verdict(build, coil_front, price=even + 1, text=text, miles=40).verdict is Call.NO


def test_no_price_turns_what_fails_otherwise(
    plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge
) -> None:
    found = verdict(parse_build(plain_front), coil_front | {"defects": "bent"}, price=9000)
    assert found.verdict is Call.NO
    assert not found.money_alone
    assert not any("it would do at" in reason for reason in found.reasons)


def test_what_matters_most(plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Judge) -> None:
    plain_front["work"]["price_usd"] = {}
    found = verdict(parse_build(plain_front), coil_front | {"rear_wheels": "dual", "bolt_circle_mm": 200.0}, price=400)
    dearest = found.money.dearest()
    assert dearest[0][0] == "hubs and rotors of the single-wheel truck"
    assert sum(share for _, share in dearest) == pytest.approx(1)
    least_sure = found.money.least_sure()
    assert least_sure is not None
    assert 0 < least_sure[1] <= 1


def test_a_core_comes_back_as_often_as_the_owner_says(
    plain_builds: dict[str, dict[str, Any]], full_float_rear: dict[str, Any], verdict: Judge
) -> None:
    plain = plain_builds["V02"]
    sums = []
    for back in (0, 0.5, 1):
        yard = {"half_price_day": False, "core_usd": 30, "entry_usd": 2, "core_return": back}
        build = parse_build(plain | {"money": plain["money"] | {"yard": yard}})
        money = verdict(build, full_float_rear, price=200, text="self serve yard, plus core").money
        sums.append(money.total.likely if money.total else 0)
    assert sums[0] - sums[1] == pytest.approx(15)
    assert sums[0] - sums[2] == pytest.approx(30)
