"""``donorbase read``."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

from donorbase.cli.paste import answer_lines, pasted

if TYPE_CHECKING:
    from donorbase.facts import Fact, Reading


@click.command(epilog="\b\nExample:\n    donorbase read advert.txt")
@click.argument("source", required=False, metavar="[FILE|-]")
@click.option("--json", "as_json", is_flag=True, help="Print the facts as JSON, with the words that gave them.")
@click.option("--jsonl", metavar="FILE", help='Read lines of {"id", "text"}; print lines of {"id", "reading"}.')
@click.option("--steps", is_flag=True, help="Show each step of the reading.")
@click.option("--encoding", help="The file's encoding, where it is not UTF-8.")
@click.pass_obj
def read(
    database: str | None,
    source: str | None,
    as_json: bool,
    jsonl: str | None,
    steps: bool,
    encoding: str | None,
) -> None:
    """Read a pasted listing: its facts, item by item, each with the words that gave it.

    Paste the advert and end it with Ctrl-D, or name a file. Silence is never made a fact: what is not listed was
    not said.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json

    desk = open_desk(open_house(database))
    if jsonl:
        from donorbase.services.intake import record_text

        answer_lines(jsonl, ("id", "text"), lambda row: {"reading": desk.read(record_text(row)).as_json()})
        return
    text = pasted(source, encoding)
    if steps:
        _show_steps(desk.trace(text))
        return
    reading = desk.read(text)
    if as_json:
        show_json(reading.as_json())
    else:
        show_reading(reading)


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
        say(f"Care: {hazard.attribute} ({_words(hazard, reading.text)})")


def _show_facts(facts: Iterable["Fact"], text: str) -> None:
    from donorbase.attributes import attribute
    from donorbase.cli.output import show_table
    from donorbase.reference.wording import value_text

    rows = [
        (attribute(f.attribute).title, value_text(f.attribute, f.value), str(f.known), _words(f, text)) for f in facts
    ]
    show_table(rows, ("fact", "value", "known as", "the words"))


def _words(fact: "Fact", text: str) -> str:
    return " … ".join(" ".join(text[begin:end].split()) for begin, end in fact.spans)


def _show_steps(steps: Iterable[tuple[str, Iterable[str]]]) -> None:
    from donorbase.cli.output import heading, quoted, say

    for name, lines in steps:
        heading(name)
        for line in lines:
            say(quoted(line), 2)
        say()
