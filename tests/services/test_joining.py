"""A repost is another text of the candidate that is kept, with its price; joins can be made and parted by hand."""

from datetime import date

import pytest

from donorbase.errors import BadInput, NotFound
from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates, history
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move, undo
from donorbase.services.joining import join, part
from donorbase.services.keeping import Keeper, Outcome, Seen
from donorbase.shipped import data_dir

FIRST = (
    "Front axle off a 2008 one ton, coil, ball joint, 8x170, 3.73 gears, driver side drop. Sat in my uncle's carport "
    "for 12 winters, turns free. Missing the dust shields and one tie rod end. Ask for Wynzed after 6 pm. $900 obo"
)
AGAIN = "Still here! " + FIRST.replace("$900", "$750").replace("my uncle's", "the")
OTHER = FIRST.replace("3.73", "4.10")
DAY, LATER = date(2026, 11, 1), date(2026, 11, 9)
WHEN = Occasion(LATER, "owner")


@pytest.fixture
def keeper(house: House) -> Keeper:
    add_build(house, data_dir() / "demo" / "crawler.toml")
    return Keeper(house, Desk.of_house(house, 2026), ("crawler",), "owner")


def kept(keeper: Keeper, text: str, day: date = DAY) -> Outcome:
    return keeper.keep([Seen(text, day)])[0]


def test_a_repost_is_another_text_of_the_same_candidate(keeper: Keeper) -> None:
    one, two = kept(keeper, FIRST), kept(keeper, AGAIN, LATER)
    assert two.candidates == one.candidates
    assert two.is_new
    assert two.repost_of
    assert two.repost_of.sighting_id == one.sighting_id
    found = history(keeper.house, one.candidates["crawler"])
    assert [text.text for text in found.sightings] == [FIRST, AGAIN]
    assert found.prices == ((DAY, 900), (LATER, 750))
    assert found.candidate.price_usd == 750
    assert found.candidate.due
    assert found.events[-1].kind == "repost"
    assert found.events[-1].note == "advertised again; asks 750 USD, before 900"


def test_reposts_within_one_batch_are_known_too(keeper: Keeper) -> None:
    outcomes = keeper.keep([Seen(FIRST, DAY), Seen(OTHER, DAY), Seen(AGAIN, LATER)])
    assert outcomes[0].listing_id == outcomes[2].listing_id != outcomes[1].listing_id


def test_a_wrong_join_is_parted_and_both_are_kept(keeper: Keeper) -> None:
    one, two = kept(keeper, FIRST), kept(keeper, AGAIN, LATER)
    number = one.candidates["crawler"]
    parted = part(keeper.house, number, two.sighting_id, WHEN)
    assert parted.sightings == (two.sighting_id,)
    new = history(keeper.house, parted.candidates["crawler"])
    assert [text.text for text in new.sightings] == [AGAIN]
    assert (new.candidate.price_usd, new.candidate.first_seen_on) == (750, LATER)
    old = history(keeper.house, number).candidate
    assert (old.price_usd, old.last_seen_on) == (900, DAY)
    with pytest.raises(BadInput, match="no other text"):
        part(keeper.house, number, one.sighting_id, WHEN)
    with pytest.raises(NotFound, match="no text 99"):
        part(keeper.house, number, 99, WHEN)


def test_joined_by_hand_and_parted_again_nothing_is_lost(keeper: Keeper) -> None:
    one, two = kept(keeper, FIRST), kept(keeper, OTHER)
    first, second = one.candidates["crawler"], two.candidates["crawler"]
    move(keeper.house, [second], "asked", WHEN)
    join(keeper.house, first, second, WHEN)
    assert [c.id for c in candidates(keeper.house)] == [first]
    assert len(history(keeper.house, first).sightings) == 2
    with pytest.raises(BadInput, match="joined to another already"):
        join(keeper.house, first, second, WHEN)
    assert part(keeper.house, first, two.sighting_id, WHEN).candidates == {"crawler": second}
    back = {c.id: c.state for c in candidates(keeper.house)}
    assert back == {first: "watching", second: "asked"}
    assert [e.kind for e in history(keeper.house, second).events] == ["added", "state", "merge", "merge"]


def test_a_join_is_undone_like_any_other_change(keeper: Keeper) -> None:
    one, two = kept(keeper, FIRST), kept(keeper, OTHER)
    first, second = one.candidates["crawler"], two.candidates["crawler"]
    before = [(c.id, c.state, c.price_usd, c.last_seen_on) for c in candidates(keeper.house)]
    move(keeper.house, [first], "asked", WHEN)
    join(keeper.house, first, second, WHEN)
    assert undo(keeper.house, first, WHEN).kind == "merge"
    assert [len(history(keeper.house, i).sightings) for i in (first, second)] == [1, 1]
    assert undo(keeper.house, first, WHEN).kind == "state"
    assert [(c.id, c.state, c.price_usd, c.last_seen_on) for c in candidates(keeper.house)] == before
    with pytest.raises(NotFound, match="nothing is left to undo"):
        undo(keeper.house, first, WHEN)


def test_a_join_that_was_parted_is_not_undone_again(keeper: Keeper) -> None:
    one, two = kept(keeper, FIRST), kept(keeper, OTHER)
    first, second = one.candidates["crawler"], two.candidates["crawler"]
    join(keeper.house, first, second, WHEN)
    part(keeper.house, first, two.sighting_id, WHEN)
    with pytest.raises(NotFound, match="nothing is left to undo"):
        undo(keeper.house, first, WHEN)
    assert len(candidates(keeper.house)) == 2


def test_texts_kept_by_an_older_release_are_found_too(keeper: Keeper) -> None:
    one = kept(keeper, FIRST)
    with keeper.house.keeping() as connection:
        for table in ("repost_sketch", "repost_anchor", "repost_count"):
            connection.exec_driver_sql(f"DELETE FROM {table}")
    assert kept(keeper, AGAIN).listing_id == one.listing_id
