"""``donorbase identify``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.paste import answer_lines
from donorbase.cli.proposed import FILE, SAW
from donorbase.cli.told import build_option
from donorbase.errors import BadInput

if TYPE_CHECKING:
    from donorbase.services.desk import Desk, Identified
    from donorbase.verdict.spec import Build

SHOWN_CANDIDATES = 5
SHOWN_QUESTIONS = 3


@click.command(
    epilog="\b\nExample:\n    donorbase identify --saw lugs=8 --saw stud_across_mm=170 --saw knuckle=ball-joint"
)
@click.option(
    "--saw", type=SAW, multiple=True, metavar="NAME=VALUE", help="Something seen or measured; give as many as you like."
)
@click.option("--ask", is_flag=True, help="Ask for the next best look or measurement until it is settled.")
@build_option("Ask only what may change the verdict on this build.")
@click.option("--names", is_flag=True, help="List what can be given with --saw.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--jsonl", type=FILE, metavar="FILE", help='Read lines of {"id", "saw"}; print a line of JSON for each.')
@csv_form
@click.pass_obj
def identify(
    database: str | None,
    saw: tuple[str, ...],
    ask: bool,
    build_name: str | None,
    names: bool,
    as_json: bool,
    jsonl: str | None,
) -> None:
    """Say which axle it is from what was measured or seen, how surely, and what to look at next.

    Raw measurements are taken as they are measured: stud_across_mm (opposite studs), stud_neighbour_mm,
    pinion_turns with wheel_turns, ring_teeth with pinion_teeth, vin, and every attribute by its own name.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build

    if names:
        _show_names()
        return
    house = open_house(database)
    desk = open_desk(house)
    build = find_build(house, build_name) if build_name else None
    if jsonl:
        answer_lines(jsonl, ("id", "saw"), lambda row: desk.identify(_saw_of(row["saw"]), build).as_json())
        return
    known = dict(pair_of(text) for text in saw)
    if ask:
        known = _dialogue(desk, known, build)
    elif not known:
        raise click.UsageError("Say what was seen: --saw lugs=8 (--names lists what can be given), or --ask.")
    found = desk.identify(known, build)
    if as_json:
        show_json(found.as_json())
    else:
        show_identified(found)


def _saw_of(given: object) -> dict[str, object]:
    if not isinstance(given, dict):
        raise BadInput("saw is no object", 'Write {"lugs": 8, ...}.')
    return given


def pair_of(text: str) -> tuple[str, str]:
    """Name and value of one measurement."""
    name, sign, value = text.partition("=")
    if not sign or not value.strip():
        raise click.UsageError(f"{text!r}: write NAME=VALUE, such as lugs=8.")
    return name.strip(), value.strip()


def _show_names() -> None:
    from donorbase.attributes import of_scope
    from donorbase.cli.output import say, show_table
    from donorbase.services.desk import RAW_MEASUREMENTS

    say("As they are measured:")
    show_table(list(RAW_MEASUREMENTS.items()), ("name", "what it is"))
    say()
    say("Attributes:")
    rows = [(a.name, a.title, ", ".join(a.values), a.how) for a in of_scope("axle") if a.measurable]
    show_table(rows, ("name", "what it is", "values", "how to find out"))


def _dialogue(desk: "Desk", known: dict[str, str], build: "Build | None") -> dict[str, str]:
    """Ask the best question first until it is settled or nothing is left to ask; `?` and Enter mean not known."""
    from donorbase.cli.output import tell

    skipped: set[str] = set()
    while True:
        found = desk.identify(known, build)
        best = found.identification.best
        left = [q for q in found.next if q.attribute not in skipped | known.keys()]
        tell(f"\nSo far: {best.variant or 'none of these'}, {best.probability:.0%}", err=True)
        if (best.probability >= desk.SETTLED and build is None) or not left:
            return known
        question = left[0]
        tell(f"{question.how or question.ask}", err=True)
        answer = click.prompt(
            f"{question.attribute} (Enter: don't know, q: stop)", default="", show_default=False, err=True
        )
        if answer.strip().lower() in ("q", "quit"):
            return known
        skipped.add(question.attribute)
        if answer.strip() not in ("", "?"):
            faults = desk.identify({**known, question.attribute: answer.strip()}).faults
            if faults:
                tell(faults[0], err=True)
                skipped.discard(question.attribute)
            else:
                known[question.attribute] = answer.strip()


def show_identified(found: "Identified") -> None:
    """Print the candidates, why, what does not go together, and what to look at next."""
    from donorbase.cli.output import heading, say, show_table

    for fault in found.faults:
        say(f"Not used: {fault}")
    rows = [
        (f"{c.probability:.1%}", c.variant or "none of these", "; ".join(e.because for e in c.evidence[:3]))
        for c in found.identification.candidates[:SHOWN_CANDIDATES]
    ]
    show_table(rows, ("chance", "axle", "what speaks for and against"))
    for conflict in found.conflicts:
        say()
        say(f"Does not go together: {conflict.what}")
        say(f"Likely causes, in order: {', '.join(conflict.causes)}.", 2)
        say(conflict.tell, 2)
    for note in found.notes:
        say(f"Note: {note}")
    if found.next:
        say()
        heading("Look at next")
        for question in found.next[:SHOWN_QUESTIONS]:
            say(f"- {question.attribute}: {question.how} ({question.bits:.2f} bits, {question.trouble:g} min)")
