"""``donorbase part card``, ``fact``, ``setup`` and ``return``."""

from datetime import datetime
from typing import TYPE_CHECKING

import click

from donorbase.cli.candidate_add import DAY
from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.proposed import SAW, TAG, Named

if TYPE_CHECKING:
    from donorbase.services.cards import Card, CardLine
    from donorbase.services.setting_up import SetupLine


@click.command(epilog="\b\nExample:\n    donorbase part card AAC4")
@click.argument("tag", type=TAG)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def card(database: str | None, tag: str, as_json: bool) -> None:
    """Show an axle's card: what was said of it beside what was measured, set-up, papers, photos, return.

    Said by its listing, else by what its pieces measured, else by its kind in the catalogue. What was measured counts.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.cards import card_of
    from donorbase.services.setting_up import setup_of

    house = open_house(database)
    found = card_of(house, open_desk(house), tag)
    if as_json:
        show_json(found.as_json())
    else:
        _show_card(found, setup_of(house, tag))


def _show_card(found: "Card", setup: "tuple[SetupLine, ...]") -> None:
    from donorbase.cli.output import heading, say, show_table
    from donorbase.cli.part_list import say_part

    say_part(found.history)
    if found.lines:
        say()
        show_table([_line(line) for line in found.lines], ("what", "counts", "said", "by", "measured", ""))
        say(f"Said otherwise than measured: {_differing(found)}.")
    else:
        say("Nothing is said or measured of the axle yet: `donorbase part fact TAG lugs=8` keeps what you measure.")
    if setup:
        say()
        heading("Set-up")
        _show_setup(setup)
    for name, words in found.about("paper").items():
        say(f"Paper, {name.replace('-', ' ')}: {words}")
    term = found.about("return")
    if term:
        prove = f"; prove: {term['prove']}" if term.get("prove") else ""
        say(f"May go back until {term['by']}{prove}.")


def _differing(found: "Card") -> str:
    return ", ".join(line.attribute for line in found.differing) or "nothing"


def _line(line: "CardLine") -> tuple[object, ...]:
    told = line.as_json()
    return (line.attribute, line.stands, told["said"], line.by, told["measured"], line.state)


def _setup_json(line: "SetupLine") -> dict[str, object]:
    judged = line.judgement
    told = {"state": judged.state, "because": list(judged.because)} if judged else {}
    return {"name": line.point.name, "as_measured": line.text, **told}


def _show_setup(lines: "tuple[SetupLine, ...]") -> None:
    from donorbase.cli.output import say, show_table

    rows = [(one.point.title, one.text, one.judgement.state if one.judgement else None) for one in lines]
    show_table(rows, ("what", "as measured", "by the limit on record"))
    for one in lines:
        for reason in one.judgement.because if one.judgement else ():
            say(f"- {one.point.name}: {reason}")


@click.command(epilog="\b\nExample:\n    donorbase part fact AAC4 bolt_circle_mm=170 ring_teeth=41 pinion_teeth=10")
@click.argument("tag", type=TAG)
@click.argument("saw", type=SAW, nargs=-1, required=True, metavar="NAME=VALUE...")
@click.option("--note", "words", default="", help="With what it was measured, and where.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@says_when
@csv_form
@click.pass_obj
def fact(
    database: str | None,
    tag: str,
    saw: tuple[str, ...],
    words: str,
    as_json: bool,
    on: datetime | None,
    who: str,
) -> None:
    """Keep what was measured on an axle; it counts in place of what was said, which stays beside it.

    Names and units are those of `donorbase identify`. What a listing said is kept among your claims as well, by which
    sellers' errors are learned.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.identify import pair_of
    from donorbase.cli.output import say, show_json, show_table
    from donorbase.services.cards import measure_facts

    house = open_house(database)
    told = dict(pair_of(text) for text in saw)
    found = measure_facts(house, open_desk(house), tag, told, occasion(on, who, words))
    if as_json:
        show_json(found.as_json())
        return
    measured = [line for line in found.lines if line.measured]
    show_table([_line(line) for line in measured], ("what", "counts", "said", "by", "measured", ""))
    say(f"Said otherwise than measured: {_differing(found)}.")


@click.command(epilog="\b\nExample:\n    donorbase part setup AAC4 backlash=0.006in pinion-torque='18 lb-in' "
               "pattern='centred, drive side'")  # fmt: skip
@click.argument("tag", type=TAG)
@click.argument("told", type=Named("set-up"), nargs=-1, metavar="[NAME=AMOUNT]...")
@click.option("--note", "words", default="", help="With what it was measured.")
@says_when
@json_form
@csv_form
@click.pass_obj
def setup(database: str | None, tag: str, told: tuple[str, ...], words: str, on: datetime | None, who: str) -> None:
    """Keep shims, backlash, preload, pattern and torques as measured, in the units you read; without any show them.

    Names that are known stand in `donorbase part setup TAG` where nothing is kept yet.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.identify import pair_of
    from donorbase.cli.output import caution, done, say, show_table
    from donorbase.reference.setup_points import setup_points
    from donorbase.services.setting_up import set_up, setup_of

    house = open_house(database)
    if told:
        lines = set_up(house, tag, dict(pair_of(text) for text in told), occasion(on, who, words))
    else:
        lines = setup_of(house, tag)
    done([_setup_json(line) for line in lines])
    if lines:
        _show_setup(lines)
        caution()
        return
    say(f"Nothing is kept of the set-up of {tag.upper()} yet. What can be:")
    show_table([(p.name, p.title, p.how) for p in setup_points().values()], ("name", "what it is", "how"))


@click.command("return", epilog="\b\nExample:\n    donorbase part return AAC4 --days 30 --prove 'the noise, in a film'")
@click.argument("tag", type=TAG)
@click.option("--by", type=DAY, metavar="DATE", help="Until when it may go back.")
@click.option("--days", type=int, metavar="N", help="So many days from the day it was put on the shelf.")
@click.option("--prove", default="", metavar="WORDS", help="What has to be proved by then.")
@says_when
@json_form
@click.pass_obj
def return_(
    database: str | None,
    tag: str,
    by: datetime | None,
    days: int | None,
    prove: str,
    on: datetime | None,
    who: str,
) -> None:
    """Note until when a part may go back, and what has to be proved by then. `donorbase part due` reminds of it."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.setting_up import set_return

    day = by.date() if by else None
    until = set_return(open_house(database), tag, occasion(on, who), by=day, days=days, prove=prove)
    done({"tag": tag.upper(), "until": until, "prove": prove}, f"Part {tag.upper()} may go back until {until}.")
