"""A database of the tests' own for every command that is run."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from donorbase.cli.main import cli

Run = Callable[..., Result]


@pytest.fixture(scope="session")
def session_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database made once and only read."""
    return tmp_path_factory.mktemp("db") / "read.sqlite3"


def runner_on(database: Path) -> Run:
    def run(*args: str, text: str | bytes | None = None) -> Result:
        return CliRunner().invoke(cli, ["--db", str(database), *args], input=text, prog_name="donorbase")

    return run


@pytest.fixture
def run(session_database: Path) -> Run:
    """Run a command that writes nothing."""
    return runner_on(session_database)


@pytest.fixture
def run_fresh(tmp_path: Path) -> Run:
    """Run commands on a database of this test alone."""
    return runner_on(tmp_path / "own.sqlite3")
