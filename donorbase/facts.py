"""Facts, the common language of the rooms: what a text or a person says of one thing, and how it is known.

``reading`` makes facts from words, a person in the yard makes them by measuring; ``identity`` and ``verdict``
take them from either and need not know which.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from donorbase.attributes import attribute, attributes, of_scope

Years = tuple[int | None, int | None]
Value = int | float | str | bool | tuple[Any, Any]
"""A number in the unit of the attribute's name, a word of its list, a flag, or a (first, last) pair."""

Span = tuple[int, int]
"""Begin and end of the words in the listing as pasted."""


class Known(StrEnum):
    """How a fact is known, from least to most to be trusted within the same words."""

    CONTRADICTED = "contradicted"
    INFERRED = "inferred"
    HEDGED = "hedged"
    STATED = "stated"
    MEASURED = "measured"


@dataclass(frozen=True, slots=True)
class Fact:
    """One attribute with a value, how it is known, and the words (``spans``) that gave it.

    A list-valued attribute (``many``) gives one fact for each element.
    """

    attribute: str
    value: Value
    known: Known = Known.STATED
    spans: tuple[Span, ...] = ()
    sd: float | None = None
    """Standard deviation of a measurement in the attribute's unit, where it is not the tool's usual one."""

    def words(self, text: str) -> str:
        """The words of the listing that gave it, in one line; empty where none did."""
        return " … ".join(" ".join(text[begin:end].split()) for begin, end in self.spans)

    def wordless(self) -> "Fact":
        """The same fact, whatever words gave it."""
        return Fact(self.attribute, self.value, self.known, (), self.sd) if self.spans else self


@dataclass(frozen=True, slots=True)
class Item:
    """One thing on offer: all facts of it, ``kind`` among them."""

    facts: tuple[Fact, ...]

    def all(self, name: str) -> tuple[Value, ...]:
        """Every value stated for an attribute; empty where the text is silent."""
        return tuple(f.value for f in self.facts if f.attribute == name)

    def get(self, name: str) -> Value | None:
        """The value of an attribute, None where the text is silent or contradicts itself."""
        clear = [f.value for f in self.facts if f.attribute == name and f.known is not Known.CONTRADICTED]
        return clear[0] if clear else None

    def without(self, *names: str) -> "Item":
        """The same item as if those attributes had not been spoken of."""
        return replace(self, facts=tuple(f for f in self.facts if f.attribute not in names))


UNREAD = "unread-trouble"
"""The sign that a word stands in the text which may tell of a fault, and which the reader did not understand."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a listing says: facts of the offer, and its items in the order of the text."""

    text: str
    offer: tuple[Fact, ...]
    items: tuple[Item, ...]
    hazards: tuple[Fact, ...] = ()
    """Signs that call for care (flood, cut by an unknown hand, a deposit, ``UNREAD``); ``attribute`` names the sign."""

    def get(self, name: str) -> Value | None:
        """The value of an offer attribute (``price_usd``, ``offer`` ...), None where the text is silent."""
        return next((f.value for f in self.offer if f.attribute == name), None)

    def as_json(self, *, evidence: bool = True) -> dict[str, Any]:
        """The reading as plain data: keys absent where nothing is said, ``evidence`` beside the facts."""
        found = _plain(self.offer, "offer")
        found["items"] = [_plain(item.facts, "item", "axle") for item in self.items]
        if evidence:
            found["evidence"] = {
                "offer": [_evidence(f, self.text) for f in self.offer],
                "items": [[_evidence(f, self.text) for f in item.facts] for item in self.items],
            }
            if self.hazards:
                found["evidence"]["hazards"] = [_evidence(f, self.text) for f in self.hazards]
        return found


def _plain(facts: Iterable[Fact], *scopes: str) -> dict[str, Any]:
    given: dict[str, list[Value]] = {}
    for fact in facts:
        given.setdefault(fact.attribute, []).append(fact.value)
    names = [a.name for scope in scopes for a in of_scope(scope) if a.name in given]
    return {name: _json_value(name, given[name]) for name in names}


def _json_value(name: str, values: list[Value]) -> Any:
    if attribute(name).many and attribute(name).scope != "axle":
        return list(values)
    # Of a contradiction the first value stands in the plain form; all of them stand in the evidence.
    first = values[0]
    return list(first) if isinstance(first, tuple) else first


def _evidence(fact: Fact, text: str) -> dict[str, Any]:
    value = list(fact.value) if isinstance(fact.value, tuple) else fact.value
    words = [text[begin:end] for begin, end in fact.spans]
    return {
        "attribute": fact.attribute, "value": value, "known": str(fact.known),
        "spans": [list(span) for span in fact.spans], "words": words,
    }  # fmt: skip


def axle_facts(item: Item) -> Iterator[Fact]:
    """The facts of an item that speak of the axle itself, the ones that identify it."""
    return (f for f in item.facts if f.attribute in attributes() and attribute(f.attribute).scope == "axle")
