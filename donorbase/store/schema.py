"""Every table there is, by name. Import tables from here, so that none is forgotten."""

from sqlalchemy import MetaData, Table

from donorbase.store import (  # noqa: F401  # for the tables they declare
    candidate_tables,
    listing_tables,
    repost_tables,
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


def declared(name: str | None, kind: str, _parents: object) -> bool:
    """Whether alembic compares what it finds under a name: the full-text index of sightings is made by hand."""
    return kind != "table" or name is None or not name.startswith("sighting_text")
