"""``donorbase db``."""

from pathlib import Path

import click

from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.proposed import Known


@click.group(epilog="\b\nExample:\n    donorbase db status")
def db() -> None:
    """Look after the database: where it is, check, backup, restore."""


@db.command(epilog="\b\nExample:\n    donorbase db status")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def status(database: str | None, as_json: bool) -> None:
    """Say where the database lies and what it holds; changes nothing."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.database import status as status_of

    found = status_of(open_house(database)).as_json()
    if as_json:
        show_json(found)
        return
    counts = found.pop("counts")
    show_table([(name.replace("_", " "), value) for name, value in {**found, **counts}.items()], ("what", ""))


@db.command(epilog="\b\nExample:\n    donorbase db check")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def check(database: str | None, as_json: bool) -> None:
    """Check that the database is whole and that its shipped facts are as shipped."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json
    from donorbase.errors import BadDatabase
    from donorbase.services.database import check as check_of

    found = check_of(open_house(database))
    if as_json:
        show_json(found.as_json())
    elif found.sound:
        say(f"{found.place} is sound.")
    if not found.sound:
        lines = "\n".join(f"  {fault}" for fault in found.faults)
        raise BadDatabase(
            f"{found.place} is not sound:\n{lines}",
            "`donorbase db restore` puts back a copy, `donorbase db salvage` saves what can be read.",
        )


@db.command(epilog="\b\nExample:\n    donorbase db backup shelf-copy.sqlite3")
@click.argument("target", required=False, type=click.Path(path_type=Path))
@json_form
@click.pass_obj
def backup(database: str | None, target: Path | None) -> None:
    """Make a checked copy of the database, at TARGET or among the backups beside it, sellers' numbers and all."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.backups import backup as backup_of

    copy = backup_of(open_house(database), target)
    done({"copy": str(copy)}, f"A checked copy lies at {copy}")


@db.command(epilog="\b\nExample:\n    donorbase db restore shelf-copy.sqlite3")
@click.argument("source", type=click.Path(path_type=Path))
@json_form
@click.pass_obj
def restore(database: str | None, source: Path) -> None:
    """Put a copy in place of the database; what was there is backed up first."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.backups import restore as restore_of

    kept = restore_of(open_house(database), source)
    done({"before": str(kept)}, f"Restored. What was there before lies at {kept}")


@db.command(epilog="\b\nExample:\n    donorbase --db broken.sqlite3 db salvage")
@click.argument("target", required=False, type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def salvage(database: str | None, target: Path | None, as_json: bool) -> None:
    """Save what can be read of a damaged database into a new file, and say what was lost.

    The damaged file stays as it is. Look at the new one with --db, then put it in place with `donorbase db restore`.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json, show_table
    from donorbase.services.backups import salvage as salvage_of

    found = salvage_of(open_house(database), target)
    if as_json:
        show_json(found.as_json())
        return
    rows = [
        (name, number, _told(found.torn.get(name, 0)), found.refused.get(name, 0) + found.dropped.get(name, 0))
        for name, number in found.saved.items()
        if number or name in found.torn
    ]
    show_table(rows, ("table", "rows saved", "rows unreadable", "rows not kept"))
    if unlinked := sum(found.unlinked.values()):
        say(f"{unlinked} rows were kept without the lost row they spoke of.")
    say(f"What was saved lies at {found.target}, and is sound.")
    if found.newest_backup:
        say(f"The newest backup is {found.newest_backup}: it may hold what is missing here.")
    say(f"To put it in place: donorbase db restore {found.target}")


def _told(number: int | None) -> str:
    return "not known how many" if number is None else f"at most {number}" if number else "0"


@db.command("export", epilog="\b\nExample:\n    donorbase db export everything.jsonl --contacts")
@click.argument("target", type=click.Path(path_type=Path))
@click.option("--contacts", is_flag=True, help="Keep telephone numbers and e-mail addresses: to move or keep it whole.")
@json_form
@click.pass_obj
def export_(database: str | None, target: Path, contacts: bool) -> None:
    """Write all that is yours as lines of JSON, for another program or, with --contacts, to move it.

    Sellers' telephone numbers and e-mail addresses are masked (###-####) unless you say --contacts. `donorbase db
    copy` and `donorbase db backup` always keep them.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import contacts_kept, done, tell
    from donorbase.services.moving import export_database

    kept = contacts or contacts_kept()
    rows = export_database(open_house(database), target, contacts=kept)
    done({"rows": rows, "file": str(target)}, f"{rows:,} rows lie in {target}, which you alone may read")
    if not kept:
        tell("Telephone numbers and e-mail addresses are masked in it; --contacts keeps them.", err=True)


@db.command("import", epilog="\b\nExample:\n    donorbase --db new.sqlite3 db import everything.jsonl")
@click.argument("source", type=click.Path(path_type=Path))
@json_form
@click.pass_obj
def import_(database: str | None, source: Path) -> None:
    """Take an export, of this release or an earlier one, into a database that holds nothing of yours yet."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.moving import import_database

    rows = import_database(open_house(database), source)
    done({"rows": rows}, f"{rows:,} rows were taken in")


@db.command(epilog="\b\nExample:\n    donorbase db copy postgresql://kim@shop/donorbase")
@click.argument("target")
@json_form
@click.pass_obj
def copy(database: str | None, target: str) -> None:
    """Copy everything, sellers' numbers too, into another database, a file or a server, that holds nothing yet.

    Both are compared when it is done.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.moving import copy_database

    counts = copy_database(open_house(database), target)
    done(counts, f"Copied {sum(counts.values()):,} rows of {len(counts)} tables; both sides hold the same.")


@db.command(epilog="\b\nExample:\n    donorbase db back 0009")
@click.argument("schema", type=Known("schemas"))
@json_form
@click.pass_obj
def back(database: str | None, schema: str) -> None:
    """Take the database back to an earlier SCHEMA, for a program of an earlier release; it is backed up first."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.backups import migrate_back

    kept = migrate_back(open_house(database), schema)
    said = f"It has schema {schema} now; this program would bring it up to date again. A backup lies at {kept}"
    done({"schema": schema, "backup": str(kept)}, said)


@db.command(epilog="\b\nExample:\n    donorbase db history --limit 50")
@click.option("--limit", default=20, show_default=True, help="How many of the newest changes.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, with what was there before and after.")
@csv_form
@click.pass_obj
def history(database: str | None, limit: int, as_json: bool) -> None:
    """Say who changed words, builds, rates and corrections, and when; who imported listings and lists of yards.

    Candidates and parts have their own: `donorbase candidate history`, `donorbase part history`.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.database import changes

    found = changes(open_house(database), limit)
    if as_json:
        show_json([one.as_json() for one in found])
        return
    rows = [
        (f"{one.noted_at:%Y-%m-%d %H:%M}", one.who or one.login, one.did, one.of_table.replace("_", " "), one.name[:40])
        for one in found
    ]
    show_table(rows, ("when (UTC)", "who", "did", "what", "name"))


@db.command(epilog="\b\nExample:\n    donorbase --db postgresql://owner@shop/donorbase db roles | psql ...")
@click.pass_obj
def roles(database: str | None) -> None:
    """Print the SQL that gives the people of a shop their rights on a server, with the reasons beside it."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_file
    from donorbase.services.database import roles as roles_of

    show_file(roles_of(open_house(database)))
