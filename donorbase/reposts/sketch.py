"""A text -> its pairs of neighbouring words as numbers, and the few of them by which it is found again.

Pairs hold where single words are too common: "4.10 gears" stands in a thousand adverts, "gears asked" in two. Those
that few adverts have are telling, and some of them are a listing's anchors. Which ones is decided by their numbers
alone, which are as good as drawn by lot: so two adverts with most of their telling pairs in common take mostly the
same ones, and neither sees the other (bottom-k sampling: Broder, "On the resemblance and containment of documents",
1997).
"""

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from zlib import crc32

ANCHORS = 24
"""How many pairs a listing is found by."""
RARE = 8
"""A pair in that many adverts or fewer is as telling as a pair can be; each doubling beyond comes later."""
TELLING = 64
"""A pair in more adverts than that tells nothing: it is of the trade's language or of a site's template."""
TELLING_SHARE = 300
"""Nor does, of many adverts, a pair in more than one in so many."""
FEW, FEW_SHARE = 12, 100
"""Nor does, of few adverts, a pair in more than twelve of them and than one in a hundred: a site's template is common
among the first thousand already, while one axle is seldom advertised more than twelve times."""
SLOTS = 1 << 20
"""Adverts are counted for slots of pairs, not for pairs, so that the counts stay small however many adverts."""

_WORD = re.compile(r"[^\W\d_]+|\d+(?:[.,/]\d+)*")
# The first character is one of a set, so that the search need not try every place of the text.
_CALLED = re.compile(
    r"""[$(\d](?: (?<=\$)[ ]?\d[\d,.]{0,12}                                # $1,150
                | (?<=\()\d{3}\)[-. ]{0,2}\d{3}[-. ]\d{4}(?!\d)             # (555) 555-0124
                | (?<=\d)(?:\d\d(?:[-. ]{1,2}\d{3})?[-. ]\d{4}|\d{9})(?!\d)  # 555-555-0124  555-0124  5555550124
             )""",
    re.VERBOSE,
)
"""Telephone numbers and sums of money: what changes while the axle stays the same."""
_MAIL = re.compile(r"[\w.+-]{1,64}@[\w.-]{1,64}")

_WORD_NUMBERS: dict[str, int] = {}
_MOST_WORDS = 1_000_000
_FIRST, _SECOND = 0x9E3779B97F4A7C15, 0x2545F4914F6CDD1D
_BITS = (1 << 62) - 1


def all_words(text: str) -> list[str]:
    """Every word and number of a text, in small letters."""
    return _WORD.findall(text.lower())


def words_of(text: str, price_usd: float | None = None) -> list[str]:
    """The words and numbers of a text in small letters, but for telephone numbers, money and the price."""
    plain = _MAIL.sub(" ", text.lower()) if "@" in text else text.lower()
    found: list[str] = _WORD.findall(_CALLED.sub(" ", plain))
    if price_usd is None:
        return found
    price = {f"{price_usd:.0f}", f"{price_usd:,.0f}"}
    return [word for word in found if word not in price]


def numbers_of(words: Iterable[str]) -> list[int]:
    """A number of 33 bits for each word, the same on every computer; an odd one for what begins with a digit."""
    return [_WORD_NUMBERS.get(word) or _number(word) for word in words]


def pairs_of(numbers: Sequence[int]) -> set[int]:
    """The pairs of neighbouring words, each a number of 62 bits."""
    mixed = [((a * _FIRST + b) & _BITS) * _SECOND for a, b in pairwise(numbers)]
    # Pairs are taken by size, and only the upper bits of a product are well mixed.
    return {m >> 62 & _BITS for m in mixed}


def whole_of(numbers: Iterable[int]) -> tuple[int, int]:
    """Two keys of the whole text whatever the order of its words: who shares them shares every word."""
    key = sum(numbers) * _SECOND >> 8 & (_BITS >> 2)
    return -2 * key - 1, -2 * key - 2


def slots_of(pairs: Iterable[int]) -> list[int]:
    """The slot of each pair, and at the end the one in which every advert is counted."""
    return [*(pair % SLOTS for pair in pairs), SLOTS]


def telling_of(pairs: Iterable[int], counts: Sequence[int]) -> list[int]:
    """The telling ones of the pairs, by the counts of ``slots_of``; those come first that are anchors."""
    adverts = counts[-1]
    most = max(min(TELLING, max(FEW, adverts // FEW_SHARE)), adverts // TELLING_SHARE)
    ranked = sorted(
        ((count // RARE).bit_length(), pair) for pair, count in zip(pairs, counts, strict=False) if count <= most
    )
    return [pair for _, pair in ranked]


def _number(word: str) -> int:
    if len(_WORD_NUMBERS) > _MOST_WORDS:
        _WORD_NUMBERS.clear()
    made = _WORD_NUMBERS[word] = (crc32(word.encode("utf-8", "surrogatepass")) + 1) * 2 + word[0].isdigit()
    return made
