"""Words: phrases, misspellings, and the user's own."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.words import Word, load_words, ordinary_words, parse_meaning

First = Callable[[str], dict[str, Any]]

MISSPELT = [("kingpn", "knuckle", "kingpin"), ("limited slp", "differential", "limited-slip"), ("ball jionts",
    "knuckle", "ball-joint"),
            ("brak drums on it", "brakes", "drum"), ("kalipers on it", "brakes", "disc"),
            ("full floting", "float", "full"), ("drumm breaks", "brakes", "drum"), ("calipurs stuck", "brakes",
            "disc")]  # fmt: skip


@pytest.mark.parametrize(("text", "field", "value"), MISSPELT)
def test_misspelt(first: First, text: str, field: str, value: str) -> None:
    assert first(f"front axle, {text} 8 lug")[field] == value


RUN_TOGETHER = [
    ("#onetonfront", "load_class", "one-ton"), ("fullfloatdually", "float", "full"),
    ("kingpinhighpinion", "pinion", "high"),
    ("axle limitedslip 3.73", "differential", "limited-slip"), ("8 x l7O mm", "bolt_circle_mm", 170),
    ("off a 2OO4", "years", [2004, 2004]), ("Iimited slip", "differential", "limited-slip"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "field", "value"), RUN_TOGETHER)
def test_run_together_and_misread(first: First, text: str, field: str, value: object) -> None:
    assert first(f"front axle, {text}.")[field] == value


NOT_MISSPELT = [
    "crackers and coffee",
    "he tickled the duckling",
    "a nice locket",
    "packed and boxed",
    "rotated often",
    "trusty truck",
    "it smelled of oil",
    "the undercarriage of a tractorfrontloader",
    "Hubertus Frontenberg",
    "he lives by the mill",
    "a thread on a board, hammered flat",
    "likes to lean on steel picks",
]


@pytest.mark.parametrize("text", NOT_MISSPELT)
def test_ordinary_words_are_left_alone(first: First, text: str) -> None:
    assert first(f"front axle. {text}") == {"kind": "axle", "position": "front"}


def test_ordinary_words_hold_no_word_of_the_trade() -> None:
    trade = {"axle", "kingpin", "caliper", "rotor", "dually", "posi", "knuckle", "spline", "leaking"}
    assert len(ordinary_words()) > 1000
    assert not trade & ordinary_words()


USER = [
    ("Halvorsen HD", "donor_line=line-A; load_class=one-ton", {"donor_line": "line-A", "load_class": "one-ton"}),
    ("twirly hubs", "hubs=manual-locking", {"hubs": "manual-locking"}),
    ("crunchy", "defects+=rusty", {"defects": ["rusty"]}),
]


@pytest.mark.parametrize(("phrase", "meaning", "facts"), USER)
def test_words_of_the_user(phrase: str, meaning: str, facts: dict[str, Any]) -> None:
    lexicon = Lexicon.build([*load_words(), Word(phrase, parse_meaning(meaning))])
    item = read_listing(f"front axle off a 2001 {phrase}, 3.73", lexicon, 2026).as_json(evidence=False)["items"][0]
    assert facts.items() <= item.items()


def test_family_of_the_user_is_a_fact_with_its_words() -> None:
    lexicon = Lexicon.build([*load_words(), Word("big sixty", parse_meaning("family=front-9.75-kingpin"))])
    text = "front axle, big sixty, 4.10"
    fact = next(f for f in read_listing(text, lexicon, 2026).items[0].facts if f.attribute == "family")
    assert fact.value == "front-9.75-kingpin"
    assert [text[b:e] for b, e in fact.spans] == ["big sixty"]


def test_a_word_of_the_user_takes_the_place_of_a_shipped_one() -> None:
    lexicon = Lexicon.build([Word("posi", parse_meaning("differential=open")), *load_words()])
    assert read_listing("rear axle posi", lexicon, 2026).items[0].get("differential") == "open"
