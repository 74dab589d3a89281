"""Every row of a database into another of the same schema, whatever either of them runs on, and proof of it.

The tables are those that are there, not those that this release knows, so that a database of an earlier release can
be copied before it is migrated.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime
from hashlib import sha256
from itertools import islice
from typing import Any

from sqlalchemy import (
    Column,
    Connection,
    DateTime,
    LargeBinary,
    MetaData,
    Table,
    bindparam,
    func,
    insert,
    select,
    text,
    update,
)
from sqlmodel.sql.sqltypes import UTCDateTime

from donorbase.errors import BadDatabase
from donorbase.store.schema import copied
from donorbase.store.search_index import forget_index

_AT_ONCE = 1000
Kept = Callable[[str, Mapping[str, Any]], bool]
"""Whether a row of a table is taken along."""


def tables_of(connection: Connection) -> list[Table]:
    """The tables of a database, each after those that it refers to, without what the database makes of them itself."""
    found = MetaData()
    found.reflect(connection, only=lambda name, _: name != "alembic_version" and copied(name))
    for table in found.sorted_tables:
        for column in table.columns:
            if isinstance(column.type, DateTime):
                column.type = UTCDateTime()
    return found.sorted_tables


def read_rows(connection: Connection, table: Table) -> Iterator[dict[str, Any]]:
    """The rows of a table by primary key, some held in memory at a time."""
    query = select(table).order_by(*table.primary_key.columns)
    for row in connection.execute(query, execution_options={"yield_per": _AT_ONCE}):
        yield dict(row._mapping)


def contents_of(connection: Connection) -> dict[str, tuple[int, str]]:
    """How many rows each table holds, and a digest of them, the same on any database whatever their order."""
    return {table.name: _contents(connection, table) for table in tables_of(connection)}


def _contents(connection: Connection, table: Table) -> tuple[int, str]:
    count = total = 0
    for row in read_rows(connection, table):
        count += 1
        line = json.dumps({name: plain(value) for name, value in sorted(row.items())}, ensure_ascii=False)
        total += int.from_bytes(sha256(line.encode()).digest(), "big")
    return count, f"{total % 2**256:064x}"


def plain(value: Any) -> Any:
    """A value as JSON can hold it: days and times as ISO text, bytes as hexadecimal digits."""
    if isinstance(value, datetime | date):
        return value.isoformat()
    return value.hex() if isinstance(value, bytes) else value


def unplain(column: Column[Any], value: Any) -> Any:
    """The value of a column out of what ``plain`` made of it; ValueError or TypeError where it cannot be."""
    if value is None:
        return None
    if isinstance(column.type, DateTime | UTCDateTime):
        return datetime.fromisoformat(value)
    if isinstance(column.type, LargeBinary):
        return bytes.fromhex(value)
    python = column.type.python_type
    if python is date:
        return date.fromisoformat(value)
    if not isinstance(value, (int, float) if python is float else python):
        raise TypeError(f"{column.name}: {value!r}")
    return value


def move_all(source: Connection, target: Connection) -> dict[str, int]:
    """Put every row of ``source`` in place of what ``target`` holds, inside the transactions of the caller.

    Returns how many rows each table has. BadDatabase where what lies there afterwards is not the same.
    """
    there = {table.name: table for table in tables_of(target)}
    given = tables_of(source)
    if {table.name for table in given} != set(there):
        raise BadDatabase("the two databases are not of the same schema", "Open both with this release first.")
    empty(target, list(there.values()))
    for table in given:
        fill(target, there[table.name], read_rows(source, table))
    moved = contents_of(target)
    if moved != contents_of(source):
        raise BadDatabase("what was copied is not the same as what was there", "Nothing was changed. Try it again.")
    return {name: count for name, (count, _) in moved.items()}


def empty(connection: Connection, tables: list[Table]) -> None:
    """Delete every row of tables that stand after those that they refer to, and the index of what stood there."""
    forget_index(connection)
    for table in reversed(tables):
        if own := _own_references(table):
            connection.execute(update(table).values(dict.fromkeys(own)))
        connection.execute(table.delete())


def fill(connection: Connection, table: Table, rows: Iterator[dict[str, Any]]) -> None:
    """Insert rows some at a time; what they say of one another is put in when all are there."""
    own, (key, *_) = _own_references(table), table.primary_key.columns.keys()
    later: list[dict[str, Any]] = []
    while some := list(islice(rows, _AT_ONCE)):
        for row in some if own else ():
            later += [{"_key": row[key], "_to": row[name], "_name": name} for name in own if row[name] is not None]
            row |= dict.fromkeys(own)
        connection.execute(insert(table), some)
    for name in own:
        mine = [row for row in later if row["_name"] == name]
        if mine:
            to = update(table).where(table.c[key] == bindparam("_key")).values({name: bindparam("_to")})
            connection.execute(to, mine)
    _count_on(connection, table)


def _own_references(table: Table) -> list[str]:
    """The columns that refer to other rows of the same table."""
    return [column.name for column in table.columns for key in column.foreign_keys if key.column.table is table]


def _count_on(connection: Connection, table: Table) -> None:
    """Let a server number the next row after the last that is there; a file does so by itself."""
    if connection.dialect.name != "postgresql":
        return
    for column in table.primary_key.columns:
        named = text("SELECT pg_get_serial_sequence(:table, :column)").bindparams(
            table=f'"{table.name}"', column=column.name
        )
        if sequence := connection.execute(named).scalar():
            last = select(func.max(column)).scalar_subquery()
            connection.execute(select(func.setval(sequence, func.coalesce(last, 1), last.is_not(None))))
