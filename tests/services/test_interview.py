"""A build out of answers in plain words."""

from typing import Any

import pytest

from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue
from donorbase.services.interview import QUESTIONS, Question, asked_of, build_of_answers, taken
from donorbase.verdict.build import read_build

BY_KEY = {question.key: question for question in QUESTIONS}
TYPED = {
    "name": 'the "long" truck',
    "wants": "front",
    "tires": "37x12.50R17",
    "wheel_dia_in": "17",
    "front_output": "Driver",
    "lugs": "8",
    "bolt_circle_mm": "6.5in",
    "rear_wheels": "single",
    "ratio": "5.13",
    "there": "4.10",
    "outer_splines": "35",
    "defects": "bent, cracked",
    "planned": "regear, ball-joints",
    "accepted": "buy-missing-parts",
    "refused": "redrill-hubs",
    "landed_limit_usd": "$1,800",
    "travel_usd_per_mi": "0.45",
}


@pytest.fixture(scope="module")
def works() -> list[str]:
    return list(load_catalogue().works)


def answered(typed: dict[str, str], works: list[str]) -> dict[str, Any]:
    answers: dict[str, Any] = {}
    for key, text in typed.items():
        assert BY_KEY[key] in asked_of(answers) or key == "name"
        answers = taken(BY_KEY[key], text, answers, works)
    return answers


def test_every_question_finds_its_place_in_the_build(works: list[str]) -> None:
    assert TYPED.keys() == BY_KEY.keys()
    build = build_of_answers(answered(TYPED, works), works)
    assert build.as_json() == {
        "name": 'the "long" truck',
        "wants": ["front"],
        "vehicle": {"tires": "37x12.50R17", "wheel_dia_in": 17, "front_output": "driver"},
        "gearing": {"ratio": 5.13},
        "front": {
            "must": {
                "lugs": 8,
                "bolt_circle_mm": 165.1,
                "rear_wheels": "single",
                "ratio_sold": 5.13,
                "outer_splines": {"at_least": 35},
                "defects": {"none_of": ["bent", "cracked"]},
            }
        },
        "rear": {"has": {"ratio": 4.1}},
        "work": {
            "planned": ["regear", "ball-joints"],
            "accepted": ["buy-missing-parts"],
            "refused": ["redrill-hubs"],
        },
        "money": {"landed_limit_usd": 1800, "travel_usd_per_mi": 0.45},
    }
    assert read_build(build.as_toml(), "again", works=works).as_json() == build.as_json()


def test_what_is_skipped_stays_open(works: list[str]) -> None:
    build = build_of_answers(answered({"name": "x", "wants": "rear"}, works), works)
    assert build.as_json() == {"name": "x", "wants": ["rear"]}


def test_both_ends_are_asked_alike(works: list[str]) -> None:
    build = build_of_answers(answered({"name": "x", "wants": "both", "lugs": "6"}, works), works)
    assert build.as_json()["front"] == build.as_json()["rear"] == {"must": {"lugs": 6}}


@pytest.mark.parametrize(
    ("wants", "not_asked"),
    [(["rear"], {"front_output", "outer_splines"}), (["front", "rear"], {"there"}), (["front"], set())],
)
def test_only_what_makes_sense_is_asked(wants: list[str], not_asked: set[str]) -> None:
    assert {q.key for q in QUESTIONS} - {q.key for q in asked_of({"wants": wants})} == not_asked


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q.key)
def test_what_is_proposed_can_be_taken(question: Question, works: list[str]) -> None:
    answers = answered(TYPED, works)
    proposal = question.propose(answers)
    assert question.explains
    if proposal:
        assert proposal.why
        taken(question, proposal.text, answers | {"refused": []}, works)
    else:
        assert not question.needed


def test_the_wheel_is_proposed_from_the_tire() -> None:
    propose = BY_KEY["wheel_dia_in"].propose
    found = propose({"tires": "285/70R17"})
    assert found is not None
    assert found.text == "17"
    assert propose({}) is None
    assert propose({"tires": "40"}) is None


BAD = [
    ("wants", "sideways", "front, rear or both"),
    ("tires", "round ones", ""),
    ("wheel_dia_in", "big", "number"),
    ("front_output", "left", "driver, passenger, center"),
    ("lugs", "99", "outside"),
    ("bolt_circle_mm", "6.5", "165.1"),
    ("ratio", "99", "outside"),
    ("ratio", "nan", "number"),
    ("defects", ",", "at least one"),
    ("planned", "regeer", "regear"),
    ("refused", "buy-missing-parts", "accepted and refused"),
    ("landed_limit_usd", "-5", ""),
]


@pytest.mark.parametrize(("key", "text", "says"), BAD)
def test_an_answer_that_cannot_be_used_is_told(key: str, text: str, says: str, works: list[str]) -> None:
    answers = {k: v for k, v in answered(TYPED, works).items() if k != key}
    with pytest.raises(BadInput) as wrong:
        taken(BY_KEY[key], text, answers, works)
    assert says in f"{wrong.value.what} {wrong.value.next_step}"
