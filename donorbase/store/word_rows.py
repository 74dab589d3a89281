"""Words <-> plain rows; no database needed, as the picture beside it holds words too."""

from collections.abc import Iterable, Mapping
from typing import Any

from donorbase.facts import Value
from donorbase.reference.words import Meaning, Word, parse_meaning


def meaning_text(meanings: Iterable[Meaning]) -> str:
    """A meaning as its text, from which ``parse_meaning`` makes the same again."""
    return "; ".join(_clause(meaning) for meaning in meanings)


def _clause(meaning: Meaning) -> str:
    if meaning.name == "nothing":
        return meaning.name
    return f"{meaning.name}{'+' if meaning.adds else ''}={_text(meaning.value)}"


def _text(value: Value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, tuple):
        return "-".join("" if end is None else str(end) for end in value)
    return str(value)


def word_of(row: Mapping[str, Any]) -> Word:
    """The word of a row."""
    shipped = row["origin"] == "shipped"
    meanings = parse_meaning(row["meaning"], roles=shipped)
    return Word(row["phrase"], meanings, row["origin"], row["note"], row["language"], row["basis"])
