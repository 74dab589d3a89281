"""``donorbase pairs``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import BUILD

if TYPE_CHECKING:
    from donorbase.services.pairs import FoundPair


@click.command(epilog="\b\nExample:\n    donorbase pairs --build rock-truck --count 5")
@click.option(
    "--build", "-b", "name", required=True, type=BUILD, metavar="NAME", help="The kept build that wants both ends."
)
@click.option("--count", type=click.IntRange(1, 200), default=10, show_default=True, help="How many to show.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def pairs(database: str | None, name: str, count: int, as_json: bool) -> None:
    """Show the best front and rear together, out of all candidates that can still be bought and the shelf.

    Ratio, bolt circle and width of both ends are held side by side; a regear is in the sum only where it is needed
    and accepted. Two offers are two prices and two trips, or one drive past both where their ZIPs are known.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import caution, say, show_json
    from donorbase.cli.waiting import working
    from donorbase.services.pairs import pairs as find

    house = open_house(database)
    with working("Holding every front beside every rear"):
        found = find(house, open_desk(house), name, count)
    if as_json:
        show_json([one.as_json() for one in found])
    elif not found:
        say("No front and rear of the candidates may fit together. `donorbase shortlist` shows each end by itself.")
    else:
        _show(found)
        caution()


def _trips(pair: "FoundPair") -> str:
    """``one offer``, ``two offers``, the miles between them, or how much of it lies on the shelf."""
    shelved = sum(isinstance(member.id, str) for member in (pair.front, pair.rear))
    if shelved:
        return "both on the shelf" if shelved == 2 else "one offer, one on the shelf"
    if pair.one_offer:
        return "one offer"
    return "two offers" if pair.apart_mi is None else f"{pair.apart_mi:.0f} mi apart"


def _show(found: "tuple[FoundPair, ...]") -> None:
    from donorbase.cli.output import cell, say, show_table

    rows = []
    for number, one in enumerate(found, 1):
        total = one.verdict.money.total
        trips = _trips(one)
        ends = (one.front.id, one.rear.id)
        rows.append(
            (number, *ends, str(one.verdict.verdict), f"{one.verdict.chance:.0%}", total and round(total.likely), trips)
        )
    show_table(rows, ("", "front", "rear", "verdict", "chance", "landed, USD", "trips"))
    for number, one in enumerate(found[:3], 1):
        say()
        say(f"{number}. {one.front.title} + {one.rear.title}" if not one.one_offer else f"{number}. {one.front.title}")
        for reason in one.verdict.reasons:
            say(cell(reason), indent=3)
