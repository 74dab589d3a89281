"""What a person types to find a kept listing -> conditions, things denied, and words that are neither.

The reader that reads listings reads the query, so that every wording it knows of a fact asks for that fact. What
only a query says (``under 900``, ``within 100 miles``, ``no rust``) is taken out first.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import NUMBERS, Kind, attribute, attributes
from donorbase.errors import BadInput
from donorbase.facts import Fact, Known, Span
from donorbase.reference.conditions import Condition, parse_condition
from donorbase.reference.wording import values_text
from donorbase.services.desk import Desk

EXAMPLE = 'Write what you look for: donorbase search "kingpin front 35 spline under 900".'
_LONGEST = 500
"""Letters of a query; listings are longer, questions are not."""

_NUMBER = r"\$?\s*(?P<number>\d[\d,]*(?:\.\d+)?)\s*(?P<k>k\b)?"
_UNIT = r"\s*(?P<unit>miles?\b|mi\b|\$|usd\b|dollars?\b|bucks\b)?(?P<away>\s*(?:away|from me|of me|from here))?"
_NO_UNIT = r"(?!\s*[-.]?\s*(?:spline|lug|bolt|in\b|inch|mm\b|\"|ratio|ton|piston|tooth|teeth|x\s*\d|\d))"
_MOST = (
    r"(?:no more than|not more than|less than|lower than|cheaper than|fewer than|not over|up to|at most|under|below"
    r"|within|max(?:imum)?(?: of)?|<=?)"
)
_LEAST = r"(?:no less than|not less than|more than|higher than|at least|not under|over|above|min(?:imum)?(?: of)?|>=?)"
_MOST_AFTER = r"\s*(?:or (?:less|under|below|cheaper|fewer)|max(?:imum)?\b|tops\b|at most)"
_LEAST_AFTER = r"\s*(?:or (?:more|over|above)|min(?:imum)?\b|at least)"
_SPANS = (
    ("between", re.compile(rf"\bbetween {_NUMBER} and \$?(?P<second>\d[\d,]*)(?P<k2>k\b)?{_NO_UNIT}{_UNIT}", re.I)),
    ("most", re.compile(rf"(?<!\w)(?P<word>{_MOST})\s*{_NUMBER}{_NO_UNIT}{_UNIT}", re.I)),
    ("least", re.compile(rf"(?<!\w)(?P<word>{_LEAST})\s*{_NUMBER}{_NO_UNIT}{_UNIT}", re.I)),
    ("most", re.compile(rf"(?<![\w.]){_NUMBER}{_NO_UNIT}{_UNIT}{_MOST_AFTER}", re.I)),
    ("least", re.compile(rf"(?<![\w.]){_NUMBER}{_NO_UNIT}{_UNIT}{_LEAST_AFTER}", re.I)),
)
_FAR_MI = 1000
"""Miles without `away` are a drive up to here, those of an odometer from here on: common practice."""

_DENIED = re.compile(r"(?<!\w)(?:no|not|non|without|w/o|never|except|minus)[\s-]+(?:a |an |any |the )?", re.I)
_PARTED = re.compile(r"[,;.](?!\d)|\b(?:and|with|but|for)\b", re.I)
_WORD = re.compile(r"[^\W_]+(?:\.\d+)?")
_PREFIX = "axle with "
_UNWORDED = frozenset(
    re.findall(
        r"\w+",
        """a an the and or with for of in on at to from off out i me my we want need needs looking look find show is it
        its that this has have but any some please no not non without under over within miles mile mi than""",
    )
)
_EITHER = {
    ("differential", "locker"): ("locker", "selectable-locker", "automatic-locker"),
    ("hubs", "locking"): ("locking", "manual-locking", "automatic-locking"),
}
"""A word that names several kinds is met by each of them."""
_AT_MOST = ("price_usd", "mileage_mi", "distance_mi")
"""Of these a bare number is the most that will do."""


@dataclass(frozen=True, slots=True)
class Filter:
    """A condition that a listing must not contradict; ``denied``: it must not be so."""

    condition: Condition
    denied: bool = False

    @property
    def told(self) -> str:
        """The filter in words, as it was understood."""
        known = attributes()[self.condition.attribute]
        return f"{known.title}: {'not ' if self.denied else ''}{self.condition.text}"

    def as_json(self) -> dict[str, Any]:
        """Attribute, condition in words, whether it is denied."""
        return {"attribute": self.condition.attribute, "condition": self.condition.text, "denied": self.denied}


@dataclass(frozen=True, slots=True)
class Query:
    """A query as understood: filters in the order of the attributes, words wanted and words not wanted."""

    filters: tuple[Filter, ...]
    words: tuple[str, ...] = ()
    denied_words: tuple[str, ...] = ()


def understand(text: str, desk: Desk) -> Query:
    """What a query asks for; BadInput where it is empty, too long, or holds nothing to look for."""
    plain = " ".join(text.split())
    if not plain:
        raise BadInput("there is nothing to search for", EXAMPLE)
    if len(plain) > _LONGEST:
        raise BadInput(f"a query has at most {_LONGEST} letters, this one {len(plain):,}", EXAMPLE)
    filters, rest = _spans(plain)
    denied, refused, rest = _denials(rest, desk)
    facts, used = _read(rest, desk)
    filters += [Filter(c) for c in _conditions(facts, {f.condition.attribute for f in filters})]
    words = _words(rest, used)
    found = Query(_sorted([*filters, *denied]), words, tuple(w for w in refused if w not in words))
    if not found.filters and not found.words:
        raise BadInput(f"{text.strip()!r} holds nothing to look for", EXAMPLE)
    return found


def _sorted(filters: Sequence[Filter]) -> tuple[Filter, ...]:
    order = {name: place for place, name in enumerate(attributes())}
    once = {(f.condition.attribute, f.condition.text, f.denied): f for f in filters}
    return tuple(sorted(once.values(), key=lambda f: (order[f.condition.attribute], f.denied, f.condition.text)))


def _spans(text: str) -> tuple[list[Filter], str]:
    """Prices, miles and distances with their bounds; the text without them."""
    filters: list[Filter] = []
    for side, pattern in _SPANS:
        while match := pattern.search(text):
            found = _span(side, match)
            filters += [found] if found else []
            text = f"{text[: match.start()]} , {text[match.end() :]}"
    return filters, text


def _span(side: str, match: re.Match[str]) -> Filter | None:
    parts = match.groupdict()
    numbers = [_number(parts["number"], parts["k"])]
    if side == "between":
        numbers = sorted([*numbers, _number(parts["second"], parts["k2"])])
    name = _measured(match[0], parts, numbers[-1])
    try:
        condition = parse_condition(name, _bounds(side, numbers))
    except BadInput:
        # No believable price or distance; a catalogue of limits is of no use in a search.
        return None
    return Filter(_retold(condition))


def _number(digits: str, thousands: str | None) -> float:
    return float(digits.replace(",", "")) * (1000 if thousands else 1)


def _bounds(side: str, numbers: Sequence[float]) -> str:
    low, high = f"{numbers[0]:.10g}", f"{numbers[-1]:.10g}"
    return {"most": f"<={high}", "least": f"{low}+", "between": f"{low}-{high}"}[side]


def _measured(said: str, parts: dict[str, str | None], number: float) -> str:
    unit = (parts["unit"] or "").casefold()
    if unit.startswith("mi"):
        far = parts["away"] is None and number >= _FAR_MI and parts.get("word") != "within"
        return "mileage_mi" if far else "distance_mi"
    dear = "$" in said or unit
    return "distance_mi" if not dear and (parts.get("word") or "").casefold() == "within" else "price_usd"


def _denials(text: str, desk: Desk) -> tuple[list[Filter], list[str], str]:
    """What is denied: facts, where the phrase is one, else words; the text without them."""
    filters: list[Filter] = []
    words: list[str] = []
    while match := _DENIED.search(text):
        tail = _PARTED.split(text[match.end() :], maxsplit=1)[0]
        phrase, found = _phrase(tail, desk)
        opposite, used = _read(match[0] + phrase, desk)
        told = [f for f in opposite if f.attribute in {one.attribute for one in found}]
        if told and used:
            filters += [Filter(c) for c in _conditions(told, set())]
        elif found:
            filters += [Filter(c, denied=True) for c in _conditions(found, set())]
        else:
            words += _words(phrase, [])
        text = f"{text[: match.start()]} , {text[match.end() + len(phrase) :]}"
    return filters, words, text


def _phrase(tail: str, desk: Desk) -> tuple[str, list[Fact]]:
    """The denied words, of up to three the fewest that make a fact, else the first; and the facts."""
    ends = [match.end() for match in re.finditer(r"\S+", tail)][:3]
    for end in ends:
        facts = _read(tail[:end], desk)[0]
        facts = [f for f in facts if not (f.attribute == "kind" and len(facts) > 1)]
        if facts:
            return tail[:end], facts
    return tail[: ends[0]] if ends else "", []


def _read(text: str, desk: Desk) -> tuple[list[Fact], list[Span]]:
    """The facts that words of the text give, read alone or as said of an axle, whichever tells more; their spans."""
    if not text.strip(" ,"):
        return [], []
    alone, shift = _facts(text, desk, 0), 0
    facts = alone
    kinds = {f.value for f in alone if f.attribute == "kind"}
    of_its_own = any(f.attribute == "part" and not _shared(f, alone) for f in alone)
    if not of_its_own and not kinds & {"axle", "housing", "vehicle", "wheels-tires"}:
        told = _facts(_PREFIX + text, desk, len(_PREFIX))
        if len(told) >= len([f for f in alone if f.attribute not in ("kind", "part")]):
            facts, shift = told, len(_PREFIX)
    used = [(begin - shift, end - shift) for f in facts for begin, end in f.spans]
    used += _units(
        text, [end - shift for f in facts if attribute(f.attribute).kind in NUMBERS for _, end in f.spans], desk
    )
    return [f for f in facts if f.attribute != "kind" or not _shared(f, facts)], used


def _units(text: str, ends: Sequence[int], desk: Desk) -> list[Span]:
    """Words right after a number that gave a fact, which only say what it counts: `4.10 gears`."""
    after = (_WORD.match(text, end + 1) for end in ends)
    return [match.span() for match in after if match and _only_counts(match[0].casefold(), desk)]


def _only_counts(said: str, desk: Desk) -> bool:
    meanings = (meaning for word in desk.words if word.phrase == said for meaning in word.meanings)
    return any(meaning.name in ("label", "unit") for meaning in meanings)


def _facts(text: str, desk: Desk, begin: int) -> list[Fact]:
    reading = desk.read(text)
    every = (*reading.offer, *(fact for item in reading.items for fact in item.facts))
    said = [f for f in every if f.known is not Known.CONTRADICTED and f.attribute in attributes()]
    # A whole truck is told by the way it is offered, not by a word of its own.
    return [
        f for f in said if (f.spans and min(first for first, _ in f.spans) >= begin) or f.value == "vehicle"
    ]  # fmt: skip


def _shared(fact: Fact, facts: Sequence[Fact]) -> bool:
    """Whether the words of a kind or part are those of another fact, which then is what they ask for."""
    others = {span for f in facts if f.attribute not in ("kind", "part") for span in f.spans}
    return bool(set(fact.spans) & others)


def _conditions(facts: Sequence[Fact], bounded: set[str]) -> Iterator[Condition]:
    """A condition for each attribute, or, where all of a list must be there, for each value."""
    grouped: dict[str, dict[Any, None]] = {}
    for fact in facts:
        if fact.attribute not in bounded and fact.attribute not in ("contact", "quantity"):
            grouped.setdefault(fact.attribute, {})[fact.value] = None
    for name, values in grouped.items():
        each = [[v] for v in values] if name in ("has", "missing", "defects", "price_terms") else [list(values)]
        for group in each:
            yield _condition(name, group)


def _condition(name: str, values: Sequence[Any]) -> Condition:
    known = attribute(name)
    if known.kind in (Kind.CHOICE, Kind.TEXT, Kind.KEY):
        words = tuple(w for v in values for w in _EITHER.get((name, v), (str(v),)))
        return Condition(name, values_text(name, values), words=words)
    if known.kind in (Kind.YEARS, Kind.RANGE):
        spans = tuple(v if isinstance(v, tuple) else (v, v) for v in values)
        return Condition(name, values_text(name, values), spans=spans)
    if known.kind is Kind.FLAG:
        return Condition(name, values_text(name, values), spans=tuple((float(v), float(v)) for v in values))
    if name in _AT_MOST:
        return _retold(Condition(name, "", spans=((None, float(max(values))),)))
    one = parse_condition(name, ",".join(f"{v:.10g}" for v in values))
    return Condition(name, values_text(name, values), one.spans)


def _retold(condition: Condition) -> Condition:
    """The bounds of a number in words."""
    (low, high), name = condition.spans[0], condition.attribute
    if low is None:
        text = f"{values_text(name, [high or 0.0])} or less"
    elif high is None:
        text = f"{values_text(name, [low])} or more"
    else:
        text = f"{low:,.0f} to {values_text(name, [high])}"
    return Condition(name, text, condition.spans)


def _words(text: str, used: Sequence[Span]) -> tuple[str, ...]:
    """The words that gave no fact, small letters, each once; bare single letters and filling words left out."""
    free = [
        match[0].casefold()
        for match in _WORD.finditer(text)
        if not any(begin < match.end() and match.start() < end for begin, end in used)
    ]
    return tuple(dict.fromkeys(w for w in free if w not in _UNWORDED and len(w) > 1))[:20]
