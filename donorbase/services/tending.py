"""A part of the shelf moved, noted of, photographed, put right; and the undoing of whatever was done to it last."""

from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput, NotFound
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.pulling import checked_fields, checked_words, note_event
from donorbase.services.shelf import FIELDS, Part, PartEvent, events_of, find_part, steps_of
from donorbase.shelf.standing import last_undoable
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection


def move_part(house: House, tag: str, place: str, when: Occasion) -> Part:
    """Note that a part lies somewhere else now."""
    if not place.strip():
        raise BadInput("the place is empty", "Say where it lies now.")
    return _set(house, tag, "moved", {"place": place.strip()}, when)


def change_part(house: House, tag: str, fields: Mapping[str, Any], when: Occasion) -> Part:
    """Put fields of a part right: any of ``FIELDS`` but where it lies."""
    return _set(house, tag, "changed", fields, when)


def note_part(house: House, tag: str, when: Occasion) -> Part:
    """Note something of a part."""
    if not when.words.strip():
        raise BadInput("the note is empty", "Write what is to be kept.")
    with house.keeping() as connection:
        part = find_part(connection, tag)
        note_event(connection, part.id, "note", when)
        return part


def photo_part(house: House, tag: str, path: str, when: Occasion) -> Part:
    """Note the path of a photo of a part. The file stays where it is."""
    if not path.strip():
        raise BadInput("the path of the photo is empty", "Name the file.")
    checked_words(path, "the path")
    with house.keeping() as connection:
        part = find_part(connection, tag)
        note_event(connection, part.id, "photo", when, after={"photo": path.strip()})
        return part


def _set(house: House, tag: str, kind: str, fields: Mapping[str, Any], when: Occasion) -> Part:
    with house.keeping() as connection:
        part = find_part(connection, tag)
        was = {name: getattr(part, name) for name in FIELDS}
        now = checked_fields(house, was | dict(fields), when.on.year)
        after = {name: value for name, value in now.items() if value != was[name]}
        if after:
            stored.set_fields(connection, part.id, after)
        elif not when.words:
            return part
        before = {name: was[name] for name in after}
        event = kind if after else "note"
        note_event(connection, part.id, event, when, before=before, after=after)
        return find_part(connection, tag)


def undo_part(house: House, tag: str, when: Occasion) -> PartEvent:
    """Take back the newest change of a part that was not taken back yet; the event that was undone.

    NotFound where there is nothing left to undo. Both stay in the history.
    """
    with house.keeping() as connection:
        part = find_part(connection, tag)
        events = events_of(stored.read_events(connection, part.id))
        last = last_undoable(steps_of(events))
        if last is None:
            raise NotFound(
                f"nothing is left to undo of part {part.tag}", f"`donorbase part remove {part.tag}` takes it out whole."
            )
        _check_alone(connection, part, {last.before.get("state"), last.after.get("state")})
        stored.set_fields(connection, part.id, {n: v for n, v in last.before.items() if n in FIELDS})
        undoing = note_event(connection, part.id, "undo", when, undoes=last.id)
        stored.take_back_holds(connection, last.id, undoing)
        return next(event for event in events if event.id == last.id)


def _check_alone(connection: "Connection", part: Part, states: Collection[str | None]) -> None:
    """Refuse to take back of one part what was done to a whole and its pieces together, so that none counts twice."""
    joined = [state for state in ("split", "assembled") if state in states]
    if joined:
        raise BadInput(
            f"part {part.tag} was {joined[0]} together with others, and is not taken back alone",
            "`donorbase part rejoin` takes a split back, `part apart` an assembly; or do it anew.",
        )
    if "removed" not in states:
        return
    whole = stored.read_part(connection, part.out_of) if part.out_of else None
    apart = [h for h in stored.read_holds(connection) if h["into_part"] == part.id and h["ended_by"]]
    if (whole and whole["state"] != "split") or apart:
        what = "its pieces are" if apart else "the axle it was split off is"
        raise BadInput(f"part {part.tag} cannot come back: {what} kept again", "Split or assemble it anew.")
