"""Any attribute can stand in a requirement, and any fact in a listing: a verdict is always given."""

import json
import random
from typing import Any

import pytest

from donorbase.attributes import NUMBERS, PAIRS, Attribute, Kind, attributes
from donorbase.facts import Fact, Item, Known, Reading
from donorbase.reference.load import load_catalogue
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.subjects import DERIVED, PAIR, subject_of


def plausible(subject: Attribute, dice: random.Random) -> Any:
    """A value that the attribute can have."""
    if subject.kind is Kind.FLAG or subject.name == "parking_brake":
        return True
    if subject.values:
        return dice.choice(subject.values)
    if subject.kind in NUMBERS:
        low, high = subject.low or 0, subject.high or 10
        value = dice.uniform(low, high)
        return int(value) if subject.kind is Kind.COUNT else round(value, 2)
    if subject.kind in PAIRS:
        low = int(subject.low or 0)
        return [low + 30, low + 40]
    return "words"


def conditions(subject: Attribute, dice: random.Random) -> list[Any]:
    value = plausible(subject, dice)
    found: list[Any] = [value, {"none_of": [value]}, {"any_of": [value]}]
    if subject.kind in NUMBERS:
        found += [{"at_least": value}, {"at_most": value}, {"near": value, "percent": 5}]
    return found


def fact_of(name: str, dice: random.Random) -> Fact:
    value = plausible(attributes()[name], dice)
    known = dice.choice(list(Known))
    return Fact(name, tuple(value) if isinstance(value, list) else value, known)


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("name", sorted([*attributes(), *DERIVED]))
def test_any_attribute_can_be_required(name: str, end: str) -> None:
    dice = random.Random(f"{name} {end}")
    catalogue = load_catalogue()
    for condition in conditions(subject_of(name), dice):
        for level in ("must", "prefer", "avoid"):
            build = parse_build({"name": "x", "wants": [end], end: {level: {name: condition}}})
            said = Item((Fact("position", end), Fact("kind", "axle"), fact_of("years", dice)))
            reading = Reading("", (Fact("offer", "for-sale"), Fact("price_usd", 500)), (said,))
            json.dumps(judge(build, reading, catalogue).full_json(), allow_nan=False)


@pytest.mark.parametrize("seed", range(60))
def test_whatever_a_listing_says_a_verdict_is_given(seed: int) -> None:
    dice = random.Random(seed)
    names = [n for n in attributes() if n not in {"family", "variant", "gear_set"}]
    items = tuple(
        Item(tuple(fact_of(name, dice) for name in dice.sample(names, dice.randint(0, 14))))
        for _ in range(dice.randint(0, 3))
    )
    build = parse_build(
        {
            "name": "x", "wants": dice.choice([["front"], ["rear"], ["front", "rear"]]),
            "any": {"must": {"lugs": 8, "ratio_sold": 4.88}},
            "pair": {"must": {name: dice.choice(conditions(PAIR[name], dice)[:1]) for name in PAIR}},
            "rear": {"has": {"ratio": 4.1, "bolt_circle_mm": 170.0}},
            "money": {"landed_limit_usd": 1500, "yard": {"half_price_day": True, "core_usd": 30}},
        }
    )  # fmt: skip
    reading = Reading("half price yard, core", (fact_of("offer", dice),), items, (Fact("flood", True),))
    found = judge(build, reading, load_catalogue(), distance_mi=dice.choice([None, 0, 40]))
    json.dumps(found.full_json(), allow_nan=False)
    assert 0 <= found.chance <= 1
    assert found.reasons
