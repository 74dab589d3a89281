"""Results on a terminal, as JSON or as CSV, whichever was asked for.

The only file that knows tabulate, and the only one that prints.

Whatever is printed goes through ``shown`` first, since words of listings, names of files and notes may hold signs that
would repaint the terminal.
"""

import csv
import json
import os
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import click

from donorbase.cli import columns
from donorbase.cli.forms import CSV, JSON, WORDS, asked
from donorbase.cli.lazy import CONTACTS
from donorbase.services.contacts import blanked, without_contacts
from donorbase.services.shown import escaped_json, shown

VERDICT_COLOURS = {"fits": "green", "fits with work": "cyan", "unclear": "yellow", "does not fit": "red"}
_VERDICT_HEADS = ("verdict", "before", "now")
_SHEET = "donorbase.sheet"
WIDEST = 110
"""Longer lines are hard to read."""

CAUTION = (
    "This tool helps you choose; it does not certify that a part is safe or legal. Local codes, the yard's rules "
    "and a licensed mechanic, welder or engineer, where one is required, come first."
)


def width() -> int:
    """Columns of the terminal, at most 110; 110 when the output is piped, unless COLUMNS says otherwise."""
    seen = sys.stdout.isatty() or "COLUMNS" in os.environ
    return min(shutil.get_terminal_size((WIDEST, 40)).columns, WIDEST) if seen else WIDEST


def contacts_kept() -> bool:
    """Whether sellers' numbers and addresses were asked for in what is written for others."""
    context = click.get_current_context(silent=True)
    return bool(context and context.meta.get(CONTACTS))


def show_json(value: Any, *, contacts: bool = False) -> None:
    """Print a value as JSON, readable by people; sellers' numbers and addresses only where they were asked for."""
    if asked() == CSV:
        raise click.UsageError("--json and --csv are two forms of one answer: choose one.")
    click.echo(_json(value, contacts, indent=2))


def show_json_line(value: Any) -> None:
    """Print a value as one line of JSON, otherwise as ``show_json``."""
    click.echo(_json(value))


def _json(value: Any, contacts: bool = False, **form: Any) -> str:
    told = value if contacts or contacts_kept() else blanked(value)
    return escaped_json(json.dumps(told, ensure_ascii=False, default=str, **form))


def done(value: Any, *sentences: str) -> None:
    """Tell what was done, or print it as JSON where that was asked for."""
    if asked() == JSON:
        show_json(value)
    for sentence in sentences:
        tell(sentence)


def show_csv(rows: Iterable[Sequence[object]], headers: Sequence[str]) -> None:
    """Print rows as CSV, under their heads if there are any.

    No cell is one that a spreadsheet would run as a formula; contacts stand there only where they were asked for.
    """
    from donorbase.services.cells import harmless

    told = str if contacts_kept() else without_contacts
    out = csv.writer(sys.stdout, lineterminator="\n")
    if headers:
        out.writerow(headers)
    out.writerows([harmless(told(cell(c))) for c in row] for row in rows)


class _Sheet:
    """The tables of a command that was asked for CSV, printed when it ends.

    Tables that stand under a heading carry it in a first column; tables with other columns stand below, after an
    empty line.
    """

    def __init__(self) -> None:
        self.heading = ""
        self.tables: list[tuple[str, list[Sequence[object]], Sequence[str]]] = []

    def print(self) -> None:
        titled = any(title for title, _, _ in self.tables)
        before: tuple[str, ...] = ()
        for title, rows, headers in self.tables:
            heads = ("table", *headers) if titled else tuple(headers)
            whole = [(title, *row) for row in rows] if titled else rows
            if heads == before:
                show_csv(whole, ())
                continue
            if before:
                click.echo()
            show_csv(whole, heads)
            before = heads


def _sheet() -> _Sheet:
    ctx = click.get_current_context()
    if _SHEET not in ctx.meta:
        ctx.meta[_SHEET] = _Sheet()
        ctx.call_on_close(ctx.meta[_SHEET].print)
    sheet: _Sheet = ctx.meta[_SHEET]
    return sheet


def cell(value: object) -> str:
    """A value as a cell's text: nothing for what is not known, numbers without a tail of zeros."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, list | tuple):
        return ", ".join(cell(v) for v in value)
    return shown(str(value))


def tell(text: str = "", *, err: bool = False) -> None:
    """Print lines as they are, on stderr with ``err``; on stdout only where words were asked for."""
    if err or asked() == WORDS:
        click.echo(shown(text), err=err)


def show_file(text: str) -> None:
    """Print what another program will read: to the letter, but on a terminal only what may stand there."""
    click.echo(shown(text) if sys.stdout.isatty() else text, nl=False)


def show_table(rows: Sequence[Sequence[object]], headers: Sequence[str], empty: str = "") -> None:
    """Print rows as an aligned table that fits the terminal, figures to the right; ``empty`` where there are none.

    Where not even its words fit side by side, each row is a block of lines. Asked for CSV, it prints that.
    """
    if asked() == CSV:
        sheet = _sheet()
        sheet.tables.append((sheet.heading, list(rows), headers))
    elif asked() == WORDS and not rows and empty:
        say(empty)
    elif asked() == WORDS:
        click.echo(laid_out([[cell(c) for c in row] for row in rows], headers, width()))


def laid_out(cells: list[list[str]], headers: Sequence[str], room: int) -> str:
    """Cells as a table no wider than so many columns, or as a block for each row."""
    widths = columns.column_widths(cells, headers, room)
    return _table(cells, headers, widths) if widths else columns.blocks(cells, headers, room)


def _table(cells: list[list[str]], headers: Sequence[str], widths: list[int]) -> str:
    import tabulate

    # By default a head takes two columns more than its words, so that a table made to fit would not.
    tabulate.MIN_PADDING = 0
    figures = [columns.are_figures([row[i] for row in cells]) for i in range(len(headers))]
    lines = [
        [_painted(h, columns.wrapped(c, w)) for h, c, w in zip(headers, row, widths, strict=True)] for row in cells
    ]
    # tabulate would turn 4.10 into 4.1 and phone numbers into sums, so it must not look at the cells.
    return tabulate.tabulate(
        lines,
        [columns.wrapped(h, w) for h, w in zip(headers, widths, strict=True)],
        tablefmt="simple",
        disable_numparse=True,
        colalign=["right" if n else "left" for n in figures] if cells else None,
    )


def _painted(head: str, text: str) -> str:
    """A verdict in its colour; the word says it all without."""
    colour = VERDICT_COLOURS.get(" ".join(text.split()).casefold()) if head in _VERDICT_HEADS else None
    return "\n".join(click.style(line, fg=colour) for line in text.splitlines()) if colour else text


def say(text: str = "", indent: int = 0, *, hanging: int = 2, bright: str = "", colour: str | None = None) -> None:
    """Print a paragraph, wrapped to the terminal; lines after the first stand ``hanging`` deeper.

    The first words that are ``bright`` stand out on a terminal; they say it all without.
    """
    if asked() != WORDS:
        return
    begin = " " * indent
    later = begin + " " * hanging
    # Paths, keys and commands stay whole, so that they can be copied.
    wrapper = textwrap.TextWrapper(width(), begin, later, break_long_words=False, break_on_hyphens=False)
    lines = wrapper.fill(shown(text))
    click.echo(lines.replace(bright, click.style(bright, fg=colour, bold=True), 1) if bright else lines)


def heading(text: str) -> None:
    """Print a heading; in CSV it stands beside the rows of the tables below it."""
    if asked() == CSV:
        _sheet().heading = text
    if asked() == WORDS:
        click.echo(click.style(shown(text), bold=True))


def say_verdict(verdict: str, more: str, before: str = "", indent: int = 0) -> None:
    """Print a verdict in capitals, in its colour, with words ``before`` it and ``more`` after."""
    word = verdict.upper()
    say(f"{before}{word}{more}", indent, bright=word, colour=VERDICT_COLOURS.get(verdict))


def caution() -> None:
    """Print the head line of the cautions."""
    say()
    say(CAUTION)


def warn(*keys: str) -> None:
    """Print the cautions of those keys on stderr, so that what is printed can be kept in a file."""
    from donorbase.reference.rules import cautions

    for key in keys:
        tell(cautions()[key].says, err=True)


def write_page(path: str, text: str) -> None:
    """Write a page to a file for its owner alone, all of it or nothing; `-` prints it."""
    from donorbase.services.own_file import write_own

    if path == "-":
        show_file(text)
        return
    write_own(Path(path), text)
    tell(f"Written: {path}", err=True)
