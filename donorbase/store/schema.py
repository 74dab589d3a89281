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
