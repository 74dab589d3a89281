"""``data/advert.csv`` -> the sentence in which an advert states an attribute; rows checked."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from donorbase.attributes import attributes
from donorbase.facts import Value
from donorbase.reference.rows import Faults, csv_rows
from donorbase.reference.wording import value_text
from donorbase.shipped import data_dir

Sentences = Mapping[tuple[str, str], str]
"""By attribute and value; the value is empty where the sentence takes any, in place of ``{}``."""


@cache
def sentences() -> Sentences:
    """The shipped sentences; BadData names every fault of the file."""
    return sentences_from(data_dir() / "advert.csv")


def sentences_from(path: Path) -> Sentences:
    """The sentences of a file of the shape of ``data/advert.csv``."""
    faults, found = Faults(), dict[tuple[str, str], str]()
    for row in csv_rows(path, ("attribute", "value", "words"), faults):
        name, value, words = row.needed("attribute"), row.text("value"), row.needed("words")
        if name not in attributes():
            row.fault("attribute", f"{name!r} is no attribute")
        if ("{}" in words) is bool(value):
            row.fault("words", "must have {} where the row is of no one value, and only there")
        if (name, value) in found:
            row.fault("value", "stands twice")
        found[name, value] = words
    faults.refuse(f"{path.name} does not pass its check", "Mend the lines named and run again.")
    return found


def sentence_of(name: str, value: Value) -> str:
    """The sentence that states a value; empty where no wording of it can be read back.

    >>> sentence_of("lugs", 8), sentence_of("abs", False), sentence_of("years", (2017, None))
    ('8 lugs.', 'No ABS.', 'Off a 2017 and up truck.')
    """
    words = value_text(name, value)
    known = sentences()
    # "2017 on" is how a table has it; after "off a" people say "and up".
    return known.get((name, words)) or known.get((name, ""), "").replace("{}", words.replace(" on", " and up"))
