"""``donorbase lookalikes``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import VARIANT

if TYPE_CHECKING:
    from donorbase.services.lookalikes import Lookalike


@click.command(epilog="\b\nExample:\n    donorbase lookalikes front-9.75-balljoint/a-2005-2010-srw")
@click.argument("key", type=VARIANT)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def lookalikes(database: str | None, key: str, as_json: bool) -> None:
    """Show what a variant is taken for at arm's length, and what tells the two apart, easiest to see first."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json
    from donorbase.services.lookalikes import lookalikes as find

    found = find(key, open_house(database))
    if as_json:
        show_json([one.as_json() for one in found])
    elif not found:
        say("A look settles it: nothing on record is taken for it.")
    for one in found if not as_json else ():
        _show(one)


def _show(one: "Lookalike") -> None:
    from donorbase.cli.output import heading, say, show_table
    from donorbase.reference.wording import values_text

    heading(f"{one.key}: {one.title}")
    say(f"After a look alone one would take it for this with a chance of {one.chance:.0%}.")
    rows = [
        (row.title, values_text(row.attribute, row.first), values_text(row.attribute, row.second), row.how)
        for row in one.telling
    ]
    if rows:
        show_table(rows, ("look at", "yours", "this one", "how"))
    else:
        say("Nothing on record tells the two apart.")
    say()
