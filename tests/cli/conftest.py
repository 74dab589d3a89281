"""A database of the tests' own for every command that is run."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from donorbase.cli.main import cli

Run = Callable[..., Result]


@pytest.fixture(scope="session")
def template(databases: Any, tmp_path_factory: pytest.TempPathFactory) -> str:
    """A database made once and only copied."""
    place: str = databases.new(tmp_path_factory.mktemp("db"))
    assert runner_on(place)("words", "list").exit_code == 0
    return place


@pytest.fixture(scope="session")
def session_database(databases: Any, template: str, tmp_path_factory: pytest.TempPathFactory) -> str:
    """A database made once and only read."""
    place: str = databases.copy(template, tmp_path_factory.mktemp("read"))
    return place


def runner_on(database: Path | str) -> Run:
    def run(*args: str, text: str | bytes | None = None) -> Result:
        return CliRunner().invoke(cli, ["--db", str(database), *args], input=text, prog_name="donorbase")

    return run


@pytest.fixture
def run(session_database: str) -> Run:
    """Run a command that writes nothing."""
    return runner_on(session_database)


@pytest.fixture
def run_fresh(databases: Any, template: str, tmp_path: Path) -> Iterator[Run]:
    """Run commands on a database of this test alone."""
    place = databases.copy(template, tmp_path)
    yield runner_on(place)
    databases.drop(place)
