"""``donorbase demo``."""

import os
import textwrap
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from donorbase.services.demo import Advert, JudgedBuild
    from donorbase.services.desk import Checked

ADVERT_COLUMNS = 46


@click.command(epilog="\b\nExample:\n    donorbase demo")
@click.pass_obj
def demo(database: str | None) -> None:
    """See the whole job on invented builds and listings, in a database of its own.

    Trucks, makers, people and places are invented; the axles are those of the catalogue. Your own database is not
    touched.
    """
    from donorbase.cli.context import this_year
    from donorbase.cli.output import caution, heading, say
    from donorbase.cli.waiting import working
    from donorbase.services.demo import SHOWN_IN_FULL, demo_place, run_demo
    from donorbase.services.house import House
    from donorbase.services.usual_place import default_database

    place = demo_place(database or default_database(os.environ))
    with working("Reading and judging invented adverts"):
        builds = run_demo(House(place), this_year())
    say(f"Invented builds, words and adverts, kept in {place}.")
    for judged in builds:
        _show_build(judged)
    first = builds[0]
    advert, checked = next(pair for pair in first.judged if pair[0].id == SHOWN_IN_FULL)
    say()
    heading(f"One advert in full, against {first.name}")
    _show_in_full(advert, checked, first)
    say()
    say(f"Try your own: donorbase --db {place} check --build {first.name}   (paste an advert, end with Ctrl-D)")
    caution()


def _show_build(judged: "JudgedBuild") -> None:
    from donorbase.cli.output import heading, say, show_table
    from donorbase.verdict.verdicts import Call

    say()
    heading(f"{judged.name}: {judged.build.name}")
    kept = [pair for pair in judged.judged if pair[1].verdict.verdict is not Call.NO]
    rows = [(str(c.verdict.verdict).upper(), _cost(c), _short(a.text), _gist(c)) for a, c in kept]
    show_table(rows, ("verdict", "landed, USD", "the advert", "why, or what to ask"))
    say(f"{Call.NO}: the other {len(judged.judged) - len(kept)} of {len(judged.judged)}, such as")
    for advert, checked in judged.judged[len(kept) : len(kept) + 3]:
        say(f"- {_short(advert.text)}: {checked.verdict.reasons[0]}", 2)


def _short(text: str) -> str:
    return textwrap.shorten(" ".join(text.split()), ADVERT_COLUMNS, placeholder=" ...")


def _cost(checked: "Checked") -> str:
    total = checked.verdict.money.total
    return f"{total.likely:.0f}" if total else "?"


def _gist(checked: "Checked") -> str:
    verdict = checked.verdict
    if verdict.questions and verdict.verdict == "unclear":
        return verdict.questions[0].ask
    if verdict.work:
        return "; ".join(task.title for task in verdict.work if not task.planned) or verdict.reasons[0]
    return verdict.reasons[0] if verdict.reasons else ""


def _show_in_full(advert: "Advert", checked: "Checked", judged: "JudgedBuild") -> None:
    from donorbase.cli.check import show_checked
    from donorbase.cli.output import say

    say(f'"{advert.text}"')
    say()
    show_checked(checked, judged.build.money.landed_limit_usd, cautioned=False)
