"""``donorbase db``."""

from pathlib import Path

import click


@click.group()
def db() -> None:
    """Look after the database: where it is, check, backup, restore."""


@db.command(epilog="\b\nExample:\n    donorbase db status")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
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
        raise BadDatabase(f"{found.place} is not sound:\n{lines}", "`donorbase db restore` puts back a copy.")


@db.command(epilog="\b\nExample:\n    donorbase db backup shelf-copy.sqlite3")
@click.argument("target", required=False, type=click.Path(path_type=Path))
@click.pass_obj
def backup(database: str | None, target: Path | None) -> None:
    """Make a checked copy of the database, at TARGET or among the backups beside it."""
    from donorbase.cli.context import open_house
    from donorbase.services.database import backup as backup_of

    click.echo(f"A checked copy lies at {backup_of(open_house(database), target)}")


@db.command(epilog="\b\nExample:\n    donorbase db restore shelf-copy.sqlite3")
@click.argument("source", type=click.Path(path_type=Path))
@click.pass_obj
def restore(database: str | None, source: Path) -> None:
    """Put a copy in place of the database; what was there is backed up first."""
    from donorbase.cli.context import open_house
    from donorbase.services.database import restore as restore_of

    kept = restore_of(open_house(database), source)
    click.echo(f"Restored. What was there before lies at {kept}")
