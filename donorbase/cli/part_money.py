"""``donorbase part money``."""

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
    not cover.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json, show_table
    from donorbase.services.shelf_money import money_of

    found = [one.as_json() for one in money_of(open_house(database), builds)]
    sums = ("fitted", "set aside", "bought, not here", "spent")
    heads = ("build", *(f"{one}, USD" for one in sums), "cost not known", "to come, USD", "limit, USD")
    keys = ("build", "fitted_usd", "set_aside_usd", "bought_usd", "spent_usd", "unknown", "to_come_usd", "limit_usd")
    rows = [tuple(one[key] for key in keys) for one in found]
    if as_json:
        show_json(found)
        return
    show_table(rows, heads, "No build is kept. `donorbase build add` keeps one.")
    if found:
        unpriced = sum(one["unpriced"] for one in found)
        if unpriced:
            say(f"{unpriced} pieces that are to come have no price, and are in no sum.")
