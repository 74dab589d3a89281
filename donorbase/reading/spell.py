"""Step 3a: words that nobody knows -> the word of the trade they were meant to be. The only user of rapidfuzz."""

from collections.abc import Iterable, Mapping
from functools import lru_cache

from donorbase.reading.sound import Heard, sound

SHORTEST = 5
"""Shorter words have too many neighbours one letter away."""
_SHORTEST_HEARD = 4
"""So short a word may still be one that sounds the same (``ferm``, ``brak``)."""
_LOOK_ALIKE = {"i": "l", "l": "i"}


class Speller:
    """Finds the one trade word that lies within one slip of an unknown word (two for long words), or sounds like it.

    ``ordinary`` words are never changed, and an unknown word that lies as near to an ordinary word is left alone.
    """

    def __init__(self, trade: Mapping[str, object], ordinary: Iterable[str], spelt: Iterable[str] = ()) -> None:
        """``trade`` gives each word what it means alone, None where it means nothing alone; ``spelt`` are English."""
        self._meaning = trade
        self._spelt = frozenset(spelt)
        self._trade = tuple(sorted({w for w in trade if len(w) >= SHORTEST}))
        self._ordinary = frozenset(ordinary)
        self._ordinary_long = tuple(sorted(w for w in self._ordinary if len(w) >= SHORTEST - 1))
        self._heard = Heard(sorted(w for w in trade if len(w) >= _SHORTEST_HEARD and w.isascii()))
        self._otherwise = Heard(self._ordinary_long)
        self.corrected = lru_cache(maxsize=65536)(self._corrected)

    def _corrected(self, word: str) -> str:
        """The trade word meant, or the word itself."""
        if not _SHORTEST_HEARD <= len(word) <= 24 or not word.isalpha() or word in self._ordinary:
            return word
        if word.endswith("s") and word[:-1] in self._ordinary:
            return word
        misread = self._misread(word)
        if misread:
            return misread
        slipped = self._slipped(word) if len(word) >= SHORTEST else word
        return slipped if slipped != word else self._sounding_like(word)

    def _misread(self, word: str) -> str:
        """The trade word that differs by an i read for an l, or by a letter written twice; empty if there is none."""
        for at, letter in enumerate(word):
            other = _LOOK_ALIKE.get(letter, "" if word[at - 1 : at] == letter else letter)
            if other != letter and (turned := word[:at] + other + word[at + 1 :]) in self._meaning:
                return turned
        return ""

    def _sounding_like(self, word: str) -> str:
        """The one trade word that sounds the same where no ordinary word does; else the word itself."""
        alike = _of_its_length(word, self._heard.like(word))
        if not alike or any(self._differs(alike[0], other) for other in alike[1:]):
            return word
        rivals = (other for other in _of_its_length(word, self._otherwise.like(word)) if other[0] == word[0])
        return word if any(rival not in alike for rival in rivals) else alike[0]

    def _slipped(self, word: str) -> str:
        """The one trade word that lies within a slip or two; else the word itself."""
        # Most short commands meet no unknown word, and the library takes longer to import than they run.
        from rapidfuzz.distance import OSA
        from rapidfuzz.process import extract

        slips = 1 if len(word) < 8 else 2
        near = extract(word, self._trade, scorer=OSA.distance, score_cutoff=slips, limit=4)
        if not near:
            return word
        best, distance, _ = near[0]
        right = [other for other, d, _ in near if d == distance and other in self._spelt]
        if len(right) == 1 and _plainly(word, right[0]):
            return right[0]
        if best[0] != word[0] or any(self._differs(best, other) for other, d, _ in near[1:] if d == distance):
            return word
        rival = extract(word, self._ordinary_long, scorer=OSA.distance, score_cutoff=distance, limit=1)
        return word if rival else best

    def _differs(self, one: str, other: str) -> bool:
        meaning = self._meaning[one]
        return one.rstrip("s") != other.rstrip("s") and (meaning is None or meaning != self._meaning[other])


def _of_its_length(word: str, others: Iterable[str]) -> list[str]:
    """Those of about its length: who writes by ear leaves out or doubles a letter or two."""
    return [other for other in others if -2 <= len(other) - len(word) <= 2]


def _plainly(word: str, meant: str) -> bool:
    """Whether a slip can hardly be another word or a name: two letters turned round, or one that is not heard."""
    return sorted(word) == sorted(meant) or sound(word) == sound(meant)
