"""A vehicle of a yard's list kept as a candidate: a whole vehicle on offer at the yard, known by its row."""

from collections.abc import Mapping
from typing import Any

from donorbase.errors import BadInput, NotFound
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.keeping import Keeper, Outcome, Seen
from donorbase.services.learning import record_corrections
from donorbase.services.near import near_keys
from donorbase.services.rejudging import judge_changed
from donorbase.services.yards import WHOLE, named_yard
from donorbase.store.yards import read_vehicles

_COLUMNS = ("donor_line", "load_class", "rear_wheels")


def keep_vehicle(
    house: House, desk: Desk, yard: str, number: int, builds: tuple[str, ...], when: Occasion
) -> tuple[Outcome, str]:
    """Keep a vehicle by its number, as ``walk`` gives it, for builds, and judge it; what became of it, and its title.

    What columns of the list said of it is kept beside its words. Kept before, it is marked as seen on the day of the
    list. NotFound where the yard has no such vehicle, BadInput where it is gone since.
    """
    place, row = named_yard(house, yard), _vehicle(house, yard, number)
    title = f"{yard}, {_where(row)}"
    told = {"title": title, "url": f"{title}, no. {number}", "source": yard, "zip": place["zip"]}
    seen = Seen(f"{WHOLE}{row['text']}", row["last_seen_on"], distance_mi=place["distance_mi"], **told)
    keeper = Keeper(house, desk, builds, when.who, when.words)
    (outcome,) = keeper.keep([seen])
    if outcome.is_new and (columns := _columns(row, desk, seen.plain)):
        record_corrections(house, desk.read(seen.plain), 1, columns)
    judge_changed(house, desk, next(iter(outcome.candidates.values())))
    return outcome, title


def _vehicle(house: House, yard: str, number: int) -> dict[str, Any]:
    with house.reading() as connection:
        there, gone = (read_vehicles(connection, yard, gone=left) for left in (False, True))
    for row in there:
        if row["id"] == number:
            return row
    if lost := next((row for row in gone if row["id"] == number), None):
        raise BadInput(f"vehicle {number} of {yard} is gone since {lost['gone_on']}", "Keep one that stands there.")
    near = near_keys(str(number), [str(row["id"]) for row in there])
    hint = f"Near it: {', '.join(near)}. " if near else ""
    raise NotFound(f"{yard} has no vehicle {number}", f"{hint}`donorbase yard rows` shows their numbers.")


def _where(row: Mapping[str, Any]) -> str:
    parts = {"row": row["row"], "space": row["space"], "stock": row["stock"]}
    return ", ".join(f"{name} {value}" for name, value in parts.items() if value)


def _columns(row: Mapping[str, Any], desk: Desk, text: str) -> list[str]:
    """What the columns of the list say and the words do not, each ``NAME=VALUE``."""
    reading = desk.read(text)
    read = reading.items[0] if reading.items else None
    said = {name: row[name] for name in _COLUMNS if row[name] and not (read and row[name] in read.all(name))}
    years = {"years": row["year"]} if row["year"] and not (read and read.get("years")) else {}
    return [f"{name}={value}" for name, value in (years | said).items()]
