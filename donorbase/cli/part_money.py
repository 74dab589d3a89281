"""``donorbase part money``."""

from typing import Any

import click


@click.command(epilog="\b\nExample:\n    donorbase part money crawler")
@click.argument("builds", nargs=-1, metavar="[BUILD]...")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--csv", "as_csv", is_flag=True, help="Print CSV.")
@click.pass_obj
def money(database: str | None, builds: tuple[str, ...], as_json: bool, as_csv: bool) -> None:
    """Show what each build cost so far in parts, what is set aside for it, and what is still to come.

    What has no cost told is in no sum and is counted. Still to come is what a bare housing lacks and the shelf does
    not cover. What selling the rest of a build's axles brought stands below, beside what it had cost.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_csv, show_json, show_table
    from donorbase.services.shelf_money import money_of, sales_of_no_build

    house = open_house(database)
    found = [one.as_json() for one in money_of(house, builds)]
    heads = ("build", "fitted", "set aside", "bought, not here", "spent", "cost not known", "to come", "limit")
    keys = ("build", "fitted_usd", "set_aside_usd", "bought_usd", "spent_usd", "unknown", "to_come_usd", "limit_usd")
    rows = [tuple(one[key] for key in keys) for one in found]
    others = {} if builds else {"no build": sales_of_no_build(house).as_json()}
    if as_json:
        show_json(found)
    elif as_csv:
        sold = [(one["sold"]["brought_usd"], one["sold"]["had_cost_usd"]) for one in found]
        show_csv([(*row, *more) for row, more in zip(rows, sold, strict=True)], (*heads, "sold for", "had cost"))
    elif not found:
        say("No build is kept. `donorbase build add` keeps one.")
    else:
        show_table(rows, heads)
        unpriced = sum(one["unpriced"] for one in found)
        for name, sold in ({one["build"]: one["sold"] for one in found} | others).items():
            _say_sold(name, sold)
        say(f"USD.{f' {unpriced} pieces that are to come have no price, and are in no sum.' if unpriced else ''}")


def _say_sold(build: str, sold: dict[str, Any]) -> None:
    from donorbase.cli.output import say

    if sold["count"]:
        unknown = f", {sold['cost_unknown']} of them of a cost not known" if sold["cost_unknown"] else ""
        parts = f"{sold['count']} part{'s' if sold['count'] > 1 else ''}"
        say(f"Sold of {build}: {parts} for {sold['brought_usd']}, which had cost {sold['had_cost_usd']}{unknown}.")
