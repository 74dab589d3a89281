"""Every table there is, by name. Import tables from here, so that none is forgotten."""

from sqlalchemy import MetaData, Table

from donorbase.store import tables, user_tables, variant_table  # noqa: F401  # for the tables they declare
from donorbase.store.naming import Row


def metadata() -> MetaData:
    """All tables."""
    return Row.metadata


def table(name: str) -> Table:
    """The table of that name."""
    return Row.metadata.tables[name]
