"""``donorbase part add`` and ``kinds``."""

from datetime import datetime
from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.proposed import AXLE, CANDIDATE, FILE, KIND, PLACE

if TYPE_CHECKING:
    from donorbase.services.shelf import Part

SIDES = ("left", "right")


@click.command(
    epilog="\b\nExample:\n"
    "    donorbase part add knuckle --side left --axle front-9.75-kingpin/b-1977-1991-srw --place 'shed 3' --cost 40"
)
@click.argument("kind", type=KIND)
@click.option("--side", type=click.Choice(SIDES), help="Of somebody in the driver's seat.")
@click.option(
    "--axle", type=AXLE, metavar="KEY", help="The axle it is off: a variant, or a family where no more is known."
)
@click.option("--candidate", "candidate_id", type=CANDIDATE, metavar="NUMBER", help="The candidate that you bought.")
@click.option("--year", type=int, help="The donor's model year.")
@click.option("--miles", type=int, help="What the donor had run.")
@click.option("--place", type=PLACE, default="", help="Where it lies.")
@click.option("--cost", metavar="USD", help="What you paid for it.")
@click.option("--condition", default="", help="What it is like, in your words.")
@click.option("--photo", type=FILE, default="", metavar="PATH", help="A photo of it; the file stays where it is.")
@click.option("--note", "words", default="", help="What is to be remembered of it.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@says_when
@click.pass_obj
def add(
    database: str | None, /, cost: str | None, words: str, as_json: bool, on: datetime | None, who: str, **told: Any
) -> None:
    """Put a pulled part on the shelf. What you leave out is not known; only the kind is needed.

    The tag it gets is short and has no signs that look alike in paint or upside down; a tag misread by one sign is no
    other part's.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json
    from donorbase.services.pulling import Pulled, pull
    from donorbase.shelf.money import cents_of

    cents = None if cost is None else cents_of(cost)
    part = pull(open_house(database), Pulled(cost_cents=cents, **told), occasion(on, who, words))
    if as_json:
        show_json(part.as_json())
    else:
        _say_added(part, told["photo"])


def _say_added(part: "Part", photo: str) -> None:
    from pathlib import Path

    from donorbase.cli.output import say

    say(f"{part.tag}   paint that on it. Kept: {part.name}{f', {part.place}' if part.place else ''}.")
    if photo and not Path(photo).exists():
        say(f"There is no file {photo} here at present; its path is kept.")
    if part.about.sided and part.side is None:
        say(
            f"A left {part.kind} does not serve as a right one: `donorbase part set {part.tag} --side left` says which."
        )


@click.command(epilog="\b\nExample:\n    donorbase part kinds")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
def kinds(as_json: bool) -> None:
    """List the kinds of parts: what each is, whether left and right differ, which axles have it."""
    from dataclasses import asdict

    from donorbase.cli.output import show_json, show_table
    from donorbase.reference.parts import part_kinds

    found = part_kinds().values()
    if as_json:
        show_json([asdict(kind) for kind in found])
        return
    rows = [(k.kind, k.title, "yes" if k.sided else "", k.ends, k.per_axle) for k in found]
    show_table(rows, ("kind", "what it is", "left and right differ", "axles", "an axle has"))
