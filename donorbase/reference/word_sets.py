"""``data/word-sets.csv`` -> words that a step of the reading takes alike: those of wear, of places, of linking ..."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from donorbase.reference.rows import Faults, csv_rows
from donorbase.shipped import data_dir

_COLUMNS = ("set", "what", "words")


def word_set(name: str) -> frozenset[str]:
    """The words of one set, each as the reader's vocabulary puts it together."""
    return _sets()[name]


@cache
def _sets() -> Mapping[str, frozenset[str]]:
    """Every set; BadData with every fault of the file."""
    return word_sets_from(data_dir() / "word-sets.csv")


def word_sets_from(path: Path) -> Mapping[str, frozenset[str]]:
    """The sets of a file of the shape of ``data/word-sets.csv``."""
    faults = Faults()
    found: dict[str, frozenset[str]] = {}
    for row in csv_rows(path, _COLUMNS, faults):
        name = row.needed("set")
        row.needed("what")
        words = [word.strip() for word in row.needed("words").split(";")]
        if name in found:
            row.fault("set", f"{name} stands twice")
        if len(set(words)) < len(words) or "" in words:
            row.fault("words", "has a word twice, or none between two signs")
        found[name] = frozenset(words)
    faults.refuse("the sets of words cannot be used", "Mend these lines.")
    return found
