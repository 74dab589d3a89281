"""``donorbase part measure`` and ``measures``."""

from datetime import datetime

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.occasion import NEGATIVE, occasion, says_when
from donorbase.cli.proposed import TAG, Known


@click.command(
    context_settings=NEGATIVE,
    epilog="\b\nExample:\n    donorbase part measure AAHP rotor-thickness 1.44in --with micrometer --cast 1.465in",
)
@click.argument("tag", type=TAG)
@click.argument("measure", type=Known("measures"))
@click.argument("amount")
@click.option("--cast", metavar="AMOUNT", help="The limit that is cast on the part itself.")
@click.option("--with", "instrument", default="", metavar="TOOL", help="What it was measured with.")
@click.option("--note", "words", default="", help="What is to be remembered of it.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@says_when
@click.pass_obj
def measure(
    database: str | None,
    /,
    tag: str,
    measure: str,
    amount: str,
    cast: str | None,
    instrument: str,
    words: str,
    as_json: bool,
    on: datetime | None,
    who: str,
) -> None:
    """Keep what was measured on a part, and judge it by its limit.

    The limit cast on the part comes first, then the published ones of the axle it is off. One that may be of another
    axle judges nothing. Every reading stays.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import caution, say, show_json
    from donorbase.services.measuring import measure_part

    when = occasion(on, who, words)
    found = measure_part(open_house(database), tag, measure, amount, when, instrument=instrument, cast=cast)
    if as_json:
        show_json(found.as_json())
        return
    say(f"{found.judgement.state.upper()}: {found.measure.title}, {found.amount:g} {found.measure.unit}")
    for line in found.judgement.because:
        say(f"- {line}")
    caution()


@click.command(epilog="\b\nExample:\n    donorbase part measures")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
def measures(as_json: bool) -> None:
    """List what can be measured, and on which kinds of parts."""
    from donorbase.cli.output import show_json, show_table
    from donorbase.reference.measures import measures as known
    from donorbase.reference.parts import part_kinds

    rows = [
        (one.measure, one.title, one.unit, [k.kind for k in part_kinds().values() if one.wear_part in k.wear])
        for one in known().values()
    ]
    if as_json:
        show_json([dict(zip(("measure", "title", "unit", "parts"), row, strict=True)) for row in rows])
    else:
        show_table(rows, ("measure", "what it is", "unit", "on"))
