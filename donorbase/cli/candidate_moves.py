"""``donorbase candidate`` with a verb: what happens to a candidate, each with its day and a note."""

from datetime import datetime

import click

from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.occasion import NEGATIVE, occasion, says_when
from donorbase.cli.proposed import CANDIDATE, FACT


def _verb(state: str, told: str, example: str) -> click.Command:
    """The command that moves candidates to a state."""

    @click.command(state, help=told, epilog=f"\b\nExample:\n    donorbase candidate {state} {example}")
    @click.argument("numbers", nargs=-1, required=True, type=CANDIDATE, metavar="NUMBER...")
    @click.option("--note", "words", default="", help="What is to be remembered of it.")
    @says_when
    @json_form
    @click.pass_obj
    def command(database: str | None, numbers: tuple[int, ...], words: str, on: datetime | None, who: str) -> None:
        from donorbase.cli.context import open_house
        from donorbase.cli.output import done
        from donorbase.services.hunting import move

        events = move(open_house(database), numbers, state, occasion(on, who, words))
        said = [
            f"Candidate {event.candidate_id}: {state}{f', before {event.state_from}' if event.state_from else ''}"
            for event in events
        ]
        moved = [{"candidate": event.candidate_id, "state": state, "before": event.state_from} for event in events]
        done(moved, *(said or [f"Nothing changed: it was {state} already."]))

    return command


watching = _verb("watching", "Watch a candidate: not asked yet, or back to that.", "12")
asked = _verb("asked", "You asked the seller of a candidate.", '12 --note "left word on his phone"')
visiting = _verb("visiting", "You are going to see a candidate.", "12 --on 2026-11-28")
bought = _verb("bought", "You bought a candidate.", '12 --note "paid 650, receipt in the glove box"')
passed = _verb("passed", "You let candidates pass.", '12 13 --note "bent tube"')
gone = _verb("gone", "Candidates were sold to others or taken off.", "12 13")


@click.command(epilog='\b\nExample:\n    donorbase candidate note 12 "he will hold it until Saturday"')
@click.argument("number", type=CANDIDATE)
@click.argument("words")
@says_when
@json_form
@click.pass_obj
def note(database: str | None, number: int, words: str, on: datetime | None, who: str) -> None:
    """Note what the seller said, or anything else, with its day."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.hunting import note as keep_note

    keep_note(open_house(database), number, occasion(on, who, words))
    done({"candidate": number, "note": words}, f"Noted of candidate {number}.")


@click.command(context_settings=NEGATIVE, epilog="\b\nExample:\n    donorbase candidate price 12 550")
@click.argument("number", type=CANDIDATE)
@click.argument("usd", type=float)
@click.option("--note", "words", default="", help="How you know.")
@says_when
@json_form
@click.pass_obj
def price(database: str | None, number: int, usd: float, words: str, on: datetime | None, who: str) -> None:
    """Note what is asked now, and judge the candidate by it; the prices before stay."""
    from donorbase.cli.context import open_house
    from donorbase.services.hunting import price as keep_price

    house = open_house(database)
    event = keep_price(house, number, usd, occasion(on, who, words))
    _judge_it(database, number, f"Candidate {number}: {event.note}")


@click.command(epilog="\b\nExample:\n    donorbase candidate correct 12 outer_splines=35 --measured")
@click.argument("number", type=CANDIDATE)
@click.argument("facts", type=FACT, nargs=-1, required=True, metavar="NAME=VALUE...")
@click.option("--item", type=click.IntRange(1), default=1, show_default=True, help="Which thing of the listing it is.")
@click.option("--measured", is_flag=True, help="You measured or saw it; else it counts as the seller's word.")
@click.option("--note", "words", default="", help="How you know.")
@says_when
@json_form
@csv_form
@click.pass_obj
def correct(
    database: str | None,
    number: int,
    facts: tuple[str, ...],
    item: int,
    measured: bool,
    words: str,
    on: datetime | None,
    who: str,
) -> None:
    """Put right what was read of a candidate, or add what was found out, and judge it by that.

    The fact is kept beside the text: a later reading with other words does not lose it. `donorbase words learn`
    learns from it.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_table
    from donorbase.services.hunting import correct as put_right

    house = open_house(database)
    when = occasion(on, who, words)
    kept = put_right(house, open_desk(house), number, facts, when, item=item, measured=measured)
    rows = [(one.attribute, one.kept, ", ".join(one.read) or "nothing") for one in kept]
    show_table(rows, ("fact", "kept", "the reading had said"))
    _judge_it(database, number)


@click.command(epilog="\b\nExample:\n    donorbase candidate undo 12")
@click.argument("number", type=CANDIDATE)
@says_when
@json_form
@click.pass_obj
def undo(database: str | None, number: int, on: datetime | None, who: str) -> None:
    """Take back the newest change that you made to a candidate. Both stay in its history."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.hunting import undo as take_back

    event = take_back(open_house(database), number, occasion(on, who))
    what = f"{event.state_from} -> {event.state_to}" if event.kind == "state" else f"{event.kind}: {event.note}"
    said = f"Candidate {number}, taken back: {what}"
    if event.kind in ("price", "correction", "merge"):
        _judge_it(database, number, said)
    else:
        done({"candidate": number, "taken_back": event.kind}, said)


def _judge_it(database: str | None, number: int, *said: str) -> None:
    """Judge the candidates of that listing that are due, and say what was done and what the verdict is now."""
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import done
    from donorbase.services.candidates import siblings
    from donorbase.services.rejudging import judge_changed

    house = open_house(database)
    judged = judge_changed(house, open_desk(house), number)
    before = {change.candidate_id: change.before for change in judged.changed}
    ones = siblings(house, number)
    verdicts = [
        f"Candidate {one.id} for {one.build}: {one.verdict or 'not judged'}"
        f"{f', before {before[one.id]}' if one.id in before else ''}"
        for one in ones
    ]
    done([one.as_json() for one in ones], *said, *verdicts)
