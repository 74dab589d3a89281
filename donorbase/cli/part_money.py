"""``donorbase part money``."""

import click

from donorbase.cli.proposed import BUILD


@click.command(epilog="\b\nExample:\n    donorbase part money crawler")
@click.argument("builds", type=BUILD, nargs=-1, metavar="[BUILD]...")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--csv", "as_csv", is_flag=True, help="Print CSV.")
@click.pass_obj
def money(database: str | None, builds: tuple[str, ...], as_json: bool, as_csv: bool) -> None:
    """Show what each build cost so far in parts, what is set aside for it, and what is still to come.

    What has no cost told is in no sum and is counted. Still to come is what a bare housing lacks and the shelf does
    not cover.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_csv, show_json, show_table
    from donorbase.services.shelf_money import money_of

    found = [one.as_json() for one in money_of(open_house(database), builds)]
    heads = ("build", "fitted", "set aside", "bought, not here", "spent", "cost not known", "to come", "limit")
    keys = ("build", "fitted_usd", "set_aside_usd", "bought_usd", "spent_usd", "unknown", "to_come_usd", "limit_usd")
    rows = [tuple(one[key] for key in keys) for one in found]
    if as_json:
        show_json(found)
    elif as_csv:
        show_csv(rows, heads)
    elif not found:
        say("No build is kept. `donorbase build add` keeps one.")
    else:
        show_table(rows, heads)
        unpriced = sum(one["unpriced"] for one in found)
        say(f"USD.{f' {unpriced} pieces that are to come have no price, and are in no sum.' if unpriced else ''}")
