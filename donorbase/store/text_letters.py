"""The index of three letters that a server has of the texts of listings, made by its extension pg_trgm."""

from sqlalchemy import Connection
from sqlalchemy.exc import DBAPIError

INDEX = "sighting_text_letters"
_SCHEMA = (
    "SELECT quote_ident(nspname) FROM pg_extension JOIN pg_namespace ON pg_namespace.oid = extnamespace"
    " WHERE extname = 'pg_trgm'"
)


def letters_indexed(connection: Connection) -> bool:
    """Whether words are looked up in an index; a file always has one, of words."""
    if connection.dialect.name == "sqlite":
        return True
    return connection.exec_driver_sql(f"SELECT to_regclass('{INDEX}')").scalar() is not None


def index_letters(connection: Connection) -> bool:
    """Make the extension and the index on a server, where that is allowed; whether the index is there now.

    Who may not make an extension leaves everything as it is: searching takes longer then, and says so.
    """
    if letters_indexed(connection):
        return True
    try:
        with connection.begin_nested():
            connection.exec_driver_sql("CREATE EXTENSION IF NOT EXISTS pg_trgm")
            # It may lie in a schema of its own, where names are not looked for.
            schema = connection.exec_driver_sql(_SCHEMA).scalar()
            letters = f"{schema}.gin_trgm_ops"
            connection.exec_driver_sql(f"CREATE INDEX {INDEX} ON sighting USING gin (title {letters}, text {letters})")
    except DBAPIError:
        return False
    return True
