"""``read --correct`` and ``words learn`` from a terminal."""

import json
from pathlib import Path

LINES = {"line-A": "kelpwagon", "line-B": "brontrig"}


def taught_region(run_fresh, folder: Path) -> None:
    for number in range(12):
        line = list(LINES)[number % 2]
        advert = folder / f"{number}.txt"
        advert.write_text(f"Front axle out of a {LINES[line]}, 8 lug. Lot {number}. $400")
        done = run_fresh("read", str(advert), "--correct", f"donor_line={line}")
        assert done.exit_code == 0, done.output


def test_a_correction_is_kept_and_shown_beside_the_reading(run_fresh) -> None:
    done = run_fresh("read", "-", "--correct", "lugs=6", "--correct", "drop=driver", text="front axle, 8 lug, $400")
    assert done.exit_code == 0
    rows = [line.split() for line in done.stdout.splitlines()]
    assert ["lugs", "6", "8"] in rows
    assert ["drop", "driver", "nothing"] in rows
    done = run_fresh("read", "--json", "--correct", "lugs=6", "--item", "1", text="front axle, 8 lug, $400")
    assert json.loads(done.stdout) == [{"attribute": "lugs", "kept": "6", "read": ["8"]}]


def test_words_are_learned_refused_and_taken_back(run_fresh, tmp_path: Path) -> None:
    assert "No phrase" in run_fresh("words", "learn").stdout
    taught_region(run_fresh, tmp_path)
    found = json.loads(run_fresh("words", "learn", "--json").stdout)
    assert [(p["phrase"], p["meaning"], p["with"], p["without"]) for p in found] == [
        ("brontrig", "donor_line=line-B", [6, 0], [0, 6]),
        ("kelpwagon", "donor_line=line-A", [6, 0], [0, 6]),
    ]
    assert "6 / 0" in run_fresh("words", "learn").stdout
    assert "now means donor_line=line-A" in run_fresh("words", "learn", "--accept", "kelpwagon").stdout
    assert "learned from 6 listings" in run_fresh("words", "list").stdout
    read = json.loads(run_fresh("read", "--json", text="kelpwagon front axle, $300").stdout)
    assert read["items"][0]["donor_line"] == "line-A"
    assert "not be proposed again" in run_fresh("words", "learn", "--refuse", "brontrig").stdout
    assert json.loads(run_fresh("words", "learn", "--json").stdout) == []
    assert "may be proposed again" in run_fresh("words", "remove", "brontrig").stdout
    assert run_fresh("words", "remove", "kelpwagon").exit_code == 0
    assert len(json.loads(run_fresh("words", "learn", "--json").stdout)) == 2


def test_what_does_not_go_together_is_said(run_fresh) -> None:
    advert = "front axle, 8 lug, $400"
    for wrong in (
        ("read", "--correct", "lugs=8", "--steps"),
        ("read", "--item", "1"),
        ("words", "learn", "donor_line=line-A"),
        ("words", "learn", "--accept", "a", "--refuse", "b"),
    ):
        assert run_fresh(*wrong, text=advert).exit_code == 2, wrong
    for wrong, told in (
        (("read", "--correct", "lugs=8", "--item", "3"), "1 things, not 3"),
        (("read", "--correct", "price_usd=8"), "whole offer"),
        (("words", "learn", "--accept", "kelpwagon"), "not proposed"),
        (("words", "remove", "kelpwagon"), "taught no word"),
    ):
        done = run_fresh(*wrong, text=advert)
        assert done.exit_code != 0
        assert told in done.output + str(done.exception)
