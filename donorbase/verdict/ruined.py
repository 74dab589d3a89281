"""Parts that are there and good for nothing: ``one shaft is twisted``, ``broken lockout``."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from donorbase.facts import UNREAD, Fact, Reading
from donorbase.reference.judging import Judging, Ruined
from donorbase.verdict.signs import behind_negation, plain_text, sentence_at

_MOST_BETWEEN = 4
_OTHERS = r"(?<!drive )(?<!drive-)(?<!drive)(?<!prop )(?<!cam)"
"""Shafts that are none of the axle's."""


def ruined_parts(reading: Reading, end: str, rules: Judging) -> tuple[str, ...]:
    """The parts of that end that the text calls ruined; of an offer of several axles only what names its end."""
    text = plain_text(reading.text)
    if not any(word in text for word in rules.ruined.words):
        return ()
    front = rules.ruined.of_front
    found = (
        part
        for part, at in _named(text, rules.ruined)
        if (end == "front" if part in front else _of_this_end(text, at, end, reading))
    )
    return tuple(dict.fromkeys(found))


def understood(reading: Reading, rules: Judging) -> Reading:
    """The reading without the signs of words that the reader did not understand and that speak of ruined parts."""
    if not any(fact.attribute == UNREAD for fact in reading.hazards):
        return reading
    told = [match.span() for match in _matches(plain_text(reading.text), rules.ruined)]

    def explained(fact: Fact) -> bool:
        return any(b <= begin and end <= e for begin, end in fact.spans for b, e in told)

    left = tuple(f for f in reading.hazards if f.attribute != UNREAD or not explained(f))
    return replace(reading, hazards=left)


def _matches(text: str, ruined: Ruined) -> Iterator[re.Match[str]]:
    return _pattern(ruined.words, ruined.between, tuple(ruined.parts.items())).finditer(text)


def _named(text: str, ruined: Ruined) -> Iterator[tuple[str, int]]:
    for match in _matches(text, ruined):
        said = (match["before"] or match["after"]).replace("-", " ")
        if not behind_negation(text, match.start()):
            yield (
                next(part for part, words in ruined.parts.items() if said in {w.replace("-", " ") for w in words}),
                match.start(),
            )


@cache
def _pattern(
    words: tuple[str, ...], between: tuple[str, ...], parts: tuple[tuple[str, tuple[str, ...]], ...]
) -> re.Pattern[str]:
    longest_first = sorted((word for _, names in parts for word in names), key=len, reverse=True)
    part, ruin, small = (
        "|".join(map(re.escape, some)) for some in (longest_first, words, sorted(between, key=len, reverse=True))
    )
    joined = rf"(?:\W(?:{small})){{0,{_MOST_BETWEEN}}}[ -]"
    named = rf"(?P<{{}}>{part})"
    before, after = named.format("before"), named.format("after")
    return re.compile(rf"(?<!\w){_OTHERS}(?:{before}{joined}(?:{ruin})|(?:{ruin}){joined}{after})(?!\w)")


def _of_this_end(text: str, at: int, end: str, reading: Reading) -> bool:
    """Whether the words are of this end: of the only axle on offer, or in a sentence that names this end alone."""
    axles = [item for item in reading.items if str(item.get("kind") or "axle") in ("axle", "housing")]
    if len(axles) < 2 and not any(item.get("kind") == "vehicle" for item in reading.items):
        return True
    sentence = sentence_at(text, at)
    other = "rear" if end == "front" else "front"
    return bool(re.search(rf"\b{end}\b", sentence)) and not re.search(rf"\b{other}\b", sentence)
