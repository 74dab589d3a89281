"""``donorbase read``."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.paste import answer_lines, pasted
from donorbase.cli.proposed import FACT, FILE
from donorbase.facts import UNREAD

if TYPE_CHECKING:
    from donorbase.facts import Fact, Reading
    from donorbase.services.learning import Kept


@click.command(epilog="\b\nExample:\n    donorbase read advert.txt")
@click.argument("source", type=FILE, required=False, metavar="[FILE|-]")
@click.option("--json", "as_json", is_flag=True, help="Print the facts as JSON, with the words that gave them.")
@click.option(
    "--jsonl", type=FILE, metavar="FILE", help='Read lines of {"id", "text"}; print lines of {"id", "reading"}.'
)
@click.option("--steps", is_flag=True, help="Show each step of the reading.")
@click.option(
    "--correct", type=FACT, multiple=True, metavar="NAME=VALUE", help="Confirm a fact or put it right, and keep that."
)
@click.option("--item", type=click.IntRange(1), help="Which thing of the listing --correct speaks of; else the first.")
@click.option("--encoding", help="The file's encoding, where it is not UTF-8.")
@csv_form
@click.pass_obj
def read(
    database: str | None,
    source: str | None,
    as_json: bool,
    jsonl: str | None,
    steps: bool,
    correct: tuple[str, ...],
    item: int | None,
    encoding: str | None,
) -> None:
    """Read a pasted listing: its facts, item by item, each with the words that gave it.

    Paste the advert and end it with Ctrl-D, or name a file. Silence is never made a fact: what is not listed was
    not said. `donorbase words learn` learns from what you put right.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json

    _agree(correct, item, jsonl, steps)
    house = open_house(database)
    desk = open_desk(house)
    if jsonl:
        from donorbase.services.intake import record_text

        answer_lines(jsonl, ("id", "text"), lambda row: {"reading": desk.read(record_text(row)).as_json()})
        return
    text = pasted(source, encoding)
    if steps:
        _show_steps(desk.trace(text))
        return
    reading = desk.read(text)
    if correct:
        from donorbase.services.learning import record_corrections

        _show_kept(record_corrections(house, reading, item or 1, correct), as_json)
    elif as_json:
        show_json(reading.as_json())
    else:
        show_reading(reading)


def _agree(correct: tuple[str, ...], item: int | None, jsonl: str | None, steps: bool) -> None:
    """UsageError where options do not go together."""
    if correct and (jsonl or steps):
        raise click.UsageError("--correct puts one listing right: leave out --jsonl and --steps.")
    if item is not None and not correct:
        raise click.UsageError("--item says which thing --correct speaks of: give --correct too.")


def _show_kept(kept: Iterable["Kept"], as_json: bool) -> None:
    from donorbase.cli.output import show_json, show_table

    if as_json:
        show_json([one.as_json() for one in kept])
        return
    rows = [(one.attribute, one.kept, ", ".join(one.read) or "nothing") for one in kept]
    show_table(rows, ("fact", "kept", "the reading had said"))


def show_reading(reading: "Reading") -> None:
    """Print a reading: the offer, then each item as a table of facts."""
    from donorbase.cli.output import heading, say

    if not reading.items:
        say("Nothing on offer was found in this text.")
    if reading.offer:
        heading("The offer")
        _show_facts(reading.offer, reading.text)
    for number, item in enumerate(reading.items, 1):
        say()
        heading(f"{number}. {item.get('part') or item.get('kind') or 'thing'}")
        _show_facts(item.facts, reading.text)
    for hazard in reading.hazards:
        say()
        what = "a fault may be meant, which was not understood" if hazard.attribute == UNREAD else hazard.attribute
        say(f"Care: {what} ({hazard.words(reading.text)})")


def _show_facts(facts: Iterable["Fact"], text: str) -> None:
    from donorbase.attributes import attribute
    from donorbase.cli.output import show_table
    from donorbase.reference.wording import value_text

    rows = [
        (attribute(f.attribute).title, value_text(f.attribute, f.value), str(f.known), f.words(text)) for f in facts
    ]
    show_table(rows, ("fact", "value", "known as", "the words"))


def _show_steps(steps: Iterable[tuple[str, Iterable[str]]]) -> None:
    from donorbase.cli.output import heading, say

    for name, lines in steps:
        heading(name)
        for line in lines:
            say(line, 2)
        say()
