"""Many listings in one place -> one after the other, each as it was seen or with the fault that keeps it out.

A folder of text files, a CSV file, a JSONL file, a pasted page, a mailbox. Everything is streamed: a file of a
million lines takes no more memory than one of ten.
"""

import json
import mailbox
import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, suppress
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from donorbase.errors import BadInput
from donorbase.services.intake import MAX_CHARACTERS, listing_text
from donorbase.services.keeping import Seen
from donorbase.services.source_fields import columns_for, seen_of
from donorbase.services.source_lines import LONGEST_LINE, Lines, csv_table
from donorbase.services.source_mail import is_mailbox, mail_fields, parsed
from donorbase.services.source_parquet import parquet_rows

FORMS = ("folder", "csv", "jsonl", "parquet", "page", "mbox")
"""The forms in which many listings can lie."""

_ENDINGS = {
    ".csv": "csv",
    ".tsv": "csv",
    ".jsonl": "jsonl",
    ".ndjson": "jsonl",
    ".parquet": "parquet",
    ".mbox": "mbox",
    ".mbx": "mbox",
}
_RULE = re.compile(r"^\s*([-=*_#~])\1{2,}\s*$")
"""A line of three or more like signs parts the adverts of a page."""


@dataclass(frozen=True, slots=True)
class Found:
    """One listing of a source, with its place (file and line); ``seen`` is None where there is a fault."""

    place: str
    seen: Seen | None
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """Where many listings lie and how: ``columns`` says which head of a CSV file, or key of JSONL, holds a field.

    ``day`` stands where a row names none; ``parted_by`` is the line that parts the adverts of a page; ``name`` is
    told in faults, ``label`` kept as the source of rows that name none.
    """

    path: Path
    form: str
    day: date
    columns: Mapping[str, str] = field(default_factory=dict)
    encoding: str = "utf-8"
    parted_by: str = ""
    name: str = ""
    label: str = ""

    def __iter__(self) -> Iterator[Found]:
        for found in _READERS[self.form](self):
            yield self._labelled(found)

    def _labelled(self, found: Found) -> Found:
        if found.seen is None or found.seen.source or not self.label:
            return found
        given = {name: getattr(found.seen, name) for name in found.seen.__slots__}
        return Found(found.place, Seen(**{**given, "source": self.label}))

    @property
    def told(self) -> str:
        """The name in faults."""
        return self.name or str(self.path)


def form_of(path: Path) -> str:
    """The form of what lies at ``path``: by its ending, a mailbox by its first word, else a page."""
    if path.is_dir():
        return "folder"
    if not path.exists():
        raise BadInput(f"there is no file or folder {path}", "Check the name.")
    with path.open("rb") as file:
        return _ENDINGS.get(path.suffix.casefold()) or ("mbox" if is_mailbox(file) else "page")


def _lines(source: Source) -> Lines:
    return Lines(source.path, source.told, source.encoding)


def _from_folder(source: Source) -> Iterator[Found]:
    """Every text file of a folder and those in it; a link that leads out of the folder is a fault."""
    root = source.path.resolve()
    if not source.path.is_dir():
        raise BadInput(f"{source.told} is no folder", "Name a folder, or say what it is with --form.")
    for folder, inner, names in os.walk(root):
        inner[:] = sorted(name for name in inner if not name.startswith("."))
        for name in sorted(name for name in names if not name.startswith(".")):
            path = Path(folder, name)
            place = str(source.path / path.relative_to(root))
            if not path.resolve().is_relative_to(root):
                yield Found(place, None, "it leads out of the folder")
            elif not path.is_file():
                yield Found(place, None, "it is no file")
            else:
                yield _found(place, source, _file_text, path, source)


def _file_text(path: Path, source: Source) -> dict[str, str]:
    with path.open("rb") as file:
        raw = file.read(LONGEST_LINE + 1)
    return {"text": listing_text(raw, "it", None if source.encoding == "utf-8" else source.encoding)}


def _from_csv(source: Source) -> Iterator[Found]:
    with _lines(source) as lines:
        heads, rows = csv_table(lines)
        columns = columns_for(heads, source.columns, source.told)
        for row in rows:
            if row.fault:
                yield Found(row.place, None, row.fault)
            else:
                yield _found(row.place, source, lambda row=row: {n: row.cells[head] for n, head in columns.items()})


def _from_jsonl(source: Source) -> Iterator[Found]:
    with _lines(source) as lines:
        for line in lines:
            if line.strip():
                yield _found(f"{source.told}:{lines.number}", source, _keys, line, source)


def _keys(line: str, source: Source) -> dict[str, Any]:
    try:
        value = json.loads(line)
    except (ValueError, RecursionError) as wrong:
        raise BadInput(f"not JSON ({wrong})") from None
    if not isinstance(value, dict):
        raise BadInput("not an object {...}")
    columns = columns_for(list(value), source.columns, "the object")
    return {name: value[key] for name, key in columns.items()}


def _from_parquet(source: Source) -> Iterator[Found]:
    for number, fields in enumerate(parquet_rows(source.path, source.columns, source.told), 1):
        yield _found(f"{source.told}:{number}", source, dict, fields)


def _from_page(source: Source) -> Iterator[Found]:
    """Adverts of a page: parted by the line named, else by lines of like signs if it has any, else by blank lines."""
    is_part = _parting(source)
    with _lines(source) as lines:
        advert, begin = list[str](), 1
        for line in lines:
            parts = is_part(line)
            if not parts:
                begin = begin if advert else lines.number
                advert.append(line)
            if (parts or len(advert) > MAX_CHARACTERS) and advert:
                yield from _advert(advert, begin, source)
                advert = []
        yield from _advert(advert, begin, source)


def _parting(source: Source) -> Callable[[str], bool]:
    """Whether a line parts two adverts of this page."""
    if marker := source.parted_by.strip():
        return lambda line: line.strip() == marker
    with _lines(source) as lines:
        has_rules = any(_RULE.match(line) for line in lines)
    return (lambda line: bool(_RULE.match(line))) if has_rules else (lambda line: not line.strip())


def _advert(lines: list[str], begin: int, source: Source) -> Iterator[Found]:
    text = "".join(lines)
    if text.strip():
        yield _found(f"{source.told}:{begin}", source, lambda: {"text": text})


def _from_mbox(source: Source) -> Iterator[Found]:
    # The standard library types a mailbox by its default kind of mail alone.
    make: Any = parsed
    with closing(mailbox.mbox(str(source.path), factory=make, create=False)) as box:
        mails: Any = box
        for number, key in enumerate(mails.iterkeys(), 1):
            place, several = f"{source.told}: mail {number}", list[dict[str, str]]()
            with suppress(BadInput, OSError):
                several = _adverts_of(mail_fields(mails[key]), source)
            if len(several) < 2:
                yield _found(place, source, lambda key=key: mail_fields(mails[key]))
            for count, fields in enumerate(several if len(several) > 1 else (), 1):
                yield _found(f"{place}, advert {count}", source, dict, fields)


def _adverts_of(mail: Mapping[str, str], source: Source) -> list[dict[str, str]]:
    """The adverts of a mail, parted as those of a page are, but never by blank lines.

    What holds no figure is a greeting or the foot of the mail: an advert names a year, a price, or whom to call.
    """
    marker, parts = source.parted_by.strip(), [list[str]()]
    for line in mail["text"].splitlines():
        if line.strip() == marker if marker else _RULE.match(line):
            parts.append([])
        else:
            parts[-1].append(line)
    texts = ("\n".join(part).strip() for part in parts)
    # The subject is of the mail, not of one of them.
    return [{**mail, "title": "", "text": text} for text in texts if any(map(str.isdigit, text))]


_READERS: dict[str, Callable[[Source], Iterator[Found]]] = {
    "folder": _from_folder,
    "csv": _from_csv,
    "jsonl": _from_jsonl,
    "parquet": _from_parquet,
    "page": _from_page,
    "mbox": _from_mbox,
}


def _found(place: str, source: Source, fields: Callable[..., Mapping[str, Any]], *given: Any) -> Found:
    try:
        return Found(place, seen_of(fields(*given), source.day))
    except BadInput as wrong:
        return Found(place, None, wrong.what)
    except OSError as wrong:
        return Found(place, None, f"it cannot be read: {wrong.strerror}")
