"""Kept listings found by what a person types: facts first, then the words that are no facts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from donorbase.services.candidates import first_line
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.near import near_words
from donorbase.services.search_query import Filter, Query, understand
from donorbase.store import search as stored
from donorbase.store.candidates import newest_texts
from donorbase.store.search_index import MANY_DUE, how_many_due, put_in, words_known
from donorbase.store.text_letters import index_letters, letters_indexed

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

_SURE = 3
"""Letters up to which a word is taken as it is typed: of so short ones every other word is near."""
_MANY = 2 * MANY_DUE
"""Sightings not in the index yet from which on a search waits until they are; fewer are looked at beside it."""
_LETTERS = (
    "Words were looked for in every text, which takes longer the more there are: the server lacks the extension"
    " pg_trgm, and this login may not make it. The owner of the database makes it with: CREATE EXTENSION pg_trgm;"
)


@dataclass(frozen=True, slots=True)
class Hit:
    """A listing that contradicts nothing that was asked: what it meets, and of what it says nothing."""

    listing_id: int
    candidates: tuple[Mapping[str, Any], ...]
    title: str
    price_usd: float | None
    distance_mi: float | None
    last_seen_on: date
    met: tuple[Filter, ...]
    not_said: tuple[Filter, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data; the filters by their words."""
        found = {name: getattr(self, name) for name in ("listing_id", "title", "price_usd", "distance_mi")}
        told = {name: [one.told for one in getattr(self, name)] for name in ("met", "not_said")}
        kept = [dict(one) for one in self.candidates]
        return {**found, "last_seen_on": self.last_seen_on.isoformat(), "candidates": kept, **told}


@dataclass(frozen=True, slots=True)
class SearchResult:
    """The query as it was understood, what its words were widened to, and the hits, best first."""

    query: Query
    spellings: Mapping[str, tuple[str, ...]]
    hits: tuple[Hit, ...]
    notice: str = ""
    """What makes the search slow and how to mend it."""

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "filters": [one.as_json() for one in self.query.filters],
            "words": {word: list(self.spellings[word]) for word in self.query.words},
            "denied_words": list(self.query.denied_words),
            "hits": [hit.as_json() for hit in self.hits],
        } | ({"notice": self.notice} if self.notice else {})


def search(text: str, house: House, desk: Desk, states: Sequence[str] = (), limit: int = 20) -> SearchResult:
    """The kept listings that a query asks for, best first; with states, those that are a candidate in one of them.

    Raises BadInput for a query that asks for nothing.
    """
    query = understand(text, desk)
    _put_in(house)
    asked = [stored.Asked(one.condition, one.denied) for one in query.filters]
    with house.reading() as connection:
        spellings = {word: _spellings(connection, word) for word in query.words}
        words = stored.Words(tuple(spellings.values()), tuple((word,) for word in query.denied_words))
        rows = stored.search_listings(connection, asked, words, states, limit)
        ids = [row["listing_id"] for row in rows]
        shown, texts = stored.shown_of(connection, ids), newest_texts(connection, ids)
    hits = (_hit(row, query, shown[row["listing_id"]], texts[row["listing_id"]]) for row in rows)
    notice = _LETTERS if (query.words or query.denied_words) and not _indexed(house) else ""
    return SearchResult(query, spellings, tuple(hits), notice)


def _indexed(house: House) -> bool:
    """Whether words are looked up in an index; made where it may be made by now."""
    with house.reading() as connection:
        there = letters_indexed(connection)
    if there:
        return True
    with house.keeping() as connection:
        return index_letters(connection)


def _put_in(house: House) -> None:
    """Put into the index what has come together since: all of it where the database is from an earlier release."""
    with house.reading() as connection:
        many = how_many_due(connection, _MANY) == _MANY
    if many:
        with house.keeping() as connection:
            put_in(connection)


def _spellings(connection: "Connection", word: str) -> tuple[str, ...]:
    """The word, and words of the texts that may be the same misspelt: the first letter seldom is (common practice)."""
    if len(word) <= _SURE or not word.isalpha():
        return (word,)
    known = words_known(connection, word[0], len(word) - 2, len(word) + 2)
    return tuple(dict.fromkeys((word, *near_words(word, known))))


def _hit(row: Mapping[str, Any], query: Query, shown: Mapping[str, Any], newest: Mapping[str, Any]) -> Hit:
    met = tuple(f for f, is_met in zip(query.filters, row["met"], strict=True) if is_met)
    return Hit(
        row["listing_id"],
        tuple(shown["candidates"]),
        newest["title"] or first_line(newest["text"]),
        shown["price_usd"],
        shown["distance_mi"],
        shown["last_seen_on"],
        met,
        tuple(f for f in query.filters if f not in met),
    )
