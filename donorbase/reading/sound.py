"""How a word sounds, roughly: two spellings with one sound are meant for one word (``nuckle``, ``ferm``, ``brak``)."""

import re
from collections.abc import Iterable
from functools import lru_cache

_SPELLINGS = (
    (r"^(?:kn|gn)", "n"), (r"^wr", "r"), (r"^wh", "w"), (r"ph", "f"), (r"igh", "i"), (r"ck|kk|cc(?![iey])", "k"),
    (r"ch", "C"), (r"sh", "S"), (r"th", "T"), (r"dg|j", "J"), (r"g(?=e)", "g"), (r"c(?=[eiy])", "s"), (r"c|q", "k"),
    (r"x", "ks"), (r"z", "s"), (r"([b-df-hj-np-tv-z])le(s?)$", r"\1el\2"), (r"(?<=[^aeiouy])e(s?)$", r"\1"),
    (r"([b-df-hj-np-tv-zCST])\1+", r"\1"), (r"oi|oy", "O"), (r"ee|ea|ei|ie|ey|i|y", "e"), (r"ai|ay", "a"),
    (r"oa|ow|ou|oo|au|aw|ua|ue|eu|ew|u", "o"), (r"([aeo])\1+", r"\1"),
)  # fmt: skip
"""What is written in more than one way for the same sound, in the order in which they are levelled."""
_LEVELLED = tuple((re.compile(pattern), sound) for pattern, sound in _SPELLINGS)


@lru_cache(maxsize=65536)
def sound(word: str) -> str:
    """A code of how a word in small letters sounds; words of one code sound alike."""
    for pattern, level in _LEVELLED:
        word = pattern.sub(level, word)
    return word


_OPENING = str.maketrans(
    {
        **dict.fromkeys("ckqszxgjn", "k"),
        **dict.fromkeys("wr", "w"),
        **dict.fromkeys("fp", "f"),
        **dict.fromkeys("aeiouyh", "a"),
    }
)
"""First letters that may stand for one sound (``knuckle``, ``nuckle``) as one."""


class Heard:
    """Words by their sound. Most are never asked for, so that the sounds of one opening are made when one is."""

    def __init__(self, words: Iterable[str]) -> None:
        self._words: dict[str, list[str]] = {}
        for word in words:
            self._words.setdefault(word[:1].translate(_OPENING), []).append(word)
        self._by_sound: dict[str, dict[str, list[str]]] = {}

    def like(self, word: str) -> list[str]:
        """The words that sound like this one, in the order given."""
        opening = word[:1].translate(_OPENING)
        if opening not in self._by_sound:
            found: dict[str, list[str]] = {}
            for other in self._words.get(opening, ()):
                found.setdefault(sound(other), []).append(other)
            self._by_sound[opening] = found
        return self._by_sound[opening].get(sound(word), [])
