"""Candidates: listings kept for a build, as they stand and with everything that happened to them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from donorbase.errors import NotFound
from donorbase.services.house import House
from donorbase.services.near import near_keys
from donorbase.store import candidates as stored
from donorbase.store import sightings
from donorbase.store.candidate_tables import STATES, VERDICTS

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

__all__ = [
    "OPEN_STATES", "STATES", "VERDICTS", "Candidate", "Event", "History", "Sighting", "candidate_row", "candidates",
    "events_of", "first_line", "history", "siblings",
]  # fmt: skip

OPEN_STATES = ("watching", "asked", "visiting")
"""States in which a candidate can still be bought."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A listing kept for a build, as it stands: ``landed_usd`` is low, likely, high; None where it is not known.

    ``verdict`` is None until it was judged; ``due`` says that what the verdict rests on changed since.
    """

    id: int
    listing_id: int
    build: str
    state: str
    verdict: str | None
    chance: float | None
    landed_usd: tuple[float, float, float] | None
    taken_for: str
    why: tuple[str, ...]
    price_usd: float | None
    distance_mi: float | None
    zip: str | None
    first_seen_on: date
    last_seen_on: date
    title: str
    url: str
    due: bool

    def as_json(self) -> dict[str, Any]:
        """Plain data; days as ISO text."""
        names = ("id", "listing_id", "build", "state", "verdict", "chance", "taken_for", "price_usd", "distance_mi")
        found = {name: getattr(self, name) for name in (*names, "zip", "title", "url", "due")}
        landed = dict(zip(("low", "likely", "high"), self.landed_usd, strict=True)) if self.landed_usd else None
        days = {name: getattr(self, name).isoformat() for name in ("first_seen_on", "last_seen_on")}
        return {**found, "landed_usd": landed, "why": list(self.why), **days}


@dataclass(frozen=True, slots=True)
class Sighting:
    """One text of a listing as it was seen at one address, in the days from first to last."""

    id: int
    source: str
    url: str
    title: str
    first_seen_on: date
    last_seen_on: date
    text: str


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened to a candidate. ``undone`` tells whether it was taken back later."""

    id: int
    candidate_id: int
    kind: str
    happened_on: date
    noted_at: datetime
    who: str
    state_from: str | None
    state_to: str | None
    note: str
    undoes: int | None
    undone: bool

    def as_json(self) -> dict[str, Any]:
        """Plain data; times as ISO text."""
        found = {name: getattr(self, name) for name in self.__slots__}
        return found | {"happened_on": self.happened_on.isoformat(), "noted_at": self.noted_at.isoformat()}


@dataclass(frozen=True, slots=True)
class History:
    """All that is kept of a candidate: itself, the sightings and prices of its listing, its events."""

    candidate: Candidate
    sightings: tuple[Sighting, ...]
    prices: tuple[tuple[date, float], ...]
    events: tuple[Event, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        seen = [
            {
                **{name: getattr(s, name) for name in ("id", "source", "url", "title", "text")},
                **{name: getattr(s, name).isoformat() for name in ("first_seen_on", "last_seen_on")},
            }
            for s in self.sightings
        ]
        return self.candidate.as_json() | {
            "sightings": seen,
            "prices": [{"seen_on": day.isoformat(), "price_usd": usd} for day, usd in self.prices],
            "events": [event.as_json() for event in self.events],
        }


def candidates(
    house: House,
    builds: Sequence[str] = (),
    states: Sequence[str] = (),
    verdicts: Sequence[str] = (),
    limit: int | None = None,
) -> tuple[Candidate, ...]:
    """The candidates of any of the builds, states and verdicts (none named: of all), by number."""
    with house.reading() as connection:
        known = stored.builds_with_candidates(connection)
        for build in builds:
            if build not in known:
                house.build(build)
        rows = stored.list_candidates(connection, builds, states, verdicts, limit)
        texts = stored.newest_texts(connection, [row["listing_id"] for row in rows])
    return tuple(_candidate(row, texts[row["listing_id"]]) for row in rows)


def history(house: House, candidate_id: int) -> History:
    """All that is kept of a candidate; NotFound where there is none of that number."""
    with house.reading() as connection:
        row = candidate_row(connection, candidate_id)
        seen = sightings.sightings_of(connection, row["listing_id"])
        prices = sightings.prices_of(connection, row["listing_id"])
        events = stored.read_events(connection, candidate_id)
    columns = ("id", "source", "url", "title", "first_seen_on", "last_seen_on", "text")
    return History(
        _candidate(row, seen[-1]),
        tuple(Sighting(*(one[name] for name in columns)) for one in seen),
        tuple((price["seen_on"], price["price_usd"]) for price in prices),
        events_of(events),
    )


def siblings(house: House, candidate_id: int) -> tuple[Candidate, ...]:
    """The candidates that a candidate's listing is, one for each build, that one first."""
    with house.reading() as connection:
        row = candidate_row(connection, candidate_id)
        ids = [r["id"] for r in stored.kept_for(connection, [row["listing_id"]]).values() if r["id"] != candidate_id]
        rows = [row, *(candidate_row(connection, other) for other in sorted(ids))]
        newest = stored.newest_texts(connection, [row["listing_id"]])[row["listing_id"]]
    return tuple(_candidate(one, newest) for one in rows)


def candidate_row(connection: "Connection", candidate_id: int) -> dict[str, Any]:
    """The row of a candidate with that of its listing; NotFound names the near numbers."""
    row = stored.read_candidate(connection, candidate_id)
    if row is None:
        ids = [str(r["id"]) for r in stored.list_candidates(connection, limit=200)]
        near = near_keys(str(candidate_id), ids)
        hint = f"Near it: {', '.join(near)}." if near else ""
        raise NotFound(
            f"there is no candidate {candidate_id}", f"{hint} `donorbase candidate list` shows them.".strip()
        )
    return row


def events_of(rows: Sequence[Mapping[str, Any]]) -> tuple[Event, ...]:
    """Rows as events; an event that another one undoes is undone."""
    undone = {row["undoes"] for row in rows}
    names = [name for name in Event.__slots__ if name != "undone"]
    return tuple(Event(**{name: row[name] for name in names}, undone=row["id"] in undone) for row in rows)


def _candidate(row: Mapping[str, Any], newest: Mapping[str, Any]) -> Candidate:
    landed = tuple(row[f"landed_{n}_usd"] for n in ("low", "likely", "high"))
    same = ("id", "listing_id", "build", "state", "verdict", "chance")
    of_listing = ("price_usd", "distance_mi", "zip", "first_seen_on", "last_seen_on")
    return Candidate(
        **{name: row[name] for name in (*same, *of_listing)},
        landed_usd=None if None in landed else landed,
        taken_for=row["taken_for"] or "",
        why=tuple((row["why"] or "").splitlines()),
        title=newest["title"] or first_line(newest["text"]),
        url=newest["url"],
        due=row["judged_with"] is None,
    )


def first_line(text: str, width: int = 60) -> str:
    """The first words of a text, for a list."""
    line = " ".join(text.split())
    return line if len(line) <= width else f"{line[: width - 1].rstrip()}…"
