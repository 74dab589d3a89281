"""What to carry on a trip, and what of the shelf is due: care of lying parts, days until which a part may go back."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from donorbase.errors import BadInput
from donorbase.reference.parts import part_kinds
from donorbase.reference.shelf_words import FREE
from donorbase.reference.upkeep import Care, breakages, cares
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.matching import Match, Target, matches
from donorbase.services.remembering import remember
from donorbase.services.shelf import Part, PartHistory, part_history, parts, steps_of
from donorbase.shelf.fits import variants_of
from donorbase.shelf.remembered import remembered
from donorbase.shelf.spares import Spare, packed

LIES = (FREE, "reserved")
"""States in which a part lies here and wants care."""
_FITS = {"yes": "fits", "if": "look", "with parts": "look"}


@dataclass(frozen=True, slots=True)
class Packing:
    """A spare of an axle: whether it is worth carrying, and what of the shelf serves, surely or once looked at."""

    target: Target
    spare: Spare
    worth: float
    carry: bool
    fits: tuple[str, ...]
    look: tuple[str, ...]
    takes: str
    basis: str

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told = {"axle": self.target.axle, "kind": self.spare.kind, "side": self.spare.side, "odds": self.spare.odds}
        told |= {"weight_lb": self.spare.weight_lb, "worth": round(self.worth, 2), "carry": self.carry}
        return told | {"fits": list(self.fits), "look": list(self.look), "takes": self.takes, "basis": self.basis}


@dataclass(frozen=True, slots=True)
class Due:
    """Something to be done with a part by a day."""

    on: date
    part: Part
    what: str
    do: str

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told = {"on": self.on.isoformat(), "tag": self.part.tag, "part": self.part.name}
        return told | {"place": self.part.place, "what": self.what, "do": self.do}


def packing_of(
    house: House,
    targets: Sequence[Target],
    *,
    stranded_usd: float = 600.0,
    usd_per_lb: float = 1.0,
    limit_lb: float | None = None,
    trips: int = 1,
) -> tuple[Packing, ...]:
    """What to carry for the axles named, the worthiest first; each tag serves one spare only.

    ``trips`` is how many days' trips it is carried for. BadInput where an amount makes no sense.
    """
    for name, amount in (("being stranded", stranded_usd), ("a pound", usd_per_lb), ("the trips", trips)):
        if not 0 < amount <= 1_000_000:
            raise BadInput(f"{amount:g} is nothing that {name} can be", "Give a number above 0.")
    spares = {spare: target for target in targets for spare in _spares(house, target, trips)}
    free = {target: list(matches(house, [target])) for target in targets}
    taken: set[str] = set()
    found = []
    for spare, carry in packed(list(spares), stranded_usd, usd_per_lb, limit_lb):
        target = spares[spare]
        ours = [m for m in free[target] if _serves(m, spare) and m.part.tag not in taken]
        fits, look = (tuple(m.part.tag for m in ours if _FITS.get(m.fit.state) == word) for word in ("fits", "look"))
        taken |= set(fits[:1]) if carry else set()
        known = breakages()[spare.kind]
        worth = spare.worth(stranded_usd, usd_per_lb)
        found.append(Packing(target, spare, worth, carry, fits, look, known.takes, known.basis))
    return tuple(found)


def _serves(match: Match, spare: Spare) -> bool:
    return match.part.kind == spare.kind and (spare.side is None or match.part.side == spare.side)


def _spares(house: House, target: Target, trips: int) -> Iterator[Spare]:
    """The parts of an axle that may break: of a sided kind one on either side, with half of the odds each."""
    variants = variants_of(target.axle, house.catalogue())
    for known in breakages().values():
        kind = part_kinds()[known.kind]
        if not any(kind.is_on(variant) is not False for variant in variants):
            continue
        sides = ("left", "right") if kind.sided else (None,)
        for side in sides:
            once = known.in_1000_trips / 1000 / len(sides)
            yield Spare(target.name, known.kind, side, 1 - (1 - once) ** trips, known.weight_lb)


def care_done(house: House, tag: str, word: str, when: Occasion) -> Part:
    """Note that a part was cared for; BadInput where parts of its kind need no such care."""
    part = part_history(house, tag).part
    care = cares().get(word)
    if care is None or part.kind not in care.kinds:
        fitting = [name for name, one in cares().items() if part.kind in one.kinds]
        raise BadInput(
            f"{word!r} is no care that a part like {part.kind} needs",
            f"It needs: {', '.join(fitting)}."
            if fitting
            else f"No care is on record for it; `donorbase part note {tag}`.",
        )
    return remember(house, tag, "care", {word: when.on.isoformat()}, when)


def due_by(house: House, until: date) -> tuple[Due, ...]:
    """What is due up to a day, the earliest first: care of what lies here, and returns."""
    found: list[Due] = []
    for part in parts(house, states=LIES):
        history = part_history(house, part.tag)
        found += [due for due in (*_cares_due(history), *_return_due(history)) if due.on <= until]
    return tuple(sorted(found, key=lambda due: (due.on, due.part.id, due.what)))


def _cares_due(history: PartHistory) -> Iterator[Due]:
    done = remembered(steps_of(history.events), "care")
    for care in cares().values():
        if history.part.kind in care.kinds:
            yield Due(_next(history, care, done.get(care.care)), history.part, care.care, care.do)


def _next(history: PartHistory, care: Care, done: str | None) -> date:
    last = date.fromisoformat(done) if done else history.events[0].happened_on
    return last + timedelta(days=care.every_days)


def _return_due(history: PartHistory) -> Iterator[Due]:
    term = remembered(steps_of(history.events), "return")
    if "by" in term:
        prove = f"prove: {term['prove']}" if term.get("prove") else "or keep it"
        yield Due(date.fromisoformat(term["by"]), history.part, "return", prove)
