"""Yards: their lists kept, and the rows that hold a front or rear which meets a build, in the order of the walk."""

import csv
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, date, datetime
from typing import Any

from donorbase.attributes import attribute, attributes
from donorbase.errors import BadInput, NotFound
from donorbase.facts import Fact, Item, Reading
from donorbase.services.backups import backup_before_import
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.near import near_keys
from donorbase.services.yard_lists import (
    COLUMNS,
    Listed,
    Vehicle,
    digests,
    vehicles_of_board,
    vehicles_of_rows,
    walk_order,
)
from donorbase.verdict.judge import judge
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Asked, Call, ItemVerdict

WHOLE = "Donor truck: "
"""Said before the words of a vehicle, so that they are read as those of a whole one."""
_DRIVEN = re.compile(r"\b(?:4\s?x\s?4|4\s?wd|awd)\b", re.I)
_NOT_DRIVEN = re.compile(r"\b(?:4\s?x\s?2|2\s?wd|rwd)\b", re.I)
_KNOWING = ("donor_line", "load_class")
"""Of a vehicle of which neither is known nothing can be said but its year."""
BRING = ("magnet", "rule in mm", "light", "chalk", "gloves", "eye shields", "scraper", "camera")
"""What is worth having in any yard: common practice."""
_TOOLS = {"tape": "tape", "caliper": "caliper", "gauge": "gauge", "turning": "two helpers' hands to turn both wheels"}
CHECKED_AT_ONCE = 3


@dataclass(frozen=True, slots=True)
class ListKept:
    """What became of a list: vehicles that are new, known, and gone since; lines with faults."""

    yard: str
    added: int
    known: int
    gone: int
    faulty: int

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Stop:
    """A vehicle to stop at: one end of it as judged for the build.

    ``checks`` say what to look at first; ``verdict`` is unclear at best where nobody said that its front is driven.
    """

    vehicle: dict[str, Any]
    end: str
    verdict: Call
    chance: float
    taken_for: str
    checks: tuple[str, ...]
    tools: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data; days as ISO text."""
        days = {n: v.isoformat() if isinstance(v, date) else v for n, v in self.vehicle.items()}
        told = {name: getattr(self, name) for name in ("end", "chance", "taken_for")}
        return {**days, **told, "verdict": str(self.verdict), "checks": list(self.checks), "tools": list(self.tools)}


@dataclass(frozen=True, slots=True)
class Walk:
    """The stops of a yard in the order of its rows; what to bring; how many vehicles tell too little to be judged."""

    yard: str
    listed_on: date
    stops: tuple[Stop, ...]
    bring: tuple[str, ...]
    untold: int

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "yard": self.yard,
            "listed_on": self.listed_on.isoformat(),
            "stops": [stop.as_json() for stop in self.stops],
            "bring": list(self.bring),
            "untold": self.untold,
        }


def read_list(text: str, name: str, columns: Mapping[str, str] | None = None) -> tuple[Listed, ...]:
    """The vehicles of a list: a table where its first line names a row column, else a pasted board."""
    lines = text.splitlines()
    first = next((line for line in lines if line.strip()), "")
    delimiter = max(",;\t|", key=first.count)
    heads = [cell.strip() for cell in next(csv.reader([first], delimiter=delimiter), [])]
    held = _held(heads, columns or {}, name) if len(heads) > 1 or columns else {}
    if "row" not in held:
        return tuple(vehicles_of_board(lines, name))
    return tuple(vehicles_of_rows(_table(lines, delimiter, heads, held), name))


def _held(heads: Sequence[str], chosen: Mapping[str, str], name: str) -> dict[str, int]:
    """Where each field stands among the heads."""
    plain = {head.casefold(): at for at, head in reversed(list(enumerate(heads)))}
    for field, head in chosen.items():
        if field not in COLUMNS:
            raise BadInput(f"{field!r} is nothing a yard's list tells", f"Fields: {', '.join(COLUMNS)}.")
        if head.strip().casefold() not in plain:
            raise BadInput(f"{name} has no column {head!r}", f"It has: {', '.join(heads)}.")
    found = {field: plain[head.strip().casefold()] for field, head in chosen.items()}
    for field, words in COLUMNS.items():
        at = next((plain[word] for word in words if word in plain), None)
        if at is not None:
            found.setdefault(field, at)
    return found


def _table(
    lines: Sequence[str], delimiter: str, heads: Sequence[str], held: Mapping[str, int]
) -> Iterator[tuple[int, dict[str, str]]]:
    rows = csv.reader([f"{line}\n" for line in lines], delimiter=delimiter)
    seen_head = False
    for row in rows:
        if seen_head and any(cell.strip() for cell in row):
            yield rows.line_num, {field: row[at] for field, at in held.items() if at < len(row)}
        seen_head = seen_head or any(cell.strip() for cell in row)


def keep_list(
    house: House,
    yard: str,
    listed: Sequence[Listed],
    day: date,
    *,
    keep_good: bool = False,
    full: bool = True,
    place: Mapping[str, Any] | None = None,
) -> ListKept:
    """Keep a list of a yard; a ``full`` one says of every vehicle that it lacks that it is gone.

    ``place`` may tell ``distance_mi`` (one way) and ``zip`` of the yard.

    BadInput where lines have faults and the others are not to be kept without them, or there is no vehicle.
    """
    from donorbase.store import yards as stored

    if not yard.strip():
        raise BadInput("the yard has no name", "Give it one by which you know it.")
    good = [one.vehicle for one in listed if one.vehicle]
    faulty = len(listed) - len(good)
    if faulty and not keep_good:
        raise BadInput(f"{faulty} lines cannot be used; nothing was kept", "Mend them, or say --keep-good.")
    if not good:
        raise BadInput("there is no vehicle in the list", "Each line needs a row and a model year.")
    rows = [{**_row(one), "digest": digest} for one, digest in zip(good, digests(good), strict=True)]
    now = datetime.now(UTC)
    backup_before_import(house)
    with house.keeping() as connection:
        stored.keep_yard(connection, yard, day, now, **(place or {}))
        counts = stored.keep_vehicles(connection, yard, rows, day, full=full and not faulty)
        house.tell(connection, "yard", yard, f"{len(rows)} vehicles of {day}")
    return ListKept(yard, **counts, faulty=faulty)


def _row(one: Vehicle) -> dict[str, Any]:
    return {name: getattr(one, name) for name in one.__slots__}


def yards(house: House) -> tuple[dict[str, Any], ...]:
    """Every yard by name, with how many vehicles stand there and are gone."""
    from donorbase.store.yards import read_yards

    with house.reading() as connection:
        return tuple(read_yards(connection))


def named_yard(house: House, name: str) -> dict[str, Any]:
    """The yard of that name; NotFound names those near it."""
    kept = {one["name"]: one for one in yards(house)}
    if name not in kept:
        near = near_keys(name, kept) or list(kept)[:5]
        hint = f"Kept: {', '.join(near)}." if near else "`donorbase yard import NAME FILE` keeps one."
        raise NotFound(f"no yard {name!r} is kept", hint)
    return kept[name]


def walk(house: House, desk: Desk, yard: str, build: Build, progress: Callable[[int], None] = lambda _: None) -> Walk:
    """The vehicles of a yard whose front or rear may meet a build, row by row.

    NotFound names the yards near. Vehicles of which neither line nor class is known are counted, not judged.
    """
    from donorbase.store.yards import read_vehicles

    place = named_yard(house, yard)
    with house.reading() as connection:
        rows = read_vehicles(connection, yard)
    stops, untold, judged = list[Stop](), 0, dict[Reading, list[ItemVerdict]]()
    for row in sorted(rows, key=lambda r: walk_order(r["row"], r["space"])):
        progress(1)
        reading = reading_of(row, desk)
        if not any(reading.items[0].get(name) for name in _KNOWING):
            untold += 1
            continue
        key = Reading("", reading.offer, reading.items)
        if key not in judged:
            judged[key] = list(
                judge(build, key, desk.catalogue, distance_mi=place["distance_mi"], rates=desk.rates).items
            )
        stops += _stops(row, judged[key], build)
    tools = dict.fromkeys(tool for stop in stops for tool in stop.tools)
    return Walk(yard, place["listed_on"], tuple(stops), (*BRING, *tools) if stops else (), untold)


def reading_of(row: Mapping[str, Any], desk: Desk) -> Reading:
    """A vehicle of a list as a whole vehicle on offer: the facts of its words, those of its columns over them."""
    told = desk.read(WHOLE + row["text"])
    years = (row["year"], row["year"]) if row["year"] else None
    given = {"years": years, **{n: row[n] for n in ("donor_line", "load_class", "rear_wheels")}}
    own = [Fact(name, value) for name, value in given.items() if value]
    names = {"kind", "position", "part", "quantity", *(fact.attribute for fact in own)}
    said = [f for item in told.items for f in item.facts if f.attribute not in names]
    plain = [Fact(f.attribute, f.value, f.known) for f in said if f.attribute in attributes()]
    facts = (Fact("kind", "vehicle"), *own, *dict.fromkeys(plain))
    return Reading(told.text, (Fact("offer", "for-sale"),), (Item(facts),))


def _stops(row: dict[str, Any], judged: Sequence[ItemVerdict], build: Build) -> Iterator[Stop]:
    for one in judged:
        if one.end not in build.wants or one.verdict is Call.NO:
            continue
        checks, verdict = [asked_how(asked) for asked in one.questions[:CHECKED_AT_ONCE]], one.verdict
        if one.end == "front" and not _DRIVEN.search(row["text"]):
            if _NOT_DRIVEN.search(row["text"]):
                continue
            checks.insert(0, "see that its front is driven: nobody said that it is a 4x4")
            verdict = max(verdict, Call.UNCLEAR, key=lambda call: call.rank)
        tools = tools_for(one.questions[:CHECKED_AT_ONCE])
        yield Stop(row, one.end, verdict, one.chance, one.taken_for, tuple(checks), tools)


def asked_how(asked: Asked) -> str:
    """A question turned to one who stands beside the axle: how it is found out, else the question."""
    return f"{asked.subject.replace('_', ' ')}: {asked.how or asked.ask}"


def tools_for(asked: Sequence[Asked]) -> tuple[str, ...]:
    """What to bring to find out the answers."""
    return tuple(dict.fromkeys(_TOOLS[tool] for one in asked if (tool := _tool(one.subject)) in _TOOLS))


def _tool(subject: str) -> str:
    return attribute(subject).tool if subject in attributes() else ""
