"""The root command: quick, documented, plain about errors."""

import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from donorbase import __version__
from donorbase.cli.main import COMMANDS, cli

HEAVY = ("sqlmodel", "sqlalchemy", "alembic", "pydantic", "rapidfuzz", "numpy", "tabulate")
README = Path(__file__).parents[2] / "README.md"


def walk(command: click.Command, path: tuple[str, ...] = ()) -> list[tuple[tuple[str, ...], click.Command]]:
    found = [(path, command)]
    if isinstance(command, click.Group):
        ctx = click.Context(command)
        for name in command.list_commands(ctx):
            inner = command.get_command(ctx, name)
            assert inner is not None
            found += walk(inner, (*path, name))
    return found


def test_every_command_has_help_and_an_example() -> None:
    leaves = [(path, c) for path, c in walk(cli) if not isinstance(c, click.Group)]
    assert len(leaves) > 15
    for path, command in leaves:
        assert command.help, path
        assert "Example" in (command.epilog or ""), path
        result = CliRunner().invoke(cli, [*path, "--help"])
        assert result.exit_code == 0, path
        assert "Usage" in result.output


def test_every_command_stands_in_the_readme() -> None:
    text = README.read_text("utf-8")
    assert len(COMMANDS) >= 10
    for name in COMMANDS:
        assert f"donorbase {name}" in text, name


@pytest.mark.parametrize(
    "args", [["--help"], ["--version"], ["calc", "--help"], ["find", "--help"], ["check", "--help"]]
)
def test_help_loads_nothing_heavy(args: list[str]) -> None:
    code = (
        "import sys\nfrom donorbase.cli.main import cli\n"
        f"try:\n    cli({args!r}, prog_name='donorbase')\nexcept SystemExit as left:\n    assert left.code == 0\n"
        f"print([m for m in {HEAVY!r} if m in sys.modules], 'click' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[] True"


def test_completion_loads_no_command() -> None:
    code = (
        "import sys\nfrom donorbase.cli.main import cli\nimport click\n"
        "names = [i.value for i in cli.shell_complete(click.Context(cli), 'ch')]\n"
        "print(names, [m for m in sys.modules if m.startswith('donorbase.cli.check')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['check'] []"


def test_version() -> None:
    result = CliRunner().invoke(cli, ["--version"])
    assert result.exit_code == 0
    assert __version__ in result.output


def test_a_slip_in_a_command_names_the_near_one() -> None:
    result = CliRunner().invoke(cli, ["chekc"])
    assert result.exit_code == 2
    assert "check" in result.stderr


def test_a_near_key_is_named_without_a_traceback(run) -> None:
    result = run("show", "front-9.75-baljoint")
    assert result.exit_code == 5
    assert "front-9.75-balljoint" in result.stderr
    assert "Next:" in result.stderr
    assert result.stdout == ""
