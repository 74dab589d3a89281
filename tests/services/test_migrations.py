"""From every released schema to the newest and back, with the data of a house that was lived in; newer ones refused."""

from typing import Any

import pytest
from sqlalchemy import Connection, text

from donorbase.errors import BadDatabase
from donorbase.services.backups import migrate_back
from donorbase.services.database import check, status
from donorbase.services.house import House
from donorbase.services.shelf_files import export_shelf
from donorbase.services.words import list_words
from donorbase.store.engine import engine_of, reader, writer
from donorbase.store.migrate import downgrade, revision_of, upgrade
from donorbase.store.revision import newest_revision, revisions
from donorbase.store.transfer import contents_of, plain, read_rows, tables_of


def rows_of(connection: Connection, columns: dict[str, list[str]] | None = None) -> dict[str, list[Any]]:
    """Every row of every table (or of the tables and columns named), in plain form and order."""
    found = {}
    for table in tables_of(connection):
        names = table.columns.keys() if columns is None else columns.get(table.name, [])
        if names:
            found[table.name] = sorted(repr([plain(row[n]) for n in names]) for row in read_rows(connection, table))
    return found


@pytest.mark.parametrize("earlier", revisions()[:-1])
def test_from_each_schema_to_the_newest_and_back_the_data_is_kept(earlier: str, lived: House) -> None:
    lived.close()
    engine = engine_of(lived.place, foreign_keys=False)
    with writer(engine).begin() as connection:
        downgrade(connection, earlier)
        before = contents_of(connection)
        columns = {table.name: table.columns.keys() for table in tables_of(connection)}
        rows = rows_of(connection, columns)
        assert sum(number for number, _ in before.values()) > 200
    with writer(engine).begin() as connection:
        upgrade(connection)
        assert revision_of(connection) == newest_revision()
        assert rows_of(connection, columns) == rows
    with writer(engine).begin() as connection:
        downgrade(connection, earlier)
        assert contents_of(connection) == before
    engine.dispose()
    assert check(lived).sound, "opened, it is brought up to date"


@pytest.mark.sqlite
def test_the_index_of_words_is_whole_after_migrations(lived: House) -> None:
    lived.close()
    engine = writer(engine_of(lived.place, foreign_keys=False))
    with engine.begin() as connection:
        downgrade(connection, "0008")
        upgrade(connection)
        connection.execute(text("INSERT INTO sighting_text(sighting_text, rank) VALUES ('integrity-check', 1)"))
        found = connection.execute(text("SELECT count(*) FROM sighting_text WHERE sighting_text MATCH 'kingpin'"))
        assert found.scalar() == 1
    engine.dispose()


def test_a_newer_database_refuses_this_release_with_a_clear_word(lived: House) -> None:
    lived.close()
    engine = engine_of(lived.place)
    with writer(engine).begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(BadDatabase, match="made by a newer release of donorbase") as wrong:
        list_words(House(lived.place))
    assert "Update donorbase" in wrong.value.next_step
    with reader(engine).connect() as connection:
        assert revision_of(connection) == "9999"
    engine.dispose()


def test_it_goes_back_for_an_older_program_and_forward_again(lived: House) -> None:
    shelf = export_shelf(lived)
    kept = migrate_back(lived, "0008")
    assert kept.exists()
    assert status(lived).schema == "0008"
    assert not status(lived).up_to_date
    assert export_shelf(lived) == shelf, "opened, it is brought up to date again"
    assert status(lived).up_to_date


@pytest.mark.parametrize("revision", ["9999", "0", "", "head"])
def test_there_is_no_way_to_a_schema_that_is_not_known(lived: House, revision: str) -> None:
    with pytest.raises(BadDatabase, match="no schema"):
        migrate_back(lived, revision)
    assert status(lived).up_to_date
