"""``donorbase build take-along``."""

import click

from donorbase.cli.proposed import BUILD_OR_FILE
from donorbase.cli.told import axles_given, axles_options


@click.command("take-along", epilog="\b\nExample:\n    donorbase build take-along crawler --listing advert.txt")
@click.argument("name", type=BUILD_OR_FILE, metavar="NAME|FILE")
@axles_options
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def take_along(
    database: str | None,
    name: str,
    variants: tuple[str, ...],
    listing: str | None,
    saw: tuple[str, ...],
    as_json: bool,
) -> None:
    """Show the small parts worth taking from a donor while you are there, for this build."""
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import caution, say, show_json
    from donorbase.services.builds import find_build
    from donorbase.services.fitting import things_along

    told = axles_given(variants, listing, saw)
    house = open_house(database)
    found = things_along(open_desk(house), find_build(house, name), **told)
    if as_json:
        show_json([one.as_json() for one in found])
        return
    for one in found:
        maybe = "" if one.sure else f" (if so: {'; '.join(one.because)})"
        say(f"[ ] {' and '.join(one.ends)}: {one.thing.thing}{maybe}")
        say(f"{one.thing.why} [{one.thing.basis}]", 4)
    caution()
