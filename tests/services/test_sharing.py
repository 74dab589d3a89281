"""A shop shares a server: readers change nothing, members what is theirs, each change says whose it is."""

import multiprocessing
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date

import pytest

from donorbase.errors import BadDatabase, BadInput
from donorbase.reference.load import load_catalogue
from donorbase.services import words
from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates, history
from donorbase.services.database import changes, check, roles, status
from donorbase.services.find import find
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move, note
from donorbase.services.ledger import set_prior
from donorbase.services.promising import Taking, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf import part_history, parts
from donorbase.shipped import data_dir
from donorbase.store.engine import engine_of
from donorbase.store.roles import HISTORIES, MEMBERS, READERS

DAY = date(2026, 11, 9)


def on_server(place: str, *commands: str) -> None:
    engine = engine_of(place)
    with engine.begin() as connection:
        for command in commands:
            connection.exec_driver_sql(command)
    engine.dispose()


@pytest.fixture
def shared(lived: House) -> Iterator[House]:
    """The owner's house, with a login for a reader and one for a member."""
    logins = [f'CREATE ROLE "{who}" LOGIN IN ROLE {role}' for who, role in (("rae", READERS), ("mo", MEMBERS))]
    lived.catalogue()
    on_server(lived.place, roles(lived), *logins)
    yield lived
    lived.close()
    on_server(lived.place, f"DROP OWNED BY rae, mo, {READERS}, {MEMBERS}", f"DROP ROLE rae, mo, {READERS}, {MEMBERS}")


@pytest.fixture
def as_login(shared: House) -> Iterator[Callable[[str], House]]:
    made: list[House] = []

    def house_of(who: str) -> House:
        made.append(House(shared.place.replace("//postgres@", f"//{who}@"), who))
        return made[-1]

    yield house_of
    for house in made:
        house.close()


def raw(sql: str) -> Callable[[House], object]:
    def run(house: House) -> None:
        with house.keeping() as connection:
            connection.exec_driver_sql(sql)

    return run


OWN_WRITES = [
    pytest.param(lambda house: words.add_word(house, "mine", "lugs=8"), id="a word"),
    pytest.param(lambda house: house.keep_build("mine", "name = 'x'"), id="a build"),
    pytest.param(lambda house: set_prior(house, "front-9.75-*", 3.0), id="a weight"),
    pytest.param(lambda house: pull(house, Pulled("yoke"), Occasion(DAY, house.who)), id="a part"),
    pytest.param(
        lambda house: take(house, parts(house)[-1].tag, Taking("sold", person="Kim"), Occasion(DAY, house.who)),
        id="a promise",
    ),
    pytest.param(lambda house: move(house, [candidates(house)[0].id], "gone", Occasion(DAY)), id="a candidate"),
    pytest.param(lambda house: add_build(house, data_dir() / "demo" / "rock-truck.toml"), id="a build of a file"),
]
OTHERS_WRITES = [
    pytest.param(raw("UPDATE variant SET lugs = 6"), id="shipped facts"),
    pytest.param(raw("UPDATE alembic_version SET version_num = '9999'"), id="the schema"),
    pytest.param(raw("CREATE TABLE mine (x integer)"), id="a table"),
    pytest.param(raw("DROP TABLE part_hold"), id="a table less"),
    *[pytest.param(raw(f"DELETE FROM {name}"), id=f"what is in {name}") for name in HISTORIES],
    pytest.param(raw("UPDATE change SET who = 'nobody'"), id="who it was"),
]


@pytest.mark.postgresql
@pytest.mark.parametrize("write", [*OWN_WRITES, *OTHERS_WRITES])
def test_a_reader_cannot_write(
    write: Callable[[House], object], shared: House, as_login: Callable[[str], House]
) -> None:
    from donorbase.store.transfer import contents_of

    reader = as_login("rae")
    with shared.reading() as connection:
        before = contents_of(connection)
    with pytest.raises(BadDatabase, match="you may not do this") as wrong:
        write(reader)
    assert wrong.value.next_step
    with shared.reading() as connection:
        assert contents_of(connection) == before


@pytest.mark.postgresql
def test_a_reader_reads_all(shared: House, as_login: Callable[[str], House]) -> None:
    reader = as_login("rae")
    assert reader.catalogue() == load_catalogue()
    assert words.list_words(reader) == words.list_words(shared)
    assert parts(reader) == parts(shared)
    assert candidates(reader) == candidates(shared)
    assert find({"outer_splines": "35+"}, reader).meets
    assert status(reader).up_to_date
    assert check(reader).sound


@pytest.mark.postgresql
@pytest.mark.parametrize("write", OWN_WRITES)
def test_a_member_writes_what_is_his(write: Callable[[House], object], as_login: Callable[[str], House]) -> None:
    write(as_login("mo"))


@pytest.mark.postgresql
@pytest.mark.parametrize("write", OTHERS_WRITES)
def test_a_member_writes_nothing_else(write: Callable[[House], object], as_login: Callable[[str], House]) -> None:
    with pytest.raises(BadDatabase, match="you may not do this"):
        write(as_login("mo"))


@pytest.mark.postgresql
def test_who_is_no_owner_does_not_bring_it_up_to_date(
    shared: House, as_login: Callable[[str], House], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("donorbase.services.house.data_fingerprint", lambda: "other facts")
    with pytest.raises(BadDatabase, match="its owner alone") as wrong:
        as_login("mo").catalogue()
    assert "this release" in wrong.value.next_step


def _work(place: str, who: str, candidate: int) -> int:
    """What one person does while others do the same."""
    with closing(House(place, who)) as house:
        for number in range(6):
            when = Occasion(DAY, who, f"{who} {number}")
            note(house, candidate, when)
            pull(house, Pulled("rotor", place=who), when)
            house.keep_build(f"{who}'s", f"name = '{number}'")
    return 6


def test_several_people_at_once_and_each_change_says_whose_it_is(lived: House) -> None:
    people, candidate = ("Kim", "Lee", "Max"), candidates(lived)[0].id
    lived.close()
    asked = [(lived.place, who, candidate) for who in people]
    with multiprocessing.get_context("spawn").Pool(3) as pool:
        assert pool.starmap(_work, asked, chunksize=1) == [6, 6, 6]
    notes = Counter(e.who for e in history(lived, candidate).events if e.kind == "note")
    assert notes == dict.fromkeys(people, 6)
    pulled = [part for part in parts(lived) if part.place in people]
    assert Counter(part.place for part in pulled) == dict.fromkeys(people, 6)
    for part in pulled:
        (event,) = part_history(lived, part.tag).events
        assert (event.who, event.noted_at.utcoffset() is not None) == (part.place, True)
    kept = Counter(one.who for one in changes(lived, 100) if one.of_table == "build")
    assert kept == {**dict.fromkeys(people, 6), "": 2}


@pytest.mark.sqlite
def test_a_file_has_no_roles(house: House) -> None:
    with pytest.raises(BadInput, match="is a file"):
        roles(house)
