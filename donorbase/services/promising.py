"""A part of the shelf promised, lent, sold, scrapped or fitted, and released again: one thing is promised once.

Nobody looks first whether a part is free: it is taken, and the database refuses a second taker whoever he is. So of
two who promise one part at the same moment one wins, and the other is told who has it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput, Held
from donorbase.reference.shelf_words import FREE
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.pulling import checked_words, note_event
from donorbase.services.shelf import Part, events_of, find_part
from donorbase.shelf.standing import comes_back, may_follow
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

NEEDS_SOMEBODY = ("reserved", "lent", "sold")
NEEDS_BUILD = ("used",)


@dataclass(frozen=True, slots=True)
class Taking:
    """What takes a part: one of the words of ``HOLDS``, for a build or a person, at a price where it is sold."""

    kind: str
    build: str | None = None
    person: str | None = None
    price_cents: int | None = None
    into_part: int | None = None

    @property
    def holder(self) -> str:
        """Who takes it, in words."""
        return f"build {self.build}" if self.build else self.person or ""


def take(house: House, tag: str, taking: Taking, when: Occasion) -> Part:
    """Promise, lend, sell, scrap or fit a part; Held where something else holds it, which is told with its day."""
    _check(house, taking)
    with house.keeping() as connection:
        return take_part(connection, find_part(connection, tag), taking, when)


def _check(house: House, taking: Taking) -> None:
    checked_words(taking.person or "", "the name")
    if taking.build is not None and taking.person is not None:
        raise BadInput("a part goes to a build or to a person, not to both", "Name one of them.")
    if taking.build is not None:
        house.build(taking.build)
    elif taking.kind in NEEDS_BUILD:
        raise BadInput("it is not told in which build", "Name it with --build.")
    elif taking.kind in NEEDS_SOMEBODY and not (taking.person or "").strip():
        raise BadInput("it is not told for whom", "Name a build or a person.")


def take_part(connection: "Connection", part: Part, taking: Taking, when: Occasion) -> Part:
    """Let something hold a part, inside a transaction; Held where something else does."""
    before = _standing(part)
    after = {"state": taking.kind, "holder": taking.holder, "price_cents": taking.price_cents}
    event = note_event(connection, part.id, "held", when, before=before, after=after)
    if may_follow(part.state, part.holder, taking.kind, taking.holder):
        stored.end_hold(connection, part.id, event)
    names = ("kind", "build", "person", "price_cents", "into_part")
    row = {name: getattr(taking, name) for name in names}
    if not stored.hold(connection, {**row, "part_id": part.id, "begun_by": event}):
        raise _held(connection, find_part(connection, part.tag), taking)
    return find_part(connection, part.tag)


def _standing(part: Part) -> Mapping[str, Any]:
    return {"state": part.state, "holder": part.holder, "price_cents": part.price_cents}


def _held(connection: "Connection", part: Part, taking: Taking) -> Held:
    hold = stored.read_open(connection, part.id) or {}
    begun = next((e for e in events_of(stored.read_events(connection, part.id)) if e.id == hold.get("begun_by")), None)
    since = f" since {begun.happened_on}" + (f", noted by {begun.who}" if begun.who else "") if begun else ""
    whom = f" ({part.holder})" if part.holder else ""
    way = "release" if comes_back(part.state) else "undo"
    return Held(
        f"part {part.tag} is {part.state}{whom}{since}: it cannot be {taking.kind} as well",
        f"`donorbase part {way} {part.tag}` frees it, where that is agreed.",
    )


def release(house: House, tag: str, when: Occasion) -> Part:
    """Free a part: the promise is off, or it came back. BadInput where nothing holds it that can end so."""
    with house.keeping() as connection:
        part = find_part(connection, tag)
        if not comes_back(part.state):
            told = "nothing holds it" if part.state == FREE else f"it is {part.state}"
            raise BadInput(
                f"part {part.tag} cannot be released: {told}",
                f"`donorbase part history {part.tag}` shows what happened.",
            )
        return free_part(connection, part, when)


def free_part(connection: "Connection", part: Part, when: Occasion) -> Part:
    """End what holds a part, inside a transaction."""
    after = {"state": FREE, "holder": "", "price_cents": None}
    event = note_event(connection, part.id, "released", when, before=_standing(part), after=after)
    stored.end_hold(connection, part.id, event)
    return find_part(connection, part.tag)
