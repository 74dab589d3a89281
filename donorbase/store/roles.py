"""Who may do what on a server, as SQL for its owner to read and run: nobody gets more than his part needs."""

from sqlalchemy import Connection, text

from donorbase.errors import BadDatabase, BadInput
from donorbase.store.rows import SHIPPED_TABLES
from donorbase.store.schema import metadata
from donorbase.store.server import hidden

READERS, MEMBERS = "donorbase_readers", "donorbase_members"

_SQL = """\
-- Run this as the owner of the database, once, and again after each migration: the same rights are given anew.
-- He alone makes and migrates tables and fills in shipped facts, by opening the database with a new release.
-- Readers see everything and change nothing. Members write what is theirs, and neither shipped facts nor tables.
DO $$ BEGIN CREATE ROLE {readers} NOLOGIN; EXCEPTION WHEN duplicate_object THEN NULL; END $$;
DO $$ BEGIN CREATE ROLE {members} NOLOGIN; EXCEPTION WHEN duplicate_object THEN NULL; END $$;
-- Nobody else gets in, and nobody but the owner makes anything.
REVOKE ALL ON DATABASE {database} FROM PUBLIC;
REVOKE ALL ON SCHEMA public FROM PUBLIC;
GRANT CONNECT ON DATABASE {database} TO {readers}, {members};
GRANT USAGE ON SCHEMA public TO {readers}, {members};
GRANT SELECT ON ALL TABLES IN SCHEMA public TO {readers}, {members};
GRANT INSERT, UPDATE, DELETE ON {own} TO {members};
-- What was done is written down for good.
REVOKE UPDATE, DELETE ON {histories} FROM {members};
GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO {members};
-- Then a login for each person, with a password that he sets himself (\\password kim):
--   CREATE ROLE kim LOGIN IN ROLE {members};
-- His commands then say who he is by themselves: donorbase --db postgresql://kim@host/{database} ...
"""
HISTORIES = ("change", "part_event", "candidate_event")
"""Tables to which rows are only ever added."""


def roles_sql(database: str) -> str:
    """The rights of readers and members of a database of that name."""
    if not database or '"' in database or "\0" in database:
        raise BadInput(f"{database!r} is no name of a database", "Name one on a server with --db.")
    own = sorted(name for name in metadata().tables if name not in SHIPPED_TABLES)
    return _SQL.format(
        readers=READERS,
        members=MEMBERS,
        database=f'"{database}"',
        own=", ".join(f'"{name}"' for name in own),
        histories=", ".join(HISTORIES),
    )


def refuse_guests(connection: Connection, place: str) -> None:
    """BadDatabase where a database on a server would have to be brought up to date by somebody who may not."""
    if connection.dialect.name != "postgresql" or not connection.dialect.has_table(connection, "alembic_version"):
        return
    if not connection.execute(text("SELECT has_table_privilege('alembic_version', 'UPDATE')")).scalar():
        raise BadDatabase(
            f"{hidden(place)} was filled by another release of donorbase, and its owner alone may change that",
            "Ask him to open it once with this release, or use the one that he has.",
        )
