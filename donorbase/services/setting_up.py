"""The set-up record of an axle, and the terms on which it may go back."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from donorbase.errors import BadInput
from donorbase.reference.measures import measures
from donorbase.reference.setup_points import SetupPoint, setup_points
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.near import near_keys
from donorbase.services.remembering import remember
from donorbase.services.shelf import Part, part_history, steps_of
from donorbase.shelf.limits import Judgement, judge_amount
from donorbase.shelf.remembered import remembered

MOST_DAYS = 3650


@dataclass(frozen=True, slots=True)
class SetupLine:
    """A point of a set-up as it was written down, and how it stands where a limit is on record (None: none is)."""

    point: SetupPoint
    text: str
    judgement: Judgement | None


def set_up(house: House, tag: str, told: Mapping[str, str], when: Occasion) -> tuple[SetupLine, ...]:
    """Keep points of a set-up in the units in which they were measured; the whole record.

    BadInput names what cannot be read; nothing is kept then.
    """
    known = setup_points()
    for name, text in told.items():
        if name not in known:
            near = near_keys(name, known)
            hint = f"Near it: {', '.join(near)}." if near else ""
            raise BadInput(f"there is no point {name!r} in a set-up", f"{hint} There are: {', '.join(known)}.".strip())
        known[name].parse(text)
    remember(house, tag, "setup", {n: text.strip() for n, text in told.items()}, when, kind="measured")
    return setup_of(house, tag)


def setup_of(house: House, tag: str) -> tuple[SetupLine, ...]:
    """The set-up record of a part, each point judged by its limit where there is one."""
    found = part_history(house, tag)
    told = remembered(steps_of(found.events), "setup")
    points = [point for point in setup_points().values() if point.name in told]
    return tuple(SetupLine(p, told[p.name], _judged(house, found.part, p, told[p.name])) for p in points)


def _judged(house: House, part: Part, point: SetupPoint, text: str) -> Judgement | None:
    amount = point.parse(text)
    if not point.measure or amount is None:
        return None
    catalogue = house.catalogue()
    return judge_amount(amount, measures()[point.measure], catalogue.wear, catalogue.variants.get(part.axle or ""))


def set_return(
    house: House, tag: str, when: Occasion, *, by: date | None = None, days: int | None = None, prove: str = ""
) -> date:
    """Note until when a part may go back and what has to be proved by then; ``days`` count from the day it came."""
    if (by is None) is (days is None):
        raise BadInput("it is not told until when it may go back", "Say --by DATE, or --days N from the day it came.")
    came = part_history(house, tag).events[0].happened_on
    if days is not None and not 0 <= days <= MOST_DAYS:
        raise BadInput(f"{days} days is no term of return", f"Give from 0 to {MOST_DAYS:,} days.")
    until = by or came + timedelta(days=days or 0)
    if until < came:
        raise BadInput(f"{until} is before it came, {came}", "Give a later day.")
    remember(house, tag, "return", {"by": until.isoformat(), "prove": prove.strip()}, when)
    return until
