"""Results on a terminal, as JSON or as CSV. The only file that knows tabulate, and the only one that prints.

Whatever is printed goes through ``shown`` first, since words of listings, names of files and notes may hold signs that
would repaint the terminal.
"""

import csv
import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import click

from donorbase.cli.lazy import CONTACTS
from donorbase.services.contacts import blanked, without_contacts
from donorbase.services.shown import escaped_json, shown

VERDICT_COLOURS = {"fits": "green", "fits with work": "cyan", "unclear": "yellow", "does not fit": "red"}

CAUTION = (
    "This tool helps you choose; it does not certify that a part is safe or legal. Local codes, the yard's rules "
    "and a licensed mechanic, welder or engineer, where one is required, come first."
)


def width() -> int:
    """Columns of the terminal, at most 110; 110 when the output is piped."""
    return min(shutil.get_terminal_size((110, 40)).columns, 110) if sys.stdout.isatty() else 110


def contacts_kept() -> bool:
    """Whether sellers' numbers and addresses were asked for in what is written for others."""
    context = click.get_current_context(silent=True)
    return bool(context and context.meta.get(CONTACTS))


def show_json(value: Any, *, contacts: bool = False) -> None:
    """Print a value as JSON, readable by people; sellers' numbers and addresses only where they were asked for."""
    click.echo(_json(value, contacts, indent=2))


def show_json_line(value: Any) -> None:
    """Print a value as one line of JSON, otherwise as ``show_json``."""
    click.echo(_json(value))


def _json(value: Any, contacts: bool = False, **form: Any) -> str:
    told = value if contacts or contacts_kept() else blanked(value)
    return escaped_json(json.dumps(told, ensure_ascii=False, default=str, **form))


def show_csv(rows: Iterable[Sequence[object]], headers: Sequence[str]) -> None:
    """Print rows as CSV: no cell that a spreadsheet would run as a formula, contacts only where they were asked for."""
    from donorbase.services.cells import harmless

    told = str if contacts_kept() else without_contacts
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(headers)
    out.writerows([harmless(told(cell(c))) for c in row] for row in rows)


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
    """Print lines as they are, on stderr with ``err``."""
    click.echo(shown(text), err=err)


def show_file(text: str) -> None:
    """Print what another program will read: to the letter, but on a terminal only what may stand there."""
    click.echo(shown(text) if sys.stdout.isatty() else text, nl=False)


def show_table(rows: Sequence[Sequence[object]], headers: Sequence[str]) -> None:
    """Print rows as an aligned table that fits the terminal; columns of numbers stand to the right."""
    import tabulate

    from donorbase.services.cells import is_number

    # By default a head takes two columns more than its words, so that a table made to fit would not.
    tabulate.MIN_PADDING = 0
    cells = [[cell(c) for c in row] for row in rows]
    widths = _column_widths(cells, headers)
    numbers = [all(is_number(r[i]) for r in cells if r[i]) for i in range(len(headers))]
    wrapped = [[textwrap.fill(c, w, break_on_hyphens=False) for c, w in zip(r, widths, strict=True)] for r in cells]
    # tabulate would turn 4.10 into 4.1 and phone numbers into sums, so it must not look at the cells.
    text = tabulate.tabulate(
        wrapped,
        [textwrap.fill(h, w) for h, w in zip(headers, widths, strict=True)],
        tablefmt="simple",
        disable_numparse=True,
        colalign=["right" if n else "left" for n in numbers] if cells else None,
    )
    click.echo(text)


def _column_widths(cells: list[list[str]], headers: Sequence[str]) -> list[int]:
    """As wide as the longest cell, the widest columns narrowed until the table fits; no word is broken for a head."""
    heads = [max(map(len, h.split()), default=1) for h in headers]
    columns = [[row[i] for row in cells] for i in range(len(headers))]
    widths = [max(len(h), *map(len, column), 1) for h, column in zip(headers, columns, strict=True)]
    floors = [max(head, min(_longest_word(c), 40)) for head, c in zip(heads, columns, strict=True)]
    room = width() - 2 * (len(widths) - 1)
    while sum(widths) > room:
        spare = [w - f for w, f in zip(widths, floors, strict=True)]
        widest = max(range(len(widths)), key=lambda i: (spare[i] > 0, widths[i], spare[i]))
        if spare[widest] <= 0:
            break
        widths[widest] -= 1
    return widths


def _longest_word(column: list[str]) -> int:
    return max((len(word) for text in column for word in text.split()), default=1)


def say(text: str = "", indent: int = 0, *, bright: str = "", colour: str | None = None) -> None:
    """Print a paragraph, wrapped to the terminal; lines after the first stand two deeper.

    The first words that are ``bright`` stand out on a terminal; they say it all without.
    """
    begin = " " * indent
    lines = textwrap.fill(shown(text), width(), initial_indent=begin, subsequent_indent=begin + "  ") if text else ""
    click.echo(lines.replace(bright, click.style(bright, fg=colour, bold=True), 1) if bright else lines)


def heading(text: str) -> None:
    """Print a heading."""
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
