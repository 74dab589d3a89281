"""Cells of CSV files: made harmless for spreadsheets on the way out, as they were typed on the way in.

A spreadsheet runs a cell that begins with one of ``= + - @``, in some countries their full-width forms, or with a tab
or a line break before them, as a formula; an apostrophe before it makes it words (OWASP, CSV Injection). A cell that
begins with apostrophes before such a sign gets one more, so that what comes back is what went out.
"""

import re

_SIGNS = r"[=+\-@＝＋－＠\t\r\n]"
_RUNS = re.compile(rf"'*{_SIGNS}")
_MADE_SAFE = re.compile(rf"'+{_SIGNS}")


def harmless(text: str) -> str:
    """A cell that no spreadsheet runs; a number stays a number.

    >>> harmless("=1+1"), harmless("-5"), harmless("rusty")
    ("'=1+1", '-5', 'rusty')
    """
    return "'" + text if _RUNS.match(text) and not is_number(text) else text


def as_typed(cell: str) -> str:
    """The text of a cell that was made harmless.

    >>> as_typed("'=1+1"), as_typed("-5"), as_typed("'73 truck")
    ('=1+1', '-5', "'73 truck")
    """
    return cell[1:] if _MADE_SAFE.match(cell) else cell


def is_number(text: str) -> bool:
    """Whether a spreadsheet may take the text as a number."""
    try:
        float(text)
    except ValueError:
        return False
    return True
