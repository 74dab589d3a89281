"""New shipped facts replace the old ones whole; what is the user's own is never touched."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from sqlalchemy import Connection, Engine

from donorbase.reference.catalogue import Catalogue
from donorbase.reference.load import load_catalogue
from donorbase.reference.words import Word, load_words, parse_meaning
from donorbase.store import settings
from donorbase.store.builds import keep_build, read_builds
from donorbase.store.engine import writer
from donorbase.store.opening import open_database
from donorbase.store.rows import catalogue_of
from donorbase.store.seed import read_shipped, seed
from donorbase.store.words import add_words, read_words

NOW = datetime(2026, 1, 2, tzinfo=UTC)
MINE = Word("grazier 35", parse_meaning("donor_line=line-A; load_class=one-ton"), "user", "seen twice")


def fewer_facts() -> Catalogue:
    """What another release might ship: a variant fewer, a figure changed."""
    shipped = load_catalogue()
    variants = dict(shipped.variants)
    variants.pop("front-9.75-balljoint/a-2005-2010-drw")
    key = "front-9.75-balljoint/a-2005-2010-srw"
    variants[key] = replace(variants[key], title="another title")
    return replace(shipped, variants=variants, interchange=shipped.interchange[:-3])


@pytest.fixture
def used(engine: Engine) -> Engine:
    """A database that its user has used."""
    with writer(engine).begin() as connection:
        add_words(connection, [MINE], NOW)
        keep_build(connection, "rock truck", "name = 'rock truck'", NOW)
    return engine


def test_new_facts_replace_the_old_and_leave_the_users_own(used: Engine, place: str) -> None:
    other = fewer_facts()
    few_words = load_words()[:100]
    engine = open_database(place, "other", lambda c: seed(c, other, few_words, "other"), NOW)
    with engine.connect() as connection:
        assert catalogue_of(read_shipped(connection)) == other
        assert read_words(connection, "shipped") == few_words
        assert read_words(connection, "user") == (MINE,)
        assert [row["name"] for row in read_builds(connection)] == ["rock truck"]
        assert settings.setting(connection, settings.FACTS) == "other"
    engine.dispose()


def test_a_fault_half_way_leaves_everything_as_it_was(used: Engine, place: str) -> None:
    def broken(connection: Connection) -> None:
        seed(connection, fewer_facts(), (), "other")
        raise RuntimeError("killed before the commit")

    with used.connect() as connection:
        state = settings.setting(connection, settings.STATE)
    with pytest.raises(RuntimeError):
        open_database(place, "other", broken, NOW)
    with used.connect() as connection:
        assert catalogue_of(read_shipped(connection)) == load_catalogue()
        assert read_words(connection, "shipped") == load_words()
        assert read_words(connection, "user") == (MINE,)
        assert settings.setting(connection, settings.STATE) == state


def test_seeding_twice_changes_nothing_but_the_state(used: Engine) -> None:
    with writer(used).begin() as connection:
        before = read_shipped(connection)
        state = settings.setting(connection, settings.STATE)
        seed(connection, load_catalogue(), load_words(), "same")
        assert read_shipped(connection) == before
        assert settings.setting(connection, settings.STATE) != state


def test_a_word_of_the_users_replaces_his_earlier_one(used: Engine) -> None:
    again = replace(MINE, phrase="GRAZIER 35", meanings=parse_meaning("lugs=8"))
    with writer(used).begin() as connection:
        add_words(connection, [again], NOW)
        assert read_words(connection, "user") == (again,)


def test_times_come_back_aware(used: Engine) -> None:
    with used.connect() as connection:
        (row,) = read_builds(connection)
    assert datetime.fromisoformat(row["made_at"]) == NOW
