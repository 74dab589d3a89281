"""Words learned from listings that the user put right: what he confirmed, and the phrases that go with it.

A phrase is proposed where Dunning's log-likelihood ratio of the two by two table of listings (phrase there or not,
meaning true or not) passes ``THRESHOLD``; nothing is taught before the user accepts it.

Source: T. Dunning, "Accurate Methods for the Statistics of Surprise and Coincidence", Computational Linguistics 19
(1993) 61-74.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from math import log
from typing import Any

from donorbase.attributes import attribute
from donorbase.errors import BadInput, NotFound
from donorbase.facts import Known, Reading, Value
from donorbase.reading.clean import clean
from donorbase.reading.lexicon import Lexicon
from donorbase.reading.tokens import tokenise
from donorbase.reference.wording import value_text
from donorbase.reference.words import Meaning, ordinary_words, parse_meaning
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.near import near_keys
from donorbase.services.words import LONGEST_PHRASE, Taught, add_word, checked_word
from donorbase.store.word_rows import meaning_text

THRESHOLD = 10.83
"""Chi-square with one degree of freedom at 0.001, from any printed table. It holds for one phrase; of many phrases
looked at some pass by chance, which is why the user has the last word."""
ENOUGH = 3
"""Listings with the phrase, the meaning confirmed and not read, from which a phrase is proposed."""
LONGEST_RUN = 3
"""Words of a phrase."""
_SHORT = 3
"""Words of so few letters tell nothing by themselves; the list of ordinary words begins above them."""

_Told = tuple[str, Value]
"""An attribute with its value."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A fact as it was kept, and what the reading had said of that attribute, both as text with units."""

    attribute: str
    kept: str
    read: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        return {"attribute": self.attribute, "kept": self.kept, "read": list(self.read)}


@dataclass(frozen=True, slots=True)
class Proposal:
    """A phrase that goes with a meaning: listings with the phrase and without it, in which it is true or not."""

    phrase: str
    meaning: str
    g2: float
    with_true: int
    with_other: int
    without_true: int
    without_other: int

    def as_json(self) -> dict[str, Any]:
        """The phrase, its meaning, the statistic, and the counts as [true, other]."""
        return {
            "phrase": self.phrase,
            "meaning": self.meaning,
            "g2": round(self.g2, 2),
            "with": [self.with_true, self.with_other],
            "without": [self.without_true, self.without_other],
        }


@dataclass(frozen=True, slots=True)
class _Listing:
    """A kept listing: its unknown phrases, what is true of its items, what of that no known word had said."""

    phrases: frozenset[str]
    true: frozenset[_Told]
    unread: frozenset[_Told]


def record_corrections(
    house: House, reading: Reading, item: int, texts: Sequence[str], known: str = "stated"
) -> tuple[Kept, ...]:
    """Keep facts of one item (from 1) of a listing, each ``NAME=VALUE``, in place of those kept of it before.

    ``known`` is how: ``stated``, or ``measured`` on the thing itself. A listing in which nothing was found has one
    item, of which nothing was read. BadInput for an item that is not there, for what is no meaning, for a fact of
    the whole offer, and for an attribute given twice.
    """
    from donorbase.store.corrections import keep_corrections

    if not 1 <= item <= max(1, len(reading.items)):
        raise BadInput(f"the listing has {len(reading.items)} things, not {item}", "Say which one with --item.")
    # What is kept may become a word's meaning, so that it must be one.
    told = [(m.name, m.value) for text in texts for m in checked_word(house, "seen", text).meanings]
    _check(told)
    facts = reading.items[item - 1] if reading.items else None
    with house.writing() as connection:
        rows = {name: _text((name, value)) for name, value in told}
        keep_corrections(connection, reading.text, item, rows, datetime.now(UTC), known)
    return tuple(
        Kept(name, value_text(name, value), tuple(value_text(name, v) for v in (facts.all(name) if facts else ())))
        for name, value in told
    )


def _check(told: Sequence[_Told]) -> None:
    for name, times in Counter(name for name, _ in told).items():
        if attribute(name).scope == "offer":
            raise BadInput(f"{name} is of the whole offer, not of one thing", "Correct facts of the thing itself.")
        if times > 1:
            raise BadInput(f"{name} is given {times} times", "Give each fact once.")


def corrections(house: House) -> tuple[dict[str, Any], ...]:
    """Every correction kept, oldest first: text, item, attribute, meaning, known, noted_at."""
    return tuple(house.rows()["correction"])


def proposals(house: House, desk: Desk) -> tuple[Proposal, ...]:
    """Phrases that go with a meaning more than chance allows, the surest first; none that was refused.

    ``desk`` reads with the words known now, so that what was learned is not proposed again. Of phrases that hold
    one another the surer is proposed, among equals the longest.
    """
    listings = _listings(house, desk)
    refused = {row["phrase"] for row in house.rows()["refused_phrase"]}
    meanings = sorted({told for one in listings for told in one.unread}, key=_text)
    found = [p for told in meanings for p in _of_meaning(listings, told) if p.phrase.casefold() not in refused]
    found.sort(key=lambda p: (-round(p.g2, 9), -len(p.phrase.split()), p.phrase, p.meaning))
    chosen: list[Proposal] = []
    for one in found:
        if not any(one.meaning == other.meaning and _overlap(one.phrase, other.phrase) for other in chosen):
            chosen.append(one)
    return tuple(chosen)


def accept(house: House, desk: Desk, phrase: str, meaning: str = "") -> Taught:
    """Teach a proposed phrase, with where it comes from as its note.

    NotFound where it is not proposed with that meaning; BadInput where several are proposed and none is named.
    """
    offered = {p.meaning: p for p in _proposed(house, desk, phrase)}
    if not meaning and len(offered) > 1:
        raise BadInput(f"{phrase!r} goes with {' and with '.join(offered)}", "Name the meaning after the phrase.")
    wanted = [_text((m.name, m.value)) for m in parse_meaning(meaning)] if meaning else list(offered)
    for text in wanted:
        if text not in offered:
            hint = f"Proposed: {', '.join(offered)}. `donorbase words add` teaches any meaning."
            raise NotFound(f"{phrase!r} is not proposed for {text}", hint)
    weakest = min((offered[text] for text in wanted), key=lambda p: p.g2)
    note = f"learned from {weakest.with_true} listings, G2 {weakest.g2:.1f}, {datetime.now(UTC).date()}"
    return add_word(house, weakest.phrase, "; ".join(wanted), note)


def refuse(house: House, desk: Desk, phrase: str) -> str:
    """Never propose a phrase again; the phrase as it was proposed. NotFound where it is not."""
    from donorbase.store.corrections import refuse_phrase

    proposed = _proposed(house, desk, phrase)[0].phrase
    with house.writing() as connection:
        refuse_phrase(connection, proposed.casefold(), datetime.now(UTC))
    return proposed


def lift_refusal(house: House, phrase: str) -> bool:
    """Let a refused phrase be proposed again; whether it had been refused."""
    from donorbase.store import corrections as stored

    plain = _plain(phrase)
    if plain not in {row["phrase"] for row in house.rows()["refused_phrase"]}:
        return False
    with house.writing() as connection:
        return stored.lift_refusal(connection, plain)


def log_likelihood_ratio(with_true: int, with_other: int, without_true: int, without_other: int) -> float:
    """Dunning's G2 of a two by two table: 0 where the two have nothing to do with each other.

    As entropies: 2 (sum k ln k of the cells - of the rows - of the columns + of the whole).
    """
    cells = (with_true, with_other, without_true, without_other)
    rows = (with_true + with_other, without_true + without_other)
    columns = (with_true + without_true, with_other + without_other)
    return max(0.0, 2 * (_k_ln_k(*cells) - _k_ln_k(*rows) - _k_ln_k(*columns) + _k_ln_k(sum(cells))))


def _k_ln_k(*counts: int) -> float:
    return sum(k * log(k) for k in counts if k)


def _proposed(house: House, desk: Desk, phrase: str) -> list[Proposal]:
    every = proposals(house, desk)
    found = [p for p in every if p.phrase.casefold() == _plain(phrase)]
    if not found:
        near = near_keys(_plain(phrase), {p.phrase for p in every})
        hint = f"Near it: {', '.join(near)}." if near else "`donorbase words learn` shows what is."
        raise NotFound(f"{phrase!r} is not proposed", hint)
    return found


def _listings(house: House, desk: Desk) -> list[_Listing]:
    by_text: dict[str, dict[tuple[int, str], Value]] = {}
    for row in corrections(house):
        value = parse_meaning(row["meaning"])[0].value
        by_text.setdefault(row["text"], {})[row["item"], row["attribute"]] = value
    return [_listing(desk, text, kept) for text, kept in by_text.items()]


def _listing(desk: Desk, text: str, kept: Mapping[tuple[int, str], Value]) -> _Listing:
    """What is true of a listing: what was kept and, of attributes that were not put right, what is read."""
    read = {
        (number, fact.attribute, fact.value): fact.known
        for number, item in enumerate(desk.read(text).items, 1)
        for fact in item.facts
        if fact.known is not Known.CONTRADICTED
    }
    true = {(name, value) for number, name, value in read if (number, name) not in kept}
    true |= {(name, value) for (_, name), value in kept.items()}
    unread = {
        (name, value)
        for (number, name), value in kept.items()
        if read.get((number, name, value), Known.INFERRED) is Known.INFERRED
    }
    return _Listing(frozenset(_unknown_runs(desk.lexicon, text)), frozenset(true), frozenset(unread))


def _unknown_runs(lexicon: Lexicon, text: str) -> Iterator[str]:
    """Every run of one to three words that the lexicon has no meaning for.

    Ordinary words begin or end no run: what stands around a word by chance in few listings is no part of it.
    """
    runs: list[list[str]] = [[]]
    for piece in lexicon.mark(tokenise(clean(text))):
        if piece.kind == "word" and not piece.facts and not piece.roles:
            runs[-1].append(piece.raw)
        elif piece.key != "-" or not piece.glued:
            runs.append([])
    for run in runs:
        for begin, first in enumerate(run):
            for end in range(begin + 1, min(begin + LONGEST_RUN, len(run)) + 1):
                phrase = " ".join(run[begin:end])
                if _tells(first) and _tells(run[end - 1]) and len(phrase) <= LONGEST_PHRASE:
                    yield phrase


def _tells(word: str) -> bool:
    return len(word) > _SHORT and word not in ordinary_words()


def _of_meaning(listings: Sequence[_Listing], told: _Told) -> Iterator[Proposal]:
    seen = Counter(phrase for one in listings if told in one.unread for phrase in one.phrases)
    for phrase in (phrase for phrase, times in seen.items() if times >= ENOUGH):
        table = Counter((phrase in one.phrases, told in one.true) for one in listings)
        counts = table[True, True], table[True, False], table[False, True], table[False, False]
        g2 = log_likelihood_ratio(*counts)
        goes_with = counts[0] * counts[3] > counts[1] * counts[2]
        if goes_with and g2 >= THRESHOLD:
            yield Proposal(phrase, _text(told), g2, *counts)


def _overlap(one: str, other: str) -> bool:
    return f" {one} " in f" {other} " or f" {other} " in f" {one} "


def _text(told: _Told) -> str:
    return meaning_text([Meaning(*told)])


def _plain(phrase: str) -> str:
    return " ".join(phrase.split()).casefold()
