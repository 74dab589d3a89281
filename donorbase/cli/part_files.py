"""``donorbase part export`` and ``import``."""

from pathlib import Path

import click


@click.command("export", epilog="\b\nExample:\n    donorbase part export > shelf.json")
@click.pass_obj
def export(database: str | None) -> None:
    """Print the whole shelf as JSON: every part with its events, promises and readings.

    `donorbase part import` reads it back to the same, but for the number of the candidate a part was bought as.
    `donorbase part list --all --csv` is for spreadsheets.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json
    from donorbase.services.shelf_files import export_shelf

    show_json(export_shelf(open_house(database)))


@click.command("import", epilog="\b\nExample:\n    donorbase part import shelf.json")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.pass_obj
def import_(database: str | None, file: Path) -> None:
    """Keep the parts of an exported shelf, all or none. Parts that are there already are not kept twice."""
    from donorbase.cli.context import open_house
    from donorbase.services.shelf_files import import_shelf

    added, known = import_shelf(open_house(database), file.read_bytes(), file.name)
    click.echo(f"{added} parts added; {known} were here already.")
