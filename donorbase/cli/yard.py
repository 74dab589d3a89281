"""``donorbase yard``."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from donorbase.cli.candidate_add import DAY, day_or_today
from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.paste import pasted
from donorbase.cli.proposed import BUILD, FILE, YARD
from donorbase.cli.told import build_option

if TYPE_CHECKING:
    from donorbase.services.yards import Walk


@click.group(epilog="\b\nExample:\n    donorbase yard list")
def yard() -> None:
    """Keep yards' lists, and walk the rows that hold what a build needs."""


@yard.command("import", epilog='\b\nExample:\n    donorbase yard import "river yard" board.txt --distance-mi 35')
@click.argument("name", type=YARD)
@click.argument("source", type=FILE, required=False, metavar="[FILE|-]")
@click.option("--listed", type=DAY, metavar="DATE", help="The day of the list; today where left out.")
@click.option("--part", is_flag=True, help="It is only a part: vehicles that it lacks are not gone.")
@click.option("--column", "columns", multiple=True, metavar="FIELD=HEAD", help="Which column holds a field.")
@click.option("--distance-mi", type=click.FloatRange(0, 5000), help="How far away the yard is, one way.")
@click.option("--zip", "zip_", help="The yard's ZIP.")
@click.option("--keep-good", is_flag=True, help="Keep the good lines of a list that has bad ones.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--encoding", help="The file's encoding, where it is not UTF-8.")
@click.pass_obj
def import_(
    database: str | None,
    name: str,
    source: str | None,
    listed: datetime | None,
    part: bool,
    columns: tuple[str, ...],
    distance_mi: float | None,
    zip_: str | None,
    keep_good: bool,
    as_json: bool,
    encoding: str | None,
) -> None:
    """Keep a yard's list: a CSV file with a column "row", or its board as pasted.

    \b
    Row 12
      2006 drayman 35 4x4 dually  set 10/28/2026
    Row 14: 1999 drayman 25 4x4

    Fields of a table: row, space, stock, year, line, model, class, wheels, set, text. A later list of the same yard
    says which vehicles are gone since.
    """
    from donorbase.cli.candidate_import import pair
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json, tell
    from donorbase.services.source_fields import zip_of
    from donorbase.services.yards import keep_list, read_list

    told = source if source not in (None, "-") else "the paste"
    found = read_list(pasted(source, encoding), str(told and Path(told).name), dict(map(pair, columns)))
    for one in found:
        if one.fault:
            tell(f"{one.place}: {one.fault}", err=True)
    place = {"distance_mi": distance_mi, "zip": zip_of(zip_) if zip_ else None}
    day = day_or_today(listed)
    done = keep_list(open_house(database), name, found, day, keep_good=keep_good, full=not part, place=place)
    if as_json:
        show_json(done.as_json())
    else:
        bad = f" {done.faulty} bad lines were left out, so none was taken to be gone." if done.faulty else ""
        say(f"{name}: {done.added} new vehicles, {done.known} known, {done.gone} gone.{bad}")


@yard.command("list", epilog="\b\nExample:\n    donorbase yard list")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def list_(database: str | None, as_json: bool) -> None:
    """List the yards, with the day of the newest list of each."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.yards import yards

    found = yards(open_house(database))
    columns = ("name", "listed_on", "there", "gone", "distance_mi", "zip")
    if as_json:
        show_json(list(found))
    else:
        heads = ("yard", "newest list", "vehicles", "gone", "miles", "ZIP")
        none = "No yard is kept yet. `donorbase yard import NAME FILE` keeps its list."
        show_table([[one[column] for column in columns] for one in found], heads, none)


@yard.command(epilog='\b\nExample:\n    donorbase yard rows "river yard" --build crawler')
@click.argument("name", type=YARD)
@build_option(required=True)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def rows(database: str | None, name: str, build_name: str, as_json: bool) -> None:
    """Show the vehicles whose front or rear may meet a build, row by row for the walk, and what to check and bring."""
    from donorbase.cli.candidate_judge import bar
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build
    from donorbase.services.yards import walk, yards

    house = open_house(database)
    build = find_build(house, build_name)
    standing = sum(one["there"] for one in yards(house) if one["name"] == name)
    with bar("judging", standing) as progress:
        found = walk(house, open_desk(house), name, build, progress)
    if as_json:
        show_json(found.as_json())
    else:
        _show_walk(found)


@yard.command(epilog='\b\nExample:\n    donorbase yard keep "river yard" 2 --build crawler')
@click.argument("name", type=YARD)
@click.argument("number", type=int)
@click.option(
    "--build",
    "-b",
    "builds",
    type=BUILD,
    multiple=True,
    required=True,
    metavar="NAME",
    help="For this build; repeatable.",
)
@click.option("--note", "words", default="", help="What is to be remembered of it.")
@says_when
@json_form
@click.pass_obj
def keep(
    database: str | None, name: str, number: int, builds: tuple[str, ...], words: str, on: datetime | None, who: str
) -> None:
    """Keep a vehicle of a yard as a candidate, by its number in `yard rows`, and judge it.

    It is then asked about, visited, compared and bought like any other.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import done, say
    from donorbase.services.candidates import siblings
    from donorbase.services.yard_candidates import keep_vehicle

    house = open_house(database)
    chosen = tuple(dict.fromkeys(house.build(one).name for one in builds))
    outcome, title = keep_vehicle(house, open_desk(house), name, number, chosen, occasion(on, who, words))
    say(f"{title}: {'kept' if outcome.is_new else 'kept before'}.")
    ones = siblings(house, next(iter(outcome.candidates.values())))
    done([one.as_json() for one in ones])
    for one in ones:
        say(f"Candidate {one.id} for {one.build}: {one.verdict or 'not judged'}. {' '.join(one.why[:1])}".rstrip())


def _show_walk(found: "Walk") -> None:
    from donorbase.cli.output import caution, heading, say, say_verdict

    heading(f"{found.yard}, list of {found.listed_on}")
    for stop in found.stops:
        where = f"Row {stop.vehicle['row']}" + (f", space {stop.vehicle['space']}" if stop.vehicle["space"] else "")
        since = f" (set {stop.vehicle['set_on']})" if stop.vehicle["set_on"] else ""
        say()
        heading(f"{where}: {stop.vehicle['text']}{since}, no. {stop.vehicle['id']}")
        say_verdict(stop.verdict, f" ({stop.chance:.0%}), {stop.taken_for}", f"{stop.end}: ", 2)
        for check in stop.checks:
            say(f"- {check}", 2)
    say()
    if found.stops:
        say(f"Bring: {', '.join(found.bring)}.")
    else:
        say("No vehicle of which line or class is known has an axle that may meet the build.")
    if found.untold:
        say(
            f"{found.untold} vehicles were left out: neither line nor class is known. `donorbase words add` teaches "
            "what your yard calls them."
        )
    if found.stops:
        say(f'`donorbase yard keep "{found.yard}" {found.stops[0].vehicle["id"]} --build NAME` makes one a candidate.')
        caution()
