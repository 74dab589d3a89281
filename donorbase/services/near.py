"""Names that come near a mistyped one. The only file of the services that knows rapidfuzz."""

from collections.abc import Iterable


def near_keys(typed: str, names: Iterable[str], limit: int = 3) -> list[str]:
    """The names most like what was typed, best first; empty where none is like it.

    A name that begins with what was typed, or holds it, counts as near: keys are long and people type a part.
    """
    from rapidfuzz import fuzz, process

    plain = typed.strip().casefold()
    choices = {name: name.casefold() for name in names}
    holding = sorted((n for n, folded in choices.items() if plain and plain in folded), key=len)
    alike = process.extract(plain, choices, scorer=fuzz.ratio, score_cutoff=55, limit=limit)
    found = dict.fromkeys([*holding[:limit], *(name for _, _, name in alike)])
    return list(found)[:limit]


def near_words(typed: str, words: Iterable[str], limit: int = 6) -> tuple[str, ...]:
    """The words that can be the typed one misspelt, best first.

    Of five letters one may be wrong; where the typed one is itself among the words, of ten.

    >>> near_words("kingpin", ["kingpn", "king", "keeping"])
    ('kingpn',)
    """
    from rapidfuzz import fuzz, process

    known = list(words)
    alike = 90 if typed in known else 80
    found = process.extract(typed, known, scorer=fuzz.ratio, score_cutoff=alike, limit=limit)
    return tuple(word for word, _, _ in found)
