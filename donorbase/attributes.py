"""The attributes: everything that can be known of an offer, a thing in it, or an axle, defined once.

The definitions are the entries of ``data/attributes.toml``; this module types and checks them. Reading,
identification, requirements, questions, queries, SQL columns, JSON and reports all follow it.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import Any

from donorbase.errors import BadData
from donorbase.shipped import data_dir


class Kind(StrEnum):
    """What sort of value an attribute takes."""

    COUNT = "count"
    LENGTH = "length"
    RATIO = "ratio"
    MONEY = "money"
    CHOICE = "choice"
    TEXT = "text"
    FLAG = "flag"
    YEARS = "years"
    RANGE = "range"
    KEY = "key"


NUMBERS = frozenset({Kind.COUNT, Kind.LENGTH, Kind.RATIO, Kind.MONEY})
PAIRS = frozenset({Kind.YEARS, Kind.RANGE})


@dataclass(frozen=True, slots=True)
class Attribute:
    """One thing that can be known. Units stand in the name; the fields are those of the data file.

    ``sd`` is in the attribute's unit; ``miscount``, ``seller_error`` and ``changed`` are probabilities;
    ``trouble`` is in minutes.
    """

    name: str
    title: str
    scope: str
    kind: Kind
    many: bool = False
    values: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    group: str = ""
    tool: str = ""
    sd: float = 0.0
    miscount: float = 0.0
    trouble: float = 0.0
    seller_error: float = 0.0
    changed: float = 0.0
    ends: tuple[str, ...] = ("front", "rear")
    aliases: tuple[str, ...] = ()
    about: str = ""
    ask: str = ""
    how: str = ""
    values_of: str = field(default="", repr=False)

    @property
    def measurable(self) -> bool:
        """Whether a person beside the axle can find it out."""
        return bool(self.tool)

    @property
    def unit(self) -> str:
        """The unit at the end of the name: ``in``, ``mm``, ``lb``, ``mi``, ``usd`` or nothing."""
        ending = self.name.rpartition("_")[2]
        return ending if ending in {"in", "mm", "lb", "mi", "usd"} else ""


@cache
def attributes() -> Mapping[str, Attribute]:
    """All attributes by name, in the order of the data file."""
    path = data_dir() / "attributes.toml"
    rows: list[dict[str, Any]] = tomllib.loads(path.read_text("utf-8"))["attribute"]
    named: dict[str, dict[str, Any]] = {str(row["name"]): row for row in rows}
    if len(named) != len(rows):
        raise BadData("attributes.toml names an attribute twice", sorted(r["name"] for r in rows))
    typed: dict[str, Attribute] = {name: _attribute(row, named) for name, row in named.items()}
    return MappingProxyType[str, Attribute](typed)


def _attribute(row: dict[str, Any], named: Mapping[str, dict[str, Any]]) -> Attribute:
    values = named[row["values_of"]]["values"] if "values_of" in row else row.get("values", ())
    lists: dict[str, Any] = {key: tuple(row[key]) for key in ("ends", "aliases") if key in row}
    try:
        fields: dict[str, Any] = {**row, **lists, "kind": Kind(row["kind"]), "values": tuple(values)}
        return Attribute(**fields)
    except (TypeError, ValueError) as wrong:
        raise BadData("attributes.toml cannot be read", [f"{row['name']}: {wrong}"]) from wrong


@cache
def _aliases() -> Mapping[str, str]:
    return {alias: a.name for a in attributes().values() for alias in a.aliases}


def attribute(name: str) -> Attribute:
    """The attribute of that name or alias; KeyError where there is none."""
    return attributes()[_aliases().get(name, name)]


def of_scope(scope: str) -> tuple[Attribute, ...]:
    """The attributes of one scope: ``offer``, ``item`` or ``axle``."""
    return tuple(a for a in attributes().values() if a.scope == scope)
