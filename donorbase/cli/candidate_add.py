"""``donorbase candidate add``."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.paste import pasted
from donorbase.cli.proposed import BUILD, FILE

if TYPE_CHECKING:
    from donorbase.services.every_build import ForBuild
    from donorbase.services.keeping import Outcome

DAY = click.DateTime(formats=["%Y-%m-%d"])
"""A day as ISO 8601 has it."""


def day_or_today(given: datetime | None) -> date:
    """The day of an option, today where it was left out."""
    return given.date() if given else date.today()


@click.command(epilog="\b\nExample:\n    donorbase candidate add advert.txt --build crawler --distance-mi 40")
@click.argument("source", type=FILE, required=False, metavar="[FILE|-]")
@click.option(
    "--build",
    "-b",
    "builds",
    multiple=True,
    type=BUILD,
    metavar="NAME",
    help="Keep it for this build; may be repeated.",
)
@click.option("--source", "site", default="", help="Where you found it.")
@click.option("--url", default="", help="Its address.")
@click.option("--title", default="", help="Its heading, where that stands apart from the text.")
@click.option("--zip", "zip_", default="", help="The seller's ZIP.")
@click.option("--distance-mi", type=click.FloatRange(0, 5000), help="How far away it is, one way.")
@click.option("--price-usd", type=click.FloatRange(0, 100_000), help="What the site's price field says.")
@click.option("--seen", type=DAY, metavar="DATE", help="The day you saw it; today where left out.")
@click.option("--note", default="", help="What you want to remember of it.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--encoding", help="The file's encoding, where it is not UTF-8.")
@csv_form
@click.pass_obj
def add(
    database: str | None,
    source: str | None,
    builds: tuple[str, ...],
    site: str,
    url: str,
    title: str,
    zip_: str,
    distance_mi: float | None,
    price_usd: float | None,
    seen: datetime | None,
    note: str,
    as_json: bool,
    encoding: str | None,
) -> None:
    """Keep a pasted listing for a build, and judge it.

    Without --build it is judged against every build you keep, and kept for those that it may suit. The same text is
    never kept twice; seen again, it is marked as seen on that day.
    """
    from donorbase.cli.context import open_desk, open_house, who_does_it
    from donorbase.services.every_build import judge_for_each, suited
    from donorbase.services.keeping import Keeper
    from donorbase.services.rejudging import judge_due
    from donorbase.services.source_fields import seen_of

    given: dict[str, Any] = {"title": title, "url": url, "source": site, "zip": zip_}
    given |= {"distance_mi": distance_mi, "price_usd": price_usd, "text": pasted(source, encoding)}
    listing = seen_of({name: value for name, value in given.items() if value}, day_or_today(seen))
    house = open_house(database)
    desk = open_desk(house)
    judged = judge_for_each(house, desk, listing.plain, distance_mi, [house.build(name).name for name in builds])
    chosen = builds or suited(judged)
    outcome = None
    if chosen:
        keeper = Keeper(house, desk, tuple(dict.fromkeys(chosen)), who_does_it(), note)
        (outcome,) = keeper.keep([listing])
        judge_due(house, desk, chosen, only=list(outcome.candidates.values()))
    _show(judged, outcome, as_json)


def _show(judged: "tuple[ForBuild, ...]", outcome: "Outcome | None", as_json: bool) -> None:
    from donorbase.cli.output import say, show_json

    numbers = dict(outcome.candidates) if outcome else {}
    if as_json:
        kept: dict[str, Any] = {
            "listing_id": outcome.listing_id if outcome else None,
            "is_new": bool(outcome and outcome.is_new),
        }
        if outcome and outcome.repost_of:
            kept["repost_of"] = outcome.repost_of.sighting_id
        show_json({**kept, "builds": [one.as_json() | {"candidate": numbers.get(one.build)} for one in judged]})
        return
    show_for_builds(judged, numbers)
    if outcome is None:
        say("It suits none of your builds, so it was not kept. --build NAME keeps it all the same.")
        return
    first = next(iter(numbers.values()))
    if not outcome.is_new:
        say("This text was kept before; it is marked as seen again.")
    elif outcome.repost_of:
        say(
            f"The same axle was kept before: this is text {outcome.sighting_id} of it, much like its text "
            f"{outcome.repost_of.sighting_id}. If it is of another axle: "
            f"`donorbase candidate part {first} {outcome.sighting_id}`."
        )
    say(f"`donorbase candidate show {first}` shows it whole, `donorbase candidate asked {first}` moves it on.")


def show_for_builds(judged: "tuple[ForBuild, ...]", numbers: "Mapping[str, int] | None" = None) -> None:
    """Print a line for each build: the verdict, its chance, what it costs, and the number it is kept under."""
    from donorbase.cli.output import show_table

    kept = numbers or {}
    rows = [
        (
            one.build,
            str(one.verdict.verdict),
            f"{one.verdict.chance:.0%}",
            round(one.verdict.money.total.likely) if one.verdict.money.total else None,
            one.verdict.reasons[0] if one.verdict.reasons else "",
            *([kept.get(one.build)] if kept else []),
        )
        for one in judged
    ]
    show_table(rows, ("build", "verdict", "chance", "landed, USD", "first reason", *(["candidate"] if kept else [])))
