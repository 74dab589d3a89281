"""``data/verdict.toml`` -> the figures of judging, typed and checked."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from donorbase.attributes import attribute, attributes
from donorbase.errors import BadData
from donorbase.shipped import data_dir

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Known:
    """Chances between which a requirement is not known, and what a plain statement or a silence leaves
    open.
    """

    low: float
    high: float
    curable: float
    stated: float
    error_part: float
    against_kind: float
    seen: float
    unlisted_low: float
    unlisted_shallow: float


@dataclass(frozen=True, slots=True)
class Cure:
    """A work word that makes good a failed requirement on ``subject``, and where it does.

    ``value``: only where this is asked for or, of a defect or kind, where this is the fault. ``donor``: only
    on an axle with these values. ``up_to``: it reaches no further. ``only``: ``wider`` (the axle must become
    wider), ``forbidden`` (something must go), ``vehicle``. ``end``: only of that end. ``also``: work that must be done
    with it.
    """

    subject: str
    work: str
    value: str | None = None
    donor: Mapping[str, Any] | None = None
    up_to: float | None = None
    only: str | None = None
    end: str = ""
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """A part that can be missing: USD for one, pieces an axle has, the price-book word for all of a kind
    together.

    ``replaced_by`` are works that bring it along; without a ``vital`` part the axle is no axle.
    """

    price_usd: Span
    pieces: int
    group: str
    replaced_by: tuple[str, ...] = ()
    vital: bool = False


@dataclass(frozen=True, slots=True)
class Hazard:
    """A mark in the words of an offer: ``kind`` is ``fraud``, ``hazard`` (of unknown size), ``hit`` or
    ``note``.

    ``words`` give it away, or one of ``lead`` with one of ``then`` close behind it; ``unless`` words take it back,
    and so do those of the sign ``cleared_by`` where they are plainly said. ``end`` limits it to front or rear. One
    ``strong`` mark of fraud is enough, of the others it takes two.
    """

    kind: str
    says: str
    ask: str = ""
    words: tuple[str, ...] = ()
    lead: tuple[str, ...] = ()
    then: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    cleared_by: str = ""
    end: str = ""
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Ruined:
    """How a seller says that a part is there and good for nothing: words of ruin, of parts by their name, and the
    small words that may stand between the two.
    """

    words: tuple[str, ...]
    between: tuple[str, ...]
    of_front: frozenset[str]
    parts: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that an axle may turn out to need: USD, the chance by the kind of donor, the work that spares it.

    ``unsaid`` is the entry of ``Judging.unsaid`` that holds of any donor, and the word for the defect where it is
    stated; ``end`` limits it to front or rear.
    """

    name: str
    unsaid: str
    cost_usd: Span
    chance: Mapping[str, float]
    spared_by: tuple[str, ...] = ()
    end: str = ""


@dataclass(frozen=True, slots=True)
class DonorKinds:
    """How the kind of donor shows: marks of ``Judging.hazards`` and words of the text, by kind."""

    basis: str
    marks: Mapping[str, tuple[str, ...]]
    words: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Finish:
    """Which planned work an axle is spared: what it has already, what only a whole vehicle needs, and the work of a
    kind of knuckle.
    """

    only_where_it_fails: frozenset[str]
    of_a_vehicle: frozenset[str]
    still_in: tuple[str, ...]
    knuckle: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Judging:
    """All figures of judging."""

    known: Known
    unsaid: Mapping[str, float]
    price: Mapping[str, Any]
    wider: Mapping[str, tuple[str, ...]]
    cures: tuple[Cure, ...]
    parts: Mapping[str, Part]
    housing: Mapping[str, tuple[str, ...]]
    part_means: Mapping[str, Mapping[str, tuple[str, ...]]]
    """By end: the parts that a part's plain name stands for there."""
    ruined: Ruined
    renewed: Mapping[str, tuple[str, ...]]
    faults: tuple[Fault, ...]
    donor_kinds: DonorKinds
    finish: Finish
    signs: Mapping[str, tuple[str, ...]]
    hazards: Mapping[str, Hazard]
    kill_order: tuple[str, ...]


@cache
def judging() -> Judging:
    """The shipped figures of judging; BadData where the file is not as it should be."""
    row: dict[str, Any] = tomllib.loads((data_dir() / "verdict.toml").read_text("utf-8"))
    try:
        found = _judging(row)
    except (KeyError, TypeError, ValueError) as wrong:
        raise BadData("verdict.toml cannot be read", [repr(wrong)]) from wrong
    if faults := list(_faults(found)):
        raise BadData("verdict.toml does not pass its check", faults)
    return found


def _judging(row: dict[str, Any]) -> Judging:
    return Judging(
        known=Known(**row["known"]),
        unsaid=row["unsaid"],
        price=row["price"],
        wider=_tuples(row["wider"]),
        cures=tuple(Cure(**{**cure, "also": tuple(cure.get("also", ()))}) for cure in row["cure"]),
        parts={name: _part(part) for name, part in row["part"].items()},
        housing=_tuples(row["housing"]),
        part_means={end: _tuples(words) for end, words in row["part_means"].items()},
        ruined=_ruined(row["ruined"]),
        renewed=_tuples(row["renewed"]),
        faults=tuple(_fault(fault) for fault in row["fault"]),
        donor_kinds=_donor_kinds(row["donor_kind"]),
        finish=_finish(row["finish"]),
        signs=_tuples(row["signs"]),
        hazards={name: _hazard(given) for name, given in row["hazard"].items()},
        kill_order=tuple(row["kill_order"]),
    )


def _ruined(row: Mapping[str, Any]) -> Ruined:
    return Ruined(tuple(row["words"]), tuple(row["between"]), frozenset(row["of_front"]), _tuples(row["parts"]))


def _fault(row: Mapping[str, Any]) -> Fault:
    low, high = row["cost_usd"]
    fields: dict[str, Any] = {**row, "cost_usd": (low, high), "spared_by": tuple(row.get("spared_by", ()))}
    return Fault(**fields)


def _donor_kinds(row: Mapping[str, Any]) -> DonorKinds:
    return DonorKinds(row["basis"], _tuples(row["marks"]), _tuples(row["words"]))


def _finish(row: Mapping[str, Any]) -> Finish:
    return Finish(
        frozenset(row["only_where_it_fails"]), frozenset(row["of_a_vehicle"]), tuple(row["still_in"]), row["knuckle"]
    )


def _hazard(row: Mapping[str, Any]) -> Hazard:
    fields: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in row.items()}
    return Hazard(**fields)


def _tuples(rows: Mapping[str, list[str]]) -> dict[str, tuple[str, ...]]:
    return {name: tuple(words) for name, words in rows.items()}


def _part(row: Mapping[str, Any]) -> Part:
    low, high = row["price_usd"]
    return Part((low, high), row["pieces"], row["group"], tuple(row.get("replaced_by", ())), row.get("vital", False))


def _faults(found: Judging) -> list[str]:
    parts = attribute("part").values
    faults = [f"part.{name} is no part" for name in found.parts if name not in parts]
    faults += [f"fault {f.name}: {f.unsaid} is not in unsaid" for f in found.faults if f.unsaid not in found.unsaid]
    faults += [f"donor_kind: {mark} is no hazard" for marks in found.donor_kinds.marks.values()
               for mark in marks if mark not in found.hazards]  # fmt: skip
    faults += [f"ruined.{name} is no part" for name in found.ruined.parts if name not in found.parts]
    faults += [f"housing: {name} is no part" for names in found.housing.values() for name in names if name not in parts]
    faults += [f"{h}: {found.hazards[h].kind!r} is no kind of sign" for h in found.hazards
               if found.hazards[h].kind not in {"fraud", "hazard", "hit", "note"}]  # fmt: skip
    faults += [f"{h}: {found.hazards[h].cleared_by} is no sign" for h in found.hazards
               if found.hazards[h].cleared_by not in {"", *found.signs}]  # fmt: skip
    donors = {name for cure in found.cures for name in (cure.donor or {})}
    return faults + [f"cure: {name} is no attribute" for name in sorted(donors - set(attributes()))]
