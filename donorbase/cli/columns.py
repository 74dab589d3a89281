"""Cells -> lines no wider than the terminal: columns narrowed as far as words allow, else a block for each row."""

import re
import textwrap
from collections.abc import Sequence

GAP = 2
"""Blanks between two columns."""
_LONGEST_WORDS = (40, 22, 14)
"""Words longer than that may be broken; tried in this order until the table fits."""
_FIGURE = re.compile(r"[-+]?[\d,]*\.?\d+\s?%?")


def are_figures(column: Sequence[str]) -> bool:
    """Whether a column holds numbers and shares alone, which stand to the right."""
    return any(column) and all(_FIGURE.fullmatch(cell) for cell in column if cell)


def column_widths(cells: Sequence[Sequence[str]], headers: Sequence[str], room: int) -> list[int] | None:
    """Widths of columns that together fit into ``room``; None where no table does."""
    for longest in _LONGEST_WORDS:
        widths = _narrowed(cells, headers, room - GAP * (len(headers) - 1), longest)
        if widths:
            return widths
    return None


def _narrowed(cells: Sequence[Sequence[str]], headers: Sequence[str], room: int, longest: int) -> list[int] | None:
    """As wide as the longest cell, the widest columns narrowed until they fit; no word is broken for a head."""
    heads = [max(map(len, h.split()), default=1) for h in headers]
    columns = [[row[i] for row in cells] for i in range(len(headers))]
    widths = [max(len(h), *(_widest_line(c) for c in column), 1) for h, column in zip(headers, columns, strict=True)]
    floors = [max(head, min(_longest_word(c), longest)) for head, c in zip(heads, columns, strict=True)]
    while sum(widths) > room:
        spare = [w - f for w, f in zip(widths, floors, strict=True)]
        widest = max(range(len(widths)), key=lambda i: (spare[i] > 0, widths[i], spare[i]))
        if spare[widest] <= 0:
            return None
        widths[widest] -= 1
    return widths


def _widest_line(text: str) -> int:
    return max(map(len, text.splitlines()), default=0)


def _longest_word(column: Sequence[str]) -> int:
    return max((len(word) for text in column for word in text.split()), default=1)


def wrapped(text: str, width: int) -> str:
    """A cell in lines of that width."""
    return "\n".join(textwrap.fill(line, width, break_on_hyphens=False) for line in text.splitlines())


def blocks(cells: Sequence[Sequence[str]], headers: Sequence[str], room: int) -> str:
    """A block of lines ``head: cell`` for each row, without empty cells: for what is too wide for a table."""
    return "\n\n".join(
        "\n".join(
            textwrap.fill(f"{head}: {text}" if head else text, room, subsequent_indent="  ")
            for head, cell in zip(headers, row, strict=True)
            if (text := " ".join(cell.split()))
        )
        for row in cells
    )
