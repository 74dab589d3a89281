"""``donorbase part list``, ``show`` and ``history``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.part_add import SIDES
from donorbase.cli.proposed import BUILD, FAMILY, KIND, PLACE, TAG

if TYPE_CHECKING:
    from donorbase.services.shelf import Part, PartHistory

_STATES = ("shelf", "reserved", "lent", "used", "sold", "scrapped", "split", "assembled", "removed")
_OWNED = ("shelf", "reserved", "lent", "used")
_LONGEST = 400
HEADS = ("tag", "part", "off", "year", "place", "state", "for", "cost, USD", "condition")


@click.command("list", epilog="\b\nExample:\n    donorbase part list --kind knuckle --side left --state shelf")
@click.option("--kind", "kinds", type=KIND, multiple=True, help="Of this kind; may be repeated.")
@click.option("--side", "sides", multiple=True, type=click.Choice(SIDES), help="Of this side.")
@click.option("--place", type=PLACE, default="", metavar="WORDS", help="Whose place holds these words.")
@click.option("--state", "states", multiple=True, type=click.Choice(_STATES), help="In this state; may be repeated.")
@click.option("--family", type=FAMILY, default="", metavar="KEY", help="Off an axle of this family.")
@click.option("--build", "-b", default="", type=BUILD, metavar="NAME", help="Promised to or fitted in this build.")
@click.option("--all", "everything", is_flag=True, help="Also those sold, scrapped, taken apart or removed.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def list_(
    database: str | None,
    kinds: tuple[str, ...],
    sides: tuple[str, ...],
    place: str,
    states: tuple[str, ...],
    family: str,
    build: str,
    everything: bool,
    as_json: bool,
) -> None:
    """List parts that you have, with where each lies and to whom it is promised."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.shelf import parts

    shown = states or (() if everything else _OWNED)
    words = {"kinds": kinds, "sides": sides, "states": shown, "family": family, "place": place, "build": build}
    found = parts(open_house(database), **words)
    if as_json:
        show_json([one.as_json() for one in found])
    else:
        none = "No such part is kept. `donorbase part add` puts one on the shelf; --all shows those that are gone."
        show_table([row_of(one) for one in found], HEADS, none)


def row_of(one: "Part") -> tuple[object, ...]:
    """A part as a line of a table."""
    cost = one.as_json()["cost_usd"]
    return (one.tag, one.name, one.axle, one.year, one.place, one.state, one.holder, cost, _short(one.condition))


@click.command(epilog="\b\nExample:\n    donorbase part show AAC4")
@click.argument("tag", type=TAG)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def show(database: str | None, tag: str, as_json: bool) -> None:
    """Show a part: what it is, where it lies, who has it, its notes, photos and readings."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json
    from donorbase.services.shelf import part_history

    found = part_history(open_house(database), tag)
    if as_json:
        show_json(found.as_json())
    else:
        say_part(found)


def say_part(found: "PartHistory") -> None:
    """Print what a part is, where it lies, its notes, readings and photos."""
    from donorbase.cli.output import heading, say
    from donorbase.engineering.grade import SOURCE

    part = found.part
    heading(f"Part {part.tag}: {part.name}, {part.state}{f' ({part.holder})' if part.holder else ''}")
    off = [part.axle or "an axle not known", *([str(part.year)] if part.year else [])]
    off += [f"candidate {part.candidate_id}"] if part.candidate_id else []
    cost = part.as_json()["cost_usd"]
    say(f"Off {', '.join(off)}. Lies: {part.place or 'not said'}. Cost: {cost or 'not known'}.")
    if part.condition:
        say(f"Condition: {_short(part.condition)}")
    miles = "miles not known" if part.miles is None else f"{part.miles:,} miles"
    say(f"Grade {found.grade}: {miles} ({SOURCE}).")
    for day, words in found.notes:
        say(f"{day}: {_short(words)}")
    for reading in found.readings:
        if not reading["undone"]:
            tool = f", {reading['instrument']}" if reading["instrument"] else ""
            amount = f"{reading['amount']:g} {reading['unit']}"
            say(f"{reading['happened_on']}: {reading['measure']} {amount}{tool}: {reading['judged']}")
    for path in found.photos:
        say(f"Photo: {path}{'' if _is_here(path) else ' (no such file here at present)'}")


def _is_here(path: str) -> bool:
    """Whether there is such a file on this computer; one on another is not asked for: its owner would see that."""
    from pathlib import Path

    return not path.startswith(("//", "\\\\")) and Path(path).exists()


@click.command(epilog="\b\nExample:\n    donorbase part history AAC4")
@click.argument("tag", type=TAG)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def history(database: str | None, tag: str, as_json: bool) -> None:
    """Show everything that happened to a part, with day, note and who."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.shelf import part_history

    found = part_history(open_house(database), tag)
    if as_json:
        show_json([event.as_json() for event in found.events])
        return
    undone = {event.id: event.kind for event in found.events}
    rows = [
        (
            event.happened_on,
            event.kind,
            f"takes back: {undone[event.undoes]}" if event.undoes else _short(event.change),
            _short(event.note) + (" (taken back)" if event.undone else ""),
            event.who,
        )
        for event in found.events
    ]
    show_table(rows, ("day", "what", "change", "note", "who"))


def _short(words: str) -> str:
    """Words as a table can hold them; all of them are in the JSON."""
    return words if len(words) <= _LONGEST else f"{words[:_LONGEST]} ... ({len(words):,} characters; --json has all)"
