"""The tables agree with the attributes, with the migrations, and refuse what cannot be."""

import shutil
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Connection, Engine, insert, inspect, select, update
from sqlalchemy.dialects import postgresql
from sqlalchemy.exc import IntegrityError
from sqlalchemy.schema import CreateTable

from donorbase.attributes import Kind, attributes, of_scope
from donorbase.reference.conditions import parse_condition
from donorbase.shipped import migrations_dir
from donorbase.store.columns import columns_of
from donorbase.store.find import query_of
from donorbase.store.migrate import downgrade, draft, revision_of, upgrade
from donorbase.store.revision import newest_revision, revisions
from donorbase.store.rows import SHIPPED_TABLES
from donorbase.store.schema import declared, metadata, table

NO_ATTRIBUTE = {"place", "title", "brake_note", "hub_note"}


def test_columns_and_attributes_agree_exactly() -> None:
    """A new attribute is one entry, one column and one migration: this test asks for the column."""
    wanted = {column for a in of_scope("axle") for column in columns_of(a)}
    assert len(wanted) > 40
    assert {c.name for c in table("variant").columns} - NO_ATTRIBUTE == wanted


def test_what_is_read_of_listings_has_a_column_for_each_attribute() -> None:
    of_items = {column for scope in ("item", "axle") for a in of_scope(scope) for column in columns_of(a)}
    of_offers = {column for a in of_scope("offer") for column in columns_of(a)}
    assert min(len(of_items), len(of_offers)) > 5
    assert {c.name for c in table("listed_item").columns} - {"sighting_id", "item"} == of_items
    assert {c.name for c in table("reading").columns} - {"sighting_id", "items", "read_with"} == of_offers


def test_column_types_follow_the_kinds() -> None:
    types = {Kind.COUNT: "INTEGER", Kind.LENGTH: "FLOAT", Kind.CHOICE: "VARCHAR", Kind.TEXT: "VARCHAR"}
    types |= {Kind.KEY: "VARCHAR", Kind.YEARS: "INTEGER"}
    looked = 0
    for attribute in of_scope("axle"):
        for column in columns_of(attribute):
            if attribute.kind in types:
                looked += 1
                assert table("variant").c[column].type.compile() == types[attribute.kind], column
    assert looked > 40


def test_migrations_and_models_agree(connection: Connection) -> None:
    context = MigrationContext.configure(connection, opts={"compare_type": True, "include_name": declared})
    assert compare_metadata(context, metadata()) == []


def test_checks_of_the_migrations_are_those_of_the_models(connection: Connection, empty: Engine) -> None:
    """alembic does not compare CHECK constraints, so that a new word of a choice would go unseen."""
    with empty.begin() as fresh:
        metadata().create_all(fresh)
        seen = 0
        for name in metadata().tables:
            ours, theirs = (
                {(c["name"], c["sqltext"]) for c in inspect(place).get_check_constraints(name)}
                for place in (connection, fresh)
            )
            assert ours == theirs, name
            seen += len(ours)
    assert seen > 30


def test_every_constraint_has_a_name() -> None:
    constraints = [c for t in metadata().tables.values() for c in t.constraints]
    assert len(constraints) > 60
    assert [c for c in constraints if not c.name] == []


def test_up_down_up_leaves_the_same_schema(empty: Engine) -> None:
    with empty.begin() as connection:
        for revision in revisions():
            upgrade(connection, revision)
        assert revision_of(connection) == newest_revision()
        first = set(inspect(connection).get_table_names())
        downgrade(connection, "base")
        assert set(inspect(connection).get_table_names()) == {"alembic_version"}
        upgrade(connection)
        assert set(inspect(connection).get_table_names()) == first
        assert set(metadata().tables) < first


def test_the_next_migration_is_drafted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(migrations_dir(), tmp_path / "migrations")
    monkeypatch.setattr("donorbase.store.migrate.migrations_dir", lambda: tmp_path / "migrations")
    draft("add hub colour")
    following = f"{max(map(int, revisions())) + 1:04d}"
    text = (tmp_path / "migrations" / "versions" / f"{following}_add_hub_colour.py").read_text("utf-8")
    assert f'down_revision = "{newest_revision()}"' in text.replace("'", '"')
    assert "import sqlmodel" in text
    assert "op." not in text, "the models have nothing that the migrations lack"


def test_seed_knows_every_table_but_the_users() -> None:
    own = {"word", "build", "setting", "own_prior", "claim", "correction", "refused_phrase"}
    own |= {"change", "gathering", "listing", "sighting", "asked_price", "reading", "listed_item", "listed_value"}
    own |= {"candidate", "candidate_event", "yard", "yard_vehicle"}
    own |= {"repost_count", "repost_anchor", "repost_sketch", "search_bits", "search_due", "search_word"}
    own |= {"part", "part_event", "part_hold", "part_reading"}
    assert set(metadata().tables) - set(SHIPPED_TABLES) == own


BROKEN_ROWS = [
    pytest.param({"drop": "left"}, id="a word that is no choice"),
    pytest.param({"years_first": 2011, "years_last": 2005}, id="years reversed"),
    pytest.param({"gear_set": "gg-none"}, id="a gear set that is not there"),
    pytest.param({"family": "front-none"}, id="a family that is not there"),
    pytest.param({"title": None}, id="no title"),
]


@pytest.mark.parametrize("change", BROKEN_ROWS)
def test_the_database_itself_refuses_a_broken_variant(connection: Connection, change: dict[str, object]) -> None:
    key = "front-9.75-balljoint/a-2005-2010-srw"
    with pytest.raises(IntegrityError):
        connection.execute(update(table("variant")).where(table("variant").c.variant == key).values(**change))


def test_the_database_refuses_a_listed_word_that_is_no_choice(connection: Connection) -> None:
    row = {
        "variant": "front-9.75-balljoint/a-2005-2010-srw",
        "attribute": "brakes",
        "place": 9,
        "text": "disk",
    }
    with pytest.raises(IntegrityError):
        connection.execute(insert(table("variant_value")), [row])


def test_variants_go_with_their_family(engine: Engine) -> None:
    with engine.begin() as connection:
        family = table("family")
        connection.execute(family.delete().where(family.c.family == "front-9.75-balljoint"))
        left = select(table("variant").c.variant).where(table("variant").c.family == "front-9.75-balljoint")
        assert connection.execute(left).all() == []


FINDS_BY_INDEX = [
    ("outer_splines", "35+"),
    ("bolt_circle_mm", "170"),
    ("position", "front"),
    ("years", "<=1979"),
]


@pytest.mark.sqlite
@pytest.mark.parametrize(("name", "text"), FINDS_BY_INDEX)
def test_find_uses_its_indices(connection: Connection, name: str, text: str) -> None:
    """Every condition lets pass what is not known, which needs each row; a plain comparison has its index."""
    column = table("variant").c[columns_of(attributes()[name])[0]]
    span = parse_condition(name, text)
    value = span.words[0] if span.words else next(end for end in span.spans[0] if end is not None)
    query = select(table("variant").c.variant).where(column == value)
    compiled = query.compile(dialect=connection.dialect, compile_kwargs={"literal_binds": True})
    plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {compiled}").all()
    assert any("USING" in row[3] and "INDEX ix_variant" in row[3] for row in plan), plan


@pytest.mark.sqlite
def test_find_looks_up_the_listed_values_by_key(connection: Connection) -> None:
    """The rows beside a variant are found by primary key, so that a find costs one pass over the variants."""
    query = query_of([parse_condition("brakes", "disc"), parse_condition("ratio_sold", "5.13")])
    compiled = query.compile(dialect=connection.dialect, compile_kwargs={"literal_binds": True})
    plan = [row[3] for row in connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {compiled}").all()]
    inner = [step for step in plan if "variant_value" in step or "gear_ratio" in step]
    assert inner
    assert all(step.startswith("SEARCH") for step in inner), plan


def test_every_table_can_be_made_on_postgresql() -> None:
    made = [str(CreateTable(t).compile(dialect=postgresql.dialect())) for t in metadata().sorted_tables]
    assert len(made) == len(metadata().tables)
    assert any("TIMESTAMP WITH TIME ZONE" in text for text in made)
