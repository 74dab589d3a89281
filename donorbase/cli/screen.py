"""``donorbase screen``."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.proposed import FIELD
from donorbase.cli.told import build_option
from donorbase.errors import BadInput

if TYPE_CHECKING:
    from donorbase.services.screen import Progress, Screening, Work

_FORMS = ("jsonl", "csv", "parquet", "page", "mbox", "folder")


@click.command(
    epilog="\b\nExamples:\n    donorbase screen ads.jsonl --build crawler --workers 2 -o verdicts.jsonl\n"
    "    donorbase screen ads.parquet --build crawler --shard 1/2 -o part-1.jsonl\n"
    "    donorbase screen --join part-1.jsonl part-2.jsonl -o verdicts.jsonl"
)
@click.argument("paths", nargs=-1, metavar="FILE...", type=click.Path(path_type=Path))
@build_option(name="name")
@click.option("--output", "-o", required=True, type=click.Path(path_type=Path), help="The file of verdicts, JSONL.")
@click.option("--workers", type=click.IntRange(1, 256), default=1, show_default=True, help="Processes to work in.")
@click.option("--shard", default="1/1", show_default=True, metavar="I/N", help="Only the i-th of n parts.")
@click.option("--dask", metavar="ADDRESS", help="Work on a Dask cluster whose workers see the same files.")
@click.option("--join", "joining", is_flag=True, help="Join the outputs of all shards, named in their order.")
@click.option("--form", type=click.Choice(_FORMS), help="What the files are, where their names do not tell.")
@click.option(
    "--column", "columns", type=FIELD, multiple=True, metavar="FIELD=HEAD", help="Which column or key holds a field."
)
@click.option("--encoding", default="utf-8", show_default=True, help="The encoding of the text.")
@click.pass_obj
def screen(
    database: str | None,
    /,
    paths: tuple[Path, ...],
    name: str | None,
    output: Path,
    joining: bool,
    shard: str,
    **how: Any,
) -> None:
    """Judge any number of listings for a build: a line of JSON for each, in their order.

    Files are streamed, and a bad row has its fault in its line and stops nothing. Stopped, by Ctrl-C or otherwise, the
    same command goes on at the last finished block; the output stands only when all is done. Nothing is kept in the
    database: `donorbase candidate import` does that.
    """
    from donorbase.cli.output import tell
    from donorbase.services.screen import join

    if not paths:
        raise click.UsageError("Name the files of listings.")
    if joining:
        tell(f"Joined {join(paths, output):,} rows: {output}", err=True)
        return
    if not name:
        raise click.UsageError("Name a build: --build NAME, or --build FILE.toml.")
    _run(_screening(database, paths, name, output, shard, how), _work(how["dask"], how["workers"]))


def _screening(
    database: str | None, paths: tuple[Path, ...], name: str, output: Path, shard: str, how: dict[str, Any]
) -> "Screening":
    from donorbase.cli.candidate_import import pair
    from donorbase.cli.context import open_house, this_year
    from donorbase.services.screen import Screening
    from donorbase.services.screening import shard_of
    from donorbase.services.sources import Source, form_of

    if output.resolve() in {path.resolve() for path in paths}:
        raise BadInput(f"{output} is one of the files of listings", "Name another output.")
    columns, today = dict(map(pair, how["columns"])), date.today()
    sources = [Source(p, how["form"] or form_of(p), today, columns, how["encoding"]) for p in paths]
    return Screening(open_house(database), name, sources, output, this_year(), shard_of(shard))


def _work(dask: str | None, workers: int) -> "Work":
    from donorbase.services.screen_workers import work_beside, work_here, work_on_cluster

    if dask:
        return partial(work_on_cluster, address=dask)
    return partial(work_beside, workers=workers) if workers > 1 else work_here


def _run(screening: "Screening", work: "Work") -> None:
    from donorbase.cli.output import tell
    from donorbase.cli.waiting import working

    with working("Counting the rows"):
        rows = screening.rows()
    try:
        with _bar(rows) as progress:
            before = screening.run(work, progress)
    except KeyboardInterrupt:
        tell("Stopped. The blocks that are finished stay; the same command goes on from there.", err=True)
        raise
    again = f", {before:,} of them before" if before else ""
    tell(f"Judged {rows:,} rows{again}: {screening.output}", err=True)


@contextmanager
def _bar(rows: int) -> "Iterator[Progress]":
    """A bar with time left and rows a second, on standard error where a person looks at it."""
    import sys
    import time

    begun, done = time.monotonic(), 0

    def rate(_: Any) -> str:
        return f"{done / max(time.monotonic() - begun, 0.001):,.0f} a second"

    hidden = not sys.stderr.isatty() or not rows
    with click.progressbar(
        length=rows, label="judging", file=sys.stderr, hidden=hidden, show_eta=True, item_show_func=rate
    ) as bar:

        def progress(count: int) -> None:
            nonlocal done
            done += count
            bar.update(count, done)

        yield progress
