"""A database made by the real migrations and filled with the shipped facts, fresh for every test."""

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine

from donorbase.reference.load import load_catalogue
from donorbase.reference.words import load_words
from donorbase.shipped import data_fingerprint
from donorbase.store.engine import engine_of
from donorbase.store.opening import open_database
from donorbase.store.seed import seed

NOW = datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC)


def opened(path: Path, fingerprint: str | None = None) -> Engine:
    facts = fingerprint or data_fingerprint()
    return open_database(str(path), facts, lambda c: seed(c, load_catalogue(), load_words(), facts), NOW)


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("template") / "template.sqlite3"
    opened(path).dispose()
    return path


@pytest.fixture
def path(template: Path, tmp_path: Path) -> Path:
    copy = tmp_path / "donorbase.sqlite3"
    shutil.copy(template, copy)
    return copy


@pytest.fixture
def engine(path: Path) -> Iterator[Engine]:
    engine = engine_of(str(path))
    yield engine
    engine.dispose()


@pytest.fixture
def connection(engine: Engine) -> Iterator[Connection]:
    with engine.connect() as connection:
        yield connection
