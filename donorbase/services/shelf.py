"""The shelf: the pulled parts as they stand, and everything that happened to each."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from donorbase.engineering.grade import recyclers_grade
from donorbase.errors import NotFound
from donorbase.reference.parts import PartKind, part_kinds
from donorbase.services.house import House
from donorbase.services.near import near_keys
from donorbase.shelf.money import usd_of
from donorbase.shelf.standing import Step
from donorbase.shelf.tags import number_of
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

FIELDS = ("kind", "side", "axle", "candidate_id", "year", "miles", "place", "cost_cents", "condition")
"""What is kept of a part and can be changed."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part as it stands. What is None is not known; ``side`` of a kind that has none is None as well.

    ``state`` is ``shelf`` where nothing holds it; ``build`` or ``person`` say who does.
    """

    id: int
    tag: str
    kind: str
    side: str | None
    axle: str | None
    candidate_id: int | None
    out_of: int | None
    year: int | None
    miles: int | None
    place: str
    cost_cents: int | None
    condition: str
    state: str
    build: str | None
    person: str | None
    price_cents: int | None
    into_part: int | None

    @property
    def about(self) -> PartKind:
        """What is known of parts of that kind."""
        return part_kinds().get(self.kind) or part_kinds()["other"]

    @property
    def family(self) -> str | None:
        """The family of the axle that it is off."""
        return self.axle.partition("/")[0] if self.axle else None

    @property
    def holder(self) -> str:
        """Who holds it, in words; empty where nobody does."""
        return f"build {self.build}" if self.build else self.person or ""

    @property
    def name(self) -> str:
        """Its side and kind; ``side not known`` where that matters."""
        side = self.side or ("side not known" if self.about.sided else "")
        return f"{self.kind}, {side}" if side else self.kind

    def as_json(self) -> dict[str, Any]:
        """Plain data; money in dollars as text, so that no cent is lost."""
        names = ("tag", "kind", "side", "axle", "candidate_id", "year", "miles", "place", "condition", "state")
        found = {name: getattr(self, name) for name in (*names, "build", "person")}
        return found | {"cost_usd": usd_of(self.cost_cents), "price_usd": usd_of(self.price_cents)}


@dataclass(frozen=True, slots=True)
class PartEvent:
    """Something that happened to a part. ``undone`` tells whether it was taken back later."""

    id: int
    kind: str
    happened_on: date
    noted_at: datetime
    who: str
    note: str
    before: Mapping[str, Any]
    after: Mapping[str, Any]
    undoes: int | None
    undone: bool

    @property
    def change(self) -> str:
        """What it changed, in words."""
        told = []
        for name, value in self.after.items():
            was = self.before.get(name)
            if value != was and value not in (None, ""):
                told.append(f"{name.removesuffix('_cents')} {_word(name, value)}" + _was(name, was))
            elif value != was and was not in (None, ""):
                told.append(f"no {name.removesuffix('_cents')}" + _was(name, was))
        return "; ".join(told)

    def as_json(self) -> dict[str, Any]:
        """Plain data; times as ISO text."""
        found = {name: getattr(self, name) for name in self.__slots__}
        found |= {"before": dict(self.before), "after": dict(self.after)}
        return found | {"happened_on": self.happened_on.isoformat(), "noted_at": self.noted_at.isoformat()}


@dataclass(frozen=True, slots=True)
class PartHistory:
    """A part, its events, its photos (those not taken back) and what it measured, oldest first."""

    part: Part
    events: tuple[PartEvent, ...]
    readings: tuple[Mapping[str, Any], ...]

    @property
    def photos(self) -> tuple[str, ...]:
        """The paths of its photos."""
        return tuple(e.after["photo"] for e in self.events if "photo" in e.after and not e.undone)

    @property
    def notes(self) -> tuple[tuple[date, str], ...]:
        """What was noted of it, with its day."""
        return tuple((e.happened_on, e.note) for e in self.events if e.note and not e.undone and e.kind != "undo")

    @property
    def grade(self) -> str:
        """The recyclers' grade by the miles of its donor and its age on the day it was put on the shelf."""
        part, pulled_in = self.part, self.events[0].happened_on.year
        return recyclers_grade(part.miles, max(0, pulled_in - part.year) if part.year else None)

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        readings = [{**r, "happened_on": r["happened_on"].isoformat()} for r in self.readings]
        more = {"grade": self.grade, "photos": list(self.photos), "readings": readings}
        return self.part.as_json() | more | {"events": [event.as_json() for event in self.events]}


def parts(house: House, **filters: Any) -> tuple[Part, ...]:
    """The parts by number, of the kinds, sides, states, family, place (a part of its words) and build asked for."""
    with house.reading() as connection:
        return tuple(part_of(row) for row in stored.list_parts(connection, **filters))


def part_history(house: House, tag: str) -> PartHistory:
    """A part with all that is kept of it; NotFound where there is none of that tag."""
    with house.reading() as connection:
        part = find_part(connection, tag)
        events = events_of(stored.read_events(connection, part.id))
        return PartHistory(part, events, tuple(stored.read_readings(connection, part.id)))


def find_part(connection: "Connection", tag: str) -> Part:
    """The part of a tag; BadInput where no part can have it, NotFound where none has it."""
    row = stored.read_part(connection, number_of(tag))
    if row is None:
        near = near_keys(tag.upper(), [r["tag"] for r in stored.list_parts(connection)])
        hint = f"Near it: {', '.join(near)}." if near else ""
        raise NotFound(f"there is no part {tag.upper()}", f"{hint} `donorbase part list` shows them.".strip())
    return part_of(row)


def part_of(row: Mapping[str, Any]) -> Part:
    """A row with its hold as a part."""
    return Part(**{name: row[name] for name in Part.__slots__})


def events_of(rows: Sequence[Mapping[str, Any]]) -> tuple[PartEvent, ...]:
    """Rows as events; an event that another one undoes is undone."""
    undone = {row["undoes"] for row in rows}
    same = ("id", "kind", "happened_on", "noted_at", "who", "note", "undoes")
    details = [json.loads(row["detail"] or "{}") for row in rows]
    return tuple(
        PartEvent(
            **{name: row[name] for name in same},
            before=detail.get("before", {}),
            after=detail.get("after", {}),
            undone=row["id"] in undone,
        )
        for row, detail in zip(rows, details, strict=True)
    )


def steps_of(events: Sequence[PartEvent]) -> list[Step]:
    """Events as the pure rooms see them."""
    return [Step(e.id, e.kind, e.before, e.after, e.undoes) for e in events]


def _word(name: str, value: Any) -> str:
    return usd_of(value) or "" if name.endswith("_cents") else str(value)


def _was(name: str, was: Any) -> str:
    return f" (before {_word(name, was)})" if was not in (None, "") else ""
