"""Laws that hold for any build and any listing.

The worst thing is to say that an axle fits which does not: so nothing that is taken away, asked on top,
refused or saved may better a verdict. Builds, axles and what sellers say of them are drawn at random.
"""

import copy
import json
from dataclasses import replace
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from donorbase.facts import Fact, Item, Known, Reading
from donorbase.identity.conflicts import conflicts
from donorbase.identity.identify import identify
from donorbase.reference.load import load_catalogue
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.verdicts import Call, ItemVerdict, ListingVerdict, State

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
REAR_MUSTS: dict[str, list[Any]] = {
    "float": ["full"],
    "ring_gear_in": [{"at_least": 10.0}],
    "lugs": [8],
    "bolt_circle_mm": [165.1, 170.0],
    "brakes": ["disc"],
    "splines": [{"at_least": 30}, {"at_least": 35}],
    "rear_wheels": ["single"],
    "width_in": [{"between": [66.0, 70.0]}],
    "ratio": [4.1, {"between": [4.0, 4.2]}],
    "ratio_sold": [4.88, 5.13],
    "parking_brake": [True],
    "defects": [{"none_of": ["bent"]}],
}
PAIR_MUSTS: dict[str, list[Any]] = {
    "ratio_mismatch_pct": [{"at_most": 0.5}],
    "bolt_circle_same": [True],
    "width_diff_in": [{"at_most": 3.0}],
}
OF_END = {"front": MUSTS, "rear": REAR_MUSTS}
WORKS = [
    "regear", "new-differential", "ball-joints", "single-wheel-hubs", "redrill-hubs", "outer-shafts", "disc-conversion",
    "master-cylinder", "buy-missing-parts", "straighten-housing", "hub-conversion", "move-perches", "brackets",
    "new-carrier", "bearings-and-seals", "pull-from-vehicle", "change-width", "spacers",
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
REARS: list[dict[str, Any]] = [
    {"years": (1994, 1994), "cover_bolts": 14, "float": "full", "ring_gear_in": 10.5, "lugs": 8,
     "bolt_circle_mm": 165.1,
     "brakes": "drum", "ratio": 4.1, "rear_wheels": "single", "width_in": 67.375},
    {"years": (2008, 2008), "float": "full", "ring_gear_in": 10.5, "lugs": 8, "bolt_circle_mm": 170.0, "brakes": "disc",
     "ratio": 3.73, "rear_wheels": "single", "cover_bolts": 12},
    {"years": (1988, 1988), "cover_bolts": 14, "float": "semi", "ring_gear_in": 9.5, "lugs": 8,
     "bolt_circle_mm": 165.1,
     "brakes": "drum", "ratio": 3.73, "rear_wheels": "single"},
    {"years": (2006, 2006), "float": "full", "ring_gear_in": 11.25, "lugs": 8, "bolt_circle_mm": 200.0,
     "brakes": "disc",
     "ratio": 4.1, "rear_wheels": "dual"},
]  # fmt: skip


@st.composite
def builds(draw: st.DrawFn) -> dict[str, Any]:
    wants = draw(st.sampled_from([["front"], ["front"], ["rear"], ["front", "rear"]]))
    fates = ["planned", "accepted", "accepted", "refused", ""]
    fate = {word: draw(st.sampled_from(fates)) for word in WORKS}
    work = {key: [w for w in WORKS if fate[w] == key] for key in ("planned", "accepted", "refused")}
    vehicle = {"wheel_dia_in": draw(st.sampled_from([16, 17, 17, 17]))}
    for key, values in (("front_output", ["driver", None]), ("master_cylinder", ["enlarged", "original", None])):
        value = draw(st.sampled_from(values))
        vehicle |= {key: value} if value else {}
    ends = {end: {"must": draw(musts(OF_END[end]))} for end in wants}
    pair = {"pair": {"must": draw(musts(PAIR_MUSTS))}} if draw(st.booleans()) else {}
    has = {"lugs": 8, "bolt_circle_mm": 165.1, "ratio": 4.1, "width_in": 68.0}
    other = {"front": "rear", "rear": "front"}[wants[0]]
    there = {other: {"has": has}} if pair and len(wants) == 1 else {}
    return {
        "name": "drawn", "wants": wants, "vehicle": vehicle, "gearing": {"ratio": 4.88}, "work": work, **ends, **pair,
        **there,
        "money": {"landed_limit_usd": draw(st.sampled_from([900, 5000, 9000])), "travel_usd_per_mi": 0.45},
    }  # fmt: skip


@st.composite
def musts(draw: st.DrawFn, known: dict[str, list[Any]]) -> dict[str, Any]:
    names = draw(st.lists(st.sampled_from(sorted(known)), max_size=5, unique=True))
    return {name: draw(st.sampled_from(known[name])) for name in names}


@st.composite
def items(draw: st.DrawFn, end: str) -> Item:
    said = dict(draw(st.sampled_from(WHOLE if end == "front" else REARS)))
    for name in draw(st.lists(st.sampled_from(sorted(said)), max_size=2, unique=True)):
        del said[name]
    for name in draw(st.lists(st.sampled_from(sorted(SAID)), max_size=2, unique=True)):
        said[name] = draw(st.sampled_from(SAID[name]))
    facts = [Fact(name, value, draw(st.sampled_from(KNOWN))) for name, value in said.items()]
    kind = draw(st.sampled_from(["axle"] * 8 + ["housing", "vehicle"]))
    position = [] if kind == "vehicle" else [Fact("position", end)]
    return Item((Fact("kind", kind), *position, *facts))


@st.composite
def readings(draw: st.DrawFn) -> Reading:
    price = draw(st.sampled_from([None, 700, 850, 850, 2500]))
    offer = (Fact("offer", "for-sale"), *([Fact("price_usd", price)] if price is not None else []))
    text = draw(st.sampled_from(["", "", "", "", "truck got rolled", "flood truck"]))
    ends = draw(st.sampled_from([["front"], ["front", "front"], ["rear"], ["front", "rear"], ["front", "rear"]]))
    return Reading(text, offer, tuple(draw(items(end)) for end in ends))


def judged(build: dict[str, Any], reading: Reading) -> ListingVerdict:
    return judge(parse_build(build), reading, load_catalogue(), distance_mi=20)


def no_better(after: ListingVerdict, before: ListingVerdict) -> bool:
    return after.verdict.rank >= before.verdict.rank


OF_THE_OFFER = {"kind", "offer", "position", "defects", "missing"}


def contradicting(item: ItemVerdict) -> set[str]:
    """What one side of a contradiction speaks of: without that side the rest may well agree."""
    assert item.prospect is not None
    facts = item.prospect.axle_facts()
    found = conflicts(facts, load_catalogue(), identify(facts, load_catalogue()))
    return {name for conflict in found for name in conflict.attributes}


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
        for subject in {f.requirement.subject for f in met} - OF_THE_OFFER - contradicting(item):
            changed = list(reading.items)
            changed[item.item] = changed[item.item].without(subject)
            after = judged(build, Reading(reading.text, reading.offer, tuple(changed)))
            unclear_of_no = before.verdict is Call.NO and after.verdict is Call.UNCLEAR
            assert no_better(after, before) or unclear_of_no, subject


@LAW
@given(builds(), readings())
def test_doubting_what_supported_a_must_makes_nothing_fit_better(build: dict[str, Any], reading: Reading) -> None:
    """The same with the seller no longer sure of it: a no may become a question."""
    before = judged(build, reading)
    for place in before.chosen:
        item = before.items[place]
        met = {f.requirement.subject for f in item.findings if f.state is State.MEETS and not f.inferred}
        for subject in met - OF_THE_OFFER - contradicting(item):
            facts = [
                replace(f, known=Known.HEDGED) if f.attribute == subject else f for f in reading.items[item.item].facts
            ]
            changed = list(reading.items)
            changed[item.item] = Item(tuple(facts))
            after = judged(build, Reading(reading.text, reading.offer, tuple(changed)))
            unclear_of_no = before.verdict is Call.NO and after.verdict is Call.UNCLEAR
            assert no_better(after, before) or unclear_of_no, subject


@LAW
@given(builds(), readings(), st.data())
def test_asking_for_more_makes_nothing_fit_better(build: dict[str, Any], reading: Reading, data: st.DataObject) -> None:
    """But for one case that the rule itself makes: the new must counts work, and that work covers what was
    not known.
    """
    table = data.draw(st.sampled_from([*build["wants"], *(["pair"] if "pair" in build else [])]))
    known = {**OF_END, "pair": PAIR_MUSTS}[table]
    name = data.draw(st.sampled_from(sorted(known)))
    if name in build[table]["must"]:
        return
    before = judged(build, reading)
    more = copy.deepcopy(build)
    more[table]["must"][name] = data.draw(st.sampled_from(known[name]))
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
    for table in (*build["wants"], *(["pair"] if "pair" in build else [])):
        asked = list(build[table]["must"].items())
        random.shuffle(asked)
        shuffled[table]["must"] = dict(asked)
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
