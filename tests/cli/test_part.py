"""The shelf from the command line."""

import json

import pytest

from donorbase.shipped import data_dir

KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"


@pytest.fixture
def shelf(run_fresh):
    added = run_fresh(
        "part", "add", "knuckle", "--side", "left", "--axle", KINGPIN, "--place", "shed 3", "--cost", "$40.50",
        "--year", "1985", "--miles", "90000", "--note", "one stud pulled", "--who", "sam", "--on", "2026-11-02",
    )  # fmt: skip
    assert added.exit_code == 0, added.stderr
    assert added.stdout.startswith("AAC4 ")
    return run_fresh


def test_a_part_is_kept_in_one_line_and_shown(shelf) -> None:
    shown = shelf("part", "show", "aac4").stdout
    for words in ("knuckle, left", "shed 3", "40.50", "one stud pulled", "Grade A: 90,000 miles"):
        assert words in shown
    (kept,) = json.loads(shelf("part", "list", "--json").stdout)
    assert kept["cost_usd"] == "40.50"


def test_who_has_it_is_told_on_stderr_with_an_exit_code_of_its_own(shelf) -> None:
    assert shelf("part", "reserve", "AAC4", "--for", "Kim").exit_code == 0
    refused = shelf("part", "sell", "AAC4", "60", "--to", "Lee")
    assert refused.exit_code == 7
    assert "reserved (Kim)" in refused.stderr
    assert "Next: `donorbase part release AAC4`" in refused.stderr
    assert shelf("part", "sell", "AAC4", "60", "--to", "Kim").exit_code == 0
    assert json.loads(shelf("part", "list", "--json").stdout) == []
    assert json.loads(shelf("part", "list", "--all", "--json").stdout)[0]["price_usd"] == "60.00"


def test_a_misread_tag_and_one_that_nobody_has(shelf) -> None:
    assert "misread" in shelf("part", "show", "AAC7").stderr
    nobody = shelf("part", "show", "AAEY")
    assert nobody.exit_code == 5
    assert "donorbase part list" in nobody.stderr


def test_history_shows_what_was_taken_back(shelf) -> None:
    assert "lies: loft" in shelf("part", "move", "AAC4", "loft").stdout
    assert "place loft (before shed 3)" in shelf("part", "undo", "AAC4").stdout
    told = shelf("part", "history", "AAC4").stdout
    assert "sam" in told
    assert "takes back: moved" in told
    events = json.loads(shelf("part", "history", "AAC4", "--json").stdout)
    assert [e["kind"] for e in events] == ["added", "moved", "undo"]
    assert "shed 3" in shelf("part", "show", "AAC4").stdout


def test_a_reading_is_judged_and_shown(shelf) -> None:
    shelf("part", "add", "rotor", "--axle", KINGPIN)
    told = shelf("part", "measure", "AAEY", "rotor-thickness", "1.44in", "--with", "caliper")
    assert told.stdout.startswith("OUT")
    words = " ".join(told.stdout.split()).replace("- ", "-")
    assert "TM 9-2320-289-34" in words
    assert "number cast on it" in words
    assert "rotor-thickness 1.44 in, caliper: out" in shelf("part", "show", "AAEY").stdout
    refused = shelf("part", "measure", "AAC4", "rotor-thickness", "1.44in")
    assert refused.exit_code == 3
    assert len(json.loads(shelf("part", "measures", "--json").stdout)) > 10


def test_fits_matrix_and_needs(shelf) -> None:
    twin = "front-9.75-kingpin/mil-1984-1987"
    assert "use TAG --build" in shelf("part", "fits", "AAC4").stdout
    assert shelf("part", "add", "rotor", "--axle", KINGPIN).exit_code == 0
    told = shelf("part", "fits", "aaey", "--axle", twin).stdout
    assert told.startswith("YES: AAEY (rotor)")
    assert "does not certify" in told
    rows = shelf("part", "matrix", "--axle", twin, "--csv").stdout.splitlines()
    assert rows == [f"tag,part,{twin}", 'AAC4,"knuckle, left",not known', "AAEY,rotor,yes"]
    assert shelf("build", "add", str(data_dir() / "demo" / "crawler.toml")).exit_code == 0
    wanted = shelf("part", "needs", "crawler", "--axle", twin, "--lacks", "rotor")
    assert "Left to buy about 75 USD." in wanted.stdout
    (axle,) = json.loads(shelf("part", "needs", "crawler", "--axle", twin, "--lacks", "rotor", "--json").stdout)
    assert [(need["covered"], need["left"]) for need in axle["needs"]] == [(["AAEY"], 1)]


def test_an_axle_is_taken_apart_and_made_whole(shelf) -> None:
    shelf("part", "add", "axle", "--axle", KINGPIN, "--cost", "100")
    taken = json.loads(shelf("part", "split", "AAEY", "rotor=1", "rotor=1", "caliper:left=1", "--json").stdout)
    assert [piece["cost_usd"] for piece in taken["pieces"]] == ["33.34", "33.33", "33.33"]
    assert "3 pieces are taken out" in shelf("part", "rejoin", "AAEY").stdout
    put = shelf("part", "assemble", "AAC4", "--axle", KINGPIN)
    assert "cost 40.50" in put.stdout
    whole = put.stdout.split()[0]
    assert "1 pieces are free again" in shelf("part", "apart", whole).stdout.replace("1 piece ", "1 pieces ")


def test_the_shelf_goes_to_another_database(shelf, tmp_path) -> None:
    file = tmp_path / "shelf.json"
    file.write_text(shelf("part", "export").stdout, "utf-8")
    assert shelf("part", "import", str(file)).stdout == "Added 0; 1 were here already.\n"
    file.write_bytes(b"\xff\x00\x01")
    assert shelf("part", "import", str(file)).exit_code == 3


def test_a_list_as_csv_does_no_harm_in_a_spreadsheet(shelf) -> None:
    shelf("part", "move", "AAC4", "=cmd|'/c calc'!A1")
    assert "'=cmd" in shelf("part", "list", "--csv").stdout


@pytest.mark.parametrize("wrong", ["forty", "-3", "1.005", "1e9", "NaN"])
def test_what_is_no_money_is_refused(shelf, wrong: str) -> None:
    refused = shelf("part", "set", "AAC4", "--cost", wrong)
    assert refused.exit_code == 3
    assert "no amount of money" in refused.stderr


def test_kinds_are_listed(shelf) -> None:
    assert len(json.loads(shelf("part", "kinds", "--json").stdout)) > 20
