"""A candidate moved through the hunt: its state, notes, prices, what was put right, and the undoing of each.

Each change is an event with its day and note. Nothing is deleted: what is undone stays in the history, beside the
undoing.
"""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput, NotFound
from donorbase.services.candidates import Event, candidate_row, events_of
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.keeping import price_note
from donorbase.services.learning import Kept, record_corrections
from donorbase.store import candidates as stored
from donorbase.store import corrections, sightings
from donorbase.store.candidate_tables import STATES

if TYPE_CHECKING:
    from donorbase.store.engine import Connection


@dataclass(frozen=True, slots=True)
class Occasion:
    """The day something happened, who says so, and his words."""

    on: date
    who: str = ""
    words: str = ""


def move(house: House, ids: Iterable[int], state: str, when: Occasion) -> tuple[Event, ...]:
    """Move candidates to a state, all or none; the events. One that is in that state already gets the note alone."""
    if state not in STATES:
        raise BadInput(f"{state!r} is no state", f"States: {', '.join(STATES)}.")
    now, made = datetime.now(UTC), []
    with house.keeping() as connection:
        for candidate_id in dict.fromkeys(ids):
            before = candidate_row(connection, candidate_id)["state"]
            kind = "note" if before == state else "state"
            moved = {"state_from": before, "state_to": state} if before != state else {}
            if before != state:
                stored.set_state(connection, candidate_id, state, now)
            elif not when.words:
                continue
            made.append(_keep_event(connection, candidate_id, kind, when, now, **moved))
    return tuple(made)


def note(house: House, candidate_id: int, when: Occasion) -> Event:
    """Note something of a candidate."""
    if not when.words.strip():
        raise BadInput("the note is empty", "Write what is to be kept.")
    with house.keeping() as connection:
        candidate_row(connection, candidate_id)
        return _keep_event(connection, candidate_id, "note", when, datetime.now(UTC))


def price(house: House, candidate_id: int, usd: float, when: Occasion) -> Event:
    """Keep what is asked for a candidate from a day on; its verdict is due anew."""
    if not 0 <= usd <= 100_000:
        raise BadInput(f"{usd:,.0f} is no believable price", "Give US dollars from 0 to 100,000.")
    with house.keeping() as connection:
        row = candidate_row(connection, candidate_id)
        sighting = sightings.sightings_of(connection, row["listing_id"])[-1]
        before = sightings.price_on(connection, sighting["id"], when.on)
        sightings.keep_price(connection, sighting["id"], when.on, usd)
        _price_changed(connection, row["listing_id"])
        detail = {"sighting_id": sighting["id"], "seen_on": when.on.isoformat(), "before": before}
        told = "; ".join(filter(None, (price_note(row["price_usd"], usd), when.words)))
        more = {"note": told, "detail": json.dumps(detail)}
        return _keep_event(connection, candidate_id, "price", when, datetime.now(UTC), **more)


def correct(
    house: House,
    desk: Desk,
    candidate_id: int,
    texts: Sequence[str],
    when: Occasion,
    *,
    item: int = 1,
    measured: bool = False,
) -> tuple[Kept, ...]:
    """Put facts of one thing of a candidate right, each ``NAME=VALUE``, as said or as ``measured``.

    They are kept beside the text, so that a new reading does not lose them and words are learned from them; every
    candidate of that listing is due to be judged anew. BadInput as ``record_corrections``.
    """
    with house.reading() as connection:
        listing_id = candidate_row(connection, candidate_id)["listing_id"]
        text = stored.newest_texts(connection, [listing_id])[listing_id]["text"]
    before = {r["attribute"]: (r["meaning"], r["known"]) for r in _rows_of(house, text, item)}
    known = "measured" if measured else "stated"
    kept = record_corrections(house, desk.read(text), item, texts, known)
    names = [one.attribute for one in kept]
    detail = {"text": text, "item": item, "names": names, "before": {n: before[n] for n in names if n in before}}
    told = "; ".join(f"{one.attribute} {one.kept} ({known}), read: {', '.join(one.read) or 'nothing'}" for one in kept)
    told = "; ".join(filter(None, (told, when.words)))
    more = {"note": told, "detail": json.dumps(detail)}
    with house.keeping() as connection:
        _keep_event(connection, candidate_id, "correction", when, datetime.now(UTC), **more)
        stored.judge_anew(connection, [listing_id])
    return kept


def _rows_of(house: House, text: str, item: int) -> list[dict[str, Any]]:
    return [row for row in house.rows()["correction"] if row["text"] == text and row["item"] == item]


def undo(house: House, candidate_id: int, when: Occasion) -> Event:
    """Take back the newest change of a candidate that was not taken back yet; the event that was undone.

    NotFound where there is nothing left to undo. Both stay in the history.
    """
    now = datetime.now(UTC)
    # A correction lies in the picture of the database, which must be drawn anew then.
    with house.writing() as connection:
        row = candidate_row(connection, candidate_id)
        rows = stored.read_events(connection, candidate_id)
        details = {r["id"]: json.loads(r["detail"] or "{}") for r in rows}
        undoable = (e for e in reversed(events_of(rows)) if e.kind in _UNDOING and not e.undone)
        last = next((e for e in undoable if _still_so(connection, row, e, details[e.id])), None)
        if last is None:
            raise NotFound(
                f"nothing is left to undo of candidate {candidate_id}",
                f"`donorbase candidate history {candidate_id}` shows what happened.",
            )
        moved = {}
        if last.kind == "state" and last.state_from:
            stored.set_state(connection, candidate_id, last.state_from, now)
            moved = {"state_from": row["state"], "state_to": last.state_from}
        _UNDOING[last.kind](connection, row, details[last.id])
        told = "; ".join(filter(None, (f"undone: {last.kind}", when.words)))
        _keep_event(connection, candidate_id, "undo", when, now, note=told, undoes=last.id, **moved)
    return last


def _undo_price(connection: "Connection", row: Mapping[str, Any], detail: Mapping[str, Any]) -> None:
    day = date.fromisoformat(detail["seen_on"])
    sightings.drop_price(connection, detail["sighting_id"], day)
    if detail["before"] is not None:
        sightings.keep_price(connection, detail["sighting_id"], day, detail["before"])
    _price_changed(connection, row["listing_id"])


def _undo_correction(connection: "Connection", row: Mapping[str, Any], detail: Mapping[str, Any]) -> None:
    now = datetime.now(UTC)
    corrections.drop_corrections(connection, detail["text"], detail["item"], detail["names"])
    for name, (meaning, known) in detail["before"].items():
        corrections.keep_corrections(connection, detail["text"], detail["item"], {name: meaning}, now, known)
    stored.judge_anew(connection, [row["listing_id"]])


def _undo_join(connection: "Connection", row: Mapping[str, Any], detail: Mapping[str, Any]) -> None:
    ours, theirs = row["listing_id"], detail["listing_id"]
    sightings.set_merged(connection, theirs, None)
    sightings.move_sightings(connection, detail["sightings"], theirs)
    for listing_id in (ours, theirs):
        _price_changed(connection, listing_id)


def _still_so(connection: "Connection", row: Mapping[str, Any], event: Event, detail: Mapping[str, Any]) -> bool:
    """Whether there is something to take back: of some kinds only what the user himself told, and while it holds."""
    if event.kind == "merge" and detail:
        return bool(sightings.merged_into(connection, detail["listing_id"]) == row["listing_id"])
    return bool(detail) or event.kind not in _NEED_DETAIL


def _nothing_more(connection: "Connection", row: Mapping[str, Any], detail: Mapping[str, Any]) -> None:
    """The event itself was all."""


_UNDOING: dict[str, Callable[["Connection", Mapping[str, Any], Mapping[str, Any]], None]] = {
    "state": _nothing_more, "note": _nothing_more, "price": _undo_price, "correction": _undo_correction,
    "merge": _undo_join,
}  # fmt: skip
"""Kinds of events that can be undone, with what is done besides."""
_NEED_DETAIL = frozenset({"price", "correction", "merge"})
"""Of these only what the user himself told can be undone, not what a listing said."""


def _price_changed(connection: "Connection", listing_id: int) -> None:
    sightings.refresh_listings(connection, [listing_id])
    stored.judge_anew(connection, [listing_id])


def _keep_event(
    connection: "Connection", candidate_id: int, kind: str, when: Occasion, now: datetime, **more: Any
) -> Event:
    row = {"candidate_id": candidate_id, "kind": kind, "happened_on": when.on, "who": when.who, "noted_at": now}
    stored.add_events(connection, [{**row, "note": when.words.strip(), **more}])
    return events_of(stored.read_events(connection, candidate_id))[-1]
