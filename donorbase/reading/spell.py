"""Step 3a: words that nobody knows -> the word of the trade they were meant to be. The only user of rapidfuzz."""

from collections.abc import Iterable, Mapping
from functools import lru_cache

SHORTEST = 5
"""Shorter words have too many neighbours one letter away."""


class Speller:
    """Finds the one trade word that lies within one slip of an unknown word (two for long words).

    ``ordinary`` words are never changed, and an unknown word that lies as near to an ordinary word is left alone.
    """

    def __init__(self, trade: Mapping[str, object], ordinary: Iterable[str]) -> None:
        """``trade`` gives each word what it means alone, None where it means nothing alone."""
        self._meaning = trade
        self._trade = tuple(sorted({w for w in trade if len(w) >= SHORTEST}))
        self._ordinary = frozenset(ordinary)
        self._ordinary_long = tuple(sorted(w for w in self._ordinary if len(w) >= SHORTEST - 1))
        self.corrected = lru_cache(maxsize=65536)(self._corrected)

    def _corrected(self, word: str) -> str:
        """The trade word meant, or the word itself."""
        if not SHORTEST <= len(word) <= 24 or not word.isalpha() or word in self._ordinary:
            return word
        if word.endswith("s") and word[:-1] in self._ordinary:
            return word
        # Most short commands meet no unknown word, and the library takes longer to import than they run.
        from rapidfuzz.distance import OSA
        from rapidfuzz.process import extract

        slips = 1 if len(word) < 8 else 2
        near = extract(word, self._trade, scorer=OSA.distance, score_cutoff=slips, limit=4)
        if not near:
            return word
        best, distance, _ = near[0]
        if best[0] != word[0] or any(self._differs(best, other) for other, d, _ in near[1:] if d == distance):
            return word
        rival = extract(word, self._ordinary_long, scorer=OSA.distance, score_cutoff=distance, limit=1)
        return word if rival else best

    def _differs(self, one: str, other: str) -> bool:
        meaning = self._meaning[one]
        return one.rstrip("s") != other.rstrip("s") and (meaning is None or meaning != self._meaning[other])
