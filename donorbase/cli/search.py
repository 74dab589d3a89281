"""``donorbase search``: kept listings by what one would say of them."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form

if TYPE_CHECKING:
    from donorbase.services.search import Hit, SearchResult

_STATES = ("watching", "asked", "visiting", "bought", "passed", "gone")


@click.command(
    epilog='\b\nExamples:\n    donorbase search "kingpin front 35 spline under 900"\n'
    '    donorbase search "rear disc brakes, no rust, within 100 miles" --state watching'
)
@click.argument("words", nargs=-1, required=True)
@click.option("--state", "states", multiple=True, type=click.Choice(_STATES), help="In this state; may be repeated.")
@click.option("--limit", type=click.IntRange(1), default=20, show_default=True, help="Show at most so many.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def search(database: str | None, words: tuple[str, ...], states: tuple[str, ...], limit: int, as_json: bool) -> None:
    """Find kept listings by what you would say of them.

    WORDS are read as a listing is: facts become filters, shown as they were understood; bounds (under 900, over 500,
    within 100 miles), years and what must not be (no rust, not dually) too. Other words are looked for in the texts,
    misspelt ones as well. A listing that says nothing of a filter stands below those that meet it; one that
    contradicts it is left out.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.search import search as find

    house = open_house(database)
    found = find(" ".join(words), house, open_desk(house), states, limit)
    if as_json:
        show_json(found.as_json())
    else:
        _show(found)


def _show(found: "SearchResult") -> None:
    from donorbase.cli.output import say, show_table

    query = found.query
    if query.filters:
        say("Looked for " + "; ".join(one.told for one in query.filters) + ".")
    if query.words:
        say("Words: " + "; ".join(" or ".join(found.spellings[word]) for word in query.words) + ".")
    if query.denied_words:
        say("Without the words: " + ", ".join(query.denied_words) + ".")
    if found.notice:
        say(found.notice)
    if not found.hits:
        say("No kept listing answers that. Ask for less, or keep more with `donorbase candidate import`.")
        return
    heads = ("no.", "state", "asks, USD", "miles", "last seen", "meets", "not said", "listing")
    show_table([_row(hit, len(query.filters)) for hit in found.hits], heads)


def _row(hit: "Hit", asked: int) -> tuple[object, ...]:
    from donorbase.attributes import attributes

    numbers = ", ".join(str(one["id"]) for one in hit.candidates)
    states = ", ".join(dict.fromkeys(str(one["state"]) for one in hit.candidates))
    price = None if hit.price_usd is None else round(hit.price_usd)
    not_said = ", ".join(attributes()[one.condition.attribute].title for one in hit.not_said)
    met = f"{len(hit.met)} of {asked}" if asked else None
    return (numbers or None, states or None, price, hit.distance_mi, hit.last_seen_on, met, not_said, hit.title)
