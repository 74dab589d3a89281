"""Where a listing comes from: a file, standard input, or a paste ended by Ctrl-D."""

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput

if TYPE_CHECKING:
    from pathlib import Path


def pasted(source: str | None, encoding: str | None) -> str:
    """The text of one listing from a file's path, ``-`` or nothing (standard input)."""
    from donorbase.cli.output import tell
    from donorbase.services.intake import listing_text

    if source not in (None, "-"):
        return listing_text(_file(source).read_bytes(), source, encoding)
    if sys.stdin.isatty():
        tell("Paste the listing, then press Enter and Ctrl-D:", err=True)
    return listing_text(sys.stdin.buffer.read(), "the paste", encoding)


def _file(path: str | None) -> "Path":
    from pathlib import Path

    found = Path(path or "")
    if found.is_dir():
        raise BadInput(f"{path} is a folder", "Name a file, or use - and paste the listing.")
    if not found.exists():
        raise BadInput(f"there is no file {path}", "Check the name, or use - and paste the listing.")
    return found


def answer_lines(path: str, needed: tuple[str, ...], answer: Callable[[dict[str, Any]], dict[str, Any]]) -> None:
    """Print one line of JSON for each line of a JSONL file (``-``: standard input).

    A line that cannot be used is told on stderr with its number and does not stop the rest; BadInput at the end
    says how many there were.
    """
    from donorbase.cli.output import show_json_line, tell
    from donorbase.services.intake import json_lines

    faults = 0
    with sys.stdin.buffer if path == "-" else _file(path).open("rb") as lines:
        for record in json_lines(lines, needed):
            fault = record.fault
            if not fault:
                try:
                    show_json_line({"id": record.value["id"], **answer(record.value)})
                except BadInput as wrong:
                    fault = wrong.what
            if fault:
                faults += 1
                tell(f"{path}:{record.line}: {fault}", err=True)
    if faults:
        raise BadInput(f"{faults} lines of {path} could not be used; the others are printed", "Mend those lines.")
