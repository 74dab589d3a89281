"""Every command and group, found by walking the tree: it has an example that works, and the forms of its answer."""

import csv
import io
import json
import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from donorbase.cli import output
from donorbase.cli.main import cli
from donorbase.reference.guide import pages
from donorbase.services.cells import is_number
from tests.cli.lived_in_home import BEFORE, make_home
from tests.cli.test_main import walk

pytestmark = pytest.mark.sqlite

NOT_RUN = {
    "db copy": "needs a server; tests/services/test_moving.py copies onto one",
    "db roles": "needs a server; tests/services/test_sharing.py has the SQL run there",
    "serve": "does not end; tests/web/test_pages.py serves",
}
NO_JSON = {
    "build new": "a dialogue that writes a file",
    "build edit": "opens an editor",
    "completion": "prints a script for a shell",
    "db roles": "prints SQL",
    "demo": "a show for people; check --json has the same of one advert",
    "man": "prints a page for man",
    "part bill": "a page to sign",
    "part export": "prints JSON as it is",
    "screen": "writes lines of JSON as it is",
    "serve": "serves pages",
    "words export": "prints CSV that is read back",
    "words sheet": "prints CSV to fill in",
}
NO_CSV = {
    "demo": "a show for people",
    "candidate import": "tells what was done; candidate list --csv has what is kept",
}
ANSWERS = {"build new": "\n" * 60, "identify": "q\n"}
LEFT_OUT = {"--text"}
"""Options that ask for another form, as -o does: left out where one is asked for."""


def name_of(path: tuple[str, ...]) -> str:
    return " ".join(path) or "donorbase"


def examples(command: click.Command) -> list[str]:
    """The lines of the examples, those that go on put together."""
    told, begun = [], False
    for line in (command.epilog or "").splitlines():
        if re.match(r"Examples?:", line.strip()):
            begun = True
        elif begun and not line.strip():
            break
        elif begun and line.startswith("     "):
            told[-1] += " " + line.strip()
        elif begun:
            told.append(line.strip())
    return told


COMMANDS = [(name_of(path), command) for path, command in walk(cli)]
EXAMPLES = [(name, line) for name, command in COMMANDS for line in examples(command)]


def options_of(command: click.Command) -> set[str]:
    return {option for param in command.get_params(click.Context(command)) for option in param.opts}


@pytest.mark.parametrize(("name", "command"), COMMANDS, ids=[name for name, _ in COMMANDS])
def test_has_help_an_example_and_json(name: str, command: click.Command) -> None:
    assert command.help, "help"
    assert examples(command), "an example"
    assert name == "donorbase" or all(name in line for line in examples(command)), "an example of itself"
    if not isinstance(command, click.Group):
        assert ("--json" in options_of(command)) != (name in NO_JSON), "JSON, or a reason"


def test_no_reason_outlives_its_command() -> None:
    assert len(COMMANDS) > 130
    names = {name for name, _ in COMMANDS}
    for reasons in (NOT_RUN, NO_JSON, NO_CSV, BEFORE):
        assert reasons.keys() <= names


@pytest.fixture(scope="module")
def lived_in(template: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    with pytest.MonkeyPatch.context() as patch:
        folder = tmp_path_factory.mktemp("lived-in")
        patch.chdir(folder)
        return make_home(folder, template)


class Home:
    """A copy of the home, for one example."""

    def __init__(self, lived_in: Path, folder: Path, patch: pytest.MonkeyPatch) -> None:
        shutil.copytree(lived_in, folder, dirs_exist_ok=True)
        patch.chdir(folder)
        patch.setenv("DONORBASE_DB", str(folder / "own.sqlite3"))
        patch.setenv("VISUAL", "true")
        self.folder = folder

    def run(self, name: str, line: str, *more: str) -> Result:
        """What an example prints, with more options; ``> FILE`` and pipes are the shell's."""
        if inner := re.search(r"\$\((.*)\)", line):
            line = inner[1]
        words = shlex.split(line.partition(" | ")[0])
        assert words[0] == "donorbase"
        args = words[1 : words.index(">")] if ">" in words else words[1:]
        if more:
            args = [word for word in args if word not in LEFT_OUT]
            if "-o" in args:
                del args[args.index("-o") : args.index("-o") + 2]
        done = CliRunner().invoke(cli, [*args, *more], input=ANSWERS.get(name, ""), prog_name="donorbase")
        if done.exception and not isinstance(done.exception, SystemExit):
            raise done.exception
        return done

    def prepare(self, name: str) -> None:
        for args in BEFORE.get(name, ()):
            assert CliRunner().invoke(cli, list(args)).exit_code == 0, args


@pytest.fixture
def homes(lived_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Home]:
    def numbered() -> Iterator[Home]:
        number = 0
        while True:
            yield Home(lived_in, tmp_path / str(number), monkeypatch)
            number += 1

    return numbered()


Tables = list[tuple[list[list[str]], list[str]]]


@pytest.fixture
def tables(monkeypatch: pytest.MonkeyPatch) -> Tables:
    """The tables that are printed, cell by cell."""
    seen: Tables = []
    laid_out = output.laid_out

    def keep(cells: list[list[str]], headers: list[str], room: int) -> str:
        seen.append((cells, list(headers)))
        return laid_out(cells, headers, room)

    monkeypatch.setattr(output, "laid_out", keep)
    return seen


GUIDED = [command for page in pages() for command in page.commands]
RUN = [(name, line) for name, line in EXAMPLES if name not in NOT_RUN]


@pytest.mark.parametrize(("name", "line"), RUN, ids=[line for _, line in RUN])
def test_the_example_works_in_every_form(name: str, line: str, homes: Iterator[Home], tables: Tables) -> None:
    command = dict(COMMANDS)[name]
    home = next(homes)
    home.prepare(name)
    tables.clear()
    if ".parquet" in line:
        pytest.importorskip("duckdb")
    done = home.run(name, line)
    assert done.exit_code == 0, done.stderr
    assert done.stdout or list(home.folder.glob("*.*")) != list(next(homes).folder.glob("*.*")), "it does something"
    shown = tuple(tables)
    for cells, headers in shown:
        for room in (80, 60, 40):
            assert fits(output.laid_out(cells, headers, room), room), f"{headers} at {room}"
    if isinstance(command, click.Group):
        return
    assert not shown or "--csv" in options_of(command) or name in NO_CSV, "shows a table: CSV, or a reason"
    if "--json" in options_of(command):
        home = next(homes)
        home.prepare(name)
        json.loads(home.run(name, line, "--json").stdout)
    if "--csv" in options_of(command) and shown:
        home = next(homes)
        home.prepare(name)
        sound_csv(home.run(name, line, "--csv").stdout)


@pytest.mark.parametrize("line", GUIDED)
def test_what_the_guide_says_to_type_works(line: str, homes: Iterator[Home]) -> None:
    home = next(homes)
    if "needs" in line:
        home.prepare("part needs")
    done = home.run("", line)
    assert done.exit_code == 0, done.stderr
    assert done.stdout


def fits(text: str, room: int) -> bool:
    """Whether no line is longer than the room, but for a word that is longer itself."""
    lines = click.unstyle(text).splitlines()
    return all(len(line) <= room or max(map(len, line.split())) > room - 4 for line in lines)


def sound_csv(text: str) -> None:
    """Tables under their heads, parted by empty lines, no cell of which a spreadsheet would run."""
    for table in text.split("\n\n") if text.count("\n\n") else [text]:
        heads, *rows = csv.reader(io.StringIO(table))
        assert heads
        for row in rows:
            assert len(row) == len(heads), (heads, row)
            for cell in row:
                assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")) or is_number(cell), cell
