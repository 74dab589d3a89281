"""``donorbase calc``: every sum runs, names its source, prints JSON, and refuses what it cannot reckon."""

import json
import shlex
import subprocess
import sys
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

from donorbase.cli.calc import calc
from donorbase.cli.main import cli

SUMS = calc.list_commands(click.Context(calc))


def run(line: list[str]) -> Result:
    return CliRunner().invoke(cli, ["calc", *line])


def answer(*line: str) -> dict[str, Any]:
    result = run([*line, "--json"])
    assert result.exit_code == 0, result.stderr
    found: dict[str, Any] = json.loads(result.stdout)
    return found


# A line for each sum, and words that its answer on a terminal must hold.
LINES = [
    (
        "gearing --tires 32 --tires 40x13.50R17 --was-ratio 4.10 --was-tires 32 --ratio 5.13",
        ["5.13", "5.12", "2802"],
    ),
    ("mismatch 4.10 4.11", ["0.27 %", "match", "41/10", "37/9"]),
    ("mismatch 4.10 3.73", ["no four-wheel drive"]),
    ("ratio 4.56", ["41/9", "4.5556"]),
    ("ratio --turns 10 --pinion 18 --method one-held", ["3.600"]),
    ("ratio --tell 3.55 --tell 3.73", ["2 turns"]),
    ("ratio --tell 4.10 --tell 4.1001", ["count the teeth"]),
    ("shaft --splines 30 --splines 35", ["1.500", "2786-3900", "Caution"]),
    (
        "shaft --splines 35 --ratio 4.56 --engine 330 --first 4 --low 2.72 --axle-load 3000 --tires 35 --locked",
        ["traction governs", "3938", "1.15-1.60"],
    ),
    (
        "shaft --ratio 4.56 --engine 330 --axle-load 3000 --tires 35 --angle 35",
        ["engine governs", "40"],
    ),
    ("shaft --caliper 1.50in", ["35", "24/48"]),
    ("shaft --caliper 3in", ["No axle spline"]),
    ("joint --cap 1.062in --span 3.219in", ["1310"]),
    ("joint --cap 9in", ["No series"]),
    ("joint --rpm 3000 --angle 30", ["5.8 degrees", "0.866", "1.155"]),
    ("tires LT285/70R17 7.50-16", ["32.71", "measure it"]),
    (
        "wheel --rim 9.5in --backspacing 3.75in --tires 40x13.50R17 --face-to-face 69.5in",
        ["86.0 in", "102", "State"],
    ),
    ("wheel --rim 8 --offset +35", ["5.88 in"]),
    ("wheel --rim 9.5 --tires 40x13.50R17 --face-to-face 69.5", ["3.75", "-38", "86.0", "+16.0"]),
    ("wheel --rotor 13.3in --reach 7.5in", ["15.25 in", "try it on"]),
    ("bolt-circle 8x6.5", ["165.1", "63.2"]),
    ("bolt-circle --lugs 8 --length 64mm --measure neighbor", ["Cannot tell", "opposite"]),
    ("bolt-circle --lugs 8 --length 170 --edges", ["It is 8x170"]),
    ("brakes --pistons 2 --piston 2.10in --bore 1.125in", ["psi", "licensed"]),
    ("caster --caster 2.5 --pinion 10.5 --want-caster 5.75 --want-pinion 10.5", ["+3.25 degrees", "welder"]),
    (
        "steering --drag-link 36in --drag-angle 4 --track-bar 36in --track-angle 4 --arm 7in",
        ["+0.00", "licensed"],
    ),
    ("vin 1M8GDM9AXKP042788", ["1989 or 2019", "The check digit holds"]),
    ("vin 1M8GDM9AXKPO42788", ["which no number has", "1M8GDM9AXKP042788"]),
    ("vin WP0ZZZ99ZTS392124", ["another market"]),
    ("tie-down 600 --strap 500 --strap 500 --packed 80 48 36", ["261", "7.5 lb", "class 125", "enough"]),
    ("tie-down 600 --strap 100", ["Not enough"]),
    ("wait --saving 250 --gone 40 --dearer 300", ["brings 30 USD", "45%"]),
    ("distance 36.12,-86.67 33.94,-118.40", ["About 1794 miles"]),
    ("distance -- -36.12,86.67 -33.94,118.40", ["About 1794 miles"]),
    ("distance -36.12,86.67 -33.94,118.40", ["About 1794 miles"]),
]


@pytest.mark.parametrize(("line", "words"), LINES, ids=[line for line, _ in LINES])
def test_a_sum_says_its_result_and_its_source(line: str, words: list[str]) -> None:
    result = run(shlex.split(line))
    assert result.exit_code == 0, result.stderr
    for word in [*words, "Source: "]:
        assert word in result.stdout


@pytest.mark.parametrize("line", [line for line, _ in LINES if " -- " not in line])
def test_every_sum_prints_json_with_its_source(line: str) -> None:
    found = answer(*shlex.split(line))
    assert found["source"]
    assert {"assumes", "cautions"} <= found.keys()
    assert len(found) > 3


def test_every_sum_was_tried() -> None:
    assert len(SUMS) == 15
    assert {shlex.split(line)[0] for line, _ in LINES} == set(SUMS)


@pytest.mark.parametrize("name", SUMS)
def test_every_help_has_an_example_that_runs(name: str) -> None:
    text = run([name, "--help"])
    assert text.exit_code == 0
    lines = text.stdout.splitlines()
    shown = [line.strip().removeprefix("donorbase calc ") for line in lines if "    donorbase calc" in line]
    assert len(shown) == 1
    assert run(shlex.split(shown[0])).exit_code == 0


def test_the_list_of_sums_loads_none_of_them() -> None:
    program = (
        "import sys; from donorbase.cli.calc import calc; calc(['--help'], standalone_mode=False);"
        "heavy = {'tabulate', 'sqlmodel', 'sqlalchemy', 'rapidfuzz', 'donorbase.engineering'};"
        "print('HEAVY', sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert "bolt-circle" in done.stdout
    assert "HEAVY []" in done.stdout


def test_help_of_a_sum_costs_only_click() -> None:
    program = (
        "import sys; from donorbase.cli.calc import calc; calc(['shaft', '--help'], standalone_mode=False);"
        "loads = ('donorbase.eng', 'donorbase.ref', 'tabulate');"
        "print('OURS', sorted(m for m in sys.modules if m.startswith(loads)))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert "OURS []" in done.stdout


NOT_A_SUM = [
    ("gearing --tires big", "--tires", "40x13.50R17"),
    ("gearing --tires 7.50-16", "states no diameter", "Measure"),
    ("gearing --tires 40 --was-ratio 4.10", "go together", "old tires"),
    ("mismatch 4.10 410", "not an axle ratio", "41/10"),
    ("mismatch 4.10 4.10 --front-tires 35", "one end only", "neither"),
    ("ratio", "nothing to reckon", "--turns"),
    ("ratio --turns 0 --pinion 41", "above 0", "ten times"),
    ("shaft", "no spline count", "--caliper"),
    ("shaft --splines 35 --engine 330", "--axle-load", "together"),
    ("shaft --splines 3", "no shaft spline", "6 and 60"),
    ("joint", "nothing to reckon", "--cap"),
    ("joint --rpm 9000", "outside the chart", "5000"),
    ("tires 8x6.5", "not a tire size", "40x13.50R17"),
    ("wheel", "nothing to reckon", "--rim"),
    ("wheel --backspacing 4", "rim's width", "--rim"),
    ("wheel --rim 8 --backspacing 4 --offset 5", "the same thing", "one of them"),
    ("bolt-circle", "nothing to reckon", "--lugs"),
    ("bolt-circle --lugs 5 --length 114.3", "cannot be measured on 5", "every second"),
    ("brakes --pistons 3 --fixed --piston 50 --bore 1", "3 pistons", "even number"),
    ("brakes --pistons 2 --piston wide --bore 1", "--piston", "170mm"),
    (
        "steering --drag-link 3in --drag-angle 4 --track-bar 36in --track-angle 4 --arm 7in",
        "cannot rise",
        "travel",
    ),
    ("vin 123", "17", "door label"),
    ("tie-down heavy", "not a weight", "600 lb"),
    ("distance here there", "no ZIP", "five digits"),
    ("distance 39,x there", "not a place", "latitude"),
]


@pytest.mark.parametrize(("line", "what", "next_step"), NOT_A_SUM, ids=[line for line, *_ in NOT_A_SUM])
def test_what_cannot_be_reckoned_says_what_would(line: str, what: str, next_step: str) -> None:
    result = run(shlex.split(line))
    assert result.exit_code == 3
    assert result.stdout == ""
    assert what in result.stderr
    assert next_step in result.stderr.partition("Next: ")[2]


def test_quantities_as_people_write_them() -> None:
    as_inches = answer("wheel", "--rim", "9 1/2 in", "--backspacing", "3 3/4in")
    assert as_inches["offset_mm"] == -38.1
    assert answer("wheel", "--rim", "9.5", "--offset", "-1.5in")["backspacing_in"] == 3.75
    brakes = answer(
        *[
            "brakes",
            "--pistons",
            "4",
            "--fixed",
            "--piston",
            "42mm",
            "--bore",
            "25.4mm",
            "--pedal",
            "300N",
            "--pedal-ratio",
            "3.5",
        ]
    )
    assert brakes["one_side_area_in2"] == pytest.approx(2770.9 / 645.16, abs=1e-3)


def test_brakes_beside_the_yardstick_of_the_safety_standard() -> None:
    line = "brakes --pistons 2 --piston 2.10in --bore 1.125in --pedal 100 --booster 500 --rotor-radius 5.3in"
    found = answer(*shlex.split(line), "--tires", "35", "--weight", "5500", "--friction", "0.4")
    boosted, dead = found["stops"]
    assert boosted["stop"]["ground_lb"] == pytest.approx(1519.6, abs=0.1)
    assert dead["stop"]["torque_lbft"] == pytest.approx(984.9, abs=0.1)
    # 168 m from 100 km/h (49 CFR 571.135 S7.11.4).
    assert found["yardstick_booster_dead_g"] == pytest.approx(0.234, abs=5e-4)


def test_other_calipers_and_the_bore_that_goes_with_them() -> None:
    line = "brakes --pistons 2 --piston 60 --bore 1in --old-pistons 1 --old-piston 2.94in"
    found = answer(*shlex.split(line))
    assert found["change"]["pedal_travel"] == pytest.approx(2 * 60**2 / (2.94 * 25.4) ** 2, abs=1e-4)
    assert found["bore_for_same_travel_in"] > 1


def test_a_cycle_of_years_that_lies_in_the_future_is_left_out() -> None:
    found = answer("vin", "1M8GDM9AXYP042788")
    assert found["years"] == [2000]


# Sums whose result leads to work that can hurt somebody, and a word that its caution must hold.
DANGEROUS = [
    ("brakes --pistons 2 --piston 60 --bore 1.25", "licensed"),
    ("caster --caster 2 --pinion 3 --want-caster 5 --want-pinion 3", "welder"),
    ("steering --drag-link 36 --drag-angle 4 --track-bar 36 --track-angle 4 --arm 7", "licensed"),
    ("joint --angle 20", "licensed"),
    ("shaft --splines 35", "no promise"),
    ("tie-down 600", "ratings"),
    ("wheel --rim 9 --offset 0", "State"),
]


@pytest.mark.parametrize(("line", "word"), DANGEROUS)
def test_work_that_can_hurt_carries_its_caution(line: str, word: str) -> None:
    assert any(word in caution for caution in answer(*shlex.split(line))["cautions"])


def test_a_slip_names_the_sum_that_was_meant() -> None:
    result = run(["tire", "40"])
    assert result.exit_code == 2
    assert "Did you mean tires" in result.stderr
