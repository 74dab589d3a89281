"""``donorbase priors``."""

import click

from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.proposed import Known


@click.group(epilog="\b\nExample:\n    donorbase priors list")
def priors() -> None:
    """Say how common each kind of axle is around you.

    Identification begins with how common an axle is; the shipped weights are rough. Yours count before them.
    """


@priors.command("list", epilog="\b\nExample:\n    donorbase priors list")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def list_(database: str | None, as_json: bool) -> None:
    """List the shipped weights and yours."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.reference.odds import load_priors
    from donorbase.services.ledger import own_priors

    own, shipped = own_priors(open_house(database)), load_priors()
    rows: list[tuple[str, float | None, float | None]] = [("none", shipped.none_of_these, own.get("none"))]
    rows += [(p, shipped.weight.get(p), own.get(p)) for p in [*shipped.weight, *(own.keys() - shipped.weight.keys())]]
    rows = [row for row in rows if row[0] != "none" or row[1]]
    if as_json:
        show_json([{"pattern": p, "shipped": s, "yours": o} for p, s, o in rows])
    else:
        show_table(rows, ("kind", "shipped", "yours"))


@priors.command("set", epilog='\b\nExample:\n    donorbase priors set "rear-10.50-fourteen-bolt/*" 12')
@click.argument("pattern", type=Known("patterns"))
@click.argument("weight", type=click.FloatRange(0, min_open=True))
@json_form
@click.pass_obj
def set_(database: str | None, pattern: str, weight: float) -> None:
    """Set the weight of the variants that PATTERN names (* is any text); `none` is the chance of none of these."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.ledger import set_prior

    set_prior(open_house(database), pattern, weight)
    done({"pattern": pattern, "weight": weight}, f"{pattern} now weighs {weight:g}.")


@priors.command(epilog='\b\nExample:\n    donorbase priors remove "rear-10.50-fourteen-bolt/*"')
@click.argument("pattern", type=Known("own patterns"))
@json_form
@click.pass_obj
def remove(database: str | None, pattern: str) -> None:
    """Go back to the shipped weight."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.ledger import set_prior

    set_prior(open_house(database), pattern, None)
    done({"pattern": pattern, "weight": None}, f"{pattern} has its shipped weight again.")
