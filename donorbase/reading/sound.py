"""How a word sounds, roughly: two spellings with one sound are meant for one word (``nuckle``, ``ferm``, ``brak``)."""

import re
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
