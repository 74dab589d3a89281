"""``donorbase candidate join`` and ``part``."""

from datetime import datetime

import click

from donorbase.cli.forms import json_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.proposed import CANDIDATE


@click.command(epilog="\b\nExample:\n    donorbase candidate join 12 31")
@click.argument("number", type=CANDIDATE)
@click.argument("other", type=CANDIDATE)
@click.option("--note", "words", default="", help="How you know.")
@says_when
@json_form
@click.pass_obj
def join(database: str | None, number: int, other: int, words: str, on: datetime | None, who: str) -> None:
    """Say that two candidates are one axle, advertised twice: the other becomes a part of the first.

    The texts and prices of both are then those of the first. `candidate undo` takes it back; later, `candidate part`
    takes them apart again.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.joining import join as put_together

    put_together(open_house(database), number, other, occasion(on, who, words))
    done({"candidate": number, "joined": other}, f"Candidate {other} is now a part of candidate {number}.")


@click.command(epilog="\b\nExample:\n    donorbase candidate part 12 31")
@click.argument("number", type=CANDIDATE)
@click.argument("text", type=int)
@click.option("--note", "words", default="", help="How you know.")
@says_when
@json_form
@click.pass_obj
def part(database: str | None, number: int, text: int, words: str, on: datetime | None, who: str) -> None:
    """Take a text out of a candidate, because it is of another axle; it is kept as a candidate of its own.

    `candidate show --json` has the numbers of the texts, under "sightings".
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.joining import part as take_apart

    parted = take_apart(open_house(database), number, text, occasion(on, who, words))
    numbers = ", ".join(f"{i} for {build}" for build, i in parted.candidates.items())
    told = {"candidate": number, "text": text, "candidates": dict(parted.candidates)}
    done(told, f"Text {text} is no longer of candidate {number}; it is candidate {numbers}.")
