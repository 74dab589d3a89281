"""``donorbase order``."""

from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.calc_answer import RATIO
from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import Known
from donorbase.cli.told import axle_given, axle_options, build_option

if TYPE_CHECKING:
    from donorbase.services.orders import LockersFor
    from donorbase.verdict.order import Ordered

_SURE = 0.995
CONDITIONS = {"go": "green", "unclear": "yellow", "stop": "red"}
_EXAMPLE = (
    "donorbase order --variant front-9.75-balljoint/a-2005-2010-srw --ratio 41/8 --cut reverse\n"
    "        --made-for 2005-2016 --other-ratio 5.13 --locker air --locker-splines 35 --case 4.56"
)


@click.command(epilog=f"\b\nExample:\n    {_EXAMPLE}")
@axle_options
@build_option("Gives the ratio, and that of the other end.")
@click.option("--ratio", type=RATIO, help="Ratio of the set, or its teeth as 41/8.")
@click.option(
    "--set",
    "set_key",
    type=Known("gears"),
    default="",
    metavar="KEY",
    help="The gear set, or the axle a used set is out of.",
)
@click.option("--made-for", metavar="YEARS", help="Model years that the set is sold for: 2005-2016, 2017+.")
@click.option(
    "--cut",
    type=Known("cuts"),
    default="",
    metavar="standard|reverse",
    help="Spiral of the set; reverse is for high pinions.",
)
@click.option("--thick/--usual", "thick", default=None, help="A thick ring gear, or one of the usual thickness.")
@click.option("--used", is_flag=True, help="The set was run before.")
@click.option("--ring-number", default="", help="Number etched on the ring gear ...")
@click.option("--pinion-number", default="", help="... and on the pinion.")
@click.option("--other-ratio", type=RATIO, help="Ratio at the other end, or its teeth.")
@click.option(
    "--locker",
    type=Known("lockers"),
    default="",
    metavar="KIND",
    help="air, electric, automatic, limited-slip, spool ...",
)
@click.option("--locker-splines", type=int, help="Shaft splines that it is made for.")
@click.option("--case", "case_ratio", type=RATIO, help="A ratio of the side that the locker or new case is made for.")
@click.option("--lockers", "only_lockers", is_flag=True, help="Order nothing: list the lockers made for the axle.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def order(
    database: str | None,
    /,
    variant: str,
    listing: str | None,
    saw: tuple[str, ...],
    end: str | None,
    build_name: str | None,
    made_for: str | None,
    only_lockers: bool,
    as_json: bool,
    **ordered: Any,
) -> None:
    """Check an order of gears or of a locker, line by line: go, stop or unclear, and what would settle it.

    What is not told of the order is never taken for right. A cover off and counted teeth settle most of it.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build
    from donorbase.services.orders import check_order, lockers_for
    from donorbase.verdict.ordered import Order

    house = open_house(database)
    given = axle_given(variant, listing, saw, end)
    if only_lockers:
        _show_lockers(lockers_for(open_desk(house), **given), as_json)
        return
    wanted = Order(made_for=_years(made_for), **ordered)
    build = find_build(house, build_name) if build_name else None
    found = check_order(open_desk(house), wanted, build=build, **given)
    if as_json:
        show_json(found.as_json())
    else:
        _show(found)


def _years(text: str | None) -> tuple[int, int | None] | None:
    from donorbase.reference.conditions import parse_condition

    if text is None:
        return None
    first, last = parse_condition("years", text).spans[0]
    return int(first or 0), None if last is None else int(last)


def _show(found: "Ordered") -> None:
    from donorbase.cli.output import caution, heading, say

    _say_light(str(found.light), f"   for {found.axle}")
    for line in found.lines:
        say()
        _say_light(str(line.light), f" {line.topic}: {line.why}.")
        if line.settle:
            say(f"Settle it: {line.settle}", 2)
        say(f"Basis: {line.basis}.", 2)
    for title, lines in (
        ("Which gears the axle has, look at first", found.settle),
        ("Write on the order", found.write),
        ("When it comes", found.on_arrival),
        ("Mind", found.cautions),
    ):
        if lines:
            say()
            heading(title)
            for text in lines:
                say(f"- {text}")
    caution()


def _show_lockers(found: "LockersFor", as_json: bool) -> None:
    from donorbase.cli.output import say, show_json, show_table
    from donorbase.reference.lockers import KINDS

    if as_json:
        show_json(found.as_json())
        return
    say(f"For {found.axle}.")
    rows = [
        (KINDS[n.kind], n.made, n.limit, "" if chance > _SURE else f"{chance:.0%}", f"{n.confidence}; {n.basis}")
        for n, chance in found.lockers
    ]
    show_table(rows, ("locker", "made", "which", "if it is that axle", "confidence; basis"))
    say()
    counts = " or ".join(f"{n:g}" if p > _SURE else f"{n:g} ({p:.0%})" for n, p in found.splines)
    say(f"Splines at the differential: {counts or 'not known: count them'}.")
    say(f"Cases change at: {found.case or 'not known'}.")
    say(f"Inside the open case that is there: {found.inserts or 'nothing on record'}.")


def _say_light(light: str, more: str) -> None:
    from donorbase.cli.output import say

    word = light.upper()
    say(f"{word}{more}", bright=word, colour=CONDITIONS[light])
