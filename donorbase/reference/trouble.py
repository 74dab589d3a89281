"""``data/trouble.csv`` -> words that may tell of a fault: a net for what the reader does not understand of a text."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from donorbase.reference.rows import Row, csv_by_word
from donorbase.shipped import data_dir

_COLUMNS = ("stem", "endings", "beside", "language", "basis")
_NO_ENDING = "-"


@cache
def trouble_words() -> Mapping[str, frozenset[str]]:
    """Every form of every word, with the words beside which it tells of no fault; BadData with every fault of it."""
    return trouble_from(data_dir() / "trouble.csv")


def trouble_from(path: Path) -> Mapping[str, frozenset[str]]:
    """The words of a file of the shape of ``data/trouble.csv``."""
    rows = csv_by_word(path, _COLUMNS, "stem", _forms, "the words of trouble")
    return {form: beside for forms, beside in rows.values() for form in forms}


def _forms(row: Row) -> tuple[tuple[str, ...], frozenset[str]]:
    stem, endings = row.needed("stem"), row.needed("endings").split()
    row.needed("basis")
    forms = tuple(stem if ending == _NO_ENDING else stem + ending for ending in endings)
    return forms, frozenset(row.text("beside").split())
