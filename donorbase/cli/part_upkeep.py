"""``donorbase part spares``, ``care`` and ``due``."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import click

from donorbase.cli.candidate_add import DAY, day_or_today
from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.proposed import AXLE, BUILD, TAG, Known

if TYPE_CHECKING:
    from donorbase.services.upkeep import Packing


@click.command(epilog="\b\nExample:\n    donorbase part spares crawler --stranded 900 --limit 120 --trips 4")
@click.argument("build", type=BUILD)
@click.option(
    "--axle", "axles", multiple=True, type=AXLE, metavar="KEY", help="The axle, where the shelf holds none; repeatable."
)
@click.option("--stranded", default=600.0, show_default=True, metavar="USD", help="What being stranded costs you.")
@click.option("--per-lb", default=1.0, show_default=True, metavar="USD", help="What weight and room are worth to you.")
@click.option("--limit", type=float, metavar="LB", help="No more weight than that.")
@click.option("--trips", default=1, show_default=True, help="For so many days' trips.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def spares(
    database: str | None,
    build: str,
    axles: tuple[str, ...],
    stranded: float,
    per_lb: float,
    limit: float | None,
    trips: int,
    as_json: bool,
) -> None:
    """Say which spares to carry for a build: by what breaks, what it weighs, which side, and what the shelf has.

    A part rides where its odds of breaking times what being stranded costs are above its weight's worth. Odds and
    weights are from memory: change --stranded and --per-lb, and see what stays.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import caution, say, show_json, show_table
    from donorbase.cli.part_fits import NO_TARGET
    from donorbase.services.matching import targets_of
    from donorbase.services.upkeep import packing_of

    house = open_house(database)
    targets = targets_of(house, axles, () if axles else (build,))
    house.build(build)
    found = packing_of(house, targets, stranded_usd=stranded, usd_per_lb=per_lb, limit_lb=limit, trips=trips)
    if as_json:
        show_json([one.as_json() for one in found])
        return
    if not found:
        say(NO_TARGET)
        return
    heads = (
        "carry",
        "spare",
        "axle",
        "breaks",
        "weight, lb",
        "worth, USD",
        "on the shelf",
        "perhaps, look",
        "takes along",
    )
    show_table([_line(one) for one in found], heads)
    riding = [one for one in found if one.carry]
    lacking = sum(not one.fits for one in riding)
    pounds = sum(one.spare.weight_lb for one in riding)
    say(f"Carry {len(riding)}, about {pounds:.0f} lb; {lacking} of them the shelf does not surely have.")
    say("Odds and weights: low confidence, from memory; that joints break most is from trail-spares articles (read).")
    caution()


def _line(one: "Packing") -> tuple[object, ...]:
    name = f"{one.spare.kind}, {one.spare.side}" if one.spare.side else one.spare.kind
    told = (f"{one.spare.odds:.1%}", f"{one.spare.weight_lb:g}", f"{one.worth:.1f}")
    return ("yes" if one.carry else "", name, one.target.axle, *told, one.fits, one.look, one.takes)


@click.command(epilog="\b\nExample:\n    donorbase part care AAC4 turned")
@click.argument("tag", type=TAG)
@click.argument("word", type=Known("care"), metavar="CARE")
@click.option("--note", "words", default="", help="What is to be remembered of it.")
@says_when
@json_form
@click.pass_obj
def care(database: str | None, tag: str, word: str, words: str, on: datetime | None, who: str) -> None:
    """Note that a lying part was cared for: turned, oiled, inhibitor. `donorbase part due` says what is next."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.upkeep import care_done

    part = care_done(open_house(database), tag, word, occasion(on, who, words))
    done({"tag": part.tag, "care": word}, f"Part {part.tag} ({part.name}): {word}.")


@click.command(epilog="\b\nExample:\n    donorbase part due --within 30")
@click.option("--within", default=30, show_default=True, type=click.IntRange(0, 3650), help="Days from then on.")
@click.option("--on", type=DAY, metavar="DATE", help="As of that day; today where left out.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def due(database: str | None, within: int, on: datetime | None, as_json: bool) -> None:
    """List what is due with what lies on the shelf: turning, oiling, inhibitor, and days of return; late ones first."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.upkeep import due_by

    today = day_or_today(on)
    found = due_by(open_house(database), today + timedelta(days=within))
    rows = [
        (one.on, "late" if one.on < today else "", one.part.tag, one.part.name, one.part.place, one.what, one.do)
        for one in found
    ]
    heads = ("day", "", "tag", "part", "place", "what", "do")
    if as_json:
        show_json([one.as_json() for one in found])
    else:
        show_table(rows, heads, f"Nothing is due within {within} days.")
