"""Each error says what to do next, and each command that any text of the program names is there."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from donorbase.cli.main import cli

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "donorbase"
FAMILY = {"BadInput": 1, "NotFound": 1, "Held": 1, "BadDatabase": 1, "Damaged": 1, "BadData": 2}
"""The errors, with the place of what to do next among their arguments."""
OF_ROWS = {
    "reading", "services/shelf_csv.py", "services/shelf_rows.py", "services/source_fields.py",
    "services/source_lines.py", "services/source_mail.py", "services/sources.py", "services/yard_lists.py",
}  # fmt: skip
"""Where a fault is of one row of many: it is told with its place; what to do next stands behind the last of them."""
DATA = {"attributes.py", "reference", "services/interview.py", "verdict", "identity"}
"""Where the fault may be of a file of data, whose lines are named: to mend them is what is next."""


def raised() -> Iterator[tuple[str, ast.Call, str]]:
    for path in sorted(PACKAGE.rglob("*.py")):
        place = path.relative_to(PACKAGE).as_posix()
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
                name = ast.unparse(node.exc.func)
                if name in FAMILY:
                    yield place, node.exc, name


def next_step(call: ast.Call, name: str) -> ast.expr | None:
    named = [word.value for word in call.keywords if word.arg == "next_step"]
    return named[0] if named else (call.args[FAMILY[name] :] or [None])[0]


def in_room(place: str, rooms: set[str]) -> bool:
    return place in rooms or place.split("/")[0] in rooms


def test_every_error_says_what_to_do_next() -> None:
    looked, silent = 0, []
    for place, call, name in raised():
        looked += 1
        step = next_step(call, name)
        empty = step is None or (isinstance(step, ast.Constant) and not step.value)
        maybe_empty = isinstance(step, ast.IfExp) and isinstance(step.orelse, ast.Constant) and not step.orelse.value
        if (empty and not in_room(place, OF_ROWS | DATA)) or maybe_empty:
            silent.append(f"{place}:{call.lineno}: {ast.unparse(call)[:90]}")
    assert looked > 200, "too few errors seen: the test looks in the wrong place"
    assert not silent, "\n".join(silent)


def texts() -> Iterator[tuple[str, str]]:
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield path.relative_to(ROOT).as_posix(), node.value
    for path in (ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "data" / "guide.toml"):
        yield path.name, path.read_text("utf-8")


def unknown(words: list[str]) -> str:
    """The first word that should be a command and is none."""
    command: click.Command = cli
    while isinstance(command, click.Group):
        while words and words[0].startswith("-"):
            words = words[2:] if words[0] == "--db" else words[1:]
        if not words or not re.fullmatch(r"[a-z][a-z-]*", words[0]):
            return ""
        inner = command.get_command(click.Context(command), words[0])
        if inner is None:
            return words[0]
        command, words = inner, words[1:]
    return ""


def test_every_command_that_is_named_is_there() -> None:
    named = [(place, told) for place, text in texts() for told in re.findall(r"`donorbase ([^`]+)`", text)]
    assert len(named) > 150
    wrong = [f"{place}: donorbase {told}" for place, told in named if unknown(told.split())]
    assert not wrong, "\n".join(wrong)


ODD = [
    (["chekc"], "Did you mean check?"),
    (["part", "lsit"], "Did you mean list"),
    (["build", "ad"], "Did you mean"),
    (["db", "bakup"], "Did you mean"),
    (["words", "lern"], "Did you mean"),
    (["part", "list", "--stat", "shelf"], "--state"),
    (["candidate", "list", "--state", "wathcing"], "watching"),
    (["find", "--lug", "8"], "--lugs"),
    (["check", "--biuld", "x"], "--build"),
    (["calc", "gearng"], "Did you mean gearing"),
    (["candidate", "show", "twelve"], "twelve"),
    (["candidate", "visiting", "12", "--on", "tomorrow"], "%Y-%m-%d"),
]


@pytest.mark.parametrize(("args", "hint"), ODD, ids=[" ".join(args) for args, _ in ODD])
def test_a_slip_is_told_with_what_was_meant(args: list[str], hint: str) -> None:
    from click.testing import CliRunner

    done = CliRunner().invoke(cli, args)
    assert done.exit_code == 2
    assert hint in done.stderr
    assert "--help" in done.stderr
    assert "Such as: donorbase " in done.stderr
    assert done.stdout == ""
