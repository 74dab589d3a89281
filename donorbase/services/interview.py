"""A build asked for in plain words, one thing at a time: the questions, and the answers as a build."""

from collections.abc import Callable, Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from donorbase.engineering.tires import read_tire
from donorbase.errors import BadInput
from donorbase.reference.judging import judging
from donorbase.reference.units import parse_length_mm, parse_number
from donorbase.verdict.build import parse_build
from donorbase.verdict.spec import ENDS, Build

Answers = Mapping[str, Any]
"""What was answered so far, by the key of its question."""

_CIRCLES_MM = {5: 139.7, 6: 139.7, 8: 165.1}
"""The circle that is commonest with so many studs under old trucks: common practice."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """What Enter takes, as it would be typed, and why that is proposed."""

    text: str
    why: str


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to ask. ``places`` are where the answer stands in a build file, ``{end}`` for each wanted end.

    ``take`` makes a value of the text typed, or raises BadInput; ``explains`` is the term in plain words.
    """

    key: str
    ask: str
    explains: str
    places: tuple[str, ...]
    take: Callable[[str], Any]
    propose: Callable[[Answers], Proposal | None] = lambda answers: None
    when: Callable[[Answers], bool] = lambda answers: True
    needed: bool = False


def asked_of(answers: Answers) -> tuple[Question, ...]:
    """The questions that make sense after these answers, in order."""
    return tuple(question for question in QUESTIONS if question.when(answers))


def taken(question: Question, text: str, answers: Answers, works: Collection[str] = ()) -> dict[str, Any]:
    """The answers with this one; BadInput says what is wrong with it, as a build file would."""
    with_it = {**answers, question.key: question.take(text.strip())}
    build_of_answers({"name": "build", "wants": ["front"]} | with_it, works)
    return with_it


def build_of_answers(answers: Answers, works: Collection[str] = ()) -> Build:
    """The build that the answers make; what was skipped stays open."""
    plain: dict[str, Any] = {}
    for question in QUESTIONS:
        if question.key in answers:
            for place in question.places:
                _put(plain, place, answers[question.key], answers["wants"])
    return parse_build(plain, works=works)


def _put(plain: dict[str, Any], place: str, value: Any, wants: Collection[str]) -> None:
    ends = [end for end in ENDS if (end in wants) is not place.startswith("{other}")]
    for end in ends if "{" in place else [""]:
        *tables, last = place.replace("{other}", end).replace("{end}", end).split(".")
        table = plain
        for name in tables:
            table = table.setdefault(name, {})
        table[last] = value


def _text(text: str) -> str:
    return text


def _ends(text: str) -> list[str]:
    word = text.casefold()
    if word not in (*ENDS, "both"):
        raise BadInput(f"{text!r} is no end of a truck", "Write front, rear or both.")
    return list(ENDS) if word == "both" else [word]


def _word(text: str) -> str:
    return text.casefold()


def _number(text: str) -> float | int:
    number = parse_number(text.removeprefix("$"))
    return int(number) if number == int(number) else number


def _words(text: str) -> list[str]:
    return [word for part in text.split(",") if (word := part.strip())]


def _at_least(text: str) -> dict[str, Any]:
    return {"at_least": _number(text)}


def _none_of(text: str) -> dict[str, Any]:
    return {"none_of": _words(text)}


def _circle(text: str) -> float:
    return round(parse_length_mm(text), 1)


def _rim(answers: Answers) -> Proposal | None:
    with suppress(BadInput, KeyError):
        rim_in = read_tire(answers["tires"]).rim_in
        return Proposal(f"{rim_in:g}", f"the rim of {answers['tires']}") if rim_in else None
    return None


def _common_circle(answers: Answers) -> Proposal | None:
    circle = _CIRCLES_MM.get(answers.get("lugs", 0))
    why = f"the commonest with {answers.get('lugs')} studs under older trucks; measure yours"
    return Proposal(f"{circle:g}", why) if circle else None


def _planned(answers: Answers) -> Proposal:
    if "ratio" in answers:
        return Proposal("regear, bearings-and-seals", "few used axles come with your ratio or with fresh bearings")
    return Proposal("bearings-and-seals", "a used axle deserves them whatever it is")


def _always(text: str, why: str) -> Callable[[Answers], Proposal]:
    return lambda answers: Proposal(text, why)


def _shipped_rate(answers: Answers) -> Proposal:
    return Proposal(f"{judging().price['travel_usd_per_mi']:g}", "the rate that stands in where none is given")


QUESTIONS = (
    Question(
        "name", "What shall the build be called?", "A few words by which you know the truck.", ("name",), _text,
        _always("my build", "any name will do"), needed=True,
    ),
    Question(
        "wants", "Which axle do you look for: front, rear or both?",
        "The front has knuckles that steer; the rear has none.", ("wants",), _ends,
        _always("front", "the one most looked for"), needed=True,
    ),
    Question(
        "tires", "Which tires?", "The size on the sidewall, such as 37x12.50R17 or 285/70R17.", ("vehicle.tires",),
        _text,
    ),
    Question(
        "wheel_dia_in", "Wheel diameter, in inches?",
        "The last number of the tire's size. Brakes that do not go inside the wheel rule an axle out.",
        ("vehicle.wheel_dia_in",), _number, _rim,
    ),
    Question(
        "front_output", "On which side is the transfer case's front output: driver, passenger or center?",
        "Where the front driveshaft leaves the transfer case. The front differential must be on that side.",
        ("vehicle.front_output",), _word, when=lambda answers: "front" in answers.get("wants", ()),
    ),
    Question(
        "lugs", "How many wheel studs?", "Count the studs of one hub: that many holes have your wheels.",
        ("{end}.must.lugs",), _number,
    ),
    Question(
        "bolt_circle_mm", "Bolt circle, in mm (or 6.5in)?",
        "The circle through the middles of the studs. With 6 or 8 studs: centre to centre of two opposite ones.",
        ("{end}.must.bolt_circle_mm",), _circle, _common_circle,
    ),
    Question(
        "rear_wheels", "Off a truck with single or dual rear wheels?",
        "Dually: two wheels on each side behind. Its hubs stand out and may take no single wheel.",
        ("{end}.must.rear_wheels",), _word, _always("single", "your wheels bolt on without other hubs"),
    ),
    Question(
        "ratio", "Which axle ratio do you want?",
        "Turns of the driveshaft for one of the wheels, such as 4.56. `donorbase calc gearing` works it out.",
        ("gearing.ratio", "{end}.must.ratio_sold"), _number,
    ),
    Question(
        "there", "Which ratio has the axle that stays?", "On its tag, or count teeth, or turns of the driveshaft.",
        ("{other}.has.ratio",), _number, when=lambda answers: len(answers.get("wants", ())) == 1,
    ),
    Question(
        "outer_splines", "Outer shaft splines, at least?",
        "Teeth on the shaft's end behind the hub cap. A thicker shaft has more: 30 or 35 on big fronts.",
        ("front.must.outer_splines",), _at_least, when=lambda answers: "front" in answers.get("wants", ()),
    ),
    Question(
        "defects", "Which defects rule it out?", "Words with commas: bent, cracked, rusty, leaking, damaged-gears ...",
        ("{end}.must.defects",), _none_of,
        _always("bent, cracked", "a housing that was hit is rarely worth its repair"),
    ),
    Question(
        "planned", "Which work will you do anyway?", "It adds no cost and lowers no verdict.", ("work.planned",),
        _words, _planned,
    ),
    Question(
        "accepted", "Which work would you do at a price?", "What it costs is added to the sum.", ("work.accepted",),
        _words, _always("buy-missing-parts", "few used axles come with every part"),
    ),
    Question(
        "refused", "Which work will you never do?", "An axle that needs it does not fit.", ("work.refused",), _words,
    ),
    Question(
        "landed_limit_usd", "What may it cost in all, in dollars?",
        "Landed: price, travel, missing parts and the work that you had not planned.", ("money.landed_limit_usd",),
        _number,
    ),
    Question(
        "travel_usd_per_mi", "What does a mile of travel cost you, in dollars?",
        "Fuel and wear; both ways are counted.", ("money.travel_usd_per_mi",), _number, _shipped_rate,
    ),
)  # fmt: skip
