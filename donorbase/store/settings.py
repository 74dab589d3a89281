"""What a database knows of itself: names and values in the table ``setting``."""

from uuid import uuid4

from sqlalchemy import Connection, delete, insert, select
from sqlmodel import col

from donorbase.store.user_tables import Setting

FACTS = "shipped_facts"
"""The fingerprint of the shipped facts the database was filled with."""
STATE = "state"
"""Another random text after every change of what the picture shows: shipped facts, words, builds."""


def setting(connection: Connection, name: str) -> str:
    """The value of a setting, empty where it was never set."""
    return connection.execute(select(col(Setting.value)).where(col(Setting.name) == name)).scalar() or ""


def set_setting(connection: Connection, name: str, value: str) -> None:
    """Set a setting inside the caller's transaction."""
    connection.execute(delete(Setting).where(col(Setting.name) == name))
    connection.execute(insert(Setting).values(name=name, value=value))


def touch(connection: Connection) -> None:
    """Say that facts, words or builds changed: no picture of them is the present one any more.

    A random text and not a count: after a restore two histories could meet at the same count.
    """
    set_setting(connection, STATE, uuid4().hex)
