"""``donorbase sheet``: the yard sheet, as a page or as plain text."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.printed import Page
from donorbase.cli.proposed import FILE, Known
from donorbase.cli.told import build_option

if TYPE_CHECKING:
    from donorbase.services.sheet import AxlePage, Sheet
    from donorbase.verdict.inspect import Inspection


@click.command(
    epilog="\b\nExamples:\n    donorbase sheet 12 --build crawler -o sheet.html\n"
    "    donorbase sheet front-9.75-balljoint/a-2005-2010-srw --build crawler --text"
)
@click.argument("axle", type=Known("candidates and axles"), required=False, metavar="[CANDIDATE|VARIANT]")
@build_option("A kept build, or a build file; a candidate has its own.", default="")
@click.option("--listing", type=FILE, metavar="FILE", help="The advert instead; `-` to paste it.")
@click.option(
    "--output", "-o", type=FILE, metavar="FILE", help="Write a page to print, or to open on a phone without a network."
)
@click.option("--text", "printed", is_flag=True, help="Plain text for print, with boxes to tick and blanks to fill.")
@click.option("--contacts", is_flag=True, help="Leave sellers' numbers and addresses on it.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def sheet(
    database: str | None,
    axle: str | None,
    build_name: str,
    listing: str | None,
    output: str | None,
    printed: bool,
    contacts: bool,
    as_json: bool,
) -> None:
    """Make the sheet for the yard: what ends the deal first, where to put the tape, room to write.

    For a candidate by its number, which has its build; for a kind of axle by its key, or an advert.
    """
    from donorbase.cli.output import CAUTION, contacts_kept, show_json, write_page

    if (axle is None) == (listing is None):
        raise click.UsageError("Name a candidate, a variant, or --listing FILE.")
    if printed and as_json:
        raise click.UsageError("--text prints words and --json data: choose one.")
    made = _made(database, axle, build_name, listing)
    if as_json:
        show_json(made.as_json(), contacts=contacts)
    if output:
        from donorbase.reports.pages import sheet_page

        write_page(output, sheet_page(made, CAUTION, contacts=contacts or contacts_kept()))
    elif not as_json:
        _print(made, contacts=contacts or contacts_kept())


def _made(database: str | None, axle: str | None, build_name: str, listing: str | None) -> "Sheet":
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.paste import pasted
    from donorbase.services.builds import find_build
    from donorbase.services.sheet import sheet_of_candidate, sheet_of_text, sheet_of_variant

    house = open_house(database)
    desk = open_desk(house)
    if axle and axle.isdigit():
        return sheet_of_candidate(house, desk, int(axle), build_name)
    if not build_name:
        raise click.UsageError("Name a build: --build NAME, or --build FILE.toml.")
    build = find_build(house, build_name)
    return sheet_of_variant(desk, axle, build) if axle else sheet_of_text(desk, pasted(listing, None), build)


def _print(sheet: "Sheet", *, contacts: bool) -> None:
    from donorbase.cli.output import caution
    from donorbase.services.contacts import without_contacts

    page = Page(printed=True, deeper=2, told=str if contacts else without_contacts)
    page.line(sheet.title)
    page.line(f"Yard sheet for the build {sheet.build}. {'; '.join(sheet.about)}.")
    page.line("Date ____________  Seen by ____________________")
    page.line(f"Bring: {', '.join(sheet.bring)}, this sheet and a pen.")
    for axle in sheet.axles:
        _print_axle(page, axle)
    if sheet.cautions:
        page.heading("Mind")
        for told in sheet.cautions:
            page.line(f"- {told}")
    caution()


def _print_axle(page: Page, axle: "AxlePage") -> None:
    from donorbase.reference.inspection import WEIGHTS

    page.line("")
    page.line(f"THE {axle.end.upper()}: {axle.taken_for}")
    why = f": {'; '.join(axle.reasons)}" if axle.reasons else ""
    page.line(f"{axle.verdict} as told so far{why}.")
    if len(axle.may_be) > 1:
        page.line(f"It may be: {', '.join(f'{key} ({chance:.0%})' for key, chance in axle.may_be)}.")
    for number, (title, how) in enumerate(axle.deciding, 1):
        page.line(f"{number}. {title}: {how} ________")
    for weight, title in WEIGHTS.items():
        looks = axle.of_weight(weight)
        if looks:
            page.heading(title)
        for one in looks:
            _print_look(page, one)


def _print_look(page: Page, one: "Inspection") -> None:
    page.line(f"[ ] {one.look.look}{' THIS DECIDES.' if one.decides else ''}")
    page.line(one.look.how, 4)
    for should in one.should:
        asks = f"; the build asks {should.asks}" if should.asks else ""
        page.line(f"{should.title}: {should.words}{asks}. Found: ____________", 4)
    page.line(f"-> {one.look.means}", 4)
