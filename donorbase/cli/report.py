"""``donorbase report``."""

from datetime import date

import click

from donorbase.cli.proposed import BUILD, FILE


@click.command(epilog="\b\nExample:\n    donorbase report --build crawler -o report.html")
@click.option("--build", "-b", "name", required=True, type=BUILD, metavar="NAME", help="The kept build.")
@click.option("--output", "-o", type=FILE, metavar="FILE", help="The page to write; `-` prints it.")
@click.option("--count", type=click.IntRange(1, 500), default=20, show_default=True, help="Candidates to show at most.")
@click.option("--contacts", is_flag=True, help="Leave sellers' numbers and addresses on the page.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead.")
@click.pass_obj
def report(database: str | None, name: str, output: str | None, count: int, contacts: bool, as_json: bool) -> None:
    """Make a page of all that is kept for a build: shortlist, costs, chances, pairs, what is open, the shelf.

    One file without scripts, to print, to send, or to open without a network.
    """
    from donorbase.cli.candidate_judge import bar
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import CAUTION, contacts_kept, show_json, write_page
    from donorbase.services.rejudging import count_due
    from donorbase.services.report import report_of

    if as_json == bool(output):
        raise click.UsageError("Name the page with -o FILE, or print --json.")
    house = open_house(database)
    desk = open_desk(house)
    kept = house.build(name).name
    with bar("judging", count_due(house, desk).get(kept, 0)) as progress:
        found = report_of(house, desk, kept, date.today(), count, progress)
    if as_json:
        show_json(found.as_json(), contacts=contacts)
    else:
        from donorbase.reports.pages import report_page

        write_page(str(output), report_page(found, CAUTION, contacts=contacts or contacts_kept()))
