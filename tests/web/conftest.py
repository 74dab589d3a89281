"""Pages over a database of their own, with the demo's builds and listings (invented)."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner
from flask.testing import FlaskClient

from donorbase.cli.main import cli
from donorbase.web.app import make_app

DEMO = Path(__file__).parents[2] / "data" / "demo"


@pytest.fixture(scope="session")
def kept_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database with two builds and the demo's listings kept for both."""
    database = tmp_path_factory.mktemp("web") / "kept.sqlite3"
    for args in (
        ["build", "add", str(DEMO / "crawler.toml")],
        ["build", "add", str(DEMO / "rock-truck.toml")],
        ["candidate", "import", str(DEMO / "listings.jsonl"), "--all-builds", "--keep-good"],
        ["part", "add", "knuckle", "--side", "left", "--place", "shed <3>"],
    ):
        result = CliRunner().invoke(cli, ["--db", str(database), *args])
        assert result.exit_code == 0, result.output
    return database


@pytest.fixture
def database(kept_once: Path, tmp_path: Path) -> Path:
    """A copy of it for one test."""
    target = tmp_path / "own.sqlite3"
    # Not the file alone: what was written last stands in the log beside it.
    with closing(sqlite3.connect(kept_once)) as source, closing(sqlite3.connect(target)) as copy:
        source.backup(copy)
    return target


@pytest.fixture
def client(database: Path) -> FlaskClient:
    """A browser's stand-in that sends what a browser sends from these pages."""
    found = make_app(str(database), "a caution", who="tester").test_client()
    found.environ_base["HTTP_ORIGIN"] = "http://localhost"
    return found
