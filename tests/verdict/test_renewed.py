"""Trouble of pieces that are renewed anyway holds no verdict; trouble that reaches further does."""

import pytest

from donorbase.facts import UNREAD
from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.judging import judging
from donorbase.reference.words import load_words
from donorbase.verdict.renewed import without_renewed

FRONT = "Front axle, kingpin, 8x6.5, 4.10. "
PLANNED = ("brake-rebuild", "kingpin-rebuild", "bearings-and-seals")


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return Lexicon.build(load_words())


def held(words: str, lexicon: Lexicon, planned: tuple[str, ...] = PLANNED) -> bool:
    reading = without_renewed(read_listing(FRONT + words, lexicon, this_year=2026), planned, judging())
    return any(fact.attribute == UNREAD for fact in reading.hazards)


@pytest.mark.parametrize("words", ["Spindles good, kingpins have some slop.", "One drum lip chipped."])
def test_what_is_rebuilt_anyway_may_be_worn(words: str, lexicon: Lexicon) -> None:
    assert held(words, lexicon, ())
    assert not held(words, lexicon)


@pytest.mark.parametrize(
    "words", ["A bearing spun and chewed the spindle.", "The tube slid in the caliper bracket weld."]
)
def test_what_reaches_further_holds_it(words: str, lexicon: Lexicon) -> None:
    assert held(words, lexicon)
