"""Exports with any value anywhere in them spoilt: taken in whole or refused in words, never half, no traceback."""

import json
import random
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from donorbase.errors import DonorbaseError
from donorbase.services.database import check
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.moving import export_database, import_database
from donorbase.services.promising import Taking, release, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf import parts
from donorbase.services.shelf_files import export_shelf, import_shelf
from donorbase.services.tending import move_part, note_part

TURNS = 60
WHEN = Occasion(date(2026, 11, 1), "owner", "found")
JUNK: tuple[Any, ...] = (
    None, True, -1, 0, 10**30, 1.5, float("inf"), "", "x" * 5000, "\0", "\ud800", "2026-13-45",
    "'; DROP TABLE part; --",
    "../../etc/passwd", [], {}, [[]], {"a": {"b": None}}, ["AAC4"], "AAC4",
)  # fmt: skip


@pytest.fixture
def shelved(new_place: Callable[[], str]) -> Iterator[House]:
    """A shelf on which something of each kind happened."""
    with closing(House(new_place())) as house:
        tags = [pull(house, Pulled("knuckle", side="left", place="shed"), WHEN).tag for _ in range(3)]
        move_part(house, tags[0], "loft", WHEN)
        take(house, tags[0], Taking("reserved", person="Kim"), WHEN)
        take(house, tags[1], Taking("lent", person="Lee"), WHEN)
        release(house, tags[1], WHEN)
        note_part(house, tags[2], WHEN)
        yield house


def places(value: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every value in plain data."""
    if at:
        yield at
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inside:
        yield from places(one, (*at, key))


def spoilt(value: Any, chance: random.Random) -> Any:
    """A copy in which one value is another, is lacking, or stands twice."""
    found = json.loads(json.dumps(value))
    *way, last = chance.choice(list(places(found)))
    inside = found
    for key in way:
        inside = inside[key]
    how = chance.random()
    if how < 0.7:
        inside[last] = chance.choice(JUNK)
    elif how < 0.85:
        del inside[last]
    elif isinstance(inside, list):
        inside.append(inside[last])
    else:
        inside["more"] = inside[last]
    return found


@pytest.fixture
def empty_copy(databases: Any, new_place: Callable[[], str], tmp_path: Path) -> Callable[[], House]:
    """Makes databases that hold nothing of a user's, each a copy of the first."""
    template, number = new_place(), count()
    with closing(House(template)) as house:
        assert house.engine

    def make() -> House:
        folder = tmp_path / f"copy{next(number)}"
        folder.mkdir()
        return House(databases.copy(template, folder))

    return make


@pytest.mark.slow
def test_a_shelf_spoilt_anywhere(shelved: House, empty_copy: Callable[[], House]) -> None:
    whole, chance = export_shelf(shelved), random.Random(20261125)
    other, refused = empty_copy(), 0
    for turn in range(TURNS):
        raw = json.dumps(spoilt(whole, chance)).encode("utf-8", "surrogatepass")
        try:
            import_shelf(other, raw, "shelf.json")
        except DonorbaseError:
            refused += 1
            assert not parts(other), f"turn {turn}: half of it was kept"
            continue
        assert check(other).sound, turn
        other.close()
        other = empty_copy()
    other.close()
    assert TURNS // 3 < refused < TURNS


@pytest.mark.slow
def test_a_database_spoilt_anywhere(shelved: House, empty_copy: Callable[[], House], tmp_path: Path) -> None:
    file, chance, refused = tmp_path / "all.jsonl", random.Random(20261125), 0
    export_database(shelved, file, contacts=True)
    lines = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    for turn in range(TURNS // 4):
        file.write_bytes("".join(json.dumps(line) + "\n" for line in spoilt(lines, chance)).encode())
        with closing(empty_copy()) as other:
            try:
                import_database(other, file)
            except DonorbaseError:
                refused += 1
                assert not parts(other), f"turn {turn}: half of it was kept"
                continue
            assert check(other).sound, turn
    assert refused > TURNS // 12
