"""``donorbase candidate judge``, and the bar that long work shows."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import BUILD

if TYPE_CHECKING:
    from donorbase.services.rejudging import Judgements, Progress


@contextmanager
def bar(label: str, length: int) -> "Iterator[Progress]":
    """A bar on standard error where a person looks at it, nothing elsewhere; it is told how many more were done."""
    hidden = not sys.stderr.isatty() or not length
    with click.progressbar(length=length, label=label, file=sys.stderr, hidden=hidden) as shown:
        yield shown.update


@click.command(epilog="\b\nExample:\n    donorbase candidate judge --build crawler")
@click.option(
    "--build", "-b", "builds", multiple=True, type=BUILD, metavar="NAME", help="Of this build; may be repeated."
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def judge(database: str | None, builds: tuple[str, ...], as_json: bool) -> None:
    """Read and judge anew what is due, and show the verdicts that changed.

    Due is what was never judged, and what rests on words, figures, a build, a correction or a price that changed
    since.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.cli.waiting import working
    from donorbase.services.rejudging import count_due, judge_due, read_anew

    house = open_house(database)
    desk = open_desk(house)
    names = tuple(house.build(name).name for name in builds)
    with working("Reading anew"):
        read_anew(house, desk)
    due = count_due(house, desk)
    with bar("judging", sum(number for name, number in due.items() if name in names or not names)) as progress:
        found = judge_due(house, desk, names, progress=progress)
    if as_json:
        show_json({"judged": found.judged, "changed": [change.as_json() for change in found.changed]})
    else:
        show_changes(found)


def show_changes(found: "Judgements") -> None:
    """Print how many were judged, and which verdicts came out otherwise than before."""
    from donorbase.cli.output import say, show_table

    new = len(found.changes) - len(found.changed)
    say(f"Judged {found.judged:,}: {new:,} for the first time, {len(found.changed):,} otherwise than before.")
    if found.changed:
        rows = [(change.candidate_id, change.build, change.before, change.after) for change in found.changed]
        show_table(rows, ("candidate", "build", "before", "now"))
