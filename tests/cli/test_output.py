"""Tables keep to the width, figures to the right, verdicts in words; colours stand on terminals alone."""

import click
import pytest
from click.testing import CliRunner

from donorbase.cli import output
from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.main import cli

ROWS = [["front-9.75-balljoint/a-2005-2010-srw", "does not fit", "1,450", "12%"], ["x", "fits", "900", "100%"]]
HEADS = ["axle", "verdict", "landed, USD", "chance"]


def test_figures_stand_to_the_right_under_heads_with_units() -> None:
    lines = click.unstyle(output.laid_out(ROWS, HEADS, 80)).splitlines()
    assert lines[0].startswith("axle")
    assert lines[2].endswith("1,450     12%")
    assert lines[3].endswith("900    100%")


@pytest.mark.parametrize("room", [80, 60, 40])
def test_no_line_is_longer_than_the_terminal(room: int) -> None:
    text = click.unstyle(output.laid_out(ROWS, HEADS, room))
    assert max(map(len, text.splitlines())) <= room
    for word in ("fits", "1,450", "100%"):
        assert word in text


def test_what_no_table_holds_is_a_block_for_each_row() -> None:
    heads = [f"column{i}" for i in range(9)]
    text = output.laid_out([["word"] * 9, ["", *["other"] * 8]], heads, 40)
    first, second = text.split("\n\n")
    assert first.splitlines()[0] == "column0: word"
    assert "column0" not in second, "what is not known takes no line"


@click.command()
@json_form
@csv_form
def two_tables() -> None:
    output.heading("First")
    output.say("Words between.")
    output.show_table([("=1+1", 4.10)], ("what", "ratio"))
    output.heading("Second")
    output.show_table([], ("what", "ratio"), "None.")
    output.show_table([("a", "b", True)], ("x", "y", "z"))
    output.done({"done": 1}, "Done.")


def told(*args: str, colour: bool = False) -> str:
    done = CliRunner().invoke(two_tables, args, color=colour)
    assert done.exit_code == 0, done.stderr
    return done.stdout


def test_csv_is_the_tables_alone_each_row_with_its_heading() -> None:
    assert told("--csv") == "table,what,ratio\nFirst,'=1+1,4.1\n\ntable,x,y,z\nSecond,a,b,yes\n"


def test_json_is_the_value_alone() -> None:
    assert told("--json") == '{\n  "done": 1\n}\n'


def test_words_say_what_is_empty() -> None:
    text = told()
    assert "None." in text
    assert "Done." in text


def test_two_forms_at_once_are_refused() -> None:
    done = CliRunner().invoke(two_tables, ["--csv", "--json"])
    assert done.exit_code == 2
    assert "choose one" in done.stderr


def test_a_verdict_is_a_word_and_a_colour() -> None:
    text = output.laid_out(ROWS, HEADS, 80)
    assert click.style("fits", fg="green") in text
    assert "does not fit" in click.unstyle(text)


@pytest.mark.parametrize("env", [{"NO_COLOR": "1"}, {}], ids=["NO_COLOR", "a terminal"])
def test_no_colour_where_none_is_wanted(env: dict[str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in env.items():
        monkeypatch.setenv(name, value)
    done = CliRunner().invoke(cli, ["guide", "axle"], color=True)
    assert ("\x1b[" in done.stdout) == (not env)
    assert "\x1b[" not in CliRunner().invoke(cli, ["guide", "axle"]).stdout, "a pipe"


@pytest.mark.parametrize("columns", [40, 60, 80])
def test_sentences_keep_to_the_width_too(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    for line in CliRunner().invoke(cli, ["guide", "axle"]).stdout.splitlines():
        assert len(line) <= columns or line.startswith("  donorbase"), line
