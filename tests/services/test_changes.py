"""Each change of what has no history of its own is written down with it: who, when, what it was and became."""

import json
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest

from donorbase.services import words
from donorbase.services.database import changes
from donorbase.services.house import House
from donorbase.services.ledger import set_prior
from donorbase.store.builds import keep_build


def told(house: House) -> list[tuple[str, str, str, str]]:
    return [(one.who, one.did, one.of_table, one.name) for one in changes(house, 100)]


def test_who_did_what_and_when(house: House) -> None:
    with closing(House(house.place, "Kim")) as kim, closing(House(house.place, "Lee")) as lee:
        words.add_word(kim, "grazier 35", "donor_line=line-A")
        lee.keep_build("crawler", "name = 'one'")
        kim.keep_build("crawler", "name = 'two'")
        set_prior(lee, "front-9.75-*", 2.0)
        words.remove_word(lee, "grazier 35")
    assert told(house) == [
        ("Lee", "removed", "word", "grazier 35"),
        ("Lee", "added", "own_prior", "front-9.75-*"),
        ("Kim", "changed", "build", "crawler"),
        ("Lee", "added", "build", "crawler"),
        ("Kim", "added", "word", "grazier 35"),
    ]
    newest, *_, build, _, first = changes(house, 100)
    assert json.loads(newest.before)["meaning"] == json.loads(first.after)["meaning"] == "donor_line=line-A"
    assert build.did == "changed"
    assert timedelta() <= datetime.now(UTC) - newest.noted_at < timedelta(minutes=5)


def test_what_was_forgotten_can_be_looked_up(house: House) -> None:
    house.keep_build("crawler", "name = 'dear to me'")
    house.forget_build("crawler")
    (gone, _) = changes(house, 10)
    assert json.loads(gone.before)["toml"] == "name = 'dear to me'"


def test_the_same_again_is_no_change(house: House) -> None:
    words.add_word(house, "grazier", "lugs=8")
    words.add_word(house, "grazier", "lugs=8")
    assert len(changes(house, 10)) == 1


def test_what_is_undone_leaves_no_trace(house: House) -> None:
    def write_and_fail() -> None:
        with house.writing() as connection:
            keep_build(connection, "half", "", datetime.now(UTC))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        write_and_fail()
    assert changes(house, 10) == ()


@pytest.mark.postgresql
def test_a_server_says_itself_who_it_was(house: House) -> None:
    house.keep_build("crawler", "name = 'one'")
    assert changes(house, 1)[0].login == "postgres"
