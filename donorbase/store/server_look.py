"""A database on a server as it is, looked at without bringing it up to date."""

from collections.abc import Mapping

from sqlalchemy import Connection

from donorbase.store.engine import engine_of, reader
from donorbase.store.migrate import revision_of
from donorbase.store.opening import spoken
from donorbase.store.settings import FACTS, setting
from donorbase.store.transfer import contents_of, tables_of


def look_at_server(place: str, counted: Mapping[str, str]) -> tuple[int, str, str, dict[str, int]]:
    """Its size in bytes, its schema, the fingerprint of its facts, and the counts asked for: rows by title.

    Schema and fingerprint are empty, and nothing is counted, where nothing of ours is there yet.
    """
    engine = engine_of(place)
    try:
        with spoken(place), reader(engine).connect() as connection:
            size = connection.exec_driver_sql("SELECT pg_database_size(current_database())").scalar() or 0
            schema = revision_of(connection)
            if schema is None:
                return int(size), "", "", {}
            there = {table.name for table in tables_of(connection)}
            counts = {
                title: int(connection.exec_driver_sql(f"SELECT count(*) FROM {rows}").scalar() or 0)
                for title, rows in counted.items()
                if rows.partition(" ")[0] in there
            }
            return int(size), schema, setting(connection, FACTS) if "setting" in there else "", counts
    finally:
        engine.dispose()


def faults_on_server(connection: Connection) -> tuple[str, ...]:
    """What is wrong on a server: rows that cannot be read, rules that were switched off or never checked."""
    contents_of(connection)
    found = connection.exec_driver_sql(
        "SELECT conrelid::regclass::text, conname FROM pg_constraint WHERE NOT convalidated"
        " UNION ALL SELECT tgrelid::regclass::text, tgname FROM pg_trigger WHERE tgisinternal AND tgenabled = 'D'"
    )
    return tuple(f"the rule {name} of {table} does not hold" for table, name in found)
