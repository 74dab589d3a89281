"""``donorbase part fits``, ``matrix`` and ``needs``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import AXLE, BUILD, KIND, TAG

if TYPE_CHECKING:
    from donorbase.services.matching import Match, Need

NO_TARGET = (
    "No build has an axle yet that parts could be for: `donorbase part use TAG --build NAME` of a whole axle or "
    "housing says which it has, or name one with --axle KEY."
)


@click.command(epilog="\b\nExample:\n    donorbase part fits AAC4 --axle front-9.75-balljoint/a-2011-2016-srw")
@click.argument("tag", type=TAG)
@click.option("--axle", "axles", multiple=True, type=AXLE, metavar="KEY", help="Onto this axle; may be repeated.")
@click.option(
    "--build", "-b", "builds", multiple=True, type=BUILD, metavar="NAME", help="Onto the axles of this build."
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def fits(database: str | None, tag: str, axles: tuple[str, ...], builds: tuple[str, ...], as_json: bool) -> None:
    """Say onto which axles a part goes, on which side, and why; what is not on record is not known.

    Without --axle and --build it is tried on the axles of all builds.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import caution, say, show_json
    from donorbase.services.matching import matches, targets_of

    house = open_house(database)
    found = matches(house, targets_of(house, axles, builds), tag)
    if as_json:
        show_json([match.as_json() for match in found])
        return
    for match in found:
        say(f"{match.fit.state.upper()}: {match.part.tag} ({match.part.name}) on {match.target.name}")
        for line in match.fit.because:
            say(f"- {line}", 2)
        if match.fit.cost_usd:
            say(f"- what it needs besides: {match.fit.cost_usd[0]:,.0f} to {match.fit.cost_usd[1]:,.0f} USD", 2)
    if found:
        caution()
    else:
        say(NO_TARGET)


@click.command(epilog="\b\nExample:\n    donorbase part matrix --build crawler")
@click.option("--axle", "axles", multiple=True, type=AXLE, metavar="KEY", help="Onto this axle; may be repeated.")
@click.option(
    "--build", "-b", "builds", multiple=True, type=BUILD, metavar="NAME", help="Onto the axles of this build."
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def matrix(database: str | None, axles: tuple[str, ...], builds: tuple[str, ...], as_json: bool) -> None:
    """Show every part of the shelf against every axle of your builds. A part promised to another build is left out."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import say, show_json, show_table
    from donorbase.services.matching import matches, targets_of

    house = open_house(database)
    targets = targets_of(house, axles, builds)
    found = matches(house, targets)
    heads = ("tag", "part", *(target.name for target in targets))
    if as_json:
        show_json([match.as_json() for match in found])
    elif not targets:
        say(NO_TARGET)
    else:
        show_table(_lines(found, [target.name for target in targets]), heads)


def _lines(found: "tuple[Match, ...]", names: list[str]) -> list[tuple[object, ...]]:
    cells: dict[str, dict[str, str]] = {}
    parts = {match.part.tag: match.part.name for match in found}
    for match in found:
        cells.setdefault(match.part.tag, {})[match.target.name] = match.fit.state
    return [(tag, parts[tag], *(cells[tag].get(name, "promised") for name in names)) for tag in cells]


@click.command(epilog="\b\nExample:\n    donorbase part needs crawler --lacks rotor --lacks caliper")
@click.argument("build", type=BUILD)
@click.option("--axle", type=AXLE, metavar="KEY", help="The axle, where the shelf holds none for the build.")
@click.option("--lacks", "lacking", type=KIND, multiple=True, metavar="KIND", help="What it lacks; may be repeated.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def needs(database: str | None, build: str, axle: str | None, lacking: tuple[str, ...], as_json: bool) -> None:
    """Say what a build's axle lacks, what the shelf covers, and what is left to buy.

    A bare housing lacks every piece; of a whole axle you say what it lacks.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import heading, say, show_json
    from donorbase.services.matching import Target, targets_of
    from donorbase.services.matching import needs as needs_of

    house = open_house(database)
    house.build(build)
    targets = [Target(t.axle, build) for t in targets_of(house, [axle])] if axle else targets_of(house, (), [build])
    found = {target: needs_of(house, build, target, lacking) for target in targets}
    if as_json:
        show_json([{"axle": t.axle, "needs": [need.as_json() for need in of_it]} for t, of_it in found.items()])
        return
    if not targets:
        say(NO_TARGET)
    for target, of_it in found.items():
        heading(target.name)
        _show_needs(of_it)


def _show_needs(found: "tuple[Need, ...]") -> None:
    from donorbase.cli.output import say, show_table

    if not found:
        say("It came whole, so what it lacks must be told: --lacks KIND.")
        return
    heads = ("part", "wanted", "on the shelf", "perhaps, look", "to buy", "each, USD", "price")
    show_table([_line(need) for need in found], heads)
    known = [need for need in found if need.left and need.each_usd is not None]
    dear = sum(need.left * (need.each_usd or 0) for need in known)
    unknown = sum(need.left for need in found if need.left and need.each_usd is None)
    say(f"Left to buy about {dear:,.0f} USD{f', and {unknown} without a price' if unknown else ''}.")


def _line(need: "Need") -> tuple[object, ...]:
    name = f"{need.kind.kind}, {need.side}" if need.side else need.kind.kind
    return (name, need.wanted, need.covered, need.perhaps, need.left, need.each_usd, need.source if need.left else None)


@click.command(epilog="\b\nExample:\n    donorbase part wholes")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def wholes(database: str | None, as_json: bool) -> None:
    """Say which whole axles could be put together about the housings of the shelf, and what is missing.

    Each is reckoned by itself: a part that two of them could have counts for both. What may fit counts as missing.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import heading, say, show_json
    from donorbase.services.matching import wholes as found_wholes

    found = found_wholes(open_house(database))
    if as_json:
        show_json([whole.as_json() for whole in found])
    elif not found:
        say("The shelf has no free housing of which it is known what axle it is of. `part add housing --axle KEY`.")
    for whole in found if not as_json else ():
        heading(f"{whole.housing.tag}: {whole.housing.axle}, {whole.missing or 'nothing'} missing")
        _show_needs(whole.needs)
