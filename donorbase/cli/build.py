"""``donorbase build``."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from donorbase.cli.build_fitup import fitup
from donorbase.cli.build_take import take_along
from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.proposed import BUILD, BUILD_OR_FILE

if TYPE_CHECKING:
    from donorbase.verdict.spec import Build


@click.group(epilog="\b\nExample:\n    donorbase build list")
def build() -> None:
    """Keep builds: the vehicle, what it asks of its axles, the work you will do, your money."""


@build.command(epilog="\b\nExample:\n    donorbase build add crawler.toml")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--name", help="Keep it under this name instead of the file's.")
@json_form
@click.pass_obj
def add(database: str | None, file: Path, name: str | None) -> None:
    """Keep a build file; a build of the same name is replaced. All faults of the file are told at once."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.builds import add_build

    added = add_build(open_house(database), file, name)
    told = {"name": added.name, "is_new": added.is_new}
    done(told, f"{'Kept' if added.is_new else 'Replaced'} {added.name}: {added.build.name}")


@build.command(epilog="\b\nExample:\n    donorbase build new mytruck.toml")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.pass_obj
def new(database: str | None, file: Path | None) -> None:
    """Write a build file by answering questions in plain words. Ctrl-C writes nothing."""
    from donorbase.cli.build_new import free_name, interviewed, may_write
    from donorbase.cli.context import open_house
    from donorbase.cli.output import tell

    if file and not may_write(file):
        raise click.Abort
    works = {work.word: work.title for work in open_house(database).catalogue().works.values()}
    made = interviewed(works)
    target = file or free_name(made.name)
    if not file and not may_write(target):
        raise click.Abort
    target.write_text(made.as_toml(), "utf-8")
    tell(f"Wrote {target}. `donorbase build check {target}` says what is open; `donorbase build add` keeps it.")


@build.command("list", epilog="\b\nExample:\n    donorbase build list")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def list_(database: str | None, as_json: bool) -> None:
    """List the builds that are kept."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.builds import kept_builds

    kept = kept_builds(open_house(database))
    if as_json:
        show_json([{"name": name, "build": b.as_json()} for name, b in kept])
    else:
        rows = [
            (
                name,
                b.name,
                " and ".join(b.wants),
                b.money.landed_limit_usd,
                sum(map(len, b.requirements.values())),
            )
            for name, b in kept
        ]
        none = "No build is kept yet. `donorbase build add FILE.toml` keeps one; `donorbase demo` shows three."
        show_table(rows, ("build", "what it is", "wants", "limit, USD", "requirements"), none)


@build.command(epilog="\b\nExample:\n    donorbase build show crawler")
@click.argument("name", type=BUILD_OR_FILE, metavar="NAME|FILE")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--toml", "as_toml", is_flag=True, help="Print it as a build file.")
@csv_form
@click.pass_obj
def show(database: str | None, name: str, as_json: bool, as_toml: bool) -> None:
    """Show a kept build, or a build file, as it was understood."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_file, show_json
    from donorbase.services.builds import find_build

    found = find_build(open_house(database), name)
    if as_json:
        show_json(found.as_json())
    elif as_toml:
        show_file(found.as_toml())
    else:
        _show(found)


@build.command(epilog="\b\nExample:\n    donorbase build check crawler")
@click.argument("name", type=BUILD_OR_FILE, metavar="NAME|FILE")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def check(database: str | None, name: str, as_json: bool) -> None:
    """Look a build over: what it leaves open, what contradicts itself, which must shuts out how many axles."""
    from donorbase.cli.build_check import show_looked_over
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build
    from donorbase.services.openings import look_over

    house = open_house(database)
    looked = look_over(find_build(house, name), house.catalogue())
    if as_json:
        show_json(looked.as_json())
    else:
        show_looked_over(looked)


build.add_command(fitup)
build.add_command(take_along)


@build.command(epilog="\b\nExample:\n    donorbase build edit crawler")
@click.argument("name", type=BUILD)
@click.pass_obj
def edit(database: str | None, name: str) -> None:
    """Change a kept build in your editor ($VISUAL or $EDITOR). A text with faults is refused, and never lost."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import tell
    from donorbase.services.builds import draft_of, keep_draft

    house = open_house(database)
    draft = draft_of(house, name)
    try:
        click.edit(filename=str(draft))
    except click.ClickException as wrong:
        raise click.ClickException(f"{wrong.message}. What you wrote is in {draft}") from wrong
    changed = keep_draft(house, name, draft)
    tell(f"Changed {name}." if changed else f"{name} is as it was.")


@build.command(epilog="\b\nExample:\n    donorbase build remove crawler")
@click.argument("name", type=BUILD)
@json_form
@click.pass_obj
def remove(database: str | None, name: str) -> None:
    """Forget a kept build."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done

    open_house(database).forget_build(name)
    done({"forgotten": name}, f"Forgot {name}.")


def _show(found: "Build") -> None:
    from dataclasses import asdict

    from donorbase.cli.output import cell, heading, say, show_table

    heading(f"{found.name} (wants {' and '.join(found.wants)})")
    vehicle = {name: value for name, value in asdict(found.vehicle).items() if value is not None}
    if found.ratio:
        vehicle["ratio wanted"] = found.ratio
    _show_pairs("Vehicle", vehicle)
    rows = [
        (end, str(r.level), r.subject, r.condition.words())
        for end, requirements in found.requirements.items()
        for r in requirements
    ]
    say()
    show_table(rows, ("end", "level", "what", "condition"))
    _show_computed(found)
    for end, has in found.has.items():
        _show_pairs(f"The {end} that is there", has)
    say()
    for title, words in (
        ("planned", found.work.planned),
        ("accepted", found.work.accepted),
        ("refused", found.work.refused),
    ):
        say(f"Work {title}: {', '.join(words) or 'none'}")
    _show_pairs("Own prices, USD", {**found.work.price_usd, **found.money.part_price_usd})
    say(f"Limit, landed: {cell(found.money.landed_limit_usd) or 'none'} USD")


def _show_computed(found: "Build") -> None:
    from donorbase.cli.output import heading, say, show_table
    from donorbase.services.builds import computed_requirements

    rows = [(end, r.subject, r.condition.words(), r.computed) for end, r in computed_requirements(found)]
    say()
    heading("Asked besides, unless you say otherwise")
    show_table(rows, ("end", "what", "condition", "why"))


def _show_pairs(title: str, pairs: Mapping[str, object] | Iterable[tuple[str, object]]) -> None:
    from donorbase.cli.output import cell, say

    named = dict(pairs)
    if named:
        say(f"{title}: " + ", ".join(f"{name} {cell(value)}" for name, value in named.items()))
