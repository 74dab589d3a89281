"""Shortlist, pairs, prices, trips, hauling and words to search for, as commands."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from donorbase.shipped import data_dir

DEMO = data_dir() / "demo"


@pytest.fixture
def hunt(run_fresh: Callable[..., Any]) -> Callable[..., Any]:
    """The demo's listings kept for the build that wants both ends."""
    assert run_fresh("build", "add", str(DEMO / "rock-truck.toml")).exit_code == 0
    assert run_fresh("words", "import", str(DEMO / "words.csv")).exit_code == 0
    done = run_fresh("candidate", "import", str(DEMO / "listings.jsonl"), "--build", "rock-truck")
    assert done.exit_code == 0, done.output
    return run_fresh


def test_from_listings_to_pairs(hunt: Callable[..., Any]) -> None:
    listed = json.loads(hunt("shortlist", "--build", "rock-truck", "--relax", "--json").output)
    ranks = ["fits", "fits with work", "unclear"]
    verdicts = [ranks.index(one["verdict"]) for one in listed["shortlist"]]
    assert verdicts
    assert verdicts == sorted(verdicts)
    assert {one["must"] for one in listed["relaxed"]} >= {"rear.bolt_circle_mm"}
    found = json.loads(hunt("pairs", "--build", "rock-truck", "--json", "--count", "3").output)
    assert len(found) == 3
    assert found[0]["verdict"] == "fits"
    for args in (("shortlist", "-b", "rock-truck"), ("pairs", "-b", "rock-truck"), ("prices",)):
        shown = hunt(*args)
        assert shown.exit_code == 0, shown.output
        assert "None" not in shown.output
        assert all(len(line) <= 110 for line in shown.output.splitlines())


def test_haul_and_words(hunt: Callable[..., Any]) -> None:
    shown = hunt(
        "haul", "front-9.25-unit-bearing", "--strap", "100lb", "--payload", "300", "--packed", "80", "48", "36"
    )
    assert shown.exit_code == 0, shown.output
    assert "Not enough" in shown.output
    assert "Too heavy" in shown.output
    assert "kingpen" in hunt("words", "search", "--build", "rock-truck").output


def test_bad_input_says_what_and_what_next(hunt: Callable[..., Any]) -> None:
    for args, word in [
        (("shortlist", "-b", "rock-trcuk"), "rock-truck"),
        (("pairs", "-b", "rock-trcuk"), "rock-truck"),
        (("trip", "--home", "80202"), "stops"),
        (("trip", "999", "--home", "80202"), "no candidate 999"),
        (("trip", "--home", "80202", "--stop", "Ann"), "NAME=PLACE"),
        (("trip", "--home", "nowhere", "--stop", "Ann=80501"), "no ZIP"),
        (("haul", "front-9.25-unit-baring"), "front-9.25-unit-bearing"),
    ]:
        failed = hunt(*args)
        assert failed.exit_code in (3, 5), failed.output
        assert word in failed.output
        assert "Traceback" not in failed.output
