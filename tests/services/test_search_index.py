"""What is found is the same whether the index holds it, holds a part of it, or nothing of it yet."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move
from donorbase.services.joining import join, part
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.search import search
from donorbase.shipped import data_dir
from donorbase.store.schema import table
from donorbase.store.search_index import forget_index, how_many_due, put_in
from donorbase.store.sightings import sightings_of

ACCURACY = Path(__file__).parents[1] / "accuracy"
QUERIES = [json.loads(line)["query"] for line in (ACCURACY / "queries.jsonl").read_text("utf-8").splitlines()]
WHEN = Occasion(date(2026, 11, 20))


@pytest.fixture(scope="module")
def desk() -> Desk:
    return Desk.as_shipped(2026)


@pytest.fixture(scope="module")
def texts() -> list[str]:
    lines = (ACCURACY / "listings" / "open.jsonl").read_text("utf-8").splitlines()
    return [json.loads(line)["text"] for line in lines[:60]]


def answers(house: House, desk: Desk) -> list[Any]:
    return [[(h.listing_id, h.met, h.not_said) for h in search(query, house, desk).hits] for query in QUERIES]


def keep(house: House, desk: Desk, texts: list[str]) -> None:
    seen = [Seen(text, date(2026, 11, 1 + n % 9), distance_mi=3.0 * n) for n, text in enumerate(texts)]
    Keeper(house, desk, ("crawler",)).keep(seen)


def test_the_same_is_found_before_and_after_it_is_put_in(house: House, desk: Desk, texts: list[str]) -> None:
    add_build(house, data_dir() / "demo" / "crawler.toml")
    keep(house, desk, texts[:40])
    with house.keeping() as connection:
        assert put_in(connection) == 40
    keep(house, desk, texts[40:])
    half = answers(house, desk)
    assert sum(map(len, half)) > 200
    with house.keeping() as connection:
        put_in(connection)
        assert how_many_due(connection, 100) == 0
    assert answers(house, desk) == half
    with house.keeping() as connection:
        forget_index(connection)
        assert how_many_due(connection, 100) == 60
    assert answers(house, desk) == half


def test_what_changes_is_found_as_it_is_now(house: House, desk: Desk, texts: list[str]) -> None:
    """A state, a price, a place, a joining and a parting, each after the index held what was before."""
    add_build(house, data_dir() / "demo" / "crawler.toml")
    keep(house, desk, texts)
    with house.keeping() as connection:
        put_in(connection)
    ids = [one.id for one in candidates(house)]
    move(house, ids[:5], "asked", WHEN)
    Keeper(house, desk, ("crawler",)).keep([Seen(text, WHEN.on, price_usd=77.0) for text in texts[5:9]])
    joined, parted = (next(c for c in candidates(house) if c.id == ids[n]) for n in (10, 12))
    join(house, joined.id, ids[11], WHEN)
    join(house, parted.id, ids[13], WHEN)
    with house.reading() as connection:
        last = sightings_of(connection, parted.listing_id)[-1]["id"]
    part(house, parted.id, last, WHEN)
    beside = answers(house, desk)
    states = [hit.listing_id for hit in search("axle", house, desk, ("asked",)).hits]
    cheap = search("between 76 and 78", house, desk).hits
    assert len(states) == 5
    assert [len(hit.met) for hit in cheap] == [1, 1, 1, 1]
    with house.keeping() as connection:
        assert 0 < how_many_due(connection, 100) < len(texts)
        put_in(connection)
    assert answers(house, desk) == beside
    with house.keeping() as connection:
        forget_index(connection)
    assert answers(house, desk) == beside


def test_many_are_put_in_as_they_are_kept(house: House, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("donorbase.services.keeping.MANY_DUE", 3)
    for n in range(4):
        Keeper(house, desk, ()).keep([Seen(f"Front axle number {n}, {n + 5} lug", date(2026, 11, 1))])
    with house.reading() as connection:
        assert how_many_due(connection, 10) == 1
        assert connection.execute(select(table("search_word").c.word)).scalars().all()
