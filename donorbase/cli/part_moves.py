"""``donorbase part move``, ``note``, ``photo``, ``set`` and ``undo``."""

from datetime import datetime
from typing import Any

import click

from donorbase.cli.forms import json_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.part_add import SIDES
from donorbase.cli.proposed import AXLE, FILE, KIND, PLACE, TAG


@click.command(epilog="\b\nExample:\n    donorbase part move AAC4 'loft, by the window'")
@click.argument("tag", type=TAG)
@click.argument("place", type=PLACE)
@click.option("--note", "words", default="", help="What is to be remembered of it.")
@says_when
@json_form
@click.pass_obj
def move(database: str | None, tag: str, place: str, words: str, on: datetime | None, who: str) -> None:
    """Note that a part lies somewhere else now."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.tending import move_part

    part = move_part(open_house(database), tag, place, occasion(on, who, words))
    done(part.as_json(), f"Part {part.tag} lies: {part.place}")


@click.command(epilog="\b\nExample:\n    donorbase part note AAC4 'one stud pulled'")
@click.argument("tag", type=TAG)
@click.argument("words")
@says_when
@json_form
@click.pass_obj
def note(database: str | None, tag: str, words: str, on: datetime | None, who: str) -> None:
    """Note anything of a part, with its day."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.tending import note_part

    part = note_part(open_house(database), tag, occasion(on, who, words))
    done(part.as_json(), f"Noted of part {part.tag}.")


@click.command(epilog="\b\nExample:\n    donorbase part photo AAC4 photos/knuckle-left.jpg")
@click.argument("tag", type=TAG)
@click.argument("path", type=FILE)
@click.option("--note", "words", default="", help="What it shows.")
@says_when
@json_form
@click.pass_obj
def photo(database: str | None, tag: str, path: str, words: str, on: datetime | None, who: str) -> None:
    """Note the path of a photo of a part. The file stays where it is."""
    from pathlib import Path

    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.tending import photo_part

    part = photo_part(open_house(database), tag, path, occasion(on, who, words))
    here = "" if Path(path).exists() else " There is no such file here at present."
    done(part.as_json(), f"Photo kept of part {part.tag}.{here}")


@click.command("set", epilog="\b\nExample:\n    donorbase part set AAC4 --side left --cost 35")
@click.argument("tag", type=TAG)
@click.option("--kind", type=KIND, help="What kind of part it is.")
@click.option("--side", type=click.Choice(SIDES), help="Of somebody in the driver's seat.")
@click.option("--axle", type=AXLE, metavar="KEY", help="The axle it is off.")
@click.option("--year", type=int, help="The donor's model year.")
@click.option("--miles", type=int, help="What the donor had run.")
@click.option("--cost", metavar="USD", help="What you paid for it.")
@click.option("--condition", help="What it is like.")
@click.option("--note", "words", default="", help="How you know.")
@says_when
@json_form
@click.pass_obj
def set_(
    database: str | None, /, tag: str, cost: str | None, words: str, on: datetime | None, who: str, **told: Any
) -> None:
    """Put right what is kept of a part. What it said before stays in the history."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.tending import change_part
    from donorbase.shelf.money import cents_of

    fields = {name: value for name, value in told.items() if value is not None}
    if cost is not None:
        fields["cost_cents"] = cents_of(cost)
    if not fields:
        raise click.UsageError("Say what is to be put right, for instance --side left.")
    part = change_part(open_house(database), tag, fields, occasion(on, who, words))
    done(part.as_json(), f"Part {part.tag}: {part.name}")


@click.command(epilog="\b\nExample:\n    donorbase part undo AAC4")
@click.argument("tag", type=TAG)
@says_when
@json_form
@click.pass_obj
def undo(database: str | None, tag: str, on: datetime | None, who: str) -> None:
    """Take back the newest change of a part. Both stay in its history."""
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import done
    from donorbase.services.cards import relearn
    from donorbase.services.tending import undo_part

    house = open_house(database)
    event = undo_part(house, tag, occasion(on, who))
    if any(name.startswith("fact ") for name in event.after):
        relearn(house, open_desk(house), tag)
    told = {"tag": tag.upper(), "taken_back": event.kind}
    done(told, f"Part {tag.upper()}, taken back: {event.kind}{f', {event.change}' if event.change else ''}")
