"""``donorbase shortlist``."""

from datetime import date
from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import BUILD

if TYPE_CHECKING:
    from donorbase.services.shortlist import Listed, Relaxed, Shortlist


@click.command(epilog="\b\nExample:\n    donorbase shortlist --build crawler --relax")
@click.option("--build", "-b", "name", required=True, type=BUILD, metavar="NAME", help="The kept build.")
@click.option("--count", type=click.IntRange(1, 500), default=10, show_default=True, help="How many to show.")
@click.option("--relax", is_flag=True, help="Show which single must, dropped, would let in most candidates.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def shortlist(database: str | None, name: str, count: int, relax: bool, as_json: bool) -> None:
    """Show the candidates of a build that may do, best first: verdict, chance, landed cost, and what is still open.

    What rests on a changed build, word list or catalogue is judged anew first, and what came out otherwise is shown.
    Among chances within a tenth of one another the cheaper one stands first.
    """
    from donorbase.cli.candidate_judge import bar
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services import shortlist as service
    from donorbase.services.rejudging import count_due

    house = open_house(database)
    desk = open_desk(house)
    kept = house.build(name).name
    with bar("judging", count_due(house, desk).get(kept, 0)) as progress:
        found = service.shortlist(house, desk, kept, date.today(), count, progress)
    loosened = service.relaxed(house, desk, kept) if relax else ()
    if as_json:
        show_json(found.as_json() | ({"relaxed": [one.as_json() for one in loosened]} if relax else {}))
        return
    _show(found)
    if relax:
        _show_relaxed(loosened)


def _show(found: "Shortlist") -> None:
    from donorbase.cli.candidate_judge import show_changes
    from donorbase.cli.output import caution, say, show_table

    if found.judgements.judged:
        show_changes(found.judgements)
    if not found.listed:
        say(f"None of {found.of:,} candidates may do. `donorbase candidate add` keeps more; --relax shows what bars.")
        return
    heads = ("no.", "verdict", "chance", "landed, USD", "asked, USD", "state", "since", "days seen", "listing")
    show_table([_row(one) for one in found.listed], heads)
    for one in found.listed:
        _show_open(one)
    _show_next_best(found)
    rest = found.of - len(found.listed)
    if rest:
        say(f"{rest:,} more do not fit or stand lower: `donorbase candidate list` shows all.")
    caution()


def _row(one: "Listed") -> tuple[object, ...]:
    kept = one.candidate
    landed = round(kept.landed_usd[1]) if kept.landed_usd else None
    asked = " -> ".join(f"{usd:,.0f}" for usd in one.prices_usd[-3:]) or None
    chance = f"{kept.chance or 0:.0%}"
    return (kept.id, kept.verdict, chance, landed, asked, kept.state, one.since, one.days_on_market, kept.title)


def _show_open(one: "Listed") -> None:
    from donorbase.cli.output import say

    if not one.asks and not one.told:
        return
    say()
    waits = f" (asked {one.since})" if one.candidate.state == "asked" else ""
    say(f"{one.candidate.id}: would settle more{waits}" if one.asks else f"{one.candidate.id}:")
    # What fits by its kind needs the one question that could still turn it.
    for question in one.asks[: 3 if one.candidate.verdict == "unclear" else 1]:
        say(question, indent=3)
    for note in one.told[-3:]:
        say(f"Noted: {note}", indent=3)


def _show_next_best(found: "Shortlist") -> None:
    from donorbase.cli.output import say

    other = found.next_best
    if other is None:
        return
    say()
    first = found.listed[0].candidate.id
    if other.even_chance is None:
        say(f"If {first} goes, {other.candidate_id} costs no more landed.")
        return
    say(
        f"If {first} goes, {other.candidate_id} comes {other.dearer_usd:,.0f} dearer landed. Waiting to save "
        f"{other.saving_usd:,.0f}, a tenth of its price, pays only while the chance that it goes is under "
        f"{other.even_chance:.0%}; `donorbase calc wait` does the sum for other figures."
    )


def _show_relaxed(found: "tuple[Relaxed, ...]") -> None:
    from donorbase.cli.output import say, show_table

    say()
    if not found:
        say("No candidate is kept out by one must alone.")
        return
    rows = [(one.subject, len(one.lets_in), ", ".join(map(str, one.lets_in[:12]))) for one in found]
    show_table(rows, ("this must alone", "keeps out", "candidates"))
