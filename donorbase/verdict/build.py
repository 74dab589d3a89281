"""A build file in, a build out; every fault at once, each with its line."""

import math
import re
import tomllib
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, fields
from typing import Any

from donorbase.attributes import Kind
from donorbase.engineering.tires import read_tire
from donorbase.errors import BadData, BadInput
from donorbase.facts import Value
from donorbase.verdict.parse_condition import parse_condition
from donorbase.verdict.spec import ENDS, Build, Level, Money, Requirement, Vehicle, Work, Yard
from donorbase.verdict.subjects import VEHICLE, find_subject, near_names, requirement_names

__all__ = [
    "Build",
    "Level",
    "Money",
    "Requirement",
    "Vehicle",
    "Where",
    "Work",
    "Yard",
    "parse_build",
    "read_build",
]

_TOP = ("name", "wants", "vehicle", "gearing", "front", "rear", "any", "pair", "work", "money", "computed")
_VEHICLE_WORDS = {name: a.values for name, a in VEHICLE.items() if a.kind is Kind.CHOICE}
_NEXT = "Mend these lines of the build file and run it again."

Path = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Where:
    """A build's text: its name and the line on which each key stands."""

    name: str
    lines: Mapping[Path, int] = field(default_factory=dict)

    def at(self, path: Path) -> str:
        """The place of a key, or of the nearest table round it: ``crawler.toml:12``."""
        for cut in range(len(path), 0, -1):
            if path[:cut] in self.lines:
                return f"{self.name}:{self.lines[path[:cut]]}"
        return self.name


def read_build(text: str, name: str, *, works: Collection[str] = ()) -> Build:
    """The build of a TOML text. ``works`` are the known words of work; left empty, any word will do.

    BadData names every fault with its line.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        raise BadData(f"{name} is no TOML", [str(wrong)], _NEXT) from wrong
    return parse_build(data, Where(name, _lines(text)), works=works)


def parse_build(data: Mapping[str, Any], where: Where | None = None, *, works: Collection[str] = ()) -> Build:
    """The build of plain data in the form of a build file; BadData names every fault."""
    parser = _Parser(where or Where("build"), works)
    build = parser.build(data)
    if parser.faults:
        raise BadData(f"the build {parser.where.name} cannot be used", parser.faults, _NEXT)
    return build


_HEADER = re.compile(r"^\s*\[\s*([^\[\]]+?)\s*\]")
_KEY = re.compile(r"^\s*([A-Za-z0-9_.\"'-]+)\s*=")


def _lines(text: str) -> dict[Path, int]:
    found: dict[Path, int] = {}
    table: Path = ()
    for number, line in enumerate(text.splitlines(), 1):
        if header := _HEADER.match(line):
            table = _path(header[1])
            found.setdefault(table, number)
        elif key := _KEY.match(line):
            found.setdefault((*table, *_path(key[1])), number)
    return found


def _path(dotted: str) -> Path:
    return tuple(part.strip(" \"'") for part in dotted.split("."))


class _Parser:
    """Collects faults; what is faulty is left out of the build, which then is not handed out."""

    def __init__(self, where: Where, works: Collection[str]) -> None:
        self.where = where
        self.works = works
        self.faults: list[str] = []

    def fault(self, path: Path, what: str) -> None:
        self.faults.append(f"{self.where.at(path)}: {'.'.join(path)}: {what}")

    def build(self, data: Mapping[str, Any]) -> Build:
        self.known(data, (), _TOP)
        ends = {end: self.table(data, (end,)) for end in (*ENDS, "any", "pair")}
        gearing = self.table(data, ("gearing",))
        self.known(gearing, ("gearing",), ("ratio",))
        return Build(
            name=self.text(data, ("name",)) or self.where.name,
            wants=self.wants(data),
            vehicle=self.vehicle(self.table(data, ("vehicle",))),
            ratio=self.number(gearing, ("gearing", "ratio"), 1.5, 13),
            requirements={end: rows for end in ends if (rows := self.requirements(ends[end], end))},
            has={end: has for end in ENDS if (has := self.has(self.table(ends[end], (end, "has")), end))},
            work=self.work(self.table(data, ("work",))),
            money=self.money(self.table(data, ("money",))),
            computed=self.flag(data, ("computed",), default=True),
        )

    def known(self, table: Mapping[str, Any], path: Path, keys: Collection[str]) -> None:
        for key in table:
            if key not in keys:
                self.fault((*path, key), f"nothing is called so here{near_names(key, list(keys))}")

    def table(self, data: Mapping[str, Any], path: Path) -> Mapping[str, Any]:
        found = data.get(path[-1], {})
        if isinstance(found, Mapping):
            return found
        self.fault(path, f"a table is wanted, not {found!r}")
        return {}

    def text(self, data: Mapping[str, Any], path: Path) -> str | None:
        found = data.get(path[-1])
        if found is None or isinstance(found, str):
            return found
        self.fault(path, f"a text is wanted, not {found!r}")
        return None

    def flag(self, data: Mapping[str, Any], path: Path, *, default: bool) -> bool:
        found = data.get(path[-1], default)
        if isinstance(found, bool):
            return found
        self.fault(path, f"true or false is wanted, not {found!r}")
        return default

    def number(self, data: Mapping[str, Any], path: Path, low: float = 0, high: float = 1e6) -> float | None:
        found = data.get(path[-1])
        if found is None:
            return None
        if isinstance(found, bool) or not isinstance(found, (int, float)) or not math.isfinite(found):
            self.fault(path, f"a number is wanted, not {found!r}")
        elif not low <= found <= high:
            self.fault(path, f"{found:g} is outside what is believable, {low:g} to {high:g}")
        else:
            return found
        return None

    def wants(self, data: Mapping[str, Any]) -> tuple[str, ...]:
        given = data.get("wants", [])
        ends = [given] if isinstance(given, str) else given
        if not isinstance(ends, list) or not ends or not all(end in ENDS for end in ends):
            self.fault(("wants",), f'the ends that a donor is wanted for: ["front"], ["rear"] or both, not {given!r}')
            return ()
        return tuple(dict.fromkeys(ends))

    def vehicle(self, table: Mapping[str, Any]) -> Vehicle:
        names = [f.name for f in fields(Vehicle)]
        self.known(table, ("vehicle",), names)
        found: dict[str, Any] = {}
        for name in names:
            path = ("vehicle", name)
            if name in _VEHICLE_WORDS:
                found[name] = self.word(table, path, _VEHICLE_WORDS[name])
            elif name == "tires":
                found[name] = self.tires(table)
            elif VEHICLE[name].kind is Kind.FLAG:
                found[name] = self.flag(table, path, default=False) if name in table else None
            else:
                found[name] = self.number(table, path, 0.01)
        return Vehicle(**found)

    def word(self, table: Mapping[str, Any], path: Path, words: tuple[str, ...]) -> str | None:
        found = self.text(table, path)
        if found is not None and found not in words:
            self.fault(path, f"{found!r}: there are {', '.join(words)}")
        return found

    def tires(self, table: Mapping[str, Any]) -> str | None:
        found = self.text(table, ("vehicle", "tires"))
        if found is None:
            return None
        try:
            read_tire(found)
            return found
        except BadInput as wrong:
            self.fault(("vehicle", "tires"), f"{wrong.what} {wrong.next_step}".strip())
            return None

    def requirements(self, table: Mapping[str, Any], end: str) -> tuple[Requirement, ...]:
        self.known(table, (end,), (*map(str, Level), *(("has",) if end in ENDS else ())))
        rows = []
        for level in Level:
            for name, raw in self.table(table, (end, str(level))).items():
                row = self.requirement((end, str(level), name), raw, level)
                rows += [row] if row else []
        return tuple(rows)

    def requirement(self, path: Path, raw: Any, level: Level) -> Requirement | None:
        pair = path[0] == "pair"
        subject = find_subject(path[-1], pair=pair)
        if subject is None:
            names = requirement_names(pair=pair)
            self.fault(path, f"no attribute is called so{near_names(path[-1], names)}")
            return None
        try:
            return Requirement(subject.name, parse_condition(raw, subject), level)
        except ValueError as wrong:
            self.fault(path, str(wrong))
            return None

    def has(self, table: Mapping[str, Any], end: str) -> dict[str, Value]:
        found: dict[str, Value] = {}
        for name, raw in table.items():
            path = (end, "has", name)
            row = self.requirement(path, raw, Level.MUST)
            if row and row.condition.wanted is not None:
                found[row.subject] = row.condition.wanted
            elif row:
                self.fault(path, f"what is there has one value, not {raw!r}")
        return found

    def work(self, table: Mapping[str, Any]) -> Work:
        lists = ("planned", "accepted", "refused")
        self.known(table, ("work",), (*lists, "price_usd"))
        words = {key: self.words(table, ("work", key)) for key in lists}
        for first, second in (("planned", "refused"), ("accepted", "refused")):
            for word in sorted(set(words[first]) & set(words[second])):
                self.fault(("work", second), f"{word} is {first} and refused")
        return Work(**words, price_usd=self.prices(table, ("work", "price_usd"), work=True))

    def words(self, table: Mapping[str, Any], path: Path) -> tuple[str, ...]:
        found = table.get(path[-1], [])
        if not isinstance(found, list) or not all(isinstance(word, str) for word in found):
            self.fault(path, f"a list of words of work is wanted, not {found!r}")
            return ()
        for word in found:
            self.work_word(path, word)
        return tuple(dict.fromkeys(found))

    def work_word(self, path: Path, word: str) -> None:
        if self.works and word not in self.works:
            self.fault(path, f"no work is called {word!r}{near_names(word, list(self.works))}")

    def prices(self, table: Mapping[str, Any], path: Path, *, work: bool) -> dict[str, float]:
        rows = self.table(table, path)
        found: dict[str, float] = {}
        for key in rows:
            if work:
                self.work_word((*path, key), key)
            price = self.number(rows, (*path, key), -1e6 if work else 0)
            found |= {} if price is None else {key: price}
        return found

    def money(self, table: Mapping[str, Any]) -> Money:
        numbers = ("landed_limit_usd", "travel_usd_per_mi", "tax_pct", "hour_usd")
        self.known(table, ("money",), (*numbers, "part_price_usd", "yard"))
        found = {key: self.number(table, ("money", key)) for key in numbers}
        parts = self.prices(table, ("money", "part_price_usd"), work=False)
        return Money(**found, part_price_usd=parts, yard=self.yard(table) if "yard" in table else None)

    def yard(self, table: Mapping[str, Any]) -> Yard:
        path = ("money", "yard")
        rows = self.table(table, path)
        self.known(rows, path, ("half_price_day", "core_usd", "entry_usd", "core_return"))
        return Yard(
            self.flag(rows, (*path, "half_price_day"), default=False),
            self.number(rows, (*path, "core_usd")),
            self.number(rows, (*path, "entry_usd")),
            self.number(rows, (*path, "core_return"), 0, 1),
        )
