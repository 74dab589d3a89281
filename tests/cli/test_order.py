"""``order``: what is printed, and what cannot be ordered."""

import json
from pathlib import Path

import pytest

AXLE = "front-9.75-balljoint/a-2005-2010-srw"
DEMO = str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml")
ADVERT = "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $900 obo, 555-0101"


def test_every_line_says_go_stop_or_unclear_and_its_basis(run) -> None:
    result = run("order", "--variant", AXLE, "--ratio", "41/8", "--cut", "standard", "--other-ratio", "5.13")
    assert result.exit_code == 0, result.stderr
    assert result.stdout.startswith("STOP")
    for words in ("STOP spiral", "GO teeth front and rear", "UNCLEAR generation", "5.13, 41/8 teeth", "Basis:"):
        assert words in result.stdout


def test_as_json(run) -> None:
    found = json.loads(run("order", "--variant", AXLE, "--locker", "air", "--locker-splines", "30", "--json").stdout)
    assert found["order"] == "stop"
    assert {line["light"] for line in found["lines"]} <= {"go", "stop", "unclear"}
    assert all(line["settle"] for line in found["lines"] if line["light"] == "unclear")


def test_an_advert_and_a_build(run) -> None:
    result = run("order", "--listing", "-", "--build", DEMO, "--saw", "pinion=high", text=ADVERT)
    assert result.exit_code == 0, result.stderr
    assert "5.13 (41/8 teeth) against 5.13" in result.stdout


@pytest.mark.parametrize(
    ("args", "code", "word"),
    [
        ([], 3, "no axle was named"),
        (["--variant", AXLE], 3, "nothing is ordered"),
        (["--variant", AXLE, "--ratio", "99"], 3, "99"),
        (["--variant", AXLE, "--locker", "magnetic"], 3, "air, electric"),
        (["--variant", "front-9.75-balljoint/a-2005-2010-swr", "--ratio", "4.56"], 5, AXLE),
        (["--variant", AXLE, "--listing", "x"], 2, "choose one"),
        (["--variant", AXLE, "--ratio", "4.56", "--made-for", "soon"], 3, "years"),
        (["--listing", "nowhere.txt", "--ratio", "4.56"], 3, "nowhere.txt"),
    ],
)
def test_what_cannot_be_ordered(run, args: list[str], code: int, word: str) -> None:
    result = run("order", *args)
    assert result.exit_code == code
    assert word in result.stderr
    assert result.stdout == ""


def test_the_lockers_made_for_an_axle(run) -> None:
    result = run("order", "--variant", AXLE, "--lockers")
    assert result.exit_code == 0, result.stderr
    for words in ("air-actuated selectable", "electric selectable", "35-spline", "4.10 and down / 4.56 and up", "35."):
        assert words in result.stdout
    found = json.loads(run("order", "--saw", "cover_bolts=14", "--end", "rear", "--lockers", "--json").stdout)
    chances: dict[str, float] = {}
    for locker in found["lockers"]:
        chances[locker["kind"]] = chances.get(locker["kind"], 0) + locker["chance"]
    assert set(chances) == {"air", "electric", "automatic", "limited-slip", "spool"}
    assert all(0.5 < chance <= 1.001 for chance in chances.values())


def test_a_joint_between_two_yokes(run) -> None:
    result = run(
        "calc", "joint", "--cap", "1.062in", "--span", "3.219in", "--other-cap", "1.188in", "--other-span", "3.625in"
    )
    assert "adapter (combination) joint 1310 to 1350" in " ".join(result.stdout.split())
    found = json.loads(run("calc", "joint", "--cap", "1.188in", "--json").stdout)
    assert found["settled"] is False
    assert "clips" in found["tells_apart"]
