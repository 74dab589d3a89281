"""``donorbase part money``."""

from typing import Any

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import BUILD


@click.command(epilog="\b\nExample:\n    donorbase part money crawler")
@click.argument("builds", type=BUILD, nargs=-1, metavar="[BUILD]...")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def money(database: str | None, builds: tuple[str, ...], as_json: bool) -> None:
    """Show what each build cost so far in parts, what is set aside for it, and what is still to come.

    What has no cost told is in no sum and is counted. Still to come is what a bare housing lacks and the shelf does
    not cover. What selling the rest of a build's axles brought stands below, beside what it had cost.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json, show_table
    from donorbase.services.shelf_money import money_of, sales_of_no_build

    house = open_house(database)
    found = [one.as_json() for one in money_of(house, builds)]
    sums = ("fitted", "set aside", "bought, not here", "spent")
    heads = ("build", *(f"{one}, USD" for one in sums), "cost not known", "to come, USD", "limit, USD", *_SOLD)
    keys = ("build", "fitted_usd", "set_aside_usd", "bought_usd", "spent_usd", "unknown", "to_come_usd", "limit_usd")
    rows = [(*(one[key] for key in keys), *_sold(one["sold"])) for one in found]
    others = {} if builds else {"no build": sales_of_no_build(house).as_json()}
    if as_json:
        show_json(found)
        return
    show_table(rows, heads, "No build is kept. `donorbase build add` keeps one.")
    for name, sold in ({one["build"]: one["sold"] for one in found} | others).items():
        _say_sold(name, sold)
    unpriced = sum(one["unpriced"] for one in found)
    if unpriced:
        say(f"{unpriced} pieces that are to come have no price, and are in no sum.")


_SOLD = ("sold for, USD", "had cost, USD")


def _sold(sold: dict[str, Any]) -> tuple[object, object]:
    return (sold["brought_usd"], sold["had_cost_usd"]) if sold["count"] else (None, None)


def _say_sold(build: str, sold: dict[str, Any]) -> None:
    from donorbase.cli.output import say

    if sold["count"]:
        unknown = f", {sold['cost_unknown']} of them of a cost not known" if sold["cost_unknown"] else ""
        parts = f"{sold['count']} part{'s' if sold['count'] > 1 else ''}"
        say(f"Sold of {build}: {parts} for {sold['brought_usd']}, which had cost {sold['had_cost_usd']}{unknown}.")
