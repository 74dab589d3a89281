"""``donorbase finish``."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.paste import pasted
from donorbase.cli.proposed import FILE
from donorbase.cli.told import build_option

if TYPE_CHECKING:
    from collections.abc import Sequence

    from donorbase.services.finish import Brought


@click.command(
    epilog="\b\nExample:\n    donorbase finish complete.txt housing.txt truck.txt --build crawler --distance-mi 40"
)
@click.argument("sources", type=FILE, nargs=-1, required=True, metavar="FILE...")
@build_option(required=True)
@click.option(
    "--distance-mi",
    "distances",
    type=click.FloatRange(0, 5000),
    multiple=True,
    help="How far away, one way: once for all of them, or once for each in their order.",
)
@click.option("--json", "as_json", is_flag=True, help="Print everything as JSON.")
@click.option("--encoding", help="The files' encoding, where it is not UTF-8.")
@csv_form
@click.pass_obj
def finish(
    database: str | None,
    sources: tuple[str, ...],
    build_name: str,
    distances: tuple[float, ...],
    as_json: bool,
    encoding: str | None,
) -> None:
    """Bring several offers to the same finished state and show what each costs.

    A complete axle, a bare housing and a whole truck are compared with your planned work done, missing parts bought
    and conversions made; what one has already is not paid again.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build
    from donorbase.services.finish import Offer, side_by_side

    if len(distances) not in (0, 1, len(sources)):
        raise click.UsageError(f"--distance-mi: give one for all, or {len(sources)}, one for each file.")
    miles = distances if len(distances) == len(sources) else (distances or (None,)) * len(sources)
    house = open_house(database)
    build = find_build(house, build_name)
    offers = [
        Offer(_name(source, sources), pasted(source, encoding), mi) for source, mi in zip(sources, miles, strict=True)
    ]
    brought = side_by_side(open_desk(house), build, offers)
    if as_json:
        show_json([one.as_json() for one in brought])
    else:
        _show(brought, build.money.landed_limit_usd)


def _name(source: str, sources: tuple[str, ...]) -> str:
    """The file's name without its ending, where that tells it from the others."""
    stems = [Path(s).stem for s in sources]
    return Path(source).stem if stems.count(Path(source).stem) == 1 else source


def _show(brought: "Sequence[Brought]", limit_usd: float | None) -> None:
    from donorbase.cli.output import caution, heading, say, show_table

    heading("Finished, USD: musts met, planned work done, parts bought")
    show_table([_row(one) for one in brought], _COLUMNS)
    say()
    heading("What goes into it (likely)")
    labels = list(dict.fromkeys(line.label for one in brought for line in one.finished.money.lines))
    rows = [(label, *(_likely(one, label) for one in brought)) for label in labels]
    show_table(rows, ("what", *(one.name for one in brought)))
    for one in brought:
        if one.finished.spared:
            say(f"{one.name} is spared: {', '.join(one.finished.spared)}.")
        if not one.finished.reachable:
            say(f"{one.name} cannot be finished: {one.verdict.reasons[0]}.")
    if limit_usd is not None:
        say(f"Your limit of {limit_usd:,.0f} is for the axle landed and made good, without the planned work.")
    caution()


_COLUMNS = ("offer", "what", "verdict", "low", "likely", "high", "nine in ten under", "hours")


def _row(one: "Brought") -> tuple[object, ...]:
    money, (least, most) = one.finished.money, one.finished.hours
    total = (round(money.total.low), round(money.total.likely), round(money.total.high)) if money.total else ("",) * 3
    nine = money.under_by_chance(0.9)
    return one.name, one.kind, str(one.verdict.verdict), *total, round(nine) if nine else "", f"{least:g}-{most:g}"


def _likely(one: "Brought", label: str) -> object:
    costs = [line.cost.likely for line in one.finished.money.lines if line.label == label]
    return round(sum(costs)) if costs else None
