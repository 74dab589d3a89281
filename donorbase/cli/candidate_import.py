"""``donorbase candidate import``."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.candidate_add import DAY, day_or_today
from donorbase.cli.candidate_judge import bar, show_changes
from donorbase.cli.proposed import BUILD, FIELD, FILE
from donorbase.errors import BadInput

if TYPE_CHECKING:
    from donorbase.services.gathering import Gathered
    from donorbase.services.sources import Found, Source

_FORMS = ("folder", "csv", "jsonl", "page", "mbox")


@click.command(
    "import", epilog="\b\nExample:\n    donorbase candidate import saved-ads.csv --build crawler --column text=Body"
)
@click.argument("path", type=FILE, metavar="FILE|FOLDER|-")
@click.option(
    "--build",
    "-b",
    "builds",
    type=BUILD,
    multiple=True,
    metavar="NAME",
    help="Keep them for this build; may be repeated.",
)
@click.option("--all-builds", is_flag=True, help="Keep them for every build.")
@click.option("--form", type=click.Choice(_FORMS), help="What it is, where its name does not tell.")
@click.option(
    "--column", "columns", type=FIELD, multiple=True, metavar="FIELD=HEAD", help="Which column or key holds a field."
)
@click.option("--parted-by", default="", metavar="LINE", help="The line that parts the adverts of a page.")
@click.option("--source", "label", default="", help="Where they were found.")
@click.option("--seen", type=DAY, metavar="DATE", help="The day they were seen, where they do not say; else today.")
@click.option("--encoding", default="utf-8", show_default=True, help="The encoding of the text.")
@click.option("--keep-good", is_flag=True, help="Keep the good rows of a source that has bad ones.")
@click.option("--judge/--no-judge", "judged", default=True, help="Judge what was kept, or leave it for later.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def import_(
    database: str | None,
    /,
    path: str,
    builds: tuple[str, ...],
    all_builds: bool,
    columns: tuple[str, ...],
    keep_good: bool,
    judged: bool,
    as_json: bool,
    **how: Any,
) -> None:
    """Keep many listings: a folder of text files, a CSV or JSONL file, a page of adverts, a mailbox of saved ads.

    Fields are text, title, price_usd, url, source, zip, distance_mi and seen; usual names of columns are known. The
    adverts of a page are parted by lines such as -----, else by blank lines. Rows that cannot be used are told with
    their line; nothing is kept then unless you say --keep-good. The database is backed up first. Stopped, by Ctrl-C
    or otherwise, nothing is lost: the same command again goes on and doubles nothing.
    """
    from donorbase.cli.context import open_desk, open_house, who_does_it
    from donorbase.services.keeping import Keeper

    house = open_house(database)
    names = tuple(kept.name for kept in house.builds()) if all_builds else builds
    if not names:
        raise click.UsageError("Name a build with --build NAME, or say --all-builds.")
    keeper = Keeper(house, open_desk(house), tuple(dict.fromkeys(house.build(n).name for n in names)), who_does_it())
    with _source(path, columns, **how) as source:
        done = _gathered(keeper, source, keep_good)
    _tell(keeper, done, judged, as_json)


@contextmanager
def _source(
    path: str,
    columns: tuple[str, ...],
    form: str | None,
    parted_by: str,
    label: str,
    seen: datetime | None,
    encoding: str,
) -> "Iterator[Source]":
    """The source at ``path``; standard input is laid down in a file first, since it is read twice."""
    from donorbase.services.sources import Source, form_of

    same: dict[str, Any] = {"columns": dict(map(pair, columns)), "encoding": encoding, "parted_by": parted_by}
    same |= {"label": label, "day": day_or_today(seen)}
    if path != "-":
        yield Source(Path(path), form or form_of(Path(path)), **same)
        return
    with TemporaryDirectory(prefix="donorbase-") as folder:
        laid = Path(folder, "paste")
        with laid.open("wb") as file:
            while part := sys.stdin.buffer.read(1 << 20):
                file.write(part)
        yield Source(laid, form or "page", name="the paste", **same)


def pair(text: str) -> tuple[str, str]:
    """The field and the head of FIELD=HEAD."""
    name, sign, head = text.partition("=")
    if not sign or not head:
        raise BadInput(f"--column {text!r} says no column", "Write FIELD=HEAD, such as --column text=Description.")
    return name.strip(), head


def _gathered(keeper: Any, source: "Source", keep_good: bool) -> "Gathered":
    from donorbase.cli.output import tell
    from donorbase.cli.waiting import working
    from donorbase.services.gathering import gather, look_through, refuse_faults

    with working("Looking through it"):
        looked = look_through(source, _tell_fault)
    refuse_faults(looked, source.told, keep_good)
    try:
        with bar("keeping", looked.good) as progress:
            return gather(keeper, source, progress)
    except KeyboardInterrupt:
        tell("Stopped. What was kept so far stays; the same command goes on from there.", err=True)
        raise


def _tell_fault(found: "Found") -> None:
    from donorbase.cli.output import tell

    tell(f"{found.place}: {found.fault}", err=True)


def _tell(keeper: Any, done: "Gathered", judged: bool, as_json: bool) -> None:
    from donorbase.cli.output import say, show_json
    from donorbase.services.rejudging import count_due, judge_due

    due = count_due(keeper.house, keeper.desk) if judged else {}
    found = None
    if judged:
        with bar("judging", sum(due.get(name, 0) for name in keeper.builds)) as progress:
            found = judge_due(keeper.house, keeper.desk, keeper.builds, progress=progress)
    if as_json:
        show_json(done.as_json() | {"judged": found.judged if found else 0})
        return
    bad = f", {done.faulty:,} bad rows left out" if done.faulty else ""
    say(f"Kept {done.added:,} new listings; {done.known:,} were known{bad}. New candidates: {done.candidates:,}.")
    if done.reposts:
        say(f"Of the new ones {done.reposts:,} repeat an axle that was kept before; `candidate part` parts wrong ones.")
    if done.backup:
        say(f"The database as it was before lies at {done.backup}")
    if found:
        show_changes(found)
