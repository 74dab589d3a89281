"""Step 3: pieces -> pieces with meanings, by a dictionary of phrases, the longest first."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from donorbase.reading.clean import clean
from donorbase.reading.runtogether import LONG, Parter, parted
from donorbase.reading.spell import Speller
from donorbase.reading.spoken import SPOKEN
from donorbase.reading.tokens import NO_ROLES, Piece, tokenise
from donorbase.reference.words import Meaning, Word, spelt_words

Facts = tuple[tuple[str, object], ...]
_TRADE_ROLES = frozenset({"item", "unit", "label"})
_JOINED_ROLES = frozenset({"item", "hump", "hand"})


@dataclass(frozen=True, slots=True)
class Entry:
    """What a phrase means: facts of the thing it speaks of, and roles for the reader's later steps."""

    facts: Facts
    roles: Mapping[str, str]

    @property
    def is_trade(self) -> bool:
        """Whether a misspelling of it is worth mending."""
        return bool(self.facts or _TRADE_ROLES & self.roles.keys())

    @property
    def may_be_joined(self) -> bool:
        """Whether it is looked for in words written without a space."""
        return bool(self.facts or _JOINED_ROLES & self.roles.keys())


class Lexicon:
    """Phrases by their words; build one with ``Lexicon.build`` and hand it to every reading."""

    def __init__(self, entries: Mapping[str, Entry]) -> None:
        """``entries`` by the keys of their phrases, joined by blanks."""
        self._entries = entries
        self._alone: dict[str, Entry] = {}
        # By the first word and then the second: the lengths of the phrases that begin so, the longest first.
        self._longer: dict[str, dict[str, list[int]]] = {}
        longer = set()
        for phrase, entry in entries.items():
            keys = phrase.split(" ", 2)
            if len(keys) == 1:
                self._alone[phrase] = entry
            else:
                longer.add((phrase.count(" ") + 1, keys[0], keys[1]))
        for size, first, second in sorted(longer, reverse=True):
            self._longer.setdefault(first, {}).setdefault(second, []).append(size)
        self._known = frozenset(" ".join(entries).split(" ")) | SPOKEN

    @cached_property
    def _trade(self) -> dict[str, Any]:
        """Each word of a phrase of the trade with what it means alone, None where it means nothing alone."""
        trade: dict[str, Any] = {
            k: None for p, e in self._entries.items() if e.is_trade for k in p.split(" ") if k.isalpha()
        }
        return trade | {k: (e.facts, dict(e.roles)) for k, e in self._alone.items() if k in trade}

    @cached_property
    def _ordinary(self) -> frozenset[str]:
        """Words that are never taken for a misspelt one."""
        meant = {word for word, meaning in self._trade.items() if meaning is not None}
        return (spelt_words() - meant) | (self._known - self._trade.keys())

    @cached_property
    def _speller(self) -> Speller:
        """Made when the first unknown word comes."""
        return Speller(self._trade, self._ordinary, spelt_words())

    @cached_property
    def _parter(self) -> Parter:
        """Made when the first long unknown word comes."""
        joined = {p.replace(" ", ""): tuple(p.split(" ")) for p, e in self._entries.items() if e.may_be_joined}
        return Parter({j: words for j, words in joined.items() if j.isalpha()}, self._ordinary | joined.keys())

    @classmethod
    def build(cls, words: Iterable[Word]) -> "Lexicon":
        """A lexicon of these words; a user's word takes the place of a shipped one with the same phrase."""
        entries: dict[str, Entry] = {}
        for word in sorted(words, key=lambda w: w.origin == "user"):
            keys = phrase_keys(word.phrase)
            if keys:
                entries[" ".join(keys)] = _entry(word.meanings)
        for phrase, entry in list(entries.items()):
            for variant in _variants(tuple(phrase.split(" ")), entry):
                entries.setdefault(" ".join(variant), entry)
        return cls(entries)

    def packed(self) -> dict[str, Any]:
        """The lexicon as plain data from which ``unpacked`` makes the same, much faster than from its words."""
        meanings: dict[str, int] = {}
        places = {
            phrase: meanings.setdefault(json.dumps([entry.facts, dict(entry.roles)]), len(meanings))
            for phrase, entry in self._entries.items()
        }
        return {"meanings": [json.loads(text) for text in meanings], "phrases": places}

    @classmethod
    def unpacked(cls, packed: Mapping[str, Any]) -> "Lexicon":
        """The lexicon of ``packed``."""
        entries = [
            Entry(tuple((name, tuple(v) if isinstance(v, list) else v) for name, v in facts), roles or NO_ROLES)
            for facts, roles in packed["meanings"]
        ]
        return cls({phrase: entries[place] for phrase, place in packed["phrases"].items()})

    def mark(self, pieces: list[Piece]) -> list[Piece]:
        """The same pieces with phrases put together and given their meanings."""
        pieces = self._part(pieces)
        self._spell(pieces)
        places = [i for i, p in enumerate(pieces) if p.key != "-" or not p.glued]
        keys = [pieces[i].key for i in places]
        alone, longer = self._alone, self._longer
        marked: list[Piece] = []
        taken = 0  # the first piece that is not yet in ``marked``
        for number, first in enumerate(keys):
            if not (first in alone or first in longer) or places[number] < taken:
                continue
            size, entry = self._longest(keys, number)
            if entry is not None:
                begin, end = places[number], places[number + size - 1] + 1
                marked += pieces[taken:begin]
                marked.append(_joined(pieces, begin, end, entry))
                taken = end
        return marked + pieces[taken:]

    def _longest(self, keys: list[str], number: int) -> tuple[int, Entry | None]:
        """The longest phrase that begins at a key: how many keys it has, and what it means."""
        first = keys[number]
        following = self._longer.get(first)
        if following is not None and number + 1 < len(keys):
            for size in following.get(keys[number + 1], ()):
                entry = self._entries.get(" ".join(keys[number : number + size]))
                if entry is not None and number + size <= len(keys):
                    return size, entry
        return 1, self._alone.get(first)

    def _part(self, pieces: list[Piece]) -> list[Piece]:
        """The same pieces, with words that nobody knows in the words of the trade that make them up."""
        known = self._known
        unknown = [i for i, p in enumerate(pieces) if p.kind == "word" and len(p.key) >= LONG and p.key not in known]
        return parted(pieces, unknown, self._parter) if unknown else pieces

    def _spell(self, pieces: list[Piece]) -> None:
        """Give unknown words the key of the trade word they were meant to be."""
        known = self._known
        for piece in pieces:
            if piece.kind == "word" and piece.key not in known:
                piece.key = self._speller.corrected(piece.key)


def phrase_keys(phrase: str) -> tuple[str, ...]:
    """A phrase as the keys it is looked up by: hyphens count as spaces."""
    return tuple(p.key for p in tokenise(clean(phrase)) if p.key != "-" and p.kind != "line")


def _entry(meanings: Iterable[Meaning]) -> Entry:
    facts = tuple((m.name, m.value) for m in meanings if not m.is_role)
    roles = {m.name: str(m.value) for m in meanings if m.is_role}
    return Entry(facts, roles or NO_ROLES)


def _variants(keys: tuple[str, ...], entry: Entry) -> Iterable[tuple[str, ...]]:
    """The phrase written as one word, and with a plural s, where it is a word of the trade."""
    if not entry.is_trade:
        return
    if len(keys) == 2 and all(k.isalpha() and len(k) > 1 for k in keys) and len(keys[0] + keys[1]) >= 6:
        yield (keys[0] + keys[1],)
    last = keys[-1]
    if last.isalpha() and len(last) >= 4 and not last.endswith("s") and entry.facts:
        yield (*keys[:-1], last + "s")


def _joined(pieces: list[Piece], begin: int, end: int, entry: Entry) -> Piece:
    first = pieces[begin]
    if end - begin == 1 and first.kind == "word":
        piece = first
    else:
        piece = Piece("word", " ".join(p.raw for p in pieces[begin:end]), first.begin, pieces[end - 1].end, first.glued)
        piece.key = " ".join(p.key for p in pieces[begin:end] if p.key != "-")
    piece.facts = entry.facts
    piece.roles = entry.roles
    return piece
