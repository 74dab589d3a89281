"""Marks in the words of an offer that no fact of an axle carries: fraud, hazards, terms of a yard, a set not
parted.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache

from donorbase.facts import Fact, Reading
from donorbase.reference.judging import Hazard, Judging

_NEGATED = re.compile(
    r"\bno\b[\w\s'/-]{0,24}$"  # "no rust, flooded" denies the rust alone
    r"|\b(?:not|never|isn'?t|wasn'?t|without|hasn'?t been|ain'?t|nothing"
    r"|nunca|sin|jam[aá]s|jamais|pas|sans)\b[\w\s,'/-]{0,24}$"
)
_DENIED_BEHIND = re.compile(r"\s*:?\s(?:nothing|none)\b")
"""``narrowed nothing``, ``damage: none``."""
_SENTENCE = re.compile(r"[.!?;\n]")


@cache
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(words, key=len, reverse=True)
    return re.compile(r"(?<!\w)(?:" + "|".join(map(re.escape, longest_first)) + r")(?!\w)")


def says(text: str, words: Iterable[str]) -> bool:
    """Whether one of the words stands in the text, not behind a negation of the same sentence."""
    return any(True for _ in _found(text, tuple(words)))


def mentions(text: str, words: Iterable[str]) -> bool:
    """Whether one of the words stands in the text, negated or not."""
    wanted = tuple(words)
    return bool(wanted) and bool(_pattern(wanted).search(plain_text(text)))


def plainly_says(text: str, sign: str, rules: Judging) -> bool:
    """Whether the words of a sign stand in a sentence without a word of doubt; an empty sign is never said."""
    if not sign:
        return False
    plain, unsure = plain_text(text), _pattern(rules.signs["unsure"])
    return any(not unsure.search(sentence_at(plain, m.start())) for m in _found(text, rules.signs[sign]))


def _found(text: str, words: tuple[str, ...]) -> Iterator[re.Match[str]]:
    plain = plain_text(text)
    for match in _pattern(words).finditer(plain) if words else ():
        if not behind_negation(plain, match.start()) and not _DENIED_BEHIND.match(plain, match.end()):
            yield match


def plain_text(text: str) -> str:
    """The text as the words of the data are written."""
    return text.lower().replace("’", "'")


def _denied(fact: Fact, text: str) -> bool:
    """Whether the words of a fact stand behind a negation of the same sentence."""
    return any(behind_negation(plain_text(text), begin) for begin, _ in fact.spans)


def behind_negation(plain: str, at: int) -> bool:
    """Whether a negation of the same sentence stands before."""
    before = _SENTENCE.split(plain[max(0, at - 60) : at])[-1]
    return bool(_NEGATED.search(before))


def marks(reading: Reading, end: str, rules: Judging) -> list[tuple[str, Hazard]]:
    """The marks of an offer that matter to one end, in the order of the data."""
    told: dict[str, list[Fact]] = {}
    for fact in reading.hazards:
        if not _denied(fact, reading.text):
            told.setdefault(fact.attribute, []).append(fact)
    return [
        (name, _quoting(hazard, told.get(name, ()), reading.text))
        for name, hazard in rules.hazards.items()
        if hazard.end in {"", end} and (name in told or _gives_away(reading.text, hazard))
        and not mentions(reading.text, hazard.unless) and not plainly_says(reading.text, hazard.cleared_by, rules)
    ]  # fmt: skip


def _gives_away(text: str, hazard: Hazard) -> bool:
    if says(text, hazard.words):
        return True
    plain = plain_text(text)
    close = _close_pattern(hazard.lead, hazard.then).finditer(plain) if hazard.lead else ()
    return any(not behind_negation(plain, match.start()) for match in close)


@cache
def _close_pattern(lead: tuple[str, ...], then: tuple[str, ...]) -> re.Pattern[str]:
    """One of ``lead``, up to two words between, and one of ``then``."""
    first, second = ("|".join(map(re.escape, sorted(some, key=len, reverse=True))) for some in (lead, then))
    return re.compile(rf"(?<!\w)(?:{first})(?:[ -][\w']+){{0,2}}[ -](?:{second})(?!\w)")


def _quoting(hazard: Hazard, facts: Sequence[Fact], text: str) -> Hazard:
    """The mark with the words of the text where it quotes them."""
    if "{words}" not in hazard.says:
        return hazard
    found = dict.fromkeys(sentence_at(text, *span).strip() for fact in facts for span in fact.spans)
    words = " and ".join(f'"{" ".join(one.split())}"' for one in found)
    return replace(hazard, says=hazard.says.format(words=words), ask=hazard.ask.format(words=words))


def owned_up(fact: Fact, reading: Reading, rules: Judging) -> bool:
    """Whether the seller says, in the sentence of the fact, that he changed it; or speaks of proof."""
    if says(reading.text, rules.signs["proof"]) and mentions(reading.text, rules.signs["changed"]):
        return True
    return any(mentions(sentence, rules.signs["changed"]) for sentence in _sentences(fact, reading.text))


def _sentences(fact: Fact, text: str) -> Iterator[str]:
    return (sentence_at(text, begin, end) for begin, end in fact.spans)


_STOP = re.compile(r"[.!?;\n](?!\d)")
"""A full stop between digits is no end of a sentence: 4.10, 8x6.5."""


def sentence_at(text: str, begin: int, end: int | None = None) -> str:
    """The sentence, or the sentences, round a stretch of the text."""
    last = begin if end is None else end
    starts = [m.end() for m in _STOP.finditer(text[:begin])]
    stop = _STOP.search(text[last:])
    return text[starts[-1] if starts else 0 : last + stop.start() if stop else len(text)]


_RAN = re.compile(
    r"\b(?:ran|run|runs|running|clears?|cleared|fits?|came with|had|on)\b[^.;\n]{0,20}?"
    r"\b(1[3-9]|2[0-4])(?:\.5)?"
    r"(?:s\b|\s?(?:in|inch|inches|\")?\.?\s?(?:\w+\s)?(?:wheels?|rims?)\b)"
)


def wheels_run(text: str) -> float | None:
    """The diameter in inches of wheels that the text says it ran or clears, None where it is silent."""
    match = _RAN.search(plain_text(text))
    return float(match[1]) if match else None
