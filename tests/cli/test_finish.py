"""``donorbase finish``: several offers side by side."""

import json
from pathlib import Path

import pytest

CRAWLER = str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml")
OFFERS = {
    "complete": "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, driver side, complete, 5.13s. $1500",
    "housing": "2010 one ton coil front housing, SRW, 9.75, 8x170, driver drop. No shafts, hubs, brakes or gears. $250",
    "wanted": "WANTED: front axle off a 2008 one ton, 8x170. 555-0101",
}


@pytest.fixture
def files(tmp_path: Path) -> list[str]:
    for name, text in OFFERS.items():
        (tmp_path / f"{name}.txt").write_text(text)
    return [str(tmp_path / f"{name}.txt") for name in ("housing", "wanted", "complete")]


def test_offers_stand_side_by_side_the_cheapest_first(run, files: list[str]) -> None:
    found = json.loads(run("finish", *files, "--build", CRAWLER, "--distance-mi", "40", "--json").stdout)
    assert [one["name"] for one in found] == ["complete", "housing", "wanted"]
    complete, housing, wanted = found
    assert complete["spared"] == ["regear"]
    assert complete["cost_usd"]["likely"] < housing["cost_usd"]["likely"]
    assert housing["kind"] == "housing"
    assert not wanted["reachable"]
    for one in (complete, housing):
        assert sum(line["cost_usd"]["likely"] for line in one["lines"]) == pytest.approx(
            one["cost_usd"]["likely"], abs=len(one["lines"])
        )


def test_the_tables_name_every_offer_and_what_it_is_spared(run, files: list[str]) -> None:
    result = run("finish", *files, "--build", CRAWLER)
    assert result.exit_code == 0, result.stderr
    for words in ("complete is spared: regear", "wanted cannot be finished", "nine in ten", "(planned)"):
        assert words in result.stdout


def test_a_distance_for_each(run, files: list[str]) -> None:
    found = json.loads(
        run(
            "finish",
            *files,
            "--build",
            CRAWLER,
            "--distance-mi",
            "10",
            "--distance-mi",
            "20",
            "--distance-mi",
            "100",
            "--json",
        ).stdout
    )
    travel = {
        one["name"]: line["cost_usd"]["likely"] for one in found for line in one["lines"] if line["label"] == "travel"
    }
    assert travel["housing"] == 9
    assert travel["complete"] == 90


def test_distances_that_do_not_go_with_the_files(run, files: list[str]) -> None:
    result = run("finish", *files, "--build", CRAWLER, "--distance-mi", "10", "--distance-mi", "20")
    assert result.exit_code == 2
    assert "one for each file" in result.stderr
