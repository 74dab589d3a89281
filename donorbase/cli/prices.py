"""``donorbase prices``."""

import click

from donorbase.cli.forms import csv_form


@click.command(epilog="\b\nExample:\n    donorbase prices")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def prices(database: str | None, as_json: bool) -> None:
    """Show what comparable axles were asked or went for, out of the listings you have kept yourself.

    The middle is a median in which old and distant prices count less (half after a year, half at 300 miles); the
    range holds about two of three. Of fewer than five it says no more than that they are too few.
    """
    from datetime import date

    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.prices import family_prices

    house = open_house(database)
    found = family_prices(house, open_desk(house), date.today())
    heads = ("family", "condition", "price", "number", "middle, USD", "range, USD", "newest, days", "oldest, days")
    rows = []
    for one in found:
        seen = one.found
        few = seen.median_usd is None
        span = None if seen.low_usd is None else f"{seen.low_usd:,.0f} to {seen.high_usd:,.0f}"
        middle = "too few to say" if few else f"{seen.median_usd:,.0f}"
        rows.append(
            (one.family, one.condition, one.what, seen.number, middle, span, seen.newest_days, seen.oldest_days)
        )
    if as_json:
        show_json([one.as_json() for one in found])
    else:
        none = "No listing with a price and a known kind is kept yet. `donorbase candidate add` keeps one."
        show_table(rows, heads, none)
