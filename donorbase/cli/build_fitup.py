"""``donorbase build fitup``: the sheet of hold points, on the screen or for print."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.printed import Page
from donorbase.cli.proposed import BUILD_OR_FILE, Named
from donorbase.cli.told import axles_given, axles_options

if TYPE_CHECKING:
    from donorbase.verdict.fitup import FitUp, Hold


@click.command(
    epilog="\b\nExamples:\n    donorbase build fitup crawler --variant front-9.75-balljoint/a-2005-2010-srw --text\n"
    "    donorbase build fitup crawler --listing advert.txt --measured caster_deg=2.5 --measured pinion_deg=10.5"
)
@click.argument("name", type=BUILD_OR_FILE, metavar="NAME|FILE")
@axles_options
@click.option(
    "--measured",
    type=Named("under the vehicle"),
    multiple=True,
    metavar="NAME=VALUE",
    help="Measured under the vehicle; --names lists them.",
)
@click.option("--names", is_flag=True, help="List what can be given with --measured.")
@click.option("--text", "printed", is_flag=True, help="Plain text for print, with boxes to tick and blanks to fill.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def fitup(
    database: str | None,
    name: str,
    variants: tuple[str, ...],
    listing: str | None,
    saw: tuple[str, ...],
    measured: tuple[str, ...],
    names: bool,
    printed: bool,
    as_json: bool,
) -> None:
    """Show what must be looked at and ticked before welding and before driving, for this axle under this vehicle.

    From axle, springs and steering. What links and angles come to is worked out from what was measured: ends of links
    as ACROSS,UP in inches, seen from the front.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.identify import pair_of
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build
    from donorbase.services.fitting import fit_up_sheet

    if names:
        _show_names()
        return
    if printed and as_json:
        raise click.UsageError("--text prints words and --json data: choose one.")
    told = axles_given(variants, listing, saw)
    taken = dict(pair_of(one) for one in measured)
    house = open_house(database)
    found = fit_up_sheet(open_desk(house), find_build(house, name), **told, measured=taken)
    if as_json:
        show_json(found.as_json())
    else:
        _show(found, printed)


def _show_names() -> None:
    from donorbase.cli.output import say, show_table
    from donorbase.verdict.fitup_sums import MEASURES, POINTS

    show_table(list(MEASURES.items()), ("name", "what it is"))
    say()
    show_table(list(POINTS.items()), ("point, as ACROSS,UP", "what it is"))


def _show(found: "FitUp", printed: bool) -> None:
    from donorbase.cli.output import CAUTION

    page = Page(printed)
    page.line(f"Hold points: {found.build}")
    for axle in found.axles:
        page.line(axle, 2)
    numbers = {hold.point.key: number for number, hold in enumerate(found.holds, 1)}
    for word, title in found.stages:
        holds = [hold for hold in found.holds if hold.point.stage == word]
        if holds:
            page.heading(title)
        for hold in holds:
            _show_hold(page, numbers[hold.point.key], hold, several=len(found.axles) > 1)
    if found.cautions:
        page.heading("Mind")
    for caution in found.cautions:
        page.line(f"- {caution}")
    page.line("")
    page.line(CAUTION)


def _show_hold(page: Page, number: int, hold: "Hold", *, several: bool) -> None:
    point = hold.point
    ends = f"{' and '.join(hold.ends)}: " if several else ""
    page.line(f"[ ] {number}. {ends}{point.do}")
    page.line(f"Why: {point.why}. ({point.basis})", 6)
    if hold.because:
        word = "Here because" if hold.sure else "Here unless it turns out otherwise"
        page.line(f"{word}: {'; '.join(hold.because)}.", 6)
    for said in hold.sums:
        page.line(f"Worked out: {said}.", 6)
    if point.fill:
        page.line(f"Write down: {point.fill}", 6)
    if point.inspect:
        page.line(f"Have it inspected: {point.inspect}", 6)
