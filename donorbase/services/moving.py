"""All that is the user's, from one database into another, or out into a file that any program can read, and back."""

import json
import shutil
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from donorbase import __version__
from donorbase.errors import BadDatabase, BadInput
from donorbase.services.backups import backup_before_import
from donorbase.services.contacts import masked_row
from donorbase.services.house import House
from donorbase.store.private import make_private
from donorbase.store.revision import newest_revision, revisions
from donorbase.store.rows import SHIPPED_TABLES
from donorbase.store.server import hidden

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

FORM = "donorbase database 1"
_OURS = {"word": ("shipped",), "setting": ("shipped_facts", "state")}
"""Rows that every release makes itself: words of that origin, settings of these names."""


def copy_database(house: House, target: str) -> dict[str, int]:
    """Everything into a database that holds nothing yet; how many rows each table has, found equal on both sides.

    BadInput where the target holds something. Where anything goes wrong the target is as it was.
    """
    if target == house.place:
        raise BadInput("both are the same database", "Name another one.")
    house.catalogue()
    with closing(House(target)) as new:
        new.catalogue()
        return _fill_from(house, new)


def _fill_from(source: House, target: House) -> dict[str, int]:
    """Put all of one into another that holds nothing of a user's; rows by table. BadInput where it does."""
    from donorbase.store.opening import spoken
    from donorbase.store.server_backup import filling
    from donorbase.store.transfer import move_all

    with (
        source.watch("Copying and comparing"),
        source.reading() as here,
        spoken(target.place),
        filling(target.place) as there,
    ):
        _refuse_used(there, target)
        return move_all(here, there)


def _refuse_used(connection: "Connection", house: House) -> None:
    used = {name: number for name, number in _own_counts(connection).items() if name != "setting"}
    if used:
        held = ", ".join(sorted(used))
        raise BadInput(f"{hidden(house.place)} is not empty: it has rows of {held}", "Name one that is not there yet.")


def _own_rows(connection: "Connection") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every row of the user's with the name of its table, those of one table together."""
    from donorbase.store.transfer import read_rows, tables_of

    for table in tables_of(connection):
        if table.name not in SHIPPED_TABLES:
            for row in read_rows(connection, table):
                if not _is_ours(table.name, row):
                    yield table.name, row


def _is_ours(table: str, row: Mapping[str, Any]) -> bool:
    """Whether a row is one that every release makes itself, and no file may bring."""
    return table in SHIPPED_TABLES or bool({row.get("origin"), row.get("name")} & set(_OURS.get(table, ())))


def _own_counts(connection: "Connection") -> dict[str, int]:
    return dict(Counter(name for name, _ in _own_rows(connection)))


def export_database(house: House, target: Path, *, contacts: bool = False) -> int:
    """All that is the user's as lines of JSON, whole or not at all; how many rows.

    Telephone numbers and e-mail addresses are masked without ``contacts``, so that every other word stands where it
    stood: what was read of a text still points at its words.

    The first line names the form, the schema and how many rows of each table follow; every other line is a table's
    name and a row. The file is for its owner alone.
    """
    from donorbase.store.transfer import plain

    if target.exists():
        raise BadInput(f"{target} exists already", "Name a file that does not exist yet.")
    house.catalogue()
    part = target.with_name(f"{target.name}.part")
    try:
        part.unlink(missing_ok=True)
        make_private(part)
        with (
            house.watch("Writing all rows"),
            house.reading() as connection,
            part.open("w", encoding="utf-8", newline="\n") as file,
        ):
            counts = _own_counts(connection)
            head = {"form": FORM, "schema": newest_revision(), "release": __version__, "rows": counts}
            file.write(json.dumps(head | {"made_at": datetime.now(UTC).isoformat()}) + "\n")
            for name, row in _own_rows(connection):
                told = row if contacts else masked_row(row)
                line = [name, {column: plain(value) for column, value in told.items()}]
                file.write(json.dumps(line, ensure_ascii=False) + "\n")
        part.replace(target)
    except OSError as wrong:
        raise BadInput(f"{target} cannot be written: {wrong.strerror}", "Name another place.") from wrong
    finally:
        part.unlink(missing_ok=True)
    return sum(counts.values())


def import_database(house: House, source: Path) -> int:
    """What was exported, by this release or an earlier one, into a database that holds nothing yet; how many rows.

    It is first put together in a file of its own, brought up to this release and found whole. BadInput, and nothing
    was changed, where the file is not whole, of a newer release, or the database holds something.
    """
    with house.reading() as connection:
        _refuse_used(connection, house)
    head = _head_of(source)
    backup_before_import(house)
    folder = house.backups / f"import-{datetime.now(UTC):%Y%m%dT%H%M%S%f}"
    try:
        with house.watch("Putting the rows together"):
            made = _put_together(folder, source, head)
        with closing(House(made)) as trial:
            trial.catalogue()
            _fill_from(trial, house)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    house.close()
    return sum(head["rows"].values())


def _head_of(source: Path) -> dict[str, Any]:
    """The first line, checked."""
    try:
        with source.open(encoding="utf-8") as file:
            head = json.loads(file.readline())
    except (OSError, ValueError, RecursionError) as wrong:
        raise BadInput(f"{source} cannot be read ({wrong})", "`donorbase db export` writes such a file.") from wrong
    if not isinstance(head, dict) or head.get("form") != FORM or not isinstance(head.get("rows"), dict):
        raise BadInput(f"{source} is no database of this program", "`donorbase db export` writes such a file.")
    if head.get("schema") not in revisions():
        raise BadDatabase(f"{source} was made by a newer release of donorbase", "Update donorbase.")
    return head


def _put_together(folder: Path, source: Path, head: Mapping[str, Any]) -> Path:
    """A file of the export's own schema that holds its rows and nothing else."""
    from donorbase.store.migrate import upgrade
    from donorbase.store.new_file import make_file
    from donorbase.store.opening import spoken
    from donorbase.store.private import make_private_folder
    from donorbase.store.server_backup import filling
    from donorbase.store.transfer import fill, tables_of

    make_private_folder(folder)
    made = folder / "import.sqlite3"
    make_file(made)
    with spoken(str(source)), filling(str(made)) as connection:
        upgrade(connection, head["schema"])
        tables = {table.name: table for table in tables_of(connection)}
        counts: Counter[str] = Counter()
        for name, rows in _by_table(source, tables):
            counts[name] += len(rows)
            fill(connection, tables[name], iter(rows))
    if counts != head["rows"]:
        raise BadInput(f"{source} is not whole: rows are missing", "Nothing was kept. Export it anew.")
    return made


def _by_table(source: Path, tables: Mapping[str, Any]) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """The rows of each table together, so that those that speak of one another are there at once."""
    from donorbase.store.transfer import unplain

    name, rows = "", list[dict[str, Any]]()
    with source.open(encoding="utf-8") as file:
        next(file)
        for number, line in enumerate(file, 2):
            try:
                table, told = json.loads(line)
                row = {column: unplain(tables[table].columns[column], value) for column, value in told.items()}
                if lacking := {column.name for column in tables[table].columns} - row.keys():
                    raise ValueError(f"{table} lacks {', '.join(sorted(lacking))}")
                if _is_ours(table, row):
                    raise ValueError(f"the program's own facts are no file's: {table}")
            except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as wrong:
                raise BadInput(f"{source}:{number} is no row of a database ({wrong})", "Nothing was kept.") from wrong
            if table != name and rows:
                yield name, rows
                rows = []
            name = table
            rows.append(row)
    if rows:
        yield name, rows
