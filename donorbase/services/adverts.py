"""An honest advert of a part that one sells: what was measured, nothing else; it reads back to the same facts."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import attribute
from donorbase.errors import BadInput
from donorbase.facts import Reading, Value
from donorbase.reference.adverts import sentence_of
from donorbase.reference.parts import WHOLE
from donorbase.reference.wording import value_text
from donorbase.services.cards import Card, card_of
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.shelf import Part
from donorbase.shelf.money import usd_of

ENDING = (
    "What stands here I measured or read off it; the rest I do not know: ask, or come and measure. "
    "I do not promise that it is sound."
)
WITHHELD = "(withheld)"
_MOST_CONTACTS = 20
_GONE = ("sold", "scrapped", "removed", "split")
_WHOLE = {WHOLE: "complete {} axle", "housing": "bare {} axle housing", "differential": "differential out of a {} axle"}
_ROUNDED = {"mm": 0.05, "in": 0.0005}
"""A reader keeps lengths to the tenth of a millimetre and the thousandth of an inch."""


@dataclass(frozen=True, slots=True)
class Advert:
    """The text, the facts it states, those measured that no wording of it states, those that read back otherwise."""

    text: str
    stated: Mapping[str, Value]
    unsaid: tuple[str, ...]
    misread: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        stated = {name: list(v) if isinstance(v, tuple) else v for name, v in self.stated.items()}
        return {"text": self.text, "stated": stated, "unsaid": list(self.unsaid), "misread": list(self.misread)}


def advert_of(house: House, desk: Desk, tag: str, price_cents: int | None = None) -> Advert:
    """The advert of a part; BadInput where it is gone or its price is no price.

    It states what was measured of the part and its donor's year and miles; what a listing or the catalogue says of
    it stays out. Telephone numbers and addresses in one's own words are withheld.
    """
    card = card_of(house, desk, tag)
    if card.part.state in _GONE:
        raise BadInput(f"part {card.part.tag} is {card.part.state}", "Only what is on the shelf can be offered.")
    position = _position(house, card.part)
    facts = facts_to_state(card)
    text = advert_text(card.part, position, facts, price_cents, withheld(desk, card.part.condition))
    told = {name: value for name, value in facts.items() if sentence_of(name, value)}
    unsaid = tuple(name for name in facts if name not in told)
    return Advert(text, told, unsaid, misread(desk.read(text), card.part, position, told))


def facts_to_state(card: Card) -> dict[str, Value]:
    """What was measured, one value each, and the donor's year."""
    years: dict[str, Value] = {"years": (card.part.year, card.part.year)} if card.part.year else {}
    return years | {line.attribute: line.measured[0] for line in card.lines if len(line.measured) == 1}


def advert_text(
    part: Part, position: str, facts: Mapping[str, Value], price_cents: int | None, condition: str = ""
) -> str:
    """The words of an advert; a fact without a wording is left out."""
    price = f"${usd_of(price_cents)}" if price_cents is not None else "make an offer"
    stated = [sentence_of(name, value) for name, value in facts.items() if name != "position"]
    miles = f"{part.miles:,} miles." if part.miles is not None else ""
    told = f"Condition: {condition.rstrip('.')}." if condition else ""
    lines = [f"For sale: {_title(part, position)}, {price}.", *stated, miles, told, ENDING]
    return "\n".join(filter(None, lines)) + "\n"


def _title(part: Part, position: str) -> str:
    if part.kind in _WHOLE:
        return " ".join(_WHOLE[part.kind].format(position).split())
    side = f", {part.side} side" if part.side else ""
    return f"{position} {part.kind.replace('-', ' ')}{side}".strip()


def _position(house: House, part: Part) -> str:
    family = house.catalogue().families.get(part.family or "")
    return family.position if family else part.about.ends.replace("both", "")


def withheld(desk: Desk, words: str) -> str:
    """Words without the telephone numbers and addresses of people in them."""
    for _ in range(_MOST_CONTACTS):
        found = next((fact for fact in desk.read(words).offer if fact.attribute == "contact" and fact.spans), None)
        if found is None:
            return words
        begin, end = found.spans[0]
        words = words[:begin] + WITHHELD + words[end:]
    return WITHHELD


def misread(reading: Reading, part: Part, position: str, told: Mapping[str, Value]) -> tuple[str, ...]:
    """What is stated and reads back otherwise, or not at all, in words."""
    if len(reading.items) != 1:
        return (f"it reads as {len(reading.items)} things",)
    item = reading.items[0]
    wanted: dict[str, Value] = {**_kind_of(part), **told}
    if position and part.kind != "differential":
        wanted["position"] = position
    return tuple(
        f"{name} {value_text(name, value)} is not read back"
        for name, value in wanted.items()
        if not _same(name, value, item.get(name))
    )


def _kind_of(part: Part) -> dict[str, Value]:
    if part.kind in (WHOLE, "housing"):
        return {"kind": part.kind}
    return {"kind": "wheels-tires"} if part.kind == "wheel" else {"kind": "part", "part": part.kind}


def _same(name: str, told: Value, read: Value | None) -> bool:
    if isinstance(told, float) and isinstance(read, int | float):
        return abs(told - read) <= _ROUNDED.get(attribute(name).unit, 0.005) + 1e-9
    return told == read
