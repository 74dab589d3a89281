"""Trouble of pieces that the buyer renews anyway: ``one caliper drags`` says nothing to who rebuilds the brakes."""

import re
from collections.abc import Collection
from dataclasses import replace

from donorbase.facts import UNREAD, Reading
from donorbase.reference.judging import Judging
from donorbase.reference.word_sets import word_set
from donorbase.verdict.signs import sentence_at

_CLAUSE_END = re.compile(r"[,;:()]|\band\b|\bbut\b|&")
_WORDS = re.compile(r"[\w']+")


def without_renewed(reading: Reading, planned: Collection[str], rules: Judging) -> Reading:
    """The reading without the signs of words not understood, where they speak of pieces alone that planned work renews.

    A clause that names a housing, a tube or a spindle beside the bearing is not of the bearing alone.
    """
    renewed = {word for work in planned for word in rules.renewed.get(work, ())}
    if not renewed or not any(fact.attribute == UNREAD for fact in reading.hazards):
        return reading
    left = tuple(
        fact
        for fact in reading.hazards
        if fact.attribute != UNREAD or not all(_of_these(reading.text, span, renewed) for span in fact.spans)
    )
    return replace(reading, hazards=left)


def _of_these(text: str, span: tuple[int, int], renewed: Collection[str]) -> bool:
    clause = _clause(text, span).casefold()
    pattern = r"\b(?:" + "|".join(map(re.escape, sorted(renewed, key=len, reverse=True))) + r")\b"
    rest, count = re.subn(pattern, " ", clause)
    return count > 0 and word_set("axle-pieces").isdisjoint(_WORDS.findall(rest))


def _clause(text: str, span: tuple[int, int]) -> str:
    """The part of the sentence between the signs and words that part statements."""
    sentence = sentence_at(text, *span)
    begin = text.index(sentence, max(0, span[0] - len(sentence)))
    ends = [m.span() for m in _CLAUSE_END.finditer(sentence)]
    first = max((end for _, end in ends if begin + end <= span[0]), default=0)
    return sentence[first : min((at for at, _ in ends if begin + at >= span[1]), default=len(sentence))]
