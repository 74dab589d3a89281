"""The card of an axle on the stands: what was said of it beside what was measured; the measured replaces the said."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import attributes, of_scope
from donorbase.errors import BadInput
from donorbase.facts import Fact, Item, Known, Value, axle_facts
from donorbase.identity.observations import observe
from donorbase.reference.parts import WHOLE
from donorbase.reference.wording import values_text
from donorbase.services.candidates import history
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.ledger import differences, set_claims
from donorbase.services.remembering import remember
from donorbase.services.shelf import Part, PartHistory, part_history, parts, steps_of
from donorbase.shelf.remembered import remembered, under

LISTING, PIECES, KIND = "its listing", "its pieces", "its kind"
"""Who speaks of an axle that nobody measured: the nearest first."""


@dataclass(frozen=True, slots=True)
class CardLine:
    """One attribute: what was said and by whom, what was measured, and which of them stands.

    ``state`` is ``said``, ``measured``, ``agrees`` or ``differs``.
    """

    attribute: str
    said: tuple[Value, ...]
    by: str
    measured: tuple[Value, ...]

    @property
    def state(self) -> str:
        """How the two stand to each other."""
        if not self.measured or not self.said:
            return "measured" if self.measured else "said"
        said = [Fact(self.attribute, value) for value in self.said]
        saw = [Fact(self.attribute, value, Known.MEASURED) for value in self.measured]
        return "agrees" if any(one.agrees for one in differences(said, saw)) else "differs"

    @property
    def stands(self) -> str:
        """What counts: the measured where there is one."""
        return values_text(self.attribute, self.measured or self.said)

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told = {"attribute": self.attribute, "state": self.state, "stands": self.stands, "said_by": self.by or None}
        said, saw = (values_text(self.attribute, values) or None for values in (self.said, self.measured))
        return told | {"said": said, "measured": saw}


@dataclass(frozen=True, slots=True)
class Card:
    """A part with its lines, what is kept of its set-up, its papers and the terms of its return."""

    history: PartHistory
    lines: tuple[CardLine, ...]

    @property
    def part(self) -> Part:
        """The part itself."""
        return self.history.part

    @property
    def differing(self) -> tuple[CardLine, ...]:
        """What was said and turned out otherwise."""
        return tuple(line for line in self.lines if line.state == "differs")

    def about(self, subject: str) -> dict[str, Any]:
        """What is remembered under a subject."""
        return remembered(steps_of(self.history.events), subject)

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        more = {subject: self.about(subject) for subject in ("setup", "paper", "return")}
        return self.history.as_json() | {"lines": [line.as_json() for line in self.lines]} | more


def card_of(house: House, desk: Desk, tag: str) -> Card:
    """The card of a part; NotFound where there is none of that tag."""
    found = part_history(house, tag)
    said, by = said_of(house, desk, found.part)
    measured = _by_name(observe(remembered(steps_of(found.events), "fact")).facts)
    names = [a.name for a in of_scope("axle") if a.name in measured or a.name in said]
    return Card(found, tuple(CardLine(n, said.get(n, ()), by.get(n, ""), measured.get(n, ())) for n in names))


def measure_facts(house: House, desk: Desk, tag: str, saw: Mapping[str, str], when: Occasion) -> Card:
    """Keep what was measured on an axle, in the names and units of ``identify``; the card as it is then.

    What was said of it by then is kept beside it for good, whatever becomes of the listing, and counts among the
    claims by which sellers' rates of error are learned. BadInput where an entry cannot be used.
    """
    part = part_history(house, tag).part
    observed = observe({**remembered(steps_of(part_history(house, tag).events), "fact"), **saw})
    if observed.faults:
        raise BadInput("; ".join(observed.faults), "Mend these entries; `donorbase identify --names` lists them.")
    said, by = said_of(house, desk, part)
    names = {fact.attribute for fact in observed.facts}
    kept = {f"{name}, {by[name]}": values_text(name, values) for name, values in said.items() if name in names}
    remember(house, tag, "fact", dict(saw), when, kind="measured", more=under("said", kept))
    return relearn(house, desk, tag)


def relearn(house: House, desk: Desk, tag: str) -> Card:
    """Keep among the claims what the listing said, as the card has it; of what a kind is like no seller is to blame."""
    card = card_of(house, desk, tag)
    rows = [
        {
            "attribute": line.attribute,
            "claimed": values_text(line.attribute, line.said),
            "measured": values_text(line.attribute, line.measured),
            "agrees": line.state == "agrees",
        }
        for line in card.lines
        if line.by == LISTING and line.measured
    ]
    set_claims(house, f"part {card.part.tag}", rows)
    return card


def said_of(house: House, desk: Desk, part: Part) -> tuple[dict[str, tuple[Value, ...]], dict[str, str]]:
    """What is said of a part that was not measured, by attribute, and by whom: the nearest voice alone speaks."""
    voices = [
        (LISTING, _by_listing(house, desk, part)),
        (PIECES, _by_pieces(house, part)),
        (KIND, _by_kind(house, part)),
    ]
    said: dict[str, tuple[Value, ...]] = {}
    by: dict[str, str] = {}
    for voice, told in voices:
        for name, values in told.items():
            if name not in said and values:
                said[name], by[name] = values, voice
    return said, by


def _by_listing(house: House, desk: Desk, part: Part) -> dict[str, tuple[Value, ...]]:
    if part.candidate_id is None:
        return {}
    items = desk.read(history(house, part.candidate_id).sightings[-1].text).items
    family = house.catalogue().families.get(part.family or "")
    ours = [i for i in items if family is None or i.get("position") in (None, family.position)]
    return _by_name(tuple(axle_facts(_axle_first(ours)))) if ours else {}


def _axle_first(items: Sequence[Item]) -> Item:
    return next((item for item in items if item.get("kind") in (None, WHOLE, "housing", "vehicle")), items[0])


def _by_pieces(house: House, part: Part) -> dict[str, tuple[Value, ...]]:
    """What was measured on the pieces of an assembled axle; where two of them disagree, nothing is said."""
    pieces = [p for p in parts(house, states=["assembled"]) if p.into_part == part.id]
    found: dict[str, set[tuple[Value, ...]]] = {}
    for piece in pieces:
        saw = remembered(steps_of(part_history(house, piece.tag).events), "fact")
        for name, values in _by_name(observe(saw).facts).items():
            found.setdefault(name, set()).add(values)
    return {name: values.pop() for name, values in found.items() if len(values) == 1}


def _by_kind(house: House, part: Part) -> dict[str, tuple[Value, ...]]:
    variant = house.catalogue().variants.get(part.axle or "")
    if variant is None or part.kind != WHOLE:
        return {}
    measurable = [a.name for a in attributes().values() if a.scope == "axle" and a.measurable]
    return {name: variant.all(name) for name in measurable if variant.all(name)}


def _by_name(facts: Sequence[Fact]) -> dict[str, tuple[Value, ...]]:
    found: dict[str, list[Value]] = {}
    for fact in facts:
        if fact.known is not Known.CONTRADICTED:
            found.setdefault(fact.attribute, []).append(fact.value)
    return {name: tuple(dict.fromkeys(values)) for name, values in found.items()}
