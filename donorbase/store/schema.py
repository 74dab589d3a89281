"""Every table there is, by name. Import tables from here, so that none is forgotten."""

from sqlalchemy import Connection, MetaData, Table, inspect

from donorbase.store import (  # noqa: F401  # for the tables they declare
    candidate_tables,
    change_table,
    listing_tables,
    repost_tables,
    search_tables,
    shelf_tables,
    tables,
    user_tables,
    variant_table,
    yard_tables,
)
from donorbase.store.naming import Row


def metadata() -> MetaData:
    """All tables."""
    return Row.metadata


def table(name: str) -> Table:
    """The table of that name."""
    return Row.metadata.tables[name]


def lacking(connection: Connection) -> list[str]:
    """Tables and columns of this release that a database does not have, though it is of this release's schema."""
    there = inspect(connection)
    found = {name: {column["name"] for column in there.get_columns(name)} for name in there.get_table_names()}
    faults = [f"the table {name} is missing" for name in metadata().tables if name not in found]
    return faults + [
        f"the column {column.name} of {name} is missing"
        for name, table in metadata().tables.items()
        for column in table.columns
        if name in found and column.name not in found[name]
    ]


def declared(name: str | None, kind: str, _parents: object) -> bool:
    """Whether alembic compares what it finds under a name: the indexes of texts are made by hand."""
    return kind not in ("table", "index") or name is None or not name.startswith("sighting_text")


def copied(name: str) -> bool:
    """Whether the rows of a table go along to another database; an index is made anew from what it is of."""
    return not name.startswith(("sighting_text", "search_"))
