"""``donorbase part`` with a verb of promising: one thing is promised once."""

from collections.abc import Callable
from datetime import datetime

import click

from donorbase.cli.forms import json_form
from donorbase.cli.occasion import NEGATIVE, occasion, says_when
from donorbase.cli.proposed import BUILD, PERSON, TAG


def _said(command: Callable[..., None]) -> Callable[..., None]:
    command = says_when(command)
    return click.option("--note", "words", default="", help="What was agreed, or why.")(command)


def _take(
    database: str | None,
    tag: str,
    kind: str,
    said: tuple[datetime | None, str, str],
    *,
    build: str | None = None,
    person: str | None = None,
    cents: int | None = None,
) -> None:
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.promising import Taking, take

    part = take(open_house(database), tag, Taking(kind, build, person, cents), occasion(*said))
    done(part.as_json(), f"Part {part.tag} ({part.name}): {part.state}{f', {part.holder}' if part.holder else ''}")


@click.command(epilog="\b\nExample:\n    donorbase part reserve AAC4 --build crawler")
@click.argument("tag", type=TAG)
@click.option("--build", "-b", type=BUILD, metavar="NAME", help="For this build.")
@click.option("--for", "person", type=PERSON, metavar="NAME", help="For somebody you gave your word to.")
@_said
@json_form
@click.pass_obj
def reserve(
    database: str | None,
    tag: str,
    build: str | None,
    person: str | None,
    words: str,
    on: datetime | None,
    who: str,
) -> None:
    """Promise a part to a build or a person. A part that is promised already is refused, with who has it."""
    _take(database, tag, "reserved", (on, who, words), build=build, person=person)


@click.command(epilog="\b\nExample:\n    donorbase part lend AAC4 --to 'Kim' --note 'back by June'")
@click.argument("tag", type=TAG)
@click.option("--to", "person", required=True, type=PERSON, metavar="NAME", help="Who has it.")
@_said
@json_form
@click.pass_obj
def lend(database: str | None, tag: str, person: str, words: str, on: datetime | None, who: str) -> None:
    """Lend a part; `donorbase part release` takes it back."""
    _take(database, tag, "lent", (on, who, words), person=person)


@click.command(epilog="\b\nExample:\n    donorbase part use AAC4 --build crawler")
@click.argument("tag", type=TAG)
@click.option("--build", "-b", required=True, type=BUILD, metavar="NAME", help="The build it is fitted to.")
@_said
@json_form
@click.pass_obj
def use(database: str | None, tag: str, build: str, words: str, on: datetime | None, who: str) -> None:
    """Fit a part to a build. One that is reserved for that build need not be released first."""
    _take(database, tag, "used", (on, who, words), build=build)


@click.command(context_settings=NEGATIVE, epilog="\b\nExample:\n    donorbase part sell AAC4 120 --to 'Kim'")
@click.argument("tag", type=TAG)
@click.argument("usd")
@click.option("--to", "person", required=True, type=PERSON, metavar="NAME", help="Who bought it.")
@_said
@json_form
@click.pass_obj
def sell(database: str | None, tag: str, usd: str, person: str, words: str, on: datetime | None, who: str) -> None:
    """Sell a part. One that is reserved for or lent to the buyer need not be released first."""
    from donorbase.cli.output import warn
    from donorbase.shelf.money import cents_of

    _take(database, tag, "sold", (on, who, words), person=person, cents=cents_of(usd))
    warn("selling", "no-identity")


@click.command(epilog="\b\nExample:\n    donorbase part scrap AAC4 --note 'cracked at the boss'")
@click.argument("tag", type=TAG)
@_said
@json_form
@click.pass_obj
def scrap(database: str | None, tag: str, words: str, on: datetime | None, who: str) -> None:
    """Scrap a part."""
    _take(database, tag, "scrapped", (on, who, words))


@click.command(epilog="\b\nExample:\n    donorbase part remove AAC4 --note 'counted twice'")
@click.argument("tag", type=TAG)
@_said
@json_form
@click.pass_obj
def remove(database: str | None, tag: str, words: str, on: datetime | None, who: str) -> None:
    """Take out a part that was added by mistake. `donorbase part undo` brings it back."""
    _take(database, tag, "removed", (on, who, words))


@click.command(epilog="\b\nExample:\n    donorbase part release AAC4 --note 'changed his mind'")
@click.argument("tag", type=TAG)
@_said
@json_form
@click.pass_obj
def release(database: str | None, tag: str, words: str, on: datetime | None, who: str) -> None:
    """Free a part: the promise is off, or it came back."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.promising import release as set_free

    part = set_free(open_house(database), tag, occasion(on, who, words))
    done(part.as_json(), f"Part {part.tag} ({part.name}): back on the shelf")
