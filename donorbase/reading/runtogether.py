"""Step 3a: words written without a space (``#onetonfront``, ``kingpinfrontaxle``) -> the words of the trade in them."""

from collections.abc import Callable, Collection, Iterable, Mapping
from functools import lru_cache

from donorbase.reading.tokens import Piece

LONG = 7
"""Letters of a word that may be several."""
_LONGEST, _SHORTEST_PART = 40, 3


class Parter:
    """Parts a word that nobody knows into phrases of the trade, where they make up all of it."""

    def __init__(self, phrases: Mapping[str, tuple[str, ...]], known: Collection[str]) -> None:
        """``phrases`` gives each phrase written as one word its words; ``known`` words are never parted."""
        self._phrases = {joined: words for joined, words in phrases.items() if len(joined) >= _SHORTEST_PART}
        self._known = known
        self._longest = max(map(len, self._phrases), default=0)
        self.words_in: Callable[[str], tuple[str, ...]] = lru_cache(maxsize=16384)(self._words_in)

    def _words_in(self, word: str) -> tuple[str, ...]:
        """The words in a word; none where it is known, too short, or not made up of phrases alone."""
        if not LONG <= len(word) <= _LONGEST or word in self._known or not (word.isalpha() and word.isascii()):
            return ()
        # The fewest phrases that make up the word to each of its letters, and the words in them.
        best: list[tuple[int, tuple[str, ...]] | None] = [(0, ()), *([None] * len(word))]
        for end in range(_SHORTEST_PART, len(word) + 1):
            for begin in range(max(0, end - self._longest), end - _SHORTEST_PART + 1):
                before, phrase = best[begin], self._phrases.get(word[begin:end])
                if before is None or phrase is None:
                    continue
                at_end = best[end]
                if at_end is None or before[0] + 1 < at_end[0]:
                    best[end] = (before[0] + 1, before[1] + phrase)
        whole = best[-1]
        return whole[1] if whole is not None and len(whole[1]) > 1 else ()


def parted(pieces: list[Piece], places: Iterable[int], parter: Parter) -> list[Piece]:
    """The same pieces, with each word at one of the places that is several written as one in its parts."""
    found = {i: words for i in places if (words := parter.words_in(pieces[i].key))}
    if not found:
        return pieces
    out: list[Piece] = []
    for i, piece in enumerate(pieces):
        if i not in found or piece.raw != piece.key:
            out.append(piece)
            continue
        at = piece.begin
        for word in found[i]:
            out.append(Piece("word", word, at, at + len(word), piece.glued and at == piece.begin))
            at += len(word)
    return out
