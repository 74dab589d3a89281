"""Any number of listings judged for one build: blocks of rows in, lines of JSON out, in the order of the rows.

A block is worked by a pure function, so that it comes out the same in this process, in another one, or on another
machine, and can be worked twice without harm.
"""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from typing import Any

from donorbase.errors import BadInput
from donorbase.services.contacts import blanked
from donorbase.services.corrected import corrected
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.sources import Found, Source
from donorbase.verdict.build import read_build
from donorbase.verdict.spec import Build

BLOCK = 200
"""Rows in a block: about a second of work, so that a stop loses little and handing over costs little."""

Row = tuple[str, str, str, float | None, float | None]
"""A row as plain data: place, fault, text, miles one way, price on its page in USD."""


@dataclass(frozen=True, slots=True)
class Setup:
    """By what listings are judged: the database's place, the build's name and text, and what is this year."""

    place: str
    build: str
    toml: str
    this_year: int


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that are worked together; ``number`` counts blocks from 0."""

    number: int
    rows: tuple[Row, ...]


def blocks_of(sources: Iterable[Source], shard: tuple[int, int] = (1, 1), size: int = BLOCK) -> Iterator[Block]:
    """The rows of sources in blocks, one in memory at a time; of shard (i, n) every n-th, beginning with the i-th."""
    part, parts = shard
    rows = (_row(found) for source in sources for found in source)
    number = 0
    while taken := tuple(islice(rows, size)):
        if number % parts == part - 1:
            yield Block(number, taken)
        number += 1


def _row(found: Found) -> Row:
    seen = found.seen
    if seen is None:
        return found.place, found.fault, "", None, None
    return found.place, "", seen.text, seen.distance_mi, seen.price_usd


def judge_block(setup: Setup, block: Block) -> list[str]:
    """One line of JSON for each row of a block: its verdict, or why it could not be used."""
    desk, build = _ready(setup)
    return [json.dumps(_judged(desk, build, row), ensure_ascii=False) for row in block.rows]


@lru_cache(maxsize=2)
def _ready(setup: Setup) -> tuple[Desk, Build]:
    house = House(setup.place)
    desk = Desk.of_house(house, setup.this_year)
    return desk, read_build(setup.toml, setup.build, works=desk.catalogue.works)


def _judged(desk: Desk, build: Build, row: Row) -> dict[str, Any]:
    place, fault, text, miles, price = row
    if fault:
        return {"place": place, "fault": fault}
    verdict = desk.judged(corrected(desk.read(text), (), price), build, miles).verdict
    # What to ask is left out: of many listings few are asked, and finding the questions costs most of the time.
    taken = [f"{verdict.items[n].end}: {verdict.items[n].taken_for}" for n in verdict.chosen]
    return {
        "place": place, "verdict": str(verdict.verdict), "chance": round(verdict.chance, 3), "taken_for": taken,
        "reasons": blanked([*verdict.reasons, *verdict.notes]),
        "cost_usd": verdict.money.total.as_json() if verdict.money.total else None,
    }  # fmt: skip


def shard_of(text: str) -> tuple[int, int]:
    """The shard of ``2/5``; BadInput where it is none."""
    part, slash, parts = text.partition("/")
    if slash and part.isdecimal() and parts.isdecimal() and 1 <= int(part) <= int(parts):
        return int(part), int(parts)
    raise BadInput(f"{text!r} is no shard", "Write the second of five as 2/5.")
