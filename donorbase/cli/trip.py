"""``donorbase trip``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.proposed import CANDIDATE, YARD
from donorbase.errors import BadInput

if TYPE_CHECKING:
    from donorbase.services.trips import Trip


@click.command(epilog='\b\nExample:\n    donorbase trip 12 15 --yard "river yard" --home 80202')
@click.argument("numbers", nargs=-1, type=CANDIDATE, metavar="[CANDIDATE]...")
@click.option("--home", required=True, metavar="PLACE", help="Where you start and end: a ZIP, or latitude,longitude.")
@click.option("--yard", "yard_names", type=YARD, multiple=True, metavar="NAME", help="A kept yard; may be repeated.")
@click.option("--stop", "others", multiple=True, metavar="NAME=PLACE", help="Any other stop; may be repeated.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def trip(
    database: str | None,
    numbers: tuple[int, ...],
    home: str,
    yard_names: tuple[str, ...],
    others: tuple[str, ...],
    as_json: bool,
) -> None:
    """Plan one drive past up to eight candidates, yards and other places: the shortest round, what to find out, a bag.

    Legs are straight lines between ZIP points, the order is the best there is for them; roads are longer.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services import trips

    house = open_house(database)
    found = trips.trip(house, open_desk(house), home, numbers, yard_names, dict(map(_named, others)))
    if as_json:
        show_json(found.as_json())
    else:
        _show(found)


def _named(text: str) -> tuple[str, str]:
    """The name and the place of NAME=PLACE."""
    name, sign, place = text.partition("=")
    if not sign or not name.strip():
        raise BadInput(f"--stop {text!r} names no place", "Write NAME=PLACE, such as --stop Ann=80501.")
    return name.strip(), place.strip()


def _show(found: "Trip") -> None:
    from donorbase.cli.output import caution, heading, say

    for stop, leg in zip(found.stops, found.legs_mi, strict=False):
        heading(f"{leg:.0f} mi: {stop.title}")
        for check in stop.checks:
            say(f"[ ] {check}", 2)
    low, high = found.road_mi
    say(f"{found.legs_mi[-1]:.0f} mi home.")
    say()
    say(f"About {found.straight_mi:.0f} miles in straight lines, {low:.0f} to {high:.0f} by road.")
    say(f"Bring: {', '.join(found.bring)}.")
    caution()
