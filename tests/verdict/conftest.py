"""Readings made from facts by hand, and the builds of the open scenarios."""

import copy
import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from donorbase.facts import Fact, Item, Reading
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.load import load_catalogue
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import ListingVerdict

SCENARIOS = Path(__file__).parents[1] / "accuracy" / "scenarios" / "open.jsonl"

COIL_FRONT = {
    "kind": "axle", "position": "front", "years": (2011, 2011), "load_class": "one-ton", "suspension": "coil",
    "rear_wheels": "single", "knuckle": "ball-joint", "lugs": 8, "bolt_circle_mm": 170.0, "ratio": 3.73,
    "brakes": "disc",
}  # fmt: skip
"""A one-ton coil front of 2011, everything said that a careful seller says."""

FULL_FLOAT_REAR = {
    "kind": "axle", "position": "rear", "cover_bolts": 14, "float": "full", "ring_gear_in": 10.5, "lugs": 8,
    "bolt_circle_mm": 165.1, "brakes": "drum", "ratio": 4.1, "years": (1994, 1994), "rear_wheels": "single",
    "load_class": "three-quarter-ton", "width_in": 67.375,
}  # fmt: skip


def item_of(fields: Mapping[str, Any]) -> Item:
    """An item by attribute; a list gives a fact for each element, a Fact is taken as it is."""
    facts: list[Fact] = []
    for name, value in fields.items():
        for one in value if isinstance(value, list) else [value]:
            facts.append(one if isinstance(one, Fact) else Fact(name, one))
    return Item(tuple(facts))


def reading_of(*items: Mapping[str, Any], price: float | None = 850, text: str = "", **offer: Any) -> Reading:
    """An offer for sale of these items."""
    said = {"offer": "for-sale", "price_usd": price, **offer}
    facts = tuple(Fact(name, value) for name, value in said.items() if value is not None)
    return Reading(text, facts, tuple(item_of(item) for item in items))


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session")
def plain_builds() -> dict[str, dict[str, Any]]:
    """The builds of the open scenarios by the scenario's id, as plain data."""
    rows = [json.loads(line) for line in SCENARIOS.read_text("utf-8").splitlines()]
    return {row["id"]: row["build"] for row in rows}


@pytest.fixture
def plain_front(plain_builds: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """A build that wants an 8x170 front with 35 splines outside, for 5.13: free to change."""
    return copy.deepcopy(plain_builds["S01"])


@pytest.fixture
def front_build(plain_front: dict[str, Any]) -> Build:
    return parse_build(plain_front)


@pytest.fixture
def rear_build(plain_builds: dict[str, dict[str, Any]]) -> Build:
    return parse_build(plain_builds["S11"])


@pytest.fixture
def pair_build(plain_builds: dict[str, dict[str, Any]]) -> Build:
    return parse_build(plain_builds["S10"])


@pytest.fixture
def verdict(catalogue: Catalogue) -> Callable[..., ListingVerdict]:
    """Judges items made by hand: ``verdict(build, item, ..., price=850, text="", miles=12)``."""

    def judged(build: Build, *items: Mapping[str, Any], miles: float = 12, **said: Any) -> ListingVerdict:
        return judge(build, reading_of(*items, **said), catalogue, distance_mi=miles)

    return judged


@pytest.fixture
def coil_front() -> dict[str, Any]:
    return dict(COIL_FRONT)


@pytest.fixture
def full_float_rear() -> dict[str, Any]:
    return dict(FULL_FLOAT_REAR)


@pytest.fixture
def reading() -> Callable[..., Reading]:
    return reading_of
