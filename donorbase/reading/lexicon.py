"""Step 3: pieces -> pieces with meanings, by a dictionary of phrases, the longest first."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from donorbase.reading.clean import clean
from donorbase.reading.spell import Speller
from donorbase.reading.tokens import NO_ROLES, Piece, tokenise
from donorbase.reference.words import Meaning, Word, ordinary_words

Facts = tuple[tuple[str, object], ...]
_TRADE_ROLES = frozenset({"item", "unit", "label"})


@dataclass(frozen=True, slots=True)
class Entry:
    """What a phrase means: facts of the thing it speaks of, and roles for the reader's later steps."""

    facts: Facts
    roles: Mapping[str, str]

    @property
    def is_trade(self) -> bool:
        """Whether a misspelling of it is worth mending."""
        return bool(self.facts or _TRADE_ROLES & self.roles.keys())


class Lexicon:
    """Phrases by their first word; build one with ``Lexicon.build`` and hand it to every reading."""

    def __init__(self, entries: Mapping[tuple[str, ...], Entry], ordinary: Iterable[str]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], Entry]]] = {}
        for keys, entry in entries.items():
            self._by_first.setdefault(keys[0], []).append((keys[1:], entry))
        for phrases in self._by_first.values():
            phrases.sort(key=lambda phrase: -len(phrase[0]))
        self._known = frozenset(key for keys in entries for key in keys)
        trade: dict[str, object] = {k: None for keys, e in entries.items() if e.is_trade for k in keys if k.isalpha()}
        trade |= {
            keys[0]: (e.facts, dict(e.roles)) for keys, e in entries.items() if len(keys) == 1 and keys[0] in trade
        }
        ordinary_only = frozenset(ordinary) | (self._known - trade.keys())
        self._speller = Speller(trade, ordinary_only)

    @classmethod
    def build(cls, words: Iterable[Word]) -> "Lexicon":
        """A lexicon of these words; a user's word takes the place of a shipped one with the same phrase."""
        entries: dict[tuple[str, ...], Entry] = {}
        for word in sorted(words, key=lambda w: w.origin == "user"):
            keys = phrase_keys(word.phrase)
            if keys:
                entries[keys] = _entry(word.meanings)
        for keys, entry in list(entries.items()):
            for variant in _variants(keys, entry):
                entries.setdefault(variant, entry)
        return cls(entries, ordinary_words())

    def mark(self, pieces: list[Piece]) -> list[Piece]:
        """The same pieces with phrases put together and given their meanings."""
        marked: list[Piece] = []
        by_first, known = self._by_first, self._known
        at, size = 0, len(pieces)
        while at < size:
            piece = pieces[at]
            if piece.kind == "word" and piece.key not in known:
                piece.key = self._speller.corrected(piece.key)
            phrases = by_first.get(piece.key)
            if phrases is not None:
                for rest, entry in phrases:
                    end = _matches(pieces, at + 1, rest, self) if rest else at + 1
                    if end:
                        piece = _joined(pieces, at, end, entry)
                        at = end - 1
                        break
            marked.append(piece)
            at += 1
        return marked

    def spelled(self, key: str) -> str:
        """The key itself if any phrase knows it, else the trade word it was meant to be."""
        return key if key in self._known else self._speller.corrected(key)


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


def _matches(pieces: list[Piece], at: int, rest: tuple[str, ...], lexicon: Lexicon) -> int:
    """Where the phrase ends if its other keys follow from ``at``; 0 if they do not."""
    for key in rest:
        if at < len(pieces) and pieces[at].key == "-" and pieces[at].glued:
            at += 1
        if at >= len(pieces):
            return 0
        piece = pieces[at]
        if piece.key != key and (piece.kind != "word" or lexicon.spelled(piece.key) != key):
            return 0
        at += 1
    return at


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
