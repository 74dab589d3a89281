"""``donorbase part split``, ``rejoin``, ``assemble`` and ``apart``."""

from datetime import datetime
from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.proposed import AXLE, KIND, PLACE, TAG

if TYPE_CHECKING:
    from donorbase.services.splitting import Taken


@click.command(epilog="\b\nExample:\n    donorbase part split AAC4 --without steering-arm\n"
               "    donorbase part split AAC4 knuckle:left=60 knuckle:right=60 housing=100")  # fmt: skip
@click.argument("tag", type=TAG)
@click.argument("pieces", type=KIND, nargs=-1, metavar="[KIND[:SIDE][=USD]]...")
@click.option("--without", type=KIND, multiple=True, metavar="KIND", help="It has none of these; may be repeated.")
@click.option("--note", "words", default="", help="What is to be remembered of it.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@says_when
@csv_form
@click.pass_obj
def split(
    database: str | None,
    /,
    tag: str,
    pieces: tuple[str, ...],
    without: tuple[str, ...],
    words: str,
    as_json: bool,
    on: datetime | None,
    who: str,
) -> None:
    """Take an axle apart: each piece gets a tag and its share of the cost, by value. The shares add up to the cent.

    Without pieces named it is taken to have what most axles of its end have; what yours lacks, name with --without.
    `donorbase part rejoin` takes it back.
    """
    from donorbase.cli.context import open_house
    from donorbase.services.splitting import split_part

    when = occasion(on, who, words)
    _show(split_part(open_house(database), tag, when, asked=pieces, without=without), as_json)


@click.command(epilog="\b\nExample:\n    donorbase part rejoin AAC4")
@click.argument("tag", type=TAG)
@says_when
@json_form
@click.pass_obj
def rejoin(database: str | None, tag: str, on: datetime | None, who: str) -> None:
    """Take a split back: the axle is whole again, its pieces are taken out. All of it stays in the histories."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.splitting import rejoin as make_whole

    taken = make_whole(open_house(database), tag, occasion(on, who))
    done(taken.as_json(), f"Part {taken.whole.tag} is whole again; {len(taken.pieces)} pieces are taken out.")


@click.command(epilog="\b\nExample:\n    donorbase part apart AAJM")
@click.argument("tag", type=TAG)
@says_when
@json_form
@click.pass_obj
def apart(database: str | None, tag: str, on: datetime | None, who: str) -> None:
    """Take an assembly back: its pieces are free again, and the assembly is taken out."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.splitting import apart as take_apart

    taken = take_apart(open_house(database), tag, occasion(on, who))
    done(taken.as_json(), f"Part {taken.whole.tag} is taken out; {len(taken.pieces)} pieces are free again.")


@click.command(epilog="\b\nExample:\n    donorbase part assemble AAEY AAFT --axle front-9.75-kingpin")
@click.argument("tags", type=TAG, nargs=-1, required=True, metavar="TAG...")
@click.option("--axle", type=AXLE, metavar="KEY", help="What axle it becomes.")
@click.option("--place", type=PLACE, default="", help="Where it lies.")
@click.option("--note", "words", default="", help="What is to be remembered of it.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@says_when
@csv_form
@click.pass_obj
def assemble(
    database: str | None,
    /,
    tags: tuple[str, ...],
    axle: str | None,
    place: str,
    words: str,
    as_json: bool,
    on: datetime | None,
    who: str,
) -> None:
    """Put pieces together to an axle with a tag of its own. It costs what they cost; each piece is held by it."""
    from donorbase.cli.context import open_house
    from donorbase.services.splitting import assemble as put_together

    _show(put_together(open_house(database), axle, tags, occasion(on, who, words), place=place), as_json)


def _show(taken: "Taken", as_json: bool) -> None:
    from donorbase.cli.output import say, show_json, show_table

    if as_json:
        show_json(taken.as_json())
        return
    cost = taken.whole.as_json()["cost_usd"]
    say(f"{taken.whole.tag} ({taken.whole.name}), cost {cost or 'not known'}:")
    rows = [(piece.tag, piece.name, piece.as_json()["cost_usd"]) for piece in taken.pieces]
    show_table(rows, ("tag", "part", "cost, USD"))
