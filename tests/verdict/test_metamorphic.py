"""Adverts changed in one thing, from their words to the verdict: what must change with it, and what must not."""

import copy
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.load import load_catalogue
from donorbase.reference.words import load_words
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.verdicts import Call, ListingVerdict

LAW = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
LEXICON = Lexicon.build(load_words())

FRONT: dict[str, Any] = {
    "name": "front on 40s", "wants": ["front"],
    "vehicle": {"tire_dia_in": 40, "wheel_dia_in": 17, "front_output": "driver", "master_cylinder": "enlarged"},
    "gearing": {"ratio": 5.13},
    "front": {"must": {
        "inner_splines": {"at_least": 35}, "outer_splines": {"at_least": 35}, "lugs": 8, "bolt_circle_mm": 170.0,
        "rear_wheels": "single", "ratio_sold": 5.13, "defects": {"none_of": ["bent", "cracked"]},
    }},
    "work": {"planned": ["regear", "new-differential", "ball-joints", "bearings-and-seals", "brackets"],
             "accepted": ["single-wheel-hubs"], "refused": ["outer-shafts", "redrill-hubs"]},
    "money": {"landed_limit_usd": 2400, "travel_usd_per_mi": 0.5},
}  # fmt: skip
PAIR: dict[str, Any] = {
    "name": "a pair", "wants": ["front", "rear"],
    "any": {"must": {"lugs": 8, "bolt_circle_mm": 170.0, "rear_wheels": "single"}},
    "front": {"must": {"drop": "driver", "outer_splines": {"at_least": 30}}},
    "rear": {"must": {"float": "full", "brakes": "disc"}},
    "pair": {"must": {"ratio_mismatch_pct": {"at_most": 0.5}, "bolt_circle_same": True}},
    "work": {"planned": ["bearings-and-seals"], "accepted": [], "refused": ["regear", "redrill-hubs"]},
    "money": {"landed_limit_usd": 3000},
}  # fmt: skip
YEAR = "2011 "
ADVERT = (
    "Front axle off a {year}one ton, coil springs, {wheels}, ball joints, 9.75, 8x170, 3.73, driver side drop. ${price}"
)


def told(text: str, plain: dict[str, Any]) -> ListingVerdict:
    reading = read_listing(text, LEXICON, 2026)
    return judge(parse_build(plain), reading, load_catalogue(), distance_mi=20)


def advert(year: str = YEAR, wheels: str = "single rear wheels", price: int = 850) -> str:
    return ADVERT.format(year=year, wheels=wheels, price=price)


def with_ratio(ratio: float) -> dict[str, Any]:
    plain = copy.deepcopy(FRONT)
    plain["gearing"]["ratio"] = plain["front"]["must"]["ratio_sold"] = ratio
    return plain


def test_the_advert_fits_as_it_is() -> None:
    assert told(advert(), FRONT).verdict is Call.FITS


def test_without_its_year_it_is_unclear() -> None:
    """The gears of 2017 and later lack the ratio, and nothing else tells the years apart."""
    assert told(advert(year=""), FRONT).verdict is Call.UNCLEAR


@pytest.mark.parametrize("wheels", ["dually", "dual rear wheels", "DRW"])
def test_of_a_dually_it_fits_with_work_or_not_at_all_where_that_is_refused(wheels: str) -> None:
    text = advert(wheels=wheels).replace("8x170", "8x200")
    assert told(text, FRONT).verdict is Call.WITH_WORK
    refusing = copy.deepcopy(FRONT)
    refusing["work"] |= {"accepted": [], "refused": ["single-wheel-hubs", "outer-shafts", "redrill-hubs"]}
    assert told(text, refusing).verdict is Call.NO


def test_of_2017_it_fits_where_a_ratio_is_wanted_that_is_sold_for_it() -> None:
    late = advert(year="2018 ")
    assert told(late, FRONT).verdict is Call.NO
    assert told(late, with_ratio(4.56)).verdict is Call.FITS


@pytest.mark.parametrize("price", [2400, 3000, 5000])
def test_a_higher_limit_turns_a_no_for_money_alone(price: int) -> None:
    before = told(advert(price=price), FRONT)
    assert before.verdict is Call.NO
    assert before.money_alone
    richer = copy.deepcopy(FRONT)
    richer["money"]["landed_limit_usd"] = price + 20
    assert told(advert(price=price), richer).verdict is Call.FITS


ENDS = [
    "Front: coil one ton, 2008, ball joints, 9.75, 8x170, 3.73, single rear wheel.",
    "Rear: full float, 10.5, disc brakes, 8x170, 3.73, single rear wheel, 2008.",
]
RATIOS = ["3.73", "4.10"]


@pytest.mark.parametrize("rear_ratio", RATIOS)
@pytest.mark.parametrize("lead", ["", "Axles for sale, sold as a pair. "])
def test_front_and_rear_may_be_told_in_either_order(rear_ratio: str, lead: str) -> None:
    front, rear = ENDS[0], ENDS[1].replace("3.73", rear_ratio)
    one, other = (told(f"{lead}{a} {b} $1800 for both", PAIR) for a, b in ((front, rear), (rear, front)))
    assert one.verdict is other.verdict
    assert one.verdict is (Call.FITS if rear_ratio == "3.73" else Call.NO)
    assert one.money.total == other.money.total


SENTENCES = [
    "It is off a 2011.", "One ton.", "Coil springs.", "Single rear wheels.", "8 on 170.", "3.73 gears.", "Ball joints.",
    "Driver side drop.", "35 spline outers.", "Complete hub to hub.", "Asking $850.", "Never bent or cracked.",
    "9.75 ring gear.",
]  # fmt: skip


@LAW
@given(st.permutations(SENTENCES), st.integers(0, 5))
def test_the_order_of_sentences_changes_nothing(order: list[str], fewer: int) -> None:
    left_out = set(SENTENCES[3 : 3 + fewer])
    kept = [sentence for sentence in order if sentence not in left_out]
    straight = [sentence for sentence in SENTENCES if sentence not in left_out]
    one, other = (told(" ".join(["Front axle for sale.", *some]), FRONT) for some in (straight, kept))
    assert one.verdict is other.verdict, kept
    assert one.money.total == other.money.total


@LAW
@given(st.sets(st.sampled_from(SENTENCES), max_size=8), st.sampled_from(SENTENCES))
def test_saying_less_never_makes_it_fit_better(gone: set[str], one_more: str) -> None:
    """A sentence that supports a must, left out, may turn a no into a question, never into a fit."""
    some, less = (
        " ".join(["Front axle for sale.", *(s for s in SENTENCES if s not in out)]) for out in (gone, gone | {one_more})
    )
    before, after = told(some, FRONT).verdict, told(less, FRONT).verdict
    assert after.rank >= before.rank, one_more


@LAW
@given(st.sampled_from(["pretty sure", "i think", "maybe", "not 100% sure but"]), st.sampled_from(SENTENCES[:10]))
def test_doubt_never_makes_it_fit_better(hedge: str, doubted: str) -> None:
    sure = ["Front axle for sale.", *SENTENCES]
    unsure = [f"{hedge} {s[0].lower()}{s[1:]}" if s == doubted else s for s in sure]
    before, after = (told(" ".join(some), FRONT).verdict for some in (sure, unsure))
    assert after.rank >= before.rank


WORDING: list[tuple[str, Callable[[str], str]]] = [
    ("in capitals", str.upper),
    ("in small letters", str.lower),
    ("over lines", lambda text: text.replace(", ", "\n")),
    ("with a greeting", lambda text: f"Hi all,\n{text}\nThanks for looking"),
    ("with curly quotes", lambda text: text.replace("'", "’")),
]


@pytest.mark.parametrize(("how", "change"), WORDING, ids=[how for how, _ in WORDING])
@pytest.mark.parametrize("wheels", ["single rear wheels", "dually"])
def test_how_it_is_typed_changes_nothing(how: str, change: Callable[[str], str], wheels: str) -> None:
    text = advert(wheels=wheels)
    assert told(change(text), FRONT).verdict is told(text, FRONT).verdict
