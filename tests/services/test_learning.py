"""Words learned from corrections: the statistic against published figures, and a region with words of its own."""

import json
import random
from collections.abc import Iterable
from contextlib import closing
from math import log
from pathlib import Path

import pytest

from donorbase.errors import BadInput, NotFound
from donorbase.reference.words import ordinary_words
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.learning import (
    ENOUGH,
    accept,
    corrections,
    lift_refusal,
    log_likelihood_ratio,
    proposals,
    record_corrections,
    refuse,
)
from donorbase.services.words import add_word, list_words, remove_word

YEAR = 2026
OPEN_LISTINGS = Path(__file__).parents[1] / "accuracy" / "listings" / "open.jsonl"

# The first bigrams of the table of T. Dunning, "Accurate Methods for the Statistics of Surprise and Coincidence",
# Computational Linguistics 19 (1993) 61-74: the four counts and -2 log lambda. Written down from memory; that the
# counts give these figures by the textbook formula below too shows that they were remembered rightly.
DUNNING = [
    ((110, 2442, 111, 29114), 270.72),
    ((29, 13, 123, 31612), 263.90),
    ((31, 23, 139, 31584), 256.84),
    ((10, 0, 3, 31764), 167.23),
]

# A region in which nobody says what the vocabulary knows: invented words for two donor lines and two kinds of hub.
LINES = {"line-A": "kelpwagon", "line-B": "brontrig"}
HUBS = {"manual-locking": "twizzle caps", "unit-bearing": "plugbarrels"}
SPOKEN = [
    "Selling a {line} front axle, 8 lug, {hub}, $450 obo.",
    "front axle out of a {line} 4x4\n{hub} still good\n4.10 gears, 600 firm",
    "Got this {line} axle (front) sitting behind my shop. It has {hub}. Asking $300.",
    "{line} front axle complete knuckle to knuckle. Comes with the {hub}. 3.73 gears. $700",
    "Pulled from my {line} last winter: front axle, 30 spline, {hub}, 500 dollars",
]


def g2_by_textbook(a: int, b: int, c: int, d: int) -> float:
    """2 sum O ln(O/E), E from the margins."""
    whole = a + b + c + d
    cells = ((a, a + b, a + c), (b, a + b, b + d), (c, c + d, a + c), (d, c + d, b + d))
    return 2 * sum(o * log(o * whole / (row * column)) for o, row, column in cells if o)


def listing(number: int) -> tuple[str, dict[str, str]]:
    """A listing of the region, and what is true of it; lines and hubs go with each other in no way."""
    facts = {"donor_line": list(LINES)[number % 2], "hubs": list(HUBS)[number // 2 % 2]}
    text = SPOKEN[number % len(SPOKEN)].format(line=LINES[facts["donor_line"]], hub=HUBS[facts["hubs"]])
    return f"{text}\nref {number}", facts


def desk_of(house: House) -> Desk:
    return Desk.of_house(house, YEAR)


def correct(house: House, numbers: Iterable[int]) -> None:
    desk = desk_of(house)
    for number in numbers:
        text, facts = listing(number)
        record_corrections(house, desk.read(text), 1, [f"{name}={value}" for name, value in facts.items()])


def recall(desk: Desk, name: str, numbers: Iterable[int]) -> float:
    found = []
    for text, facts in map(listing, numbers):
        items = desk.read(text).items
        found.append(any(item.all(name) == (facts[name],) for item in items))
    return sum(found) / len(found)


@pytest.mark.parametrize(("table", "published"), DUNNING)
def test_the_statistic_gives_the_published_figures(table: tuple[int, int, int, int], published: float) -> None:
    assert log_likelihood_ratio(*table) == pytest.approx(published, abs=0.005)
    assert g2_by_textbook(*table) == pytest.approx(published, abs=0.005)


def test_the_statistic_agrees_with_the_textbook_formula_everywhere() -> None:
    dice = random.Random(5)
    for _ in range(300):
        table = (dice.randint(0, 9), dice.randint(1, 30), dice.randint(1, 30), dice.randint(1, 60))
        assert log_likelihood_ratio(*table) == pytest.approx(g2_by_textbook(*table), abs=1e-9)
    assert log_likelihood_ratio(2, 4, 3, 6) == pytest.approx(0, abs=1e-9), "nothing to do with each other"
    assert log_likelihood_ratio(0, 0, 0, 0) == 0


def test_a_region_with_words_of_its_own_is_learned(house: House) -> None:
    others = range(100, 120)
    before = desk_of(house)
    assert recall(before, "donor_line", others) == 0
    assert recall(before, "hubs", others) == 0
    correct(house, range(12))
    found = {p.phrase: p.meaning for p in proposals(house, before)}
    assert found == {
        **{word: f"donor_line={line}" for line, word in LINES.items()},
        **{word: f"hubs={hub}" for hub, word in HUBS.items()},
    }
    for phrase in found:
        taught = accept(house, desk_of(house), phrase)
        assert taught.shadows == ()
        assert taught.word.note.startswith("learned from 6 listings, G2 16.6, 20")
    after = desk_of(house)
    assert recall(after, "donor_line", others) >= 0.9
    assert recall(after, "hubs", others) >= 0.9
    assert proposals(house, after) == (), "what was learned is read, and not proposed again"


def test_listings_without_those_words_are_read_as_before(house: House) -> None:
    before = desk_of(house)
    correct(house, range(12))
    for one in proposals(house, before):
        accept(house, desk_of(house), one.phrase)
    after = desk_of(house)
    assert len(after.words) == len(before.words) + 4
    texts = [json.loads(line)["text"] for line in OPEN_LISTINGS.read_text("utf-8").splitlines()]
    assert len(texts) > 100
    for text in texts:
        assert after.read(text) == before.read(text), text


def test_chance_proposes_next_to_nothing(house: House) -> None:
    """The same words strewn over listings whose facts are drawn by lot: at 0.001 a phrase, hardly one passes."""
    dice = random.Random(11)
    desk = desk_of(house)
    words = [f"{a}{b}" for a in ("zor", "quap", "mulb", "fenth") for b in ("ickle", "andar", "ostril")]
    assert not set(words) & ordinary_words()
    for number in range(40):
        text = f"front axle, {', '.join(dice.sample(words, 4))}, ref {number}"
        line = dice.choice(list(LINES))
        record_corrections(house, desk.read(text), 1, [f"donor_line={line}"])
    assert proposals(house, desk) == ()


def test_the_counts_are_of_listings_with_and_without(house: House) -> None:
    correct(house, range(12))
    desk = desk_of(house)
    text = "kelpwagon kelpwagon kelpwagon rear axle"
    record_corrections(house, desk.read(text), 1, ["donor_line=line-C"])
    one = next(p for p in proposals(house, desk) if p.phrase == "kelpwagon")
    assert (one.with_true, one.with_other, one.without_true, one.without_other) == (6, 1, 0, 6)
    assert one.as_json()["with"] == [6, 1]
    assert one.g2 == pytest.approx(g2_by_textbook(6, 1, 0, 6))


def test_too_few_listings_propose_nothing(house: House) -> None:
    correct(house, range(2 * (ENOUGH - 1)))
    assert len(corrections(house)) == 4 * (ENOUGH - 1)
    assert proposals(house, desk_of(house)) == ()


def test_without_contrast_nothing_is_proposed(house: House) -> None:
    """Where all listings are of one line, each of their words goes with it, and none more than another."""
    correct(house, range(0, 40, 4))
    assert {row["meaning"] for row in corrections(house)} == {"donor_line=line-A", "hubs=manual-locking"}
    assert proposals(house, desk_of(house)) == ()


def test_what_known_words_say_is_no_ground_for_learning(house: House) -> None:
    """A phrase beside words that gave the fact already would be learned for nothing."""
    desk = desk_of(house)
    for number in range(12):
        hub = ("manual locking hubs zorpling", "unit bearing hubs")[number % 2]
        fact = ("hubs=manual-locking", "hubs=unit-bearing")[number % 2]
        kept = record_corrections(house, desk.read(f"front axle, {hub}, ref {number}"), 1, [fact])
        assert kept[0].read == (kept[0].kept,)
    assert proposals(house, desk) == ()


def test_the_same_fact_of_the_same_item_is_replaced(house: House) -> None:
    desk = desk_of(house)
    reading = desk.read("front axle, 8 lug, $400")
    first = record_corrections(house, reading, 1, ["lugs=6", "donor_line=line-A"])
    assert [(k.attribute, k.kept, k.read) for k in first] == [
        ("lugs", "6", ("8",)),
        ("donor_line", "line-A", ()),
    ]
    record_corrections(house, reading, 1, ["donor_line=line-B"])
    assert [row["meaning"] for row in corrections(house)] == ["lugs=6", "donor_line=line-B"]
    with closing(House(house.place)) as again:
        assert {row["text"] for row in corrections(again)} == {reading.text}


@pytest.mark.parametrize(
    "wrong", [["price_usd=400"], ["colour=red"], ["lugs=8", "lugs=6"], ["lugs"], ["family=none-such"], ["hubs=blue"]]
)
def test_what_cannot_be_kept_is_said(house: House, wrong: list[str]) -> None:
    reading = desk_of(house).read("front axle, 8 lug, $400")
    with pytest.raises(BadInput):
        record_corrections(house, reading, 1, wrong)
    with pytest.raises(BadInput, match="1 things, not 2"):
        record_corrections(house, reading, 2, ["lugs=8"])
    assert corrections(house) == ()


def test_a_refused_phrase_is_not_proposed_until_the_refusal_is_lifted(house: House) -> None:
    correct(house, range(12))
    assert refuse(house, desk_of(house), "KelpWagon") == "kelpwagon"
    with closing(House(house.place)) as again:
        assert "kelpwagon" not in {p.phrase for p in proposals(house, desk_of(again))}
    with pytest.raises(NotFound):
        accept(house, desk_of(house), "kelpwagon")
    assert lift_refusal(house, "kelpwagon")
    assert not lift_refusal(house, "kelpwagon")
    assert "kelpwagon" in {p.phrase for p in proposals(house, desk_of(house))}


def test_what_was_learned_can_be_taken_back(house: House) -> None:
    correct(house, range(12))
    accept(house, desk_of(house), "kelpwagon")
    assert [word.phrase for word in list_words(house)] == ["kelpwagon"]
    remove_word(house, "kelpwagon")
    assert recall(desk_of(house), "donor_line", range(100, 120)) == 0
    assert "kelpwagon" in {p.phrase for p in proposals(house, desk_of(house))}


def test_a_phrase_with_two_meanings_wants_one_named(house: House) -> None:
    """Where a line always comes with one kind of hub, nobody but the user can tell which of the two it says."""
    correct(house, [n for n in range(24) if n % 4 in (0, 3)])
    desk = desk_of(house)
    with pytest.raises(BadInput, match="donor_line=line-A and with hubs=manual-locking"):
        accept(house, desk, "kelpwagon")
    with pytest.raises(NotFound, match="not proposed for lugs=8"):
        accept(house, desk, "kelpwagon", "lugs=8")
    taught = accept(house, desk, "kelpwagon", "donor_line=line-A")
    assert [(m.name, m.value) for m in taught.word.meanings] == [("donor_line", "line-A")]


def test_words_known_already_are_not_candidates(house: House) -> None:
    """A learned word can stand before no shipped one: what has a meaning is never proposed."""
    add_word(house, "kelpwagon", "load_class=one-ton")
    correct(house, range(12))
    assert "kelpwagon" not in {p.phrase for p in proposals(house, desk_of(house))}
