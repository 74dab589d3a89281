"""Listings joined by hand because they are of one axle, and parted again because they are not.

Nothing is deleted: a listing that was joined to another stays, with its candidates and their history, and comes back
when it is parted from it.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput, NotFound
from donorbase.services.candidates import candidate_row
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.store import candidates as kept
from donorbase.store import sightings as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection


@dataclass(frozen=True, slots=True)
class Parted:
    """What was taken out of a listing: the listing it is now, its texts, its candidates by build."""

    listing_id: int
    sightings: tuple[int, ...]
    candidates: dict[str, int]


def join(house: House, candidate_id: int, other_id: int, when: Occasion) -> tuple[int, ...]:
    """Make the listing of another candidate a part of this one's; the candidates there are of it now.

    The other's candidates stay in the database, out of the list. Where it was kept for a build for which this one
    was not, this one is kept for it from now on, in the same state. BadInput where both are one listing already.
    """
    now = datetime.now(UTC)
    with house.keeping() as connection:
        ours, theirs = (candidate_row(connection, i)["listing_id"] for i in (candidate_id, other_id))
        if ours == theirs:
            raise BadInput(
                f"candidates {candidate_id} and {other_id} are of one listing already", "There is nothing to join."
            )
        moved = [row["id"] for row in stored.sightings_of(connection, theirs)]
        if not moved:
            raise BadInput(f"candidate {other_id} was joined to another already", "Join the one it belongs to.")
        _keep_for_same_builds(connection, theirs, ours, now)
        stored.move_sightings(connection, moved, ours)
        stored.set_merged(connection, theirs, ours)
        detail = json.dumps({"listing_id": theirs, "sightings": moved})
        _tell(connection, ours, f"candidate {other_id} is the same axle", when, now, detail)
        _tell(connection, theirs, f"the same axle as candidate {candidate_id}", when, now)
        _changed(connection, [ours])
        return tuple(row["id"] for row in kept.kept_for(connection, [ours]).values())


def part(house: House, candidate_id: int, sighting_id: int, when: Occasion) -> Parted:
    """Take a text out of a candidate's listing, because it is of another axle; with it what was joined with it.

    It is a listing again, or a new one, kept for the same builds. NotFound where the candidate has no such text,
    BadInput where it has no other.
    """
    now = datetime.now(UTC)
    with house.keeping() as connection:
        ours = candidate_row(connection, candidate_id)["listing_id"]
        rows = {row["id"]: row for row in stored.sightings_of(connection, ours)}
        if sighting_id not in rows:
            texts = ", ".join(map(str, rows))
            raise NotFound(f"candidate {candidate_id} has no text {sighting_id}", f"It has: {texts}.")
        before, moved = _joined_with(connection, ours, sighting_id)
        if set(moved) >= rows.keys():
            raise BadInput(f"candidate {candidate_id} has no other text", "One text alone is not to be parted.")
        if before is None:
            first = rows[sighting_id]
            days = {name: first[name] for name in ("first_seen_on", "last_seen_on", "zip", "distance_mi")}
            (theirs,) = stored.add_listings(connection, [{**days, "price_usd": None, "made_at": now}])
        else:
            theirs = before
            stored.set_merged(connection, theirs, None)
        stored.move_sightings(connection, moved, theirs)
        _keep_for_same_builds(connection, ours, theirs, now)
        _tell(connection, ours, f"text {sighting_id} is of another axle: parted", when, now)
        _tell(connection, theirs, f"parted from candidate {candidate_id}", when, now)
        _changed(connection, [ours, theirs])
        ids = {build: row["id"] for (_, build), row in kept.kept_for(connection, [theirs]).items()}
        return Parted(theirs, tuple(moved), ids)


def _joined_with(connection: "Connection", listing_id: int, sighting_id: int) -> tuple[int | None, list[int]]:
    """The listing with which a text was joined to this one by hand, and all that came with it; else the text alone."""
    there = {row["id"] for row in stored.sightings_of(connection, listing_id)}
    for row in kept.kept_for(connection, [listing_id]).values():
        for event in reversed(kept.read_events(connection, row["id"])):
            detail = json.loads(event["detail"] or "{}") if event["kind"] == "merge" else {}
            if sighting_id in detail.get("sightings", ()) and there >= set(detail["sightings"]):
                return detail["listing_id"], detail["sightings"]
    return None, [sighting_id]


def _keep_for_same_builds(connection: "Connection", of: int, to: int, now: datetime) -> None:
    """Keep a listing for every build for which another is kept, in the same state."""
    there = {build for _, build in kept.kept_for(connection, [to])}
    missing = [(b, row["state"]) for (_, b), row in kept.kept_for(connection, [of]).items() if b not in there]
    days = {"made_at": now, "changed_at": now}
    kept.add_candidates(connection, [{"listing_id": to, "build": b, "state": s, **days} for b, s in missing])


def _tell(
    connection: "Connection", listing_id: int, told: str, when: Occasion, now: datetime, detail: str = ""
) -> None:
    words = "; ".join(filter(None, (told, when.words)))
    event: dict[str, Any] = {"kind": "merge", "happened_on": when.on, "noted_at": now, "who": when.who, "note": words}
    ids = [row["id"] for row in kept.kept_for(connection, [listing_id]).values()]
    kept.add_events(connection, [{**event, "candidate_id": i, "detail": detail} for i in ids])


def _changed(connection: "Connection", listing_ids: Iterable[int]) -> None:
    ids = list(listing_ids)
    stored.refresh_listings(connection, ids)
    kept.judge_anew(connection, ids)
