"""Meanings are checked by the attributes, and the shipped vocabulary passes the same check."""

import pytest

from donorbase.errors import BadData, BadInput
from donorbase.reference.words import Meaning, load_words, parse_meaning, words_of

GOOD = [
    ("donor_line=line-A; load_class=one-ton", (Meaning("donor_line", "line-A"), Meaning("load_class", "one-ton"))),
    ("defects+=rusty", (Meaning("defects", "rusty", adds=True),)), ("lugs=8", (Meaning("lugs", 8),)), ("abs=no",
    (Meaning("abs", False),)),
    ("bolt_circle_mm = 165.1", (Meaning("bolt_circle_mm", 165.1),)), ("years=1999-2004", (Meaning("years",
    (1999, 2004)),)),
    ("years=2005-", (Meaning("years", (2005, None)),)), ("family=front-9.75-kingpin", (Meaning("family",
    "front-9.75-kingpin"),)),
]  # fmt: skip
BAD = [
    ("", "empty"), ("rear_wheels", "no meaning"), ("rear_wheel=dual", "no attribute"), ("rear_wheels=duals",
    "no value"), ("lugs=many", "takes a number"),
    ("lugs=99", "believable"), ("abs=perhaps", "no value"), ("years=2004-1999", "years"), ("cue=not",
    "no attribute"), ("lugs=nan", "believable"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "meanings"), GOOD)
def test_good_meanings(text: str, meanings: tuple[Meaning, ...]) -> None:
    assert parse_meaning(text) == meanings


@pytest.mark.parametrize(("text", "what"), BAD)
def test_bad_meanings_say_what_is_wrong_and_what_next(text: str, what: str) -> None:
    with pytest.raises(BadInput, match=what) as caught:
        parse_meaning(text)
    assert caught.value.next_step


def test_near_names_are_named() -> None:
    with pytest.raises(BadInput) as caught:
        parse_meaning("rear_wheel=dual")
    assert "rear_wheels" in caught.value.next_step


def test_shipped_words() -> None:
    words = load_words()
    assert len(words) > 1000
    assert {word.origin for word in words} == {"shipped"}
    assert {word.language for word in words} == {"en", "es", "fr"}
    phrases = [word.phrase.lower() for word in words]
    assert len(phrases) == len(set(phrases))


def test_every_faulty_row_is_named() -> None:
    rows = [
        {"phrase": "a", "meaning": "lugs=99"},
        {"phrase": "b", "meaning": "lugs=8"},
        {"phrase": "c", "meaning": "nought"},
    ]
    with pytest.raises(BadData) as caught:
        words_of(rows, "list.csv")
    assert [fault.split(":")[1] for fault in caught.value.faults] == ["2", "4"]


def test_a_phrase_that_stands_twice_is_named_with_its_line() -> None:
    """The database holds each phrase of a language once, so that two rows of it would leave one of them out."""
    row = {"phrase": "duals", "meaning": "rear_wheels=dual", "language": "en", "basis": "common practice"}
    assert len(words_of([row, {**row, "language": "es"}], "words.csv")) == 2
    with pytest.raises(BadData) as caught:
        words_of([row, row], "words.csv")
    assert "words.csv:3: duals stands twice" in str(caught.value)
