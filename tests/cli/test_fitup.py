"""``build fitup``: boxes to tick for print, JSON for programs."""

import json
from pathlib import Path

import pytest

CRAWLER = str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml")
AXLE = "front-9.75-balljoint/a-2005-2010-srw"


def test_the_printed_sheet(run) -> None:
    result = run("build", "fitup", CRAWLER, "--variant", AXLE, "--text", "--measured", "caster_deg=2.5")
    assert result.exit_code == 0, result.stderr
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) <= 78
    boxes = [line for line in lines if line.startswith("[ ] ")]
    assert [int(box.split()[2].rstrip(".")) for box in boxes] == list(range(1, len(boxes) + 1))
    assert len(boxes) > 30
    for words in ("BEFORE ANYTHING IS WELDED", "BEFORE THE FIRST DRIVE", "Have it inspected", "common practice"):
        assert words in result.stdout


def test_as_json(run) -> None:
    found = json.loads(run("build", "fitup", CRAWLER, "--variant", AXLE, "--json").stdout)
    assert {"build", "axles", "stages", "points", "cautions"} <= found.keys()
    assert all(point["basis"] and point["do"] for point in found["points"])


def test_an_advert(run) -> None:
    advert = "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $900 obo, 555-0101"
    result = run("build", "fitup", CRAWLER, "--listing", "-", text=advert)
    assert result.exit_code == 0, result.stderr
    assert "Springs out" in result.stdout


def test_names_are_listed(run) -> None:
    assert "drag_frame" in run("build", "fitup", CRAWLER, "--names").stdout


@pytest.mark.parametrize(
    ("args", "code", "word"),
    [
        (["--variant", AXLE, "--measured", "caster=2"], 3, "caster_deg"),
        (["--variant", AXLE, "--measured", "caster_deg"], 2, "NAME=VALUE"),
        (["--variant", "front-9.75-balljoint/a-2005-2010-swr"], 5, AXLE),
        (["--variant", AXLE, "--listing", "x"], 2, "choose one"),
        (["--variant", AXLE, "--text", "--json"], 2, "choose one"),
    ],
)
def test_what_cannot_be_shown(run, args: list[str], code: int, word: str) -> None:
    result = run("build", "fitup", CRAWLER, *args)
    assert result.exit_code == code
    assert word in result.stderr
    assert result.stdout == ""
