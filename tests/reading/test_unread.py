"""Words that may tell of a fault and were not understood: kept, quoted, and a hold on the verdict.

Invented adverts; that such words tell of faults is common practice.
"""

from pathlib import Path

import pytest

from donorbase.errors import BadData
from donorbase.facts import UNREAD
from donorbase.reference.trouble import trouble_from
from donorbase.services.builds import find_build
from donorbase.services.desk import Desk
from donorbase.services.house import House

DESK = Desk.as_shipped(2026)
AXLE = (
    "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, 35 spline outers, hub to hub, driver side. "
    "$900 obo, 555-0101. "
)
MUST_MATCH = [
    "One tube is ovaled where the U-bolts were.",
    "The diff makes a clunking sound.",
    "It howls a bit going down the road.",
    "Gears look cooked.",
    "Bearing races are pitted.",
    "It is tired.",
    "The oil was milky.",
    "Somebody hacked at the casting.",
    "hay un ruido adentro",
]
MUST_NOT_MATCH = [
    "Nothing broke, never bent.",
    "Ran it three years, never twisted a shaft.",
    "No chips, no play, no noise.",
    "Engine was shot.",
    "Truck bed smashed.",
    "Long shot, but would trade.",
    "Two snap rings in a bag.",
    "Tires worn, off them anyway.",
    "Bent? No. Cracked? No.",
    "Housing is straight.",
    "I had the cover off, gears look great.",
    "I have a forklift to load you.",
    "It sits in the pole barn, against the wall.",
    "Good ground clearance, sat off the ground.",
]


def unread(text: str) -> list[str]:
    reading = DESK.read(AXLE + text)
    return [reading.text[b:e] for fact in reading.hazards if fact.attribute == UNREAD for b, e in fact.spans]


@pytest.mark.parametrize("text", MUST_MATCH)
def test_what_may_be_a_fault_is_caught(text: str) -> None:
    assert unread(text)


@pytest.mark.parametrize("text", MUST_NOT_MATCH)
def test_what_is_none_is_let_through(text: str) -> None:
    assert not unread(text)


def test_no_fact_is_made_of_it() -> None:
    plain, doubtful = DESK.read(AXLE), DESK.read(AXLE + MUST_MATCH[0])
    assert doubtful.as_json(evidence=False) == plain.as_json(evidence=False)


@pytest.fixture(scope="module")
def check(tmp_path_factory: pytest.TempPathFactory):
    house = House(tmp_path_factory.mktemp("house") / "db.sqlite3")
    build = find_build(house, str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml"))
    desk = Desk.of_house(house, 2026)
    return lambda text: desk.check(AXLE + text, build).verdict


@pytest.mark.parametrize(
    "text",
    [*MUST_MATCH, "Took it out of the pond.", "It went through a fire.", "Came out of a truck that got t-boned.",
     "Somebody ran it dry.", "It has some issues.",
     "Turned the knuckles myself.", "Half the passenger tube is missing.",
     "Was a good axle before the forklift got it.",
     "Housing patched with JB Weld.", "Caliper mount ear broke off one knuckle.", "Cover rusted thru.",
     "The VIN tag is ground off.", "One spring bucket got ground down by the last guy.",
     "Kid put it in a ditch.", "It looks a hair toed out.", "Went into a big tree.",
     "The carrier was shimmed with a beer can."],
)  # fmt: skip
def test_it_does_not_fit_before_it_is_known_what_is_meant(check, text: str) -> None:
    assert check("").verdict == "fits"
    verdict = check(text)
    assert verdict.verdict == "unclear"
    assert verdict.questions


@pytest.mark.parametrize("text", MUST_NOT_MATCH)
def test_what_is_none_changes_no_verdict(check, text: str) -> None:
    assert check(text).verdict == "fits"


def test_the_words_are_quoted(check) -> None:
    verdict = check("The diff makes a clunking sound.")
    assert verdict.reasons[0] == 'of it is said "The diff makes a clunking sound", which may be a fault'
    assert verdict.questions[0].ask == 'What is meant by "The diff makes a clunking sound"?'


def test_a_faulty_list_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "trouble.csv"
    path.write_text("stem,endings,beside,language,basis\nkink,,,en,common practice\nbow,-,,en,\nbow,-,,en,x\n", "utf-8")
    with pytest.raises(BadData) as refused:
        trouble_from(path)
    assert len(refused.value.faults) == 3
