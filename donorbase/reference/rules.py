"""``data/fitup.toml``, ``cautions.toml`` and ``take-along.toml`` -> rules and when each applies; rows checked."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from donorbase.reference.rows import Row
from donorbase.reference.when import When, check_end, rule_file, whens
from donorbase.shipped import data_dir

SUMS = ("bump-steer", "caster", "wheel", "brake-fluid", "driveshaft", "mismatch", "width", "weight")
"""The figures that can be worked out beside a point."""
SHOWN = ("check", "order", "fitup", "calc", "shelf")
"""Where a caution may stand."""
_POINT = ("key", "stage", "end", "do", "why", "basis", "inspect", "sum", "fill", "when")
_THING = ("key", "thing", "end", "why", "basis", "when")
_CAUTION = ("key", "says", "basis", "shown", "when")


@dataclass(frozen=True, slots=True)
class Point:
    """A hold point of fitting an axle. ``when``: any of them suffices, none means always."""

    key: str
    stage: str
    end: str
    do: str
    why: str
    basis: str
    inspect: str
    sum: str
    fill: str
    when: tuple[When, ...]


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution, where it may stand, and when; without a ``when`` it is asked for by name."""

    key: str
    says: str
    basis: str
    shown: tuple[str, ...]
    when: tuple[When, ...]


@dataclass(frozen=True, slots=True)
class Thing:
    """Something worth taking from a donor while one is there, and when."""

    key: str
    thing: str
    end: str
    why: str
    basis: str
    when: tuple[When, ...]


@dataclass(frozen=True, slots=True)
class FitUpRules:
    """The stages of the work, each (word, title), and the points in the order of the file."""

    stages: tuple[tuple[str, str], ...]
    points: tuple[Point, ...]


@cache
def fitup_rules() -> FitUpRules:
    """The shipped hold points; BadData with every fault of the file."""
    return fitup_from(data_dir() / "fitup.toml")


@cache
def cautions() -> Mapping[str, Caution]:
    """The shipped cautions by key; BadData with every fault of the file."""
    return cautions_from(data_dir() / "cautions.toml")


@cache
def things_to_take() -> tuple[Thing, ...]:
    """The shipped things worth taking along; BadData with every fault of the file."""
    return things_from(data_dir() / "take-along.toml")


def things_from(path: Path) -> tuple[Thing, ...]:
    """The things of a file of the shape of ``data/take-along.toml``."""
    with rule_file(path, "thing") as (_, tables):
        return tuple(_thing(table) for table in tables)


def fitup_from(path: Path) -> FitUpRules:
    """The hold points of a file of the shape of ``data/fitup.toml``."""
    with rule_file(path, "point") as (row, tables):
        stages = _stages(row) if row else ()
        return FitUpRules(stages, tuple(_point(table, {word for word, _ in stages}) for table in tables))


def cautions_from(path: Path) -> Mapping[str, Caution]:
    """The cautions of a file of the shape of ``data/cautions.toml``."""
    with rule_file(path, "caution") as (_, tables):
        return {caution.key: caution for caution in map(_caution, tables)}


def _stages(row: Row) -> tuple[tuple[str, str], ...]:
    pairs = row.cells.get("stages", [])
    if not isinstance(pairs, list) or not pairs or not all(isinstance(p, list) and len(p) == 2 for p in pairs):
        row.fault("stages", "must be a list of [word, title]")
        return ()
    return tuple((str(word), str(title)) for word, title in pairs)


def _point(row: Row, stages: set[str]) -> Point:
    row.only(_POINT)
    point = Point(
        key=row.needed("key"),
        stage=row.word("stage", stages),
        end=row.text("end"),
        do=row.needed("do"),
        why=row.needed("why"),
        basis=row.needed("basis"),
        inspect=row.text("inspect"),
        sum=row.text("sum"),
        fill=row.text("fill"),
        when=whens(row),
    )
    check_end(row, point.end)
    if point.sum and point.sum not in SUMS:
        row.fault("sum", f"{point.sum!r} is none of: {', '.join(SUMS)}")
    return point


def _thing(row: Row) -> Thing:
    row.only(_THING)
    end = row.text("end")
    check_end(row, end)
    return Thing(row.needed("key"), row.needed("thing"), end, row.needed("why"), row.needed("basis"), whens(row))


def _caution(row: Row) -> Caution:
    row.only(_CAUTION)
    shown = row.texts("shown")
    for place in shown:
        if place not in SHOWN:
            row.fault("shown", f"{place!r} is none of: {', '.join(SHOWN)}")
    return Caution(row.needed("key"), row.needed("says"), row.needed("basis"), shown, whens(row))
