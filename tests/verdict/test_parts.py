"""Parts that are gone or ruined: which ones a word means, what must be bought, and what a refusal to buy ends."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.facts import Fact, Known, Reading
from donorbase.reference.judging import judging
from donorbase.verdict.build import parse_build
from donorbase.verdict.ruined import ruined_parts
from donorbase.verdict.verdicts import Call, ListingVerdict

RUINED = [
    ("one axle shaft is twisted", "rear", ("axle-shaft",)),
    ("snapped the left inner shaft", "front", ("inner-shaft",)),
    ("a broken lockout on it", "front", ("locking-hub",)),
    ("stub shaft splines are stripped", "front", ("outer-shaft",)),
    ("tie rod is junk", "front", ("tie-rod",)),
    ("perches were cut off by the last guy", "rear", ("spring-perch",)),
    ("right knuckle is cracked", "front", ("knuckle",)),
]
NOT_RUINED = [
    "never broken a shaft", "no broken shafts", "drive shaft is twisted", "shafts straight, gears broken in",
    "truck is broken down, hubs good", "driveshaft broken",
]  # fmt: skip


def reading(text: str, *items: Any) -> Reading:
    return Reading(text, (), items)


@pytest.mark.parametrize(("text", "end", "parts"), RUINED)
def test_a_part_that_is_there_and_ruined(text: str, end: str, parts: tuple[str, ...]) -> None:
    assert ruined_parts(reading(text), end, judging()) == parts


@pytest.mark.parametrize("text", NOT_RUINED)
def test_what_is_not_ruined(text: str) -> None:
    assert ruined_parts(reading(text), "front", judging()) == ()


def test_of_a_pair_only_the_end_that_is_named(reading: Callable[..., Reading]) -> None:
    pair = reading(
        {"kind": "axle", "position": "front"}, {"kind": "axle", "position": "rear"},
        text="front and rear 8x170. Rear has a snapped axle shaft. $900",
    )  # fmt: skip
    assert ruined_parts(pair, "rear", judging()) == ("axle-shaft",)
    assert ruined_parts(pair, "front", judging()) == ()


def test_what_only_a_front_has_is_of_the_front(reading: Callable[..., Reading]) -> None:
    pair = reading(
        {"kind": "axle", "position": "front"}, {"kind": "axle", "position": "rear"}, text="stub shaft snapped"
    )
    assert ruined_parts(pair, "front", judging()) == ("outer-shaft",)
    assert ruined_parts(pair, "rear", judging()) == ()


@pytest.mark.parametrize(("said", "pieces"), [("left hub is gone", 1), ("both hubs are gone", 2)])
def test_the_shipped_price_is_of_as_many_as_are_gone(
    said: str,
    pieces: int,
    plain_front: dict[str, Any],
    coil_front: dict[str, Any],
    verdict: Callable[..., ListingVerdict],
) -> None:
    word = "hubs" if pieces == 2 else "hub"
    at = said.index(word)
    gone = Fact("missing", "hub", Known.STATED, ((at, at + len(word)),))
    plain_front["money"] |= {"part_price_usd": {}, "landed_limit_usd": 9000}
    found = verdict(parse_build(plain_front), coil_front | {"missing": [gone]}, text=said)
    low, high = judging().parts["hub"].price_usd
    (line,) = (line for line in found.money.lines if line.label == "hub")
    assert line.cost.likely == pytest.approx((low + high) / 2 * pieces)


@pytest.mark.parametrize("text", ["you pull it", "still under the truck", "buyer to remove"])
def test_an_axle_that_is_still_in_its_donor_is_pulled(
    text: str, plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    for table, call in (("accepted", Call.WITH_WORK), ("planned", Call.FITS)):
        plain = plain_front | {
            "work": {**plain_front["work"], table: [*plain_front["work"][table], "pull-from-vehicle"]}
        }
        assert verdict(parse_build(plain), coil_front, text=text).verdict is call


def test_a_ruined_part_is_bought_and_counted(
    plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    plain_front["money"]["part_price_usd"] = {"outer-shaft": 190}
    whole = verdict(parse_build(plain_front), coil_front)
    broken = verdict(parse_build(plain_front), coil_front, text="left outer shaft is snapped")
    assert (whole.verdict, broken.verdict) == (Call.FITS, Call.WITH_WORK)
    assert whole.money.total is not None
    assert broken.money.total is not None
    # One is ruined, and nobody says that the other is not: 190 at least, 380 likely.
    assert broken.money.total.low - whole.money.total.low == pytest.approx(190)
    assert broken.money.total.likely - whole.money.total.likely == pytest.approx(380)


def test_shafts_of_a_front_are_the_inner_and_the_outer(
    plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    plain_front["money"] |= {"part_price_usd": {"inner-shaft": 100, "outer-shaft": 100}, "landed_limit_usd": 9000}
    found = verdict(parse_build(plain_front), coil_front | {"missing": "axle-shaft"})
    assert found.verdict is Call.WITH_WORK
    assert {line.label for line in found.money.lines} >= {"inner-shaft, one to 2", "outer-shaft, one to 2"}


def test_a_refusal_to_buy_ends_it_also_where_the_owner_names_other_parts(
    plain_front: dict[str, Any], coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    plain_front["front"]["must"]["missing"] = {"none_of": ["caliper"]}
    plain_front["work"]["accepted"].remove("buy-missing-parts")
    plain_front["work"]["refused"].append("buy-missing-parts")
    found = verdict(parse_build(plain_front), coil_front | {"missing": "axle-shaft"})
    assert found.verdict is Call.NO


def test_a_drive_shaft_is_no_part_of_an_axle(
    front_build: Any, coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    assert verdict(front_build, coil_front | {"missing": "driveshaft"}).verdict is Call.FITS


@pytest.mark.parametrize(
    "text", ["out of a truck that rolled", "dont know if its straight", "not sure if it's straight"]
)
def test_what_rolled_may_be_bent(
    text: str, front_build: Any, coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    assert verdict(front_build, coil_front, text=text).verdict is Call.UNCLEAR


def test_it_rolls_is_no_accident(
    front_build: Any, coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    assert verdict(front_build, coil_front, text="rolls and steers, everything turns").verdict is Call.FITS
