"""``donorbase candidate list``, ``show`` and ``history``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import BUILD, CANDIDATE

if TYPE_CHECKING:
    from donorbase.services.candidates import Candidate, History

_STATES = ("watching", "asked", "visiting", "bought", "passed", "gone")
_VERDICTS = ("fits", "fits with work", "unclear", "does not fit")


@click.command("list", epilog="\b\nExample:\n    donorbase candidate list --build crawler --verdict fits")
@click.option(
    "--build", "-b", "builds", multiple=True, type=BUILD, metavar="NAME", help="Of this build; may be repeated."
)
@click.option("--state", "states", multiple=True, type=click.Choice(_STATES), help="In this state; may be repeated.")
@click.option("--verdict", "verdicts", multiple=True, type=click.Choice(_VERDICTS), help="With this verdict; likewise.")
@click.option("--all", "everything", is_flag=True, help="Also those that you bought or let pass, or that are gone.")
@click.option("--limit", type=click.IntRange(1), help="Show at most so many.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def list_(
    database: str | None,
    builds: tuple[str, ...],
    states: tuple[str, ...],
    verdicts: tuple[str, ...],
    everything: bool,
    limit: int | None,
    as_json: bool,
) -> None:
    """List candidates that can still be bought, with state, verdict and cost."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.candidates import OPEN_STATES, candidates

    shown = states or (() if everything else OPEN_STATES)
    found = candidates(open_house(database), builds, shown, verdicts, limit)
    heads = ("no.", "build", "state", "verdict", "chance", "landed, USD", "asks, USD", "miles", "last seen", "listing")
    if as_json:
        show_json([one.as_json() for one in found])
    else:
        none = "No such candidate is kept. `donorbase candidate add` keeps a pasted listing; --all shows closed ones."
        show_table([_row(one) for one in found], heads, none)
        _say_due(found)


def _row(one: "Candidate") -> tuple[object, ...]:
    chance = None if one.chance is None else f"{one.chance:.0%}"
    verdict = f"{one.verdict or 'not judged'}{' (due)' if one.due and one.verdict else ''}"
    landed = round(one.landed_usd[1]) if one.landed_usd else None
    money = (chance, landed, None if one.price_usd is None else round(one.price_usd))
    return (one.id, one.build, one.state, verdict, *money, one.distance_mi, one.last_seen_on, one.title)


def _say_due(found: "tuple[Candidate, ...]") -> None:
    from donorbase.cli.output import say

    due = sum(one.due for one in found)
    if due:
        say(f"{due} of these are due to be judged: `donorbase candidate judge` does it.")


@click.command(epilog="\b\nExample:\n    donorbase candidate show 12")
@click.argument("number", type=CANDIDATE)
@click.option("--all", "everything", is_flag=True, help="Show the requirements that are met, too, and why.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def show(database: str | None, number: int, everything: bool, as_json: bool) -> None:
    """Show a candidate: where and when it was seen, its text, its prices, and its verdict as judged now."""
    from donorbase.cli.check import show_checked
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build
    from donorbase.services.candidates import history as history_of
    from donorbase.services.rejudging import candidate_verdict

    house = open_house(database)
    found = history_of(house, number)
    checked = candidate_verdict(house, open_desk(house), number)
    if as_json:
        show_json(found.as_json() | {"checked": checked.as_json()})
        return
    _show_listing(found)
    show_checked(checked, find_build(house, found.candidate.build).money.landed_limit_usd, everything=everything)


def _show_listing(found: "History") -> None:
    from donorbase.cli.output import heading, say, tell

    one = found.candidate
    heading(f"Candidate {one.id} for {one.build}: {one.state}")
    for sighting in found.sightings:
        place = " ".join(filter(None, (sighting.source, sighting.url)))
        say(f"Seen {sighting.first_seen_on} to {sighting.last_seen_on}. {place}".strip())
        tell("\n".join(f"    {line}" for line in sighting.text.splitlines()))
    if found.prices:
        say("Asked: " + ", ".join(f"{usd:,.0f} on {day}" for day, usd in found.prices))
    say()


@click.command(epilog="\b\nExample:\n    donorbase candidate history 12")
@click.argument("number", type=CANDIDATE)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def history(database: str | None, number: int, as_json: bool) -> None:
    """Show everything that happened to a candidate, with day and note."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.candidates import history as history_of

    found = history_of(open_house(database), number)
    if as_json:
        show_json([event.as_json() for event in found.events])
        return
    rows = [
        (
            event.happened_on,
            event.kind,
            f"{event.state_from or ''} -> {event.state_to}".strip() if event.state_to else None,
            event.note + (" (taken back)" if event.undone else ""),
            event.who,
        )
        for event in found.events
    ]
    show_table(rows, ("day", "what", "state", "note", "who"))
