"""A reading as the user put it right: his corrections stand in for what was read."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from donorbase.attributes import attribute
from donorbase.facts import Fact, Item, Known, Reading
from donorbase.reference.words import parse_meaning

_OPPOSITE = {"has": "missing", "missing": "has"}


def plain_text(text: str) -> str:
    """The text of a listing as it is kept: line ends of one kind, no blank ends."""
    return text.replace("\r\n", "\n").replace("\r", "\n").strip()


def corrected(reading: Reading, rows: Sequence[Mapping[str, Any]], price_usd: float | None = None) -> Reading:
    """The reading with corrections (``text``, ``item`` from 1, ``meaning``, ``known``) and with the price asked now.

    A correction replaces what was read of its attribute; one of parts or defects is added to them. Of two of one
    attribute the later counts. One of another text of the same listing counts where both are of one thing alone,
    since each text counts its things anew. A listing in which nothing was found has one item. A correction of an
    item that is no longer read is left out.
    """
    items = list(reading.items) or ([Item(())] if rows else [])
    own = [row for row in rows if row["text"] == reading.text or (row["item"] == len(items) == 1)]
    for row in own:
        if row["item"] <= len(items):
            items[row["item"] - 1] = _put_right(items[row["item"] - 1], row)
    offer = reading.offer
    if price_usd is not None and reading.get("price_usd") != price_usd:
        offer = (*(f for f in offer if f.attribute != "price_usd"), Fact("price_usd", price_usd))
    return replace(reading, items=tuple(items), offer=offer)


def _put_right(item: Item, row: Mapping[str, Any]) -> Item:
    meaning = parse_meaning(row["meaning"])[0]
    fact = Fact(meaning.name, meaning.value, Known(row["known"]))
    known = attribute(meaning.name)
    listed = known.many and known.scope == "item"
    against = {(_OPPOSITE.get(fact.attribute), fact.value), (fact.attribute, fact.value)}
    kept = tuple(
        f for f in item.facts if ((f.attribute, f.value) not in against if listed else f.attribute != fact.attribute)
    )
    return Item((*kept, fact))
