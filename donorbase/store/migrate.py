"""The schema brought up to date by alembic, configured in code: there is no ini file to find or to lose."""

from typing import TYPE_CHECKING

from sqlalchemy import Connection, text
from sqlalchemy.exc import DBAPIError

from donorbase.shipped import migrations_dir
from donorbase.store.engine import engine_of
from donorbase.store.revision import revisions

if TYPE_CHECKING:
    from alembic.config import Config


def alembic_config(connection: Connection) -> "Config":
    """What alembic must know; the connection is handed over, so that the caller holds the transaction."""
    from alembic.config import Config

    config = Config()
    # A raw percent sign in the path would be read as an interpolation.
    config.set_main_option("script_location", str(migrations_dir()).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def revision_of(connection: Connection) -> str | None:
    """The revision a database is at, None where it has none yet. One plain SELECT, no alembic."""
    if not connection.dialect.has_table(connection, "alembic_version"):
        return None
    row = connection.execute(text("SELECT version_num FROM alembic_version")).first()
    return None if row is None else str(row[0])


def upgrade(connection: Connection, revision: str = "head") -> None:
    """Run the migrations up to a revision inside the transaction of the connection."""
    from alembic import command

    command.upgrade(alembic_config(connection), revision)
    check_references(connection)


def downgrade(connection: Connection, revision: str) -> None:
    """Run the migrations back to a revision (``base``: to nothing)."""
    from alembic import command

    command.downgrade(alembic_config(connection), revision)
    check_references(connection)


def draft(message: str) -> None:
    """Write the next migration from what the models have and the migrations lack, to be read and mended by hand.

    What alembic does not compare must be added by hand: CHECK constraints, such as those of a choice's words.
    """
    from alembic import command

    engine = engine_of(":memory:", foreign_keys=False)
    with engine.begin() as connection:
        upgrade(connection)
        following = f"{max(map(int, revisions())) + 1:04d}"
        command.revision(alembic_config(connection), message, autogenerate=True, rev_id=following)
    engine.dispose()


def check_references(connection: Connection) -> None:
    """Foreign keys are not enforced while tables are rebuilt, so they must be checked before the commit."""
    if connection.dialect.name == "sqlite":
        broken = connection.execute(text("PRAGMA foreign_key_check")).all()
        if broken:
            raise DBAPIError("PRAGMA foreign_key_check", None, ValueError(f"{len(broken)} rows refer to nothing"))
