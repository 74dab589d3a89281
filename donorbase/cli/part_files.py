"""``donorbase part export`` and ``import``."""

from pathlib import Path

import click

from donorbase.cli.forms import json_form

_SHEETS = (".csv", ".tsv")


@click.command("export", epilog="\b\nExample:\n    donorbase part export --contacts > shelf.json\n"
               "    donorbase part export --csv --contacts > shelf.csv")  # fmt: skip
@click.option("--csv", "as_csv", is_flag=True, help="Print CSV for spreadsheets: the parts as they stand.")
@click.option("--contacts", is_flag=True, help="Keep telephone numbers and e-mail addresses: to move or keep it whole.")
@click.pass_obj
def export(database: str | None, as_csv: bool, contacts: bool) -> None:
    """Print the whole shelf as JSON: every part with its events, promises and readings.

    `donorbase part import` reads it back to the same, but for the number of the candidate a part was bought as. The
    CSV has each part as it stands, with notes and photos, and is read back to the same; what happened before, and
    what was measured, is in the JSON alone. Telephone numbers and e-mail addresses are masked (###-####) unless you
    say --contacts.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import contacts_kept, show_file, show_json, tell
    from donorbase.services.contacts import masked_data
    from donorbase.services.shelf_csv import export_csv
    from donorbase.services.shelf_files import export_shelf

    house = open_house(database)
    kept = contacts or contacts_kept()
    if as_csv:
        show_file(export_csv(house, contacts=kept))
    else:
        shelf = export_shelf(house)
        show_json(shelf if kept else masked_data(shelf), contacts=True)
    if not kept:
        tell("Telephone numbers and e-mail addresses are masked in it; --contacts keeps them.", err=True)


@click.command("import", epilog="\b\nExample:\n    donorbase part import shelf.json\n"
               "    donorbase part import heap.csv --column kind=What --keep-good")  # fmt: skip
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--column", "columns", multiple=True, metavar="FIELD=HEAD", help="Which column of CSV holds a field.")
@click.option("--encoding", default="utf-8", show_default=True, help="The encoding of the CSV.")
@click.option("--keep-good", is_flag=True, help="Keep the good rows of a CSV file that has bad ones.")
@click.option("--again", is_flag=True, help="Rows without a tag are further parts, though just like some kept here.")
@json_form
@click.pass_obj
def import_(
    database: str | None, file: Path, columns: tuple[str, ...], encoding: str, keep_good: bool, again: bool
) -> None:
    """Keep the parts of an exported shelf, or of a spreadsheet saved as CSV. None is kept twice.

    Of CSV only a column `kind` is needed; the heads known are those of `donorbase part export --csv`. A row without a
    tag gets one, unless a part just like it is here already (--again). Rows that cannot be used are told with their
    line and why; nothing is kept then unless you say --keep-good.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.shelf_files import import_shelf

    if file.suffix.casefold() in _SHEETS:
        _import_sheet(database, file, columns, encoding, keep_good, again)
        return
    added, known = import_shelf(open_house(database), file.read_bytes(), file.name)
    done({"added": added, "known": known}, f"Added {added}; {known} were here already.")


def _import_sheet(
    database: str | None, file: Path, columns: tuple[str, ...], encoding: str, keep_good: bool, again: bool
) -> None:
    from datetime import date

    from donorbase.cli.candidate_import import pair
    from donorbase.cli.context import open_house, who_does_it
    from donorbase.cli.output import done, tell
    from donorbase.services.gathering import Looked, refuse_faults
    from donorbase.services.shelf_csv import keep_rows, look_over

    house = open_house(database)
    named = dict(map(pair, columns))
    found = look_over(house, file, named, encoding, date.today(), lambda fault: tell(fault, err=True), again=again)
    if found.alike:
        tell(f"{found.alike} rows are just like parts kept here and are left out; --again keeps them as further parts.")
    refuse_faults(Looked(len(found.rows) + found.known + found.alike, found.faulty), file.name, keep_good, "part")
    if found.unread:
        tell(f"Columns left out: {', '.join(found.unread)}. --column FIELD=HEAD says what one holds.", err=True)
    added = keep_rows(house, [row for _, row in found.rows], who_does_it())
    bad = f"; bad rows left out: {found.faulty}" if found.faulty else ""
    told = {"added": added, "known": found.known, "faulty": found.faulty}
    done(told, f"Added {added}; {found.known} were here already{bad}.")
