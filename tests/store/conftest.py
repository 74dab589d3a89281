"""A database made by the real migrations and filled with the shipped facts, fresh for every test."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, Engine

from donorbase.reference.load import load_catalogue
from donorbase.reference.words import load_words
from donorbase.shipped import data_fingerprint
from donorbase.store.engine import engine_of
from donorbase.store.opening import open_database
from donorbase.store.seed import seed

NOW = datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC)


def opened(place: Path | str, fingerprint: str | None = None) -> Engine:
    facts = fingerprint or data_fingerprint()
    return open_database(str(place), facts, lambda c: seed(c, load_catalogue(), load_words(), facts), NOW)


@pytest.fixture(scope="session")
def template(databases: Any, tmp_path_factory: pytest.TempPathFactory) -> str:
    place: str = databases.new(tmp_path_factory.mktemp("template"))
    opened(place).dispose()
    return place


@pytest.fixture
def place(databases: Any, template: str, tmp_path: Path) -> Iterator[str]:
    """Where a database of this test alone lies: a path or a URL."""
    copy: str = databases.copy(template, tmp_path)
    yield copy
    databases.drop(copy)


@pytest.fixture
def path(place: str) -> Path:
    """The file of this test's database, for tests of files."""
    return Path(place)


@pytest.fixture
def empty(new_place: Callable[[], str]) -> Iterator[Engine]:
    """An engine as migrations want it, on a database without a table."""
    engine = engine_of(new_place(), foreign_keys=False)
    yield engine
    engine.dispose()


@pytest.fixture
def engine(place: str) -> Iterator[Engine]:
    engine = engine_of(place)
    yield engine
    engine.dispose()


@pytest.fixture
def connection(engine: Engine) -> Iterator[Connection]:
    with engine.connect() as connection:
        yield connection
