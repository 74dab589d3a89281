"""Marks in the words of an offer: found, denied, and limited to the end that they matter to."""

import pytest

from donorbase.facts import Fact, Known, Reading
from donorbase.reference.judging import judging
from donorbase.services.desk import Desk
from donorbase.verdict.signs import marks, mentions, owned_up, says, wheels_run

FOUND = [
    ("truck was flooded in the spring", "flood"),
    ("send deposit to hold it", "deposit-first"),
    ("pay by gift card only", "payment"),
    ("truck rolled over last year", "hit"),
    ("the housing was narrowed by my buddy", "narrowed-unknown"),
    ("tube was welded after it cracked", "home-weld"),
    ("came off a truck that took a swim at the boat ramp", "flood"),
    ("the whole truck drowned", "flood"),
    ("numbers got ground, cash only", "stolen"),
]
NOT_FOUND = [
    ("never flooded", "flood"),
    ("not a flood truck", "flood"),
    ("no deposit, cash on pick-up", "deposit-first"),
    ("never wrecked, never rolled over", "hit"),
    ("narrowed by a shop, have the invoice", "narrowed-unknown"),
    ("shortened nothing, cut nothing", "narrowed-unknown"),
    ("a flooding market", "flood"),
    ("never took a swim", "flood"),
    ("gears ground, numbers on the housing", "stolen"),
]


def names(text: str, end: str = "front") -> set[str]:
    return {name for name, _ in marks(Reading(text, (), ()), end, judging())}


@pytest.mark.parametrize(("text", "mark"), FOUND)
def test_a_mark_is_found(text: str, mark: str) -> None:
    assert mark in names(text)


@pytest.mark.parametrize(("text", "mark"), NOT_FOUND)
def test_a_mark_denied_or_taken_back_is_none(text: str, mark: str) -> None:
    assert mark not in names(text)


def test_a_blow_from_behind_matters_to_the_rear() -> None:
    assert "hit-rear" in names("truck was rear ended", "rear")
    assert names("truck was rear ended", "front") == set()


def test_a_mark_that_the_reading_names_counts_unless_denied() -> None:
    text = "it swam. never swam"
    swam = Fact("flood", True, Known.STATED, ((3, 7),))
    denied = Fact("flood", True, Known.STATED, ((15, 19),))
    for fact, found in ((swam, True), (denied, False)):
        assert bool(marks(Reading(text, (), (), (fact,)), "front", judging())) is found


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("truck ran 16 inch steel wheels its whole life", 16),
        ("clears 17s", 17),
        ('was on 15" wheels', 15),
        ("comes with 4 hubs and 16 bolts", None),
        ("ran 35s on it", None),
        ("", None),
    ],
)
def test_wheels_that_it_ran(text: str, inches: float | None) -> None:
    assert wheels_run(text) == inches


def test_a_change_is_owned_up_to_in_the_sentence_of_the_fact() -> None:
    text = "4.10 gears. I put 35 spline stubs in. Drivers side."
    stubs, side = text.index("35 spline"), text.index("Drivers")
    reading = Reading(text, (), ())
    assert owned_up(Fact("outer_splines", 35, Known.STATED, ((stubs, stubs + 9),)), reading, judging())
    assert not owned_up(Fact("drop", "driver", Known.STATED, ((side, side + 12),)), reading, judging())


def test_words_are_whole_words() -> None:
    assert says("the core is due", ("core",))
    assert not mentions("hardcore scores", ("core",))
    assert not says("anything", ())
    assert not mentions("anything, at all", ())


def test_every_sign_of_the_data_says_something() -> None:
    assert judging().hazards
    for name, hazard in judging().hazards.items():
        assert hazard.says, name
        assert hazard.ask.endswith("?") or "walk away" in hazard.ask, name


FOREIGN = [
    ("eje delantero 2006, se inundo en el huracan pero ya se seco", "flood"),
    ("la troca se inundó", "flood"),
    ("pont avant, camion inondé au printemps", "flood"),
    ("le camion a été submergé", "flood"),
    ("el frente de una camioneta que se quemo", "fire"),
    ("eje de camioneta volcada", "hit"),
    ("solo con deposito primero", "deposit-first"),
    ("front axle out of a hurricane truck", "flood"),
]
FOREIGN_DENIED = [
    ("eje delantero, nunca inundado", "flood"),
    ("no se inundo", "flood"),
    ("jamais inondé", "flood"),
    ("eje delantero nunca chocado", "hit"),
]


def read(text: str) -> set[str]:
    """Marks of a text as it is read, with those that stand in the vocabulary."""
    return {name for name, _ in marks(Desk.as_shipped(2026).read(text), "front", judging())}


@pytest.mark.parametrize(("text", "mark"), FOREIGN)
def test_a_mark_in_the_sellers_language_is_found(text: str, mark: str) -> None:
    assert mark in read(text)


@pytest.mark.parametrize(("text", "mark"), FOREIGN_DENIED)
def test_a_mark_denied_in_it_is_none(text: str, mark: str) -> None:
    assert mark not in read(text)


@pytest.mark.parametrize("text", ["eje trasero recortado por mi compadre, 4.10", "pont arrière raccourci, 4.10"])
def test_a_cut_housing_in_it_is_a_defect(text: str) -> None:
    """What the mark of a housing cut by an unknown hand is drawn from."""
    (item,) = Desk.as_shipped(2026).read(text).items
    assert "shortened" in item.all("defects")


BENT = ["left tube has a kink but it still rolls straight", "the long tube is kinked", "housing is bowed a bit"]
STRAIGHT = ["no kinks, no bends", "tubes are not bowed", "took the crooked road home with it"]


@pytest.mark.parametrize("text", BENT)
def test_a_bend_by_another_name_is_one(text: str) -> None:
    (item,) = Desk.as_shipped(2026).read(f"2008 front axle, 3.73. {text}. $650").items
    assert "bent" in item.all("defects")


@pytest.mark.parametrize("text", STRAIGHT)
def test_no_bend_is_made_of_a_denial(text: str) -> None:
    (item,) = Desk.as_shipped(2026).read(f"2008 front axle, 3.73. {text}. $650").items
    assert "bent" not in item.all("defects")


CLEARED = [
    "truck got t-boned, axle is dead straight, strung it",
    "truck was rolled. Tubes are straight.",
]
NOT_CLEARED = [
    "truck was rolled, frame is straight",
    "truck was rolled, no idea if the axle is straight",
    "truck was rolled, axle looks to me like it is straight",
    "truck was rolled, not dead straight anymore",
]
"""A donor that was struck, and whether what is said of the axle leaves no doubt."""


@pytest.mark.parametrize("text", CLEARED)
def test_a_struck_donor_is_cleared_by_plain_words(text: str) -> None:
    assert "hit" not in names(text)


@pytest.mark.parametrize("text", NOT_CLEARED)
def test_a_struck_donor_is_not_cleared_by_doubt_or_by_another_thing(text: str) -> None:
    assert "hit" in names(text)
