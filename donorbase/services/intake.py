"""Bytes or lines from outside -> text that can be read, or a clear word on why not."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from donorbase.errors import BadInput

MAX_CHARACTERS = 200_000
"""Longer than any advert; what is longer is a file pasted by mistake."""

_SIGNATURES = {
    b"%PDF": "a PDF file",
    b"\x89PNG": "a picture (PNG)",
    b"\xff\xd8\xff": "a picture (JPEG)",
    b"GIF8": "a picture (GIF)",
    b"PK\x03\x04": "a zip or office file",
    b"\x1f\x8b": "a compressed file",
    b"SQLite format 3": "a database file",
    b"\x7fELF": "a program",
    b"RIFF": "a picture or sound file",
}
_BYTE_ORDER = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16", b"\xef\xbb\xbf": "utf-8-sig"}
_COPY_TEXT = "Copy the words of the advert and paste them."


def listing_text(raw: bytes, source: str, encoding: str | None = None) -> str:
    """The text of one listing; ``source`` names it in errors, ``encoding`` overrides UTF-8.

    Raises BadInput for what is not text, empty, too long, or in another encoding.
    """
    refuse_binary(raw, source)
    text = _decode(raw, source, encoding)
    if "\0" in text:
        raise BadInput(f"{source} holds binary data, not the text of a listing", _COPY_TEXT)
    return checked_text(text, source)


def refuse_binary(head: bytes, source: str) -> None:
    """BadInput where a file begins as pictures, archives, programs and the like do."""
    for signature, what in _SIGNATURES.items():
        if head.startswith(signature):
            raise BadInput(f"{source} is {what}, not the text of a listing", _COPY_TEXT)


def encoding_of(head: bytes) -> str:
    """The encoding that a file's first bytes tell; empty where they tell none."""
    return next((encoding for mark, encoding in _BYTE_ORDER.items() if head.startswith(mark)), "")


def checked_text(text: str, source: str) -> str:
    """The text itself where it can be a listing; BadInput where it is empty or far too long."""
    if not text.strip():
        raise BadInput(f"{source} is empty", "Paste a listing and end it with Ctrl-D, or name a file.")
    if len(text) > MAX_CHARACTERS:
        raise BadInput(
            f"{source} has {len(text):,} characters; a listing has at most {MAX_CHARACTERS:,}",
            "Give one listing alone; for a file of many use --jsonl.",
        )
    return text


def record_text(row: dict[str, Any], key: str = "text") -> str:
    """The listing of a JSONL line, checked like a pasted one."""
    if not isinstance(row[key], str):
        raise BadInput(f"{key} is no string", "Write the listing as one JSON string.")
    return checked_text(row[key], f"listing {row.get('id')}")


def distance_of(row: dict[str, Any]) -> float | None:
    """Miles, one way, of a JSONL line; None where it is not known."""
    miles = row.get("distance_mi")
    if miles is None:
        return None
    if isinstance(miles, bool) or not isinstance(miles, int | float) or not 0 <= miles <= 5000:
        raise BadInput(f"distance_mi {miles!r} is no distance in miles", "Give a number from 0 to 5000, or null.")
    return float(miles)


def _decode(raw: bytes, source: str, encoding: str | None) -> str:
    name = encoding or encoding_of(raw) or "utf-8"
    try:
        return raw.decode(name)
    except LookupError:
        raise BadInput(f"there is no encoding named {name!r}", "Try --encoding cp1252 or latin-1.") from None
    except UnicodeDecodeError as wrong:
        line = raw.count(b"\n", 0, wrong.start) + 1
        raise BadInput(
            f"{source}, line {line}: byte 0x{raw[wrong.start]:02x} is not {name}",
            "Save the file as UTF-8, or say what it is: --encoding cp1252.",
        ) from None


@dataclass(frozen=True, slots=True)
class Record:
    """One line of a JSONL file: its object, or the fault that keeps it from being used."""

    line: int
    value: dict[str, Any]
    fault: str = ""


def json_lines(lines: Iterable[bytes], needed: Iterable[str]) -> Iterator[Record]:
    """Every non-empty line as a Record; a line that is no object or lacks a needed key carries its fault."""
    wanted = tuple(needed)
    for number, raw in enumerate(lines, 1):
        if raw.strip():
            yield _record(number, raw, wanted)


def _record(number: int, raw: bytes, needed: tuple[str, ...]) -> Record:
    try:
        value = json.loads(raw)
    except (ValueError, RecursionError) as wrong:
        return Record(number, {}, f"not JSON ({wrong})")
    if not isinstance(value, dict):
        return Record(number, {}, "not an object {...}")
    lacking = [key for key in needed if key not in value]
    return Record(number, value, f"lacks {' and '.join(lacking)}" if lacking else "")
