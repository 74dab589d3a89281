"""Words of the sellers near the user: taught one by one or by a sheet he fills in, kept in his database."""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from donorbase.errors import BadData, BadInput, DonorbaseError, NotFound
from donorbase.reference.words import Word, ordinary_words, parse_meaning
from donorbase.services.backups import backup_before_import
from donorbase.services.cells import as_typed, harmless
from donorbase.services.house import House
from donorbase.services.near import near_keys
from donorbase.store.word_rows import meaning_text

LONGEST_PHRASE = 60
_EXPORT_COLUMNS = ("phrase", "meaning", "note")
SHEET_COLUMNS = ("meaning", "what it is", "how to recognise it", "called here")
"""Of the sheet: the last is for the user to fill in, several names parted by ; or |."""


@dataclass(frozen=True, slots=True)
class Taught:
    """A word that was added. ``shadows``: shipped words of the same phrase, which it now stands before.

    ``replaced``: the user's own earlier word. ``ordinary``: the phrase is an everyday English word too, so
    that it will be read as this wherever it stands.
    """

    word: Word
    shadows: tuple[Word, ...]
    replaced: Word | None
    ordinary: bool

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        return {
            "word": word_json(self.word),
            "shadows": [word_json(word) for word in self.shadows],
            "replaced": word_json(self.replaced) if self.replaced else None,
            "ordinary": self.ordinary,
        }


def word_json(word: Word) -> dict[str, Any]:
    """A word as plain data, its meaning as text."""
    return {
        "phrase": word.phrase,
        "meaning": meaning_text(word.meanings),
        "origin": word.origin,
        "note": word.note,
    }


def add_word(house: House, phrase: str, meaning: str, note: str = "") -> Taught:
    """Teach a phrase; BadInput where phrase or meaning cannot be used."""
    return _keep(house, [checked_word(house, phrase, meaning, note)])[0]


def list_words(house: House, part: str = "", origin: str = "user") -> tuple[Word, ...]:
    """Words of one origin (``user``, ``shipped``, or ``all``) whose phrase or meaning holds ``part``."""
    sought = part.strip().casefold()
    return tuple(
        word
        for word in house.words()
        if origin in ("all", word.origin)
        and (sought in word.phrase.casefold() or sought in meaning_text(word.meanings).casefold())
    )


def remove_word(house: House, phrase: str) -> Word:
    """Forget a phrase of the user's; NotFound where he taught none such, shipped words being fixed."""
    from donorbase.store import words as stored

    own = {word.phrase.casefold(): word for word in list_words(house)}
    sought = _plain(phrase).casefold()
    if sought not in own:
        near = near_keys(sought, (word.phrase for word in own.values()))
        hint = f"Near it: {', '.join(near)}." if near else "`donorbase words list` shows what you taught."
        raise NotFound(f"you taught no word {phrase!r}", hint)
    with house.writing() as connection:
        stored.remove_word(connection, own[sought].phrase)
    return own[sought]


def import_words(house: House, path: Path) -> tuple[Taught, ...]:
    """Teach every word of a CSV file, an export or a filled-in sheet; all or none.

    Raises BadInput for a file that is no such CSV, BadData with every faulty row by line.
    """
    words: list[Word] = []
    faults: list[str] = []
    for line, cells in _csv_cells(path):
        for phrase in _phrases(cells):
            try:
                words.append(checked_word(house, phrase, cells["meaning"], cells.get("note", "")))
            except DonorbaseError as wrong:
                faults.append(f"{path.name}:{line}: {wrong.what}")
    faults += _said_twice(words)
    if faults:
        raise BadData(f"{path.name} was not taken in", faults, "Mend these rows and import it again.")
    backup_before_import(house)
    return tuple(_keep(house, words))


def export_words(house: House) -> str:
    """The user's own words as CSV text, which ``import_words`` takes back."""
    rows = [(word.phrase, meaning_text(word.meanings), word.note) for word in list_words(house)]
    return _csv_text(_EXPORT_COLUMNS, rows)


def sheet(house: House) -> str:
    """A CSV sheet of every donor line and family, how to recognise it, and a column for its name around here.

    Names the user taught already stand in it.
    """
    catalogue = house.catalogue()
    called: dict[str, list[str]] = {}
    for word in list_words(house):
        called.setdefault(meaning_text(word.meanings), []).append(word.phrase)
    lines = [
        (
            f"donor_line={line.key}",
            f"donor line {line.key[-1]}",
            _sentence(f"{h}: {t}" for h, t in line.sights),
        )
        for line in catalogue.lines.values()
    ]
    families = [(f"family={f.key}", f.name, _sentence(f.recognise)) for f in catalogue.families.values()]
    return _csv_text(SHEET_COLUMNS, [(*row, "; ".join(called.get(row[0], []))) for row in lines + families])


def checked_word(house: House, phrase: str, meaning: str, note: str = "") -> Word:
    """A word of the user's, checked against attributes and catalogue; BadInput says what is wrong with it."""
    plain = _plain(phrase)
    if not plain or not any(sign.isalpha() for sign in plain):
        raise BadInput(f"{phrase!r} holds no letters", "Give the word or words that a seller writes.")
    if len(plain) > LONGEST_PHRASE:
        raise BadInput(
            f"{plain[:20]!r}... has {len(plain)} characters; a phrase has at most {LONGEST_PHRASE}",
            "Give the telling words alone.",
        )
    if any(not sign.isprintable() for sign in plain + meaning) or "\0" in note:
        raise BadInput(f"{plain!r} or its meaning holds a sign that cannot be printed", "Type it anew.")
    meanings = parse_meaning(meaning)
    for clause in meanings:
        _check_key(house, clause.name, str(clause.value))
    return Word(plain, meanings, "user", note.strip())


def _plain(phrase: str) -> str:
    return " ".join(phrase.split())


def _check_key(house: House, name: str, key: str) -> None:
    catalogue = house.catalogue()
    keys = {"family": catalogue.families, "variant": catalogue.variants, "gear_set": catalogue.gear_sets}.get(name)
    if keys is not None and key not in keys:
        near = near_keys(key, keys)
        raise BadInput(
            f"there is no {name} {key!r}",
            f"Near it: {', '.join(near)}."
            if near
            else "`donorbase words sheet` lists the lines and families, `donorbase find` the variants.",
        )


def _keep(house: House, words: Sequence[Word]) -> list[Taught]:
    from donorbase.store import words as stored

    before: dict[tuple[str, str], list[Word]] = {}
    for word in house.words():
        before.setdefault((word.origin, word.phrase.casefold()), []).append(word)
    with house.writing() as connection:
        stored.add_words(connection, words, datetime.now(UTC))
    return [_taught(word, before) for word in words]


def _taught(word: Word, before: dict[tuple[str, str], list[Word]]) -> Taught:
    folded = word.phrase.casefold()
    own = before.get(("user", folded), [])
    return Taught(
        word,
        tuple(w for w in before.get(("shipped", folded), []) if w.meanings != word.meanings),
        own[0] if own and own[0].meanings != word.meanings else None,
        folded in ordinary_words(),
    )


def _csv_cells(path: Path) -> Iterable[tuple[int, dict[str, str]]]:
    """The rows of an export or sheet with their line numbers, cells trimmed and freed of the apostrophe."""
    reader = csv.reader(io.StringIO(text := _text_of(path)), delimiter=_delimiter(text))
    header = [cell.strip().casefold() for cell in next(reader, [])]
    if "meaning" not in header or not {"phrase", "called here"} & set(header):
        raise BadInput(
            f"{path.name} has not the columns of a word list: phrase, meaning",
            "`donorbase words sheet` writes a sheet to fill in.",
        )
    line = reader.line_num + 1
    for row in reader:
        cells = [as_typed(cell.strip()) for cell in row]
        if any(cells):
            yield line, dict(zip(header, [*cells, *[""] * len(header)], strict=False))
        line = reader.line_num + 1


def _text_of(path: Path) -> str:
    try:
        return path.read_text("utf-8-sig")
    except UnicodeDecodeError as wrong:
        raise BadInput(f"{path.name} is not UTF-8 text ({wrong.reason})", "Save it as CSV, UTF-8.") from None
    except OSError as wrong:
        raise BadInput(f"{path} cannot be read: {wrong.strerror}", "Name a CSV file.") from None


def _delimiter(text: str) -> str:
    """Spreadsheets of many countries part cells by semicolons or tabs."""
    head = text.partition("\n")[0]
    return max(",;\t", key=head.count)


def _phrases(cells: dict[str, str]) -> list[str]:
    if "phrase" in cells:
        return [cells["phrase"]]
    return [name for part in re.split(r"[;|]", cells["called here"]) if (name := part.strip())]


def _said_twice(words: Iterable[Word]) -> list[str]:
    said: dict[str, Word] = {}
    for word in words:
        other = said.setdefault(word.phrase.casefold(), word)
        if other.meanings != word.meanings:
            both = f"{meaning_text(other.meanings)} and {meaning_text(word.meanings)}"
            return [f"{word.phrase!r} is given two meanings: {both}"]
    return []


def _sentence(texts: Iterable[str]) -> str:
    return "; ".join(texts)


def _csv_text(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return out.getvalue()
