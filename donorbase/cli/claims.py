"""``donorbase claims``."""

import click

from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.identify import pair_of
from donorbase.cli.paste import pasted
from donorbase.cli.proposed import FILE, SAW, Known
from donorbase.errors import BadInput


@click.group(epilog="\b\nExample:\n    donorbase claims rates")
def claims() -> None:
    """Keep what sellers said beside what you measured; from enough of it, learn how often sellers err."""


@claims.command(epilog="\b\nExample:\n    donorbase claims add advert.txt --axle barn-front --saw outer_splines=30")
@click.argument("source", type=FILE, required=False, metavar="[FILE|-]")
@click.option(
    "--axle",
    type=Known("measured axles"),
    required=True,
    help="A name for the axle; claims kept under it before are replaced.",
)
@click.option(
    "--saw", type=SAW, multiple=True, required=True, metavar="NAME=VALUE", help="What was measured, as for identify."
)
@click.option("--item", type=click.IntRange(1), default=1, show_default=True, help="Which thing of the listing it is.")
@click.option("--encoding", help="The file's encoding, where it is not UTF-8.")
@json_form
@csv_form
@click.pass_obj
def add(
    database: str | None, source: str | None, axle: str, saw: tuple[str, ...], item: int, encoding: str | None
) -> None:
    """Read the listing of an axle you bought, and keep what it said beside what you measured."""
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import done, show_table
    from donorbase.services.ledger import record_claims

    house = open_house(database)
    reading = open_desk(house).read(pasted(source, encoding))
    if item > len(reading.items):
        raise BadInput(f"the listing has {len(reading.items)} things, not {item}", "Say which one with --item.")
    found = record_claims(house, axle, reading.items[item - 1], dict(pair_of(text) for text in saw))
    rows = [(one.attribute, one.claimed, one.measured, "agrees" if one.agrees else "differs") for one in found]
    done([dict(zip(("attribute", "claimed", "measured", "agrees"), row, strict=True)) for row in rows])
    show_table(rows, ("what", "said", "measured", ""))


@claims.command("list", epilog="\b\nExample:\n    donorbase claims list")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def list_(database: str | None, as_json: bool) -> None:
    """List every claim kept beside what was measured."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.ledger import claims as kept

    rows = kept(open_house(database))
    if as_json:
        show_json(list(rows))
    else:
        columns = ("axle", "attribute", "claimed", "measured", "agrees", "noted_at")
        none = "No claims are kept yet. `donorbase claims add` keeps those of an axle you measured."
        heads = ("axle", "what", "said", "measured", "agrees", "noted")
        show_table([[row[c] for c in columns] for row in rows], heads, none)


@claims.command(epilog="\b\nExample:\n    donorbase claims rates")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def rates(database: str | None, as_json: bool) -> None:
    """Show how often sellers around you err, beside the shipped rate, and which of the two counts."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json, show_table
    from donorbase.services.ledger import ENOUGH, own_rates, own_rates_count

    house = open_house(database)
    found, on = own_rates(house), own_rates_count(house)
    if as_json:
        show_json({"on": on, "rates": [rate.as_json() for rate in found]})
        return
    rows = [
        (r.attribute, r.claims, r.wrong, f"{r.shipped:.1%}", f"{r.rate:.1%}", "yours" if r.counts and on else "shipped")
        for r in found
    ]
    show_table(rows, ("what", "claims", "wrong", "shipped rate", "yours, shrunk", "counts"))
    say(f"Yours count from {ENOUGH} claims on. They are switched {'on' if on else 'off'}.")


@claims.command(epilog="\b\nExample:\n    donorbase claims use off")
@click.argument("switch", type=click.Choice(["on", "off"]))
@json_form
@click.pass_obj
def use(database: str | None, switch: str) -> None:
    """Let your own rates count (on), or only the shipped ones (off)."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.ledger import switch_own_rates

    switch_own_rates(open_house(database), switch == "on")
    done({"own_rates": switch}, f"Your own rates are switched {switch}.")


@claims.command(epilog="\b\nExample:\n    donorbase claims remove barn-front")
@click.argument("axle", type=Known("measured axles"))
@json_form
@click.pass_obj
def remove(database: str | None, axle: str) -> None:
    """Forget the claims kept of an axle."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.ledger import forget_claims

    forget_claims(open_house(database), axle)
    done({"forgotten": axle}, f"Forgot the claims of {axle}.")
