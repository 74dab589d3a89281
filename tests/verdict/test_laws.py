"""Laws that hold for any build and any listing.

The worst thing is to say that an axle fits which does not: so nothing that is taken away, asked on top,
refused or saved may better a verdict. Builds, axles and what sellers say of them are drawn at random.
"""

import copy
import json
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from donorbase.facts import Fact, Item, Known, Reading
from donorbase.reference.load import load_catalogue
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.verdicts import Call, ListingVerdict, State

LAW = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])

MUSTS: dict[str, list[Any]] = {
    "inner_splines": [{"at_least": 30}, {"at_least": 35}],
    "outer_splines": [{"at_least": 30}, {"at_least": 35}],
    "lugs": [8, 6],
    "bolt_circle_mm": [170.0, 165.1],
    "drop": ["driver", "passenger"],
    "rear_wheels": ["single"],
    "knuckle": ["kingpin", "ball-joint"],
    "ratio": [3.73, {"between": [4.0, 4.2]}],
    "ratio_sold": [5.13, 4.88],
    "ring_gear_in": [{"at_least": 9.0}],
    "suspension": ["coil", "leaf"],
    "brakes": ["disc"],
    "hubs": ["manual-locking"],
    "defects": [{"none_of": ["bent", "cracked"]}, {"none_of": ["rusty"]}],
    "missing": [{"none_of": ["caliper", "outer-shaft"]}],
    "differential": [{"none_of": ["welded", "spool"]}],
    "brake_fluid_enough": [True],
    "min_wheel_in": [{"at_most": 17}, {"at_most": 15}],
    "years": [{"between": [2005, 2016]}],
}
WORKS = [
    "regear", "new-differential", "ball-joints", "single-wheel-hubs", "redrill-hubs", "outer-shafts", "disc-conversion",
    "master-cylinder", "buy-missing-parts", "straighten-housing", "hub-conversion", "move-perches", "brackets",
    "new-carrier", "bearings-and-seals", "pull-from-vehicle",
]  # fmt: skip
SAID: dict[str, list[Any]] = {
    "years": [(2003, 2003), (2008, 2008), (2012, 2012), (2018, 2018), (1979, 1979), (1990, 1990)],
    "load_class": ["one-ton", "three-quarter-ton", "half-ton"],
    "suspension": ["coil", "leaf"],
    "rear_wheels": ["single", "dual"],
    "knuckle": ["ball-joint", "kingpin"],
    "lugs": [8, 6],
    "bolt_circle_mm": [170.0, 165.1, 200.0],
    "ratio": [3.73, 4.1, 4.56],
    "outer_splines": [30, 35],
    "inner_splines": [35],
    "drop": ["driver", "passenger"],
    "brakes": ["disc", "drum"],
    "hubs": ["manual-locking", "automatic-locking"],
    "differential": ["open", "welded"],
    "defects": ["bent", "rusty", "leaking"],
    "missing": ["caliper", "outer-shaft"],
    "caliper_pistons": [1, 2],
}
KNOWN = [Known.STATED] * 30 + [Known.HEDGED, Known.INFERRED]


WHOLE: list[dict[str, Any]] = [
    {"years": (2011, 2011), "load_class": "one-ton", "suspension": "coil", "rear_wheels": "single", "lugs": 8,
     "knuckle": "ball-joint", "bolt_circle_mm": 170.0, "ratio": 3.73, "brakes": "disc"},
    {"years": (2008, 2008), "load_class": "one-ton", "suspension": "coil", "rear_wheels": "dual", "lugs": 8,
     "knuckle": "ball-joint", "bolt_circle_mm": 200.0, "ratio": 4.1, "brakes": "disc", "caliper_pistons": 2},
    {"years": (2002, 2002), "load_class": "one-ton", "suspension": "leaf", "rear_wheels": "single", "lugs": 8,
     "knuckle": "ball-joint", "bolt_circle_mm": 170.0, "ratio": 4.1, "drop": "driver", "outer_splines": 30},
    {"years": (1989, 1989), "load_class": "one-ton", "suspension": "leaf", "rear_wheels": "single", "lugs": 8,
     "knuckle": "kingpin", "bolt_circle_mm": 165.1, "ratio": 4.1, "drop": "driver", "inner_splines": 35},
]  # fmt: skip
"""Axles as they are; what a seller says of one of them is some of it, now and then wrong."""


@st.composite
def builds(draw: st.DrawFn) -> dict[str, Any]:
    names = draw(st.lists(st.sampled_from(sorted(MUSTS)), max_size=5, unique=True))
    fates = ["planned", "accepted", "accepted", "refused", ""]
    fate = {word: draw(st.sampled_from(fates)) for word in WORKS}
    work = {key: [w for w in WORKS if fate[w] == key] for key in ("planned", "accepted", "refused")}
    vehicle = {"wheel_dia_in": draw(st.sampled_from([16, 17, 17, 17]))}
    for key, values in (("front_output", ["driver", None]), ("master_cylinder", ["enlarged", "original", None])):
        value = draw(st.sampled_from(values))
        vehicle |= {key: value} if value else {}
    return {
        "name": "drawn", "wants": ["front"], "vehicle": vehicle, "gearing": {"ratio": 4.88}, "work": work,
        "front": {"must": {name: draw(st.sampled_from(MUSTS[name])) for name in names}},
        "money": {"landed_limit_usd": draw(st.sampled_from([900, 5000, 9000])), "travel_usd_per_mi": 0.45},
    }  # fmt: skip


@st.composite
def items(draw: st.DrawFn) -> Item:
    said = dict(draw(st.sampled_from(WHOLE)))
    for name in draw(st.lists(st.sampled_from(sorted(said)), max_size=2, unique=True)):
        del said[name]
    for name in draw(st.lists(st.sampled_from(sorted(SAID)), max_size=2, unique=True)):
        said[name] = draw(st.sampled_from(SAID[name]))
    facts = [Fact(name, value, draw(st.sampled_from(KNOWN))) for name, value in said.items()]
    kind = draw(st.sampled_from(["axle"] * 8 + ["housing", "vehicle"]))
    position = [] if kind == "vehicle" else [Fact("position", "front")]
    return Item((Fact("kind", kind), *position, *facts))


@st.composite
def readings(draw: st.DrawFn) -> Reading:
    price = draw(st.sampled_from([None, 700, 850, 850, 2500]))
    offer = (Fact("offer", "for-sale"), *([Fact("price_usd", price)] if price is not None else []))
    text = draw(st.sampled_from(["", "", "", "", "truck got rolled", "flood truck"]))
    return Reading(text, offer, tuple(draw(st.lists(items(), min_size=1, max_size=2))))


def judged(build: dict[str, Any], reading: Reading) -> ListingVerdict:
    return judge(parse_build(build), reading, load_catalogue(), distance_mi=20)


def no_better(after: ListingVerdict, before: ListingVerdict) -> bool:
    return after.verdict.rank >= before.verdict.rank


@LAW
@given(builds(), readings())
def test_a_verdict_can_always_be_given_and_written(build: dict[str, Any], reading: Reading) -> None:
    found = judged(build, reading)
    assert 0 <= found.chance <= 1
    assert len(found.questions) <= 5
    assert found.reasons
    json.dumps(found.full_json(), allow_nan=False)


@LAW
@given(builds(), readings())
def test_taking_away_what_supported_a_must_makes_nothing_fit_better(build: dict[str, Any], reading: Reading) -> None:
    """A fact that fails one must and meets another may, taken away, turn a no into a question; never into a
    yes.
    """
    before = judged(build, reading)
    for place in before.chosen:
        item = before.items[place]
        met = [f for f in item.findings if f.state is State.MEETS and not f.inferred]
        for subject in {f.requirement.subject for f in met} - {"kind", "offer", "position", "defects", "missing"}:
            changed = list(reading.items)
            changed[item.item] = changed[item.item].without(subject)
            after = judged(build, Reading(reading.text, reading.offer, tuple(changed)))
            unclear_of_no = before.verdict is Call.NO and after.verdict is Call.UNCLEAR
            assert no_better(after, before) or unclear_of_no, subject


@LAW
@given(builds(), readings(), st.sampled_from(sorted(MUSTS)), st.data())
def test_asking_for_more_makes_nothing_fit_better(
    build: dict[str, Any], reading: Reading, name: str, data: st.DataObject
) -> None:
    """But for one case that the rule itself makes: the new must counts work, and that work covers what was
    not known.
    """
    if name in build["front"]["must"]:
        return
    before = judged(build, reading)
    more = copy.deepcopy(build)
    more["front"]["must"][name] = data.draw(st.sampled_from(MUSTS[name]))
    after = judged(more, reading)
    counted = {t.word for t in after.work if not t.planned} - {t.word for t in before.work if not t.planned}
    assert no_better(after, before) or (counted and before.verdict is Call.UNCLEAR)


@LAW
@given(builds(), readings(), st.integers(1, 5000))
def test_a_higher_limit_never_worsens(build: dict[str, Any], reading: Reading, more: int) -> None:
    richer = copy.deepcopy(build)
    richer["money"]["landed_limit_usd"] += more
    assert no_better(judged(build, reading), judged(richer, reading))


@LAW
@given(builds(), readings(), st.randoms(use_true_random=False))
def test_order_changes_nothing(build: dict[str, Any], reading: Reading, random: Any) -> None:
    shuffled = copy.deepcopy(build)
    musts = list(build["front"]["must"].items())
    random.shuffle(musts)
    shuffled["front"]["must"] = dict(musts)
    for words in shuffled["work"].values():
        random.shuffle(words)
    mixed = []
    for item in reading.items:
        facts = list(item.facts)
        random.shuffle(facts)
        mixed.append(Item(tuple(facts)))
    random.shuffle(mixed)
    one, other = judged(build, reading), judged(shuffled, Reading(reading.text, reading.offer, tuple(mixed)))
    assert one.verdict is other.verdict
    assert abs(one.chance - other.chance) < 1e-6
    assert one.money.total == other.money.total


@LAW
@given(builds(), readings())
def test_refusing_work_makes_nothing_fit_better(build: dict[str, Any], reading: Reading) -> None:
    stricter = copy.deepcopy(build)
    stricter["work"]["refused"] += stricter["work"]["accepted"]
    stricter["work"]["accepted"] = []
    before, after = judged(build, reading), judged(stricter, reading)
    # Without the work there is no price of it either: a no for money stays a no only where a must fails.
    assert no_better(after, before) or before.money.over


@LAW
@given(builds(), readings())
def test_planning_what_was_accepted_never_worsens(build: dict[str, Any], reading: Reading) -> None:
    keener = copy.deepcopy(build)
    keener["work"]["planned"] += keener["work"]["accepted"]
    keener["work"]["accepted"] = []
    assert no_better(judged(build, reading), judged(keener, reading))
