"""Laws of reading, whatever the text."""

import itertools
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from donorbase.facts import Reading
from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing, trace
from donorbase.reference.words import load_words

LEXICON = Lexicon.build(load_words())
PHRASES = st.sampled_from([
    "front", "rear", "axle", "4.10", "410s", "8x6.5", "8", "lug", "kingpin", "ball", "joints", "no", "not",
    "w/", "calipers",
    "missing", "$400", "obo", "14", "bolt", "05-07", "fits", "for", "my", "2001", "35", "spline/inner/outer",
    ".,;:!?()/-~~|",
    "\n\"'", "~", "&", "or", "and", "both", "pair", "LOT", "R12-04", "½", "“", "ñ", "é", "was", "now", "dually",
    "sold", "wtb",
    "trade", "(A)", "(2)", "#",
])  # fmt: skip
LISTINGS = st.lists(PHRASES, max_size=40).map(" ".join) | st.text(max_size=200)


def _facts(reading: Reading) -> object:
    return reading.as_json(evidence=False)


@settings(max_examples=300, deadline=None)
@given(LISTINGS)
def test_never_raises_and_shows_words_for_every_fact(text: str) -> None:
    """Law: reading any text gives a reading; each span of a fact cuts non-empty words out of the text."""
    reading = read_listing(text, LEXICON, 2026)
    facts = itertools.chain(reading.offer, reading.hazards, *(item.facts for item in reading.items))
    for fact in facts:
        for begin, end in fact.spans:
            assert text[begin:end].strip()
    assert len(reading.items) >= 1


@settings(max_examples=100, deadline=None)
@given(LISTINGS)
def test_capitals_change_nothing(text: str) -> None:
    """Law: what is said does not depend on capitals (of letters that have one small form)."""
    plain = text.encode("ascii", "ignore").decode()
    assert _facts(read_listing(plain.upper(), LEXICON, 2026)) == _facts(read_listing(plain.lower(), LEXICON, 2026))


@settings(max_examples=100, deadline=None)
@given(st.lists(PHRASES.filter(str.isalnum), max_size=25))
def test_wider_gaps_between_words_change_nothing(words: list[str]) -> None:
    """Law: one space or several between words is the same (a table needs a line of heads)."""
    assert _facts(read_listing(" ".join(words), LEXICON, 2026)) == _facts(
        read_listing("   ".join(words), LEXICON, 2026)
    )


@settings(max_examples=40, deadline=None)
@given(LISTINGS)
def test_the_steps_shown_are_the_steps_run(text: str) -> None:
    """Law: the trace ends in the same facts as the reading."""
    reading = read_listing(text, LEXICON, 2026)
    steps = dict(trace(text, LEXICON, 2026))
    assert [line for line in steps["facts"] if line.startswith("offer")] == [
        f"offer: {f.attribute} = {f.value}" for f in reading.offer
    ]


def test_every_beginning_of_a_listing_can_be_read() -> None:
    text = "PARTING OUT 1999 HD VIN 4Z9HD25K6XT550318 FRONT AXLE 4:10 8x6½ $700 / REAR w/o drums (2) 35/30 spl 555-0117"
    for end in range(len(text)):
        read_listing(text[:end], LEXICON, 2026)


UNITS = ["1", "(", "/ ", "my ", "front 3.73 ", "no calipers, ", "410 ", "$400 ", "1-1-", "a.", "&amp;", "â€",
    "~~400~~ ", "twenty ", "8x", "a:\n", "are gone ",
         "missing ", "front axle 3.73 $400\n", "(A) 3.73 front axle ", "a@", "also a yoke; ", "1a2b",
         "kingpin? no ", "zzxqy "]  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("unit", UNITS)
def test_time_grows_with_length_only(unit: str) -> None:
    """Law: four times the text takes about four times as long, not sixteen times."""

    def seconds(size: int) -> float:
        text = (unit * (size // len(unit) + 1))[:size]
        best = float("inf")
        for _ in range(2):
            begun = time.process_time()
            read_listing(text, LEXICON, 2026)
            best = min(best, time.process_time() - begun)
        return best

    short, long = seconds(4_000), seconds(16_000)
    assert long < 9 * short + 0.05
