"""An axle advertised again is found; a seller's other axle and another seller's like it are not taken for it."""

from itertools import pairwise

import pytest

from donorbase.facts import Reading
from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.words import load_words
from donorbase.reposts.claims import claims_of, parted_by
from donorbase.reposts.earlier import Advert, Memory, find_earlier, keep
from donorbase.reposts.sketch import SLOTS, numbers_of, pairs_of, slots_of, telling_of, words_of

FIRST = (
    "Front axle off a 2008 one ton, coil, ball joint, 8x170, 3.73 gears, driver side drop. Sat in my uncle's carport "
    "for 12 winters, turns free. Missing the dust shields and one tie rod end. Ask for Wynzed after 6 pm, bring "
    "straps, can load with the loader. $900 obo, 555-0124"
)
AGAIN = {
    "the same": FIRST,
    "another price": FIRST.replace("$900", "$750"),
    "another telephone": FIRST.replace("555-0124", "(740) 555-0199"),
    "moved": "Ask for Wynzed after 6 pm, bring straps, can load with the loader. " + FIRST.replace(" Ask for Wynzed "
             "after 6 pm, bring straps, can load with the loader.", ""),
    "a tenth of the words": FIRST.replace("carport", "shed").replace("turns", "trns").replace("Missing the", "Missing")
    .replace("one tie", "a tie"),
    "in capitals": FIRST.upper(),
    "a sentence left out": FIRST.replace(" Missing the dust shields and one tie rod end.", ""),
}  # fmt: skip
OTHERS = {
    "another ratio": FIRST.replace("3.73", "4.10"),
    "the other side": FIRST.replace("driver side", "passenger side"),
    "another year": FIRST.replace("2008", "2012"),
    "the other end": FIRST.replace("Front axle", "Rear axle"),
    "another seller's": "Front axle off a 2008 one ton, coil, ball joint, 8x170, 3.73 gears, driver side drop. Pulled "
    "by a friend near Halfen, stored in a quonset. New seals. Call Brodun, no texts, cash only. $850, 555-0171",
}
LEXICON = Lexicon.build(load_words())


def read(text: str) -> Reading:
    return read_listing(text, LEXICON, 2026)


def price(reading: Reading) -> float | None:
    said = reading.get("price_usd")
    return float(said) if isinstance(said, int | float) else None


def found_after(earlier: list[str], text: str) -> list[int]:
    shelf = Memory()
    for key, one in enumerate(earlier):
        reading = read(one)
        shelf.claimed[key] = (claims_of(reading), one)
        advert = Advert.of(one, price(reading))
        keep(key, advert, find_earlier(advert, claims_of(reading), shelf)[0], shelf)
    reading = read(text)
    _, found = find_earlier(Advert.of(text, price(reading)), claims_of(reading), shelf)
    return [one.key for one in found if not one.parted_by]


@pytest.mark.parametrize("text", AGAIN.values(), ids=AGAIN.keys())
def test_an_axle_advertised_again_is_found(text: str) -> None:
    assert found_after([*OTHERS.values(), FIRST], text)[:1] == [len(OTHERS)]


@pytest.mark.parametrize("text", OTHERS.values(), ids=OTHERS.keys())
def test_another_axle_is_none(text: str) -> None:
    assert found_after([FIRST], text) == []


def test_few_words_prove_nothing() -> None:
    """Two sellers may use the same ones."""
    assert found_after(["front axle, 8 lug, 4.10, $500 555-0101"], "front axle, 8 lug, 4.10, $500 555-0102") == []


def test_silence_parts_nothing_and_a_claim_does() -> None:
    one, other = read("front axle, 8 lug, 4.10"), read("front axle, 8 lug")
    assert parted_by(claims_of(one), claims_of(other), one.text, other.text) == ""
    other = read("front axle, 8 lug, 3.73")
    assert parted_by(claims_of(one), claims_of(other), one.text, other.text) == "ratio"
    assert parted_by(claims_of(other), claims_of(one), other.text, one.text) == "ratio"


def test_a_misreading_parts_nothing() -> None:
    """The words of both values stand in both texts: one of the two was misread."""
    text = "front axle, rear"
    assert parted_by({"position": {"front": ("front",)}}, {"position": {"rear": ("rear",)}}, text, text) == ""


def test_telephones_money_and_the_price_are_no_words() -> None:
    text = "asking 900, was $1,150.00; (740) 555-0124 or 555.0124 or 7405550124, me@post.example 8x6.5 4.10"
    assert words_of(text, 900.0) == ["asking", "was", "or", "or", "8", "x", "6.5", "4.10"]


def test_pairs_are_the_same_numbers_every_time() -> None:
    """They stand in databases: a change would lose every repost of what is kept."""
    assert sorted(pairs_of(numbers_of(["front", "axle", "4.10"]))) == [780030366561956149, 1343845727737945302]


def test_what_is_rare_comes_first_and_what_is_common_not_at_all() -> None:
    pairs = list(pairs_of(numbers_of([f"w{n}" for n in range(60)])))
    counts = [0, 9, 70, *([30] * (len(pairs) - 3))]
    telling = telling_of(pairs, counts)
    assert telling[0] == pairs[0]
    assert telling[1] == pairs[1]
    assert pairs[2] not in telling
    assert all(a < b for a, b in pairwise(telling[2:]))
    assert all(0 <= slot < SLOTS for slot in slots_of(pairs))
