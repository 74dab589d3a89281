"""Transactions are those we asked for: nothing half, nothing lost between two writers."""

import multiprocessing
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine, text

from donorbase.store.engine import engine_of, writer

ROUNDS = 60


@pytest.mark.sqlite
def test_tables_made_in_a_broken_transaction_are_gone(tmp_path: Path) -> None:
    """The driver's own habit keeps them: it begins no transaction before CREATE TABLE."""
    engine = engine_of(str(tmp_path / "x.db"))

    def make_and_fail() -> None:
        with engine.begin() as connection:
            connection.execute(text("CREATE TABLE a (x INTEGER)"))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        make_and_fail()
    with engine.connect() as connection:
        assert connection.execute(text("SELECT count(*) FROM sqlite_master")).scalar() == 0
    engine.dispose()


@pytest.mark.sqlite
def test_foreign_keys_hold(connection: Connection) -> None:
    assert connection.execute(text("PRAGMA foreign_keys")).scalar() == 1


def _count_up(place: str) -> int:
    engine = writer(engine_of(place))
    for _ in range(ROUNDS):
        with engine.begin() as connection:
            seen = connection.execute(text("SELECT n FROM counter")).scalar() or 0
            connection.execute(text("UPDATE counter SET n = :n"), {"n": int(seen) + 1})
    engine.dispose()
    return ROUNDS


def test_no_update_of_two_writers_is_lost(engine: Engine, place: str) -> None:
    """With the driver's defaults most are lost without a word."""
    with writer(engine).begin() as connection:
        connection.execute(text("CREATE TABLE counter (n INTEGER)"))
        connection.execute(text("INSERT INTO counter VALUES (0)"))
    with multiprocessing.get_context("fork").Pool(2) as pool:
        done = sum(pool.map(_count_up, [place] * 2))
    with engine.connect() as connection:
        assert connection.execute(text("SELECT n FROM counter")).scalar() == done
