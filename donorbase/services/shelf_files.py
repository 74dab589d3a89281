"""The whole shelf as plain data, and back into another database: every part with all that happened to it.

Numbers of rows are of one database only, so events are counted within their part and parts are named by their tags.
The candidate that a part was bought as is a number of one database as well, and stays behind.
"""

import json
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadData, BadInput, DonorbaseError
from donorbase.reference.parts import part_kinds
from donorbase.reference.shelf_words import FREE
from donorbase.services.backups import backup_before_import
from donorbase.services.house import House
from donorbase.services.shelf import FIELDS
from donorbase.shelf.standing import Step, standing
from donorbase.shelf.tags import number_of
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

_KEPT = tuple(name for name in FIELDS if name != "candidate_id")
_EVENT = ("kind", "who", "note")
_HOLD = ("kind", "build", "person", "price_cents")
_READING = ("measure", "amount", "unit", "instrument", "cast_limit", "judged", "because")
FORM = "donorbase shelf 1"


def export_shelf(house: House) -> dict[str, Any]:
    """All parts, those that are gone as well, as plain data that ``import_shelf`` reads back to the same."""
    with house.reading() as connection:
        rows = stored.list_parts(connection)
        tags = {row["id"]: row["tag"] for row in rows}
        return {"form": FORM, "parts": [_plain(connection, row, tags) for row in rows]}


def _plain(connection: "Connection", row: Mapping[str, Any], tags: Mapping[int, str]) -> dict[str, Any]:
    events = stored.read_events(connection, row["id"])
    count = {event["id"]: number for number, event in enumerate(events, 1)}
    holds = stored.read_holds(connection, [row["id"]])
    readings = stored.read_readings(connection, row["id"])
    return {
        "tag": row["tag"],
        **{name: row[name] for name in _KEPT},
        "out_of": tags.get(row["out_of"]),
        "made_at": row["made_at"].isoformat(),
        "events": [_plain_event(event, count) for event in events],
        "holds": [
            {name: hold[name] for name in _HOLD}
            | {"into_part": tags.get(hold["into_part"])}
            | {name: count.get(hold[name]) for name in ("begun_by", "ended_by")}
            for hold in holds
        ],
        "readings": [{name: r[name] for name in _READING} | {"event": count[r["event_id"]]} for r in readings],
    }


def _plain_event(event: Mapping[str, Any], count: Mapping[int, int]) -> dict[str, Any]:
    detail = json.loads(event["detail"] or "{}")
    for fields in detail.values():
        fields.pop("candidate_id", None)
    days = {"happened_on": event["happened_on"].isoformat(), "noted_at": event["noted_at"].isoformat()}
    return {name: event[name] for name in _EVENT} | days | {"detail": detail, "undoes": count.get(event["undoes"])}


def import_shelf(house: House, raw: bytes, name: str) -> tuple[int, int]:
    """Keep the parts of an exported shelf, all or none; how many were added, and how many were there already.

    BadInput where it is no such file; BadData names each part that cannot be kept, and why.
    """
    given = _parts_of(raw, name)
    there = {part["tag"]: part for part in export_shelf(house)["parts"]}
    faults = [f"{name}: {fault}" for part in given if (fault := _fault(part, there, given))]
    if faults:
        raise BadData(f"{name} cannot be kept", faults, "Nothing was kept. Export the shelf anew, or mend the file.")
    fresh = sorted((part for part in given if part["tag"] not in there), key=lambda part: number_of(part["tag"]))
    if fresh:
        backup_before_import(house)
    try:
        with house.keeping() as connection:
            for part in fresh:
                _keep_part(connection, part)
            for part in fresh:
                _keep_happened(connection, part)
    except (KeyError, TypeError, ValueError, IndexError, AttributeError, OverflowError) as wrong:
        raise BadInput(f"{name} is not in the form of an export ({wrong})", "Nothing was kept.") from wrong
    return len(fresh), len(given) - len(fresh)


def _parts_of(raw: bytes, name: str) -> Sequence[dict[str, Any]]:
    try:
        found = json.loads(raw)
    except (ValueError, RecursionError) as wrong:
        raise BadInput(f"{name} is not JSON ({wrong})", "`donorbase part export` writes such a file.") from wrong
    parts = found.get("parts") if isinstance(found, dict) and found.get("form") == FORM else None
    if not isinstance(parts, list) or not all(isinstance(p, dict) and isinstance(p.get("tag"), str) for p in parts):
        raise BadInput(f"{name} is no shelf of this program", "`donorbase part export` writes such a file.")
    return parts


def _fault(part: Mapping[str, Any], there: Mapping[str, Any], given: Sequence[Mapping[str, Any]]) -> str:
    """What keeps a part from being kept; empty where nothing does."""
    tag = part["tag"]
    if tag in there:
        return "" if there[tag] == part else f"{tag}: another part, or another state of it, has that tag here"
    if sum(other["tag"] == tag for other in given) > 1:
        return f"{tag}: stands twice"
    try:
        number_of(tag)
        made = _made_by_events(part)
        told = {name: part[name] for name in _KEPT} | {"state": _open_hold(part)}
        part_kinds()[part["kind"]]
        datetime.fromisoformat(part["made_at"])
        spoken_of = [t for t in (part["out_of"], *(h["into_part"] for h in part["holds"])) if t]
        named = {other["tag"] for other in given} | set(there)
        lost = [t for t in spoken_of if t not in named]
    except (DonorbaseError, KeyError, TypeError, ValueError, AttributeError, IndexError) as wrong:
        return f"{tag}: is not in the form of an export ({type(wrong).__name__}: {wrong})"
    if lost:
        return f"{tag}: {lost[0]}, of which it speaks, is missing"
    wrong_fields = [name for name, value in told.items() if made.get(name) != value]
    return f"{tag}: its events do not make it what it says: {', '.join(wrong_fields)}" if wrong_fields else ""


def _made_by_events(part: Mapping[str, Any]) -> dict[str, Any]:
    steps = []
    for number, event in enumerate(part["events"], 1):
        for name in ("happened_on", "noted_at"):
            datetime.fromisoformat(event[name])
        detail = event["detail"]
        steps.append(Step(number, event["kind"], detail.get("before", {}), detail.get("after", {}), event["undoes"]))
    return standing(steps)


def _open_hold(part: Mapping[str, Any]) -> str:
    """The state by the holds; ValueError where more than one is open, or a hold names no event of the part."""
    events = range(1, len(part["events"]) + 1)
    for hold in part["holds"]:
        if hold["begun_by"] not in events or hold["ended_by"] not in (None, *events):
            raise ValueError("a hold names no event of the part")
    held = [str(hold["kind"]) for hold in part["holds"] if hold["ended_by"] is None]
    if len(held) > 1:
        raise ValueError("it is promised twice")
    return held[0] if held else FREE


def _keep_part(connection: "Connection", part: Mapping[str, Any]) -> None:
    row = {name: part[name] for name in ("tag", *_KEPT)} | {"id": number_of(part["tag"])}
    out_of = number_of(part["out_of"]) if part["out_of"] else None
    stored.add_part(connection, row | {"out_of": out_of, "made_at": datetime.fromisoformat(part["made_at"])})


def _keep_happened(connection: "Connection", part: Mapping[str, Any]) -> None:
    ours = {"part_id": number_of(part["tag"])}
    ids: list[int] = []
    for event in part["events"]:
        row = ours | {name: event[name] for name in _EVENT}
        row |= {"happened_on": date.fromisoformat(event["happened_on"])}
        row |= {"noted_at": datetime.fromisoformat(event["noted_at"])}
        row |= {"detail": json.dumps(event["detail"]) if event["detail"] else ""}
        ids.append(
            stored.add_event(connection, row | {"undoes": ids[event["undoes"] - 1] if event["undoes"] else None})
        )
    for hold in part["holds"]:
        row = ours | {name: hold[name] for name in _HOLD}
        row |= {"into_part": number_of(hold["into_part"]) if hold["into_part"] else None}
        row |= {name: ids[hold[name] - 1] if hold[name] else None for name in ("begun_by", "ended_by")}
        stored.add_hold(connection, row)
    for reading in part["readings"]:
        row = ours | {name: reading[name] for name in _READING} | {"event_id": ids[reading["event"] - 1]}
        stored.add_reading(connection, row)
