"""Search: what is typed is understood as listings are read, and nothing that contradicts it is found."""

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from donorbase.errors import BadInput
from donorbase.services.builds import add_build
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.search import SearchResult, search
from donorbase.services.search_query import understand
from donorbase.shipped import data_dir
from donorbase.store.text_letters import index_letters, letters_indexed

KINGPIN = "Front axle, kingpin, 35 spline outers, 8 lug, $850. Swaged tubes, from a hay farm."
DEAR = "Front axle, kingpin, 35 spline outers, 8 lug, $1,400."
SILENT = "Front axle, 8 lug, $700, knuckles look good. Ask for Pat."
BALL = "Front axle, ball joint, 35 spline outers, 8 lug, $600."
RUSTY = "Rear axle, 14 bolt, 4.10, rusty, dually, 8 lug, 90k miles, $300, farm fresh"
CLEAN = "Rear axle, 14 bolt, 4.10, single rear wheels, limited slip, 8 lug, 200k miles, $500"
TEXTS = (KINGPIN, DEAR, SILENT, BALL, RUSTY, CLEAN)


@pytest.fixture(scope="module")
def desk() -> Desk:
    return Desk.as_shipped(2026)


@pytest.fixture(scope="module")
def kept(databases: Any, template: str, tmp_path_factory: pytest.TempPathFactory, desk: Desk) -> Iterator[House]:
    """What is kept here is only searched, by every test."""
    house = House(databases.copy(template, tmp_path_factory.mktemp("search")))
    keep_all(house, desk)
    yield house
    house.close()


def keep_all(house: House, desk: Desk) -> None:
    add_build(house, data_dir() / "demo" / "crawler.toml")
    keeper = Keeper(house, desk, ("crawler",), "owner")
    keeper.keep([Seen(text, date(2026, 11, n + 1), distance_mi=40.0 * (n + 1)) for n, text in enumerate(TEXTS)])


def found(result: SearchResult) -> list[str]:
    return [next(t for t in TEXTS if t[:50] == hit.title[:50]) for hit in result.hits]


def told(query: str, desk: Desk) -> list[str]:
    return [one.told for one in understand(query, desk).filters]


def test_the_filters_understood_are_told(desk: Desk) -> None:
    assert told("kingpin front 35 spline under 900", desk) == [
        "asking price: 900 USD or less",
        "front or rear: front",
        "shaft splines: 35",
        "knuckle: kingpin",
    ]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("kingpin front 35 spline under 900", "front axle king pins 35 splines $900 or less"),
        ("posi rear 4.10", "limited slip rear four ten gears"),
        ("dually rear no more than 100 mi away", "rear dual rear wheels within 100 miles"),
        ("kingpin front", "kingpn front"),
        ("rear between 300 and 500", "rear between $500 and $300"),
    ],
)
def test_paraphrases_give_the_same_filters(one: str, other: str, desk: Desk) -> None:
    first, second = ([t for t in told(q, desk) if t != "kind of thing: axle"] for q in (one, other))
    assert first == second
    assert len(first) >= 2


def test_what_meets_stands_above_what_says_nothing_and_what_contradicts_is_out(kept: House, desk: Desk) -> None:
    result = search("kingpin front 35 spline under 900", kept, desk)
    assert found(result) == [KINGPIN, SILENT]
    assert [one.told for one in result.hits[0].not_said] == []
    assert [one.told for one in result.hits[1].not_said] == ["shaft splines: 35", "knuckle: kingpin"]
    assert [one["state"] for one in result.hits[0].candidates] == ["watching"]


@pytest.mark.parametrize(
    ("query", "wanted"),
    [
        ("rear no rust", [CLEAN]),
        ("rear not dually", [CLEAN]),
        ("front without kingpin", [BALL, SILENT]),
        ("rear over 400", [CLEAN]),
        ("rear under 100k miles", [RUSTY]),
        ("front within 100 miles", [DEAR, KINGPIN]),
        ("kingpin between 1000 and 1500", [DEAR]),
        ("farm no rust", [KINGPIN]),
        ("no rust", [CLEAN, BALL, SILENT, DEAR, KINGPIN]),
        ("axle -- no swaged", [CLEAN, RUSTY, BALL, SILENT, DEAR]),
    ],
)
def test_bounds_and_denied_things(query: str, wanted: list[str], kept: House, desk: Desk) -> None:
    assert found(search(query, kept, desk)) == wanted


@pytest.mark.parametrize("query", ["swaged", "swagged", "swag", "SWAGED", "swaeged"])
def test_words_that_are_no_facts_are_found_in_the_texts_misspelt_too(query: str, kept: House, desk: Desk) -> None:
    assert found(search(query, kept, desk)) == [KINGPIN]


def test_a_word_misspelt_in_the_listing_is_found(house: House, desk: Desk) -> None:
    Keeper(house, desk, ()).keep([Seen("Front axle, tubes powdercaoted in blue", date(2026, 11, 1))])
    result = search("powdercoated", house, desk)
    assert [hit.candidates for hit in result.hits] == [()]
    assert "powdercaoted" in result.spellings["powdercoated"]


@pytest.mark.parametrize(
    "query",
    [
        "'; DROP TABLE sighting; --", 'swaged" OR "x', "swaged NEAR(a b)", "text:swaged*", "title : ^swaged",
        "swaged AND", "swaged NOT (x", "swaged % _", "{swaged} \x00 \\", "swaged\N{SNOWMAN}", "-- :hits0 swaged",
    ],
)  # fmt: skip
def test_signs_of_sql_and_of_the_index_are_harmless(query: str, kept: House, desk: Desk) -> None:
    search(query, kept, desk)
    assert len(search("axle", kept, desk).hits) == len(TEXTS)


@pytest.mark.parametrize("query", ["", "   ", "the of and", "?!", "no swaged", "x" * 501])
def test_a_query_for_nothing_is_refused(query: str, kept: House, desk: Desk) -> None:
    with pytest.raises(BadInput) as refused:
        search(query, kept, desk)
    assert refused.value.next_step


def test_states_and_limit_narrow(house: House, desk: Desk) -> None:
    keep_all(house, desk)
    hits = search("front", house, desk).hits
    assert len(search("front", house, desk, limit=2).hits) == 2
    number = hits[0].candidates[0]["id"]
    move(house, [number], "gone", Occasion(date(2026, 11, 9)))
    assert [hit.listing_id for hit in search("front", house, desk, ("gone",)).hits] == [hits[0].listing_id]
    assert len(search("front", house, desk, ("watching",)).hits) == len(hits) - 1


def test_the_index_follows_the_texts(house: House, desk: Desk) -> None:
    """What the index holds is what the texts hold, after they were kept, changed and dropped."""
    keep_all(house, desk)
    with house.keeping() as connection:
        connection.exec_driver_sql("UPDATE sighting SET text = replace(text, 'hay farm', 'quarry')")
        if connection.dialect.name == "sqlite":
            connection.exec_driver_sql("INSERT INTO sighting_text(sighting_text, rank) VALUES ('integrity-check', 1)")
    assert [hit.title[:20] for hit in search("quarry", house, desk).hits] == [KINGPIN[:20]]
    assert search("hay", house, desk).hits == ()


def test_a_fact_that_is_met_stands_above_any_number_of_words(kept: House, desk: Desk) -> None:
    result = search("kingpin good ask pat", kept, desk)
    assert len(result.query.words) >= 3
    assert found(result)[:3] == [DEAR, KINGPIN, SILENT]


@pytest.mark.postgresql
def test_on_a_server_words_are_looked_up_in_an_index_of_letters(kept: House, desk: Desk) -> None:
    assert search("swaged", kept, desk).notice == ""
    with kept.reading() as connection:
        connection.exec_driver_sql("SET LOCAL enable_seqscan = off")
        plan = connection.exec_driver_sql("EXPLAIN SELECT id FROM sighting WHERE text ~* '\\mswaged'").scalars().all()
    assert any("sighting_text_letters" in line for line in plan), plan


@pytest.mark.postgresql
def test_a_server_without_the_extension_is_searched_and_says_what_it_lacks(house: House, desk: Desk) -> None:
    keep_all(house, desk)
    with house.keeping() as connection:
        connection.exec_driver_sql("DROP EXTENSION pg_trgm CASCADE")
        connection.exec_driver_sql("DROP ROLE IF EXISTS donorbase_plain")
        connection.exec_driver_sql("CREATE ROLE donorbase_plain")
        connection.exec_driver_sql("GRANT ALL ON ALL TABLES IN SCHEMA public TO donorbase_plain")
        connection.exec_driver_sql("SET LOCAL ROLE donorbase_plain")
        assert not index_letters(connection)
    with house.reading() as connection:
        assert not letters_indexed(connection)
    assert found(search("swaged", house, desk)) == [KINGPIN]
    with house.reading() as connection:
        assert letters_indexed(connection), "made once it may be"
