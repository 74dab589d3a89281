"""When a rule of a data file applies: its conditions as they are written, checked, and the keys of rules."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from donorbase.attributes import attributes
from donorbase.errors import BadInput
from donorbase.reference.conditions import Condition, parse_condition
from donorbase.reference.judging import judging
from donorbase.reference.rows import Faults, Row, toml_row, toml_tables
from donorbase.reference.tables import load_works
from donorbase.shipped import data_dir

_ENDS = ("front", "rear", "")
_WHEN = ("end", "axle", "vehicle", "work", "finding", "hazard", "known")


@dataclass(frozen=True, slots=True)
class When:
    """Conditions that must all hold. ``vehicle`` stays as it is written: the build's own language reads it.

    Of ``work`` any word suffices, of ``finding`` any requirement that fails or is not known.
    """

    end: str = ""
    axle: tuple[Condition, ...] = ()
    vehicle: Mapping[str, Any] = field(default_factory=dict)
    work: tuple[str, ...] = ()
    finding: tuple[str, ...] = ()
    hazard: tuple[str, ...] = ()
    """Marks in the words of the offer, any of which suffices."""
    known: bool = False
    """Whether it applies only where all that it asks is known; else it applies also where something is not."""


@contextmanager
def rule_file(path: Path, name: str) -> Iterator[tuple[Row | None, list[Row]]]:
    """The record of a TOML file (None: it cannot be read) and its tables of that name, for rules to be made of them.

    Behind it BadData names every fault that was noted meanwhile, keys that stand twice, and a file without a rule.
    """
    faults = Faults()
    row = toml_row(path, faults)
    tables = toml_tables(row, name, path) if row else []
    yield row, tables
    _check_keys(tables, path, faults)
    faults.refuse(f"{path.name} does not pass its check", "Mend the lines named and run again.")


def _check_keys(tables: list[Row], path: Path, faults: Faults) -> None:
    taken: set[str] = set()
    for table in tables:
        key = table.text("key")
        if key in taken:
            table.fault("key", f"{key!r} stands twice")
        taken.add(key)
    if not tables and not faults.lines:
        faults.add(path.name, "holds no rule")


def check_end(row: Row, end: str) -> None:
    """Note a fault where ``end`` is neither front, rear nor nothing."""
    if end not in _ENDS:
        row.fault("end", f"{end!r} is neither front nor rear")


def whens(row: Row) -> tuple[When, ...]:
    """The conditions of a rule, any of which suffices; none where it applies always."""
    tables = row.cells.get("when", [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) and table for table in tables):
        row.fault("when", "must be a list of tables with something in them")
        return ()
    return tuple(_when(Row(row.file, row.lines.get("when", row.line), table, row.faults)) for table in tables)


def _when(row: Row) -> When:
    row.only(_WHEN)
    work = row.texts("work")
    for word in work:
        if word not in _works():
            row.fault("work", f"{word!r} is not in works.csv")
    end = row.text("end")
    check_end(row, end)
    hazards = row.texts("hazard")
    for name in hazards:
        if name not in judging().hazards:
            row.fault("hazard", f"{name!r} is not in verdict.toml")
    known = row.flag("known") if "known" in row.cells else False
    return When(end, _axle(row), _table(row, "vehicle"), work, row.texts("finding"), hazards, known)


@cache
def _works() -> frozenset[str]:
    # What is wrong with that file is told where the catalogue is loaded.
    return frozenset(load_works(data_dir() / "works.csv", Faults()))


def _table(row: Row, name: str) -> Mapping[str, Any]:
    found = row.cells.get(name, {})
    if isinstance(found, dict):
        return found
    row.fault(name, f"must be a table, not {found!r}")
    return {}


def _axle(row: Row) -> tuple[Condition, ...]:
    found = []
    for name, text in _table(row, "axle").items():
        if name not in attributes() or not isinstance(text, str):
            row.fault("axle", f"{name} is no attribute, or its condition is not written as text")
            continue
        try:
            found.append(parse_condition(name, text))
        except BadInput as wrong:
            row.fault("axle", wrong.what)
    return tuple(found)
