"""An axle taken apart and put together: no cent is lost, and nothing is there twice."""

from datetime import date

import pytest

from donorbase.errors import BadInput, Held
from donorbase.services.cards import card_of, measure_facts
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.papers import keep_papers
from donorbase.services.promising import Taking, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf import Part, parts
from donorbase.services.splitting import apart, assemble, rejoin, split_part
from donorbase.services.tending import undo_part

WHEN = Occasion(date(2026, 11, 9), "owner")
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"


@pytest.fixture
def desk(house: House) -> Desk:
    return Desk.of_house(house, 2026)


def axle(house: House, cost: int | None = 65_001) -> Part:
    return pull(house, Pulled("axle", axle=KINGPIN, year=1985, place="yard", cost_cents=cost), WHEN)


def there(house: House) -> set[str]:
    return {part.tag for part in parts(house, states=["shelf"])}


def worth(house: House) -> int:
    """What all that is on the shelf cost, in cents."""
    return sum(part.cost_cents or 0 for part in parts(house, states=["shelf"]))


def test_the_cost_of_the_pieces_is_that_of_the_axle(house: House) -> None:
    whole = axle(house)
    taken = split_part(house, whole.tag, WHEN, without=["steering-arm"])
    assert len(taken.pieces) > 10
    assert worth(house) == 65_001
    assert {(p.axle, p.year, p.place, p.out_of) for p in taken.pieces} == {(KINGPIN, 1985, "yard", whole.id)}
    assert taken.whole.state == "split"
    assert there(house) == {piece.tag for piece in taken.pieces}


def test_pieces_of_ones_own_worth(house: House) -> None:
    """650.01 by 3 : 1, worked by hand: 487.5075 and 162.5025; the cent goes to the larger remainder."""
    taken = split_part(house, axle(house).tag, WHEN, asked=["knuckle:left=60", "rotor=20"])
    assert [piece.cost_cents for piece in taken.pieces] == [48_751, 16_250]


def test_a_cost_not_known_stays_not_known(house: House) -> None:
    taken = split_part(house, axle(house, None).tag, WHEN, asked=["rotor"])
    assert taken.pieces[0].cost_cents is None


def test_a_split_is_taken_back_whole_or_not_at_all(house: House) -> None:
    whole = axle(house)
    taken = split_part(house, whole.tag, WHEN, asked=["rotor", "rotor"])
    with pytest.raises(BadInput, match="not taken back alone"):
        undo_part(house, whole.tag, WHEN)
    take(house, taken.pieces[0].tag, Taking("lent", person="Kim"), WHEN)
    with pytest.raises(BadInput, match="is lent"):
        rejoin(house, whole.tag, WHEN)
    undo_part(house, taken.pieces[0].tag, WHEN)
    assert rejoin(house, whole.tag, WHEN).whole.state == "shelf"
    assert there(house) == {whole.tag}
    assert worth(house) == 65_001
    for tag in (whole.tag, taken.pieces[1].tag):
        with pytest.raises(BadInput):
            undo_part(house, tag, WHEN)
    assert there(house) == {whole.tag}


def test_what_is_held_is_not_split_and_nothing_is_kept(house: House) -> None:
    whole = axle(house)
    take(house, whole.tag, Taking("reserved", person="Kim"), WHEN)
    with pytest.raises(Held, match="Kim"):
        split_part(house, whole.tag, WHEN)
    assert len(parts(house)) == 1
    rotor = pull(house, Pulled("rotor"), WHEN)
    with pytest.raises(BadInput, match="not taken apart"):
        split_part(house, rotor.tag, WHEN)


def test_an_assembly_costs_what_its_pieces_cost_and_comes_apart_again(house: House) -> None:
    pieces = [pull(house, Pulled(kind, cost_cents=cost), WHEN) for kind, cost in (("housing", 10_050), ("rotor", 1))]
    tags = [piece.tag for piece in pieces]
    taken = assemble(house, KINGPIN, tags, WHEN, place="bench")
    assert taken.whole.cost_cents == 10_051
    assert {piece.state for piece in taken.pieces} == {"assembled"}
    assert there(house) == {taken.whole.tag}
    with pytest.raises(Held):
        take(house, tags[0], Taking("reserved", person="Kim"), WHEN)
    with pytest.raises(BadInput, match="not taken back alone"):
        undo_part(house, tags[0], WHEN)
    apart(house, taken.whole.tag, WHEN)
    assert there(house) == set(tags)
    assert worth(house) == 10_051
    with pytest.raises(BadInput):
        undo_part(house, taken.whole.tag, WHEN)


@pytest.mark.parametrize(
    ("kinds", "why"),
    [([("rotor", None)] * 3, "an axle has 2"), ([("knuckle", "left")] * 2, "of the left side"), ([], "no piece")],
)
def test_what_is_no_axle(house: House, kinds: list[tuple[str, str | None]], why: str) -> None:
    tags = [pull(house, Pulled(kind, side), WHEN).tag for kind, side in kinds]
    with pytest.raises(BadInput, match=why):
        assemble(house, None, tags, WHEN)
    assert len(parts(house)) == len(tags)


def test_what_was_measured_of_the_axle_stays_with_the_pieces_it_was_read_off(house: House, desk: Desk) -> None:
    """41 over 10 teeth is 4.10: it is in the gears, and not in a knuckle."""
    whole = axle(house)
    saw = {"ring_teeth": "41", "pinion_teeth": "10", "outer_splines": "35", "lugs": "8", "stud_across_mm": "165"}
    measure_facts(house, desk, whole.tag, saw, WHEN)
    keep_papers(house, whole.tag, {"seller": "A. Example"}, WHEN)
    pieces = split_part(house, whole.tag, WHEN, asked=["ring-and-pinion", "outer-shaft", "hub", "steering-arm:left"])
    gears, shaft, hub, arm = (card_of(house, desk, piece.tag) for piece in pieces.pieces)
    measured = [{line.attribute for line in card.lines if line.measured} for card in (gears, shaft, hub, arm)]
    assert measured[0] >= {"ratio"}
    assert measured[0].isdisjoint({"lugs", "outer_splines"})
    assert measured[1:] == [{"outer_splines"}, {"lugs", "bolt_circle_mm"}, set()]
    assert [card.about("paper")["seller"] for card in (gears, shaft, hub, arm)] == ["A. Example"] * 4
    assert rejoin(house, whole.tag, WHEN).whole.state == "shelf"
    assert {line.stands for line in card_of(house, desk, whole.tag).lines if line.attribute == "ratio"} == {"4.10"}


@pytest.mark.parametrize(
    ("kind", "has", "lacks"),
    [
        (KINGPIN, {"hub", "spindle", "rotor"}, {"unit-bearing", "brake-drum"}),
        ("front-9.75-balljoint/a-2005-2010-srw", {"unit-bearing", "rotor"}, {"hub", "spindle"}),
    ],
)
def test_the_pieces_are_those_of_the_axles_kind(house: House, kind: str, has: set[str], lacks: set[str]) -> None:
    """A kingpin front of its years has hubs on spindles, the later ball-joint front unit bearings (data/families)."""
    whole = pull(house, Pulled("axle", axle=kind), WHEN)
    pieces = {piece.kind for piece in split_part(house, whole.tag, WHEN).pieces}
    assert has <= pieces
    assert not lacks & pieces
