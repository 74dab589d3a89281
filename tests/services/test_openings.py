"""What a build leaves open, contradicts and shuts out: against brute force over the catalogue, and by hand."""

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.reference.load import load_catalogue
from donorbase.services.admits import admitted
from donorbase.services.openings import LookedOver, look_over
from donorbase.verdict.build import parse_build

DEMO = Path(__file__).parents[2] / "data" / "demo"
DEMOS = ("crawler", "rock-truck", "trail-wagon")
FRONT: dict[str, Any] = {"name": "bare", "wants": ["front"]}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def demo(name: str) -> dict[str, Any]:
    return tomllib.loads((DEMO / f"{name}.toml").read_text("utf-8"))


def merged(plain: dict[str, Any], more: dict[str, Any]) -> dict[str, Any]:
    found = dict(plain)
    for key, value in more.items():
        found[key] = merged(found.get(key, {}), value) if isinstance(value, dict) else value
    return found


def looked(plain: dict[str, Any], catalogue: Catalogue) -> LookedOver:
    return look_over(parse_build(plain), catalogue)


def fitted(name: str, test: Callable[[Any], bool]) -> Callable[[Variant], bool | None]:
    """A condition written out by hand: any value fitted will do, none known is None."""
    return lambda v: any(map(test, v.figures[name].values)) if name in v.figures else None


def geared(ratio: float, catalogue: Catalogue) -> Callable[[Variant], bool | None]:
    def truth(variant: Variant) -> bool | None:
        gears = catalogue.gear_sets.get(str(variant.get("gear_set")))
        if gears is None or not gears.ratios_sold:
            return None
        if any(abs(r - ratio) < 0.005 * ratio for r in gears.ratios_sold):
            return True
        # A list from memory lacks some, and one between two that are listed may be made.
        unsure = gears.confidence == "low" or (gears.deepest is not None and ratio < gears.deepest)
        return None if unsure else False

    return truth


def without_work(plain: dict[str, Any]) -> dict[str, Any]:
    return plain | {"work": {}}


def test_the_counts_are_those_of_brute_force(catalogue: Catalogue) -> None:
    """The musts of the demo crawler, written out by hand over every solid front of the catalogue."""
    musts = {
        "drop": fitted("drop", lambda x: x == "driver"),
        "lugs": fitted("lugs", lambda x: x == 8),
        "bolt_circle_mm": fitted("bolt_circle_mm", lambda x: abs(x - 170) < 0.8),
        "rear_wheels": fitted("rear_wheels", lambda x: x == "single"),
        "inner_splines": fitted("inner_splines", lambda x: x >= 35),
        "outer_splines": fitted("outer_splines", lambda x: x >= 35),
        "min_wheel_in": fitted("min_wheel_in", lambda x: x <= 17),
        "ratio_sold": geared(5.13, catalogue),
        "brake_fluid_enough": lambda variant: True,  # the crawler's master cylinder is enlarged
    }
    fronts = [v for v in catalogue.variants.values() if v.family.position == "front" and v.family.donor_ok]
    rows = [{name: truth(v) for name, truth in musts.items()} for v in fronts]
    found = admitted(parse_build(without_work(demo("crawler"))), "front", catalogue)
    assert found.of == len(fronts) > 40
    assert {s.requirement.subject for s in found.shut} == musts.keys()
    assert len(found.meets) == sum(all(row.values()) for row in rows) > 0
    assert len(found.not_known) == sum(False not in row.values() and None in row.values() for row in rows)
    for shut in found.shut:
        name = shut.requirement.subject
        others = [[t for n, t in row.items() if n != name] for row in rows if row[name] is False]
        assert shut.shuts_out == sum(row[name] is False for row in rows), name
        assert shut.not_known == sum(row[name] is None for row in rows), name
        assert shut.lets_in == sum(all(row) for row in others), name
        assert shut.may_let_in == sum(None in row and False not in row for row in others), name
        assert shut.cured == 0
    assert found.with_work == ()
    assert [s.shuts_out for s in found.shut] == sorted((s.shuts_out for s in found.shut), reverse=True)


@pytest.mark.parametrize("name", DEMOS)
def test_dropping_a_must_lets_in_what_was_foretold(name: str, catalogue: Catalogue) -> None:
    """The counts hold when the build is run again without the must."""
    build = demo(name) | {"computed": False}
    for end in build["wants"]:
        before = admitted(parse_build(build), end, catalogue)
        assert before.shut
        for shut in before.shut:
            less = {k: dict(v) if isinstance(v, dict) else v for k, v in build.items()}
            for table in (end, "any"):
                rows = less.get(table, {}).get("must", {})
                if table in less:
                    less[table]["must"] = {k: v for k, v in rows.items() if k != shut.requirement.subject}
            after = admitted(parse_build(less), end, catalogue)
            # Those that had only this figure not known are now known to meet; they are none that it shut out.
            freed = set(after.meets) - set(before.meets) - set(before.not_known)
            assert len(freed) == shut.lets_in, shut.requirement.subject


def test_years_overlap(catalogue: Catalogue) -> None:
    """A run of 2005 to 2010 can meet 2009 to 2012; one that ended in 2004 cannot."""
    plain = merged(FRONT, {"front": {"must": {"years": {"between": [2009, 2012]}}}})
    found = admitted(parse_build(plain), "front", catalogue)
    assert "front-9.75-balljoint/a-2005-2010-srw" in found.meets
    assert "front-9.75-balljoint/a-1999-2004-srw" not in (*found.meets, *found.not_known)


@pytest.mark.parametrize("plain", [FRONT, {**FRONT, "wants": ["rear"]}, {**FRONT, "wants": ["front", "rear"]}])
def test_the_line_to_add_closes_the_opening(plain: dict[str, Any], catalogue: Catalogue) -> None:
    openings = looked(plain, catalogue).openings
    assert len(openings) > 6
    assert {"no limit of money", "ratio"} <= {o.what for o in openings}
    for opening in openings:
        assert opening.why
        line = tomllib.loads(f"[{opening.table}]\n{opening.line}")
        assert opening.what not in {o.what for o in looked(merged(plain, line), catalogue).openings}, opening


def test_every_line_together_leaves_nothing_open(catalogue: Catalogue) -> None:
    plain = FRONT
    for opening in looked(FRONT, catalogue).openings:
        plain = merged(plain, tomllib.loads(f"[{opening.table}]\n{opening.line}"))
    assert looked(plain, catalogue).openings == ()


@pytest.mark.parametrize("name", DEMOS)
def test_the_worked_examples_speak_against_nothing(name: str, catalogue: Catalogue) -> None:
    found = looked(demo(name), catalogue)
    assert found.contradictions == ()
    assert all(end.meets for end in found.ends)


CONTRADICTIONS = [
    pytest.param({"front": {"must": {"drop": "driver"}, "avoid": {"drop": "driver"}}}, "to be avoided", id="avoid"),
    pytest.param(
        {"vehicle": {"front_output": "driver"}, "front": {"must": {"drop": "passenger"}}}, "transfer case", id="side"
    ),
    pytest.param({"gearing": {"ratio": 4.56}, "front": {"must": {"ratio_sold": 5.13}}}, "is 4.56", id="ratio"),
    pytest.param(
        {"vehicle": {"wheel_dia_in": 15}, "front": {"must": {"min_wheel_in": {"at_most": 17}}}}, "15 in", id="wheels"
    ),
    pytest.param(
        {"front": {"must": {"bolt_circle_mm": 170.0}}, "rear": {"has": {"bolt_circle_mm": 165.1}}},
        "has 165.1",
        id="other end",
    ),
    pytest.param({"front": {"must": {"splines": 35}}}, "no front of the catalogue can meet it", id="none of a front"),
    pytest.param({"front": {"must": {"lugs": 6, "bolt_circle_mm": 170.0}}}, "can meet both", id="pair"),
    pytest.param(
        {"front": {"must": {"knuckle": "kingpin"}, "prefer": {"years": {"at_least": 2015}}}}, "prefer years", id="vain"
    ),
]


@pytest.mark.parametrize(("more", "says"), CONTRADICTIONS)
def test_contradictions_are_told(more: dict[str, Any], says: str, catalogue: Catalogue) -> None:
    found = looked(merged(FRONT, more), catalogue).contradictions
    assert len([line for line in found if says in line]) == 1, found


def test_a_transfer_case_that_will_be_moved_is_no_contradiction(catalogue: Catalogue) -> None:
    plain = {
        "vehicle": {"front_output": "driver"},
        "front": {"must": {"drop": "passenger"}},
        "work": {"accepted": ["move-transfer-case-output"]},
    }
    assert looked(merged(FRONT, plain), catalogue).contradictions == ()


def test_what_is_of_one_axle_only_is_not_counted(catalogue: Catalogue) -> None:
    musts = {"defects": {"none_of": ["bent"]}, "differential": {"none_of": ["welded"]}, "kind": "axle"}
    found = admitted(parse_build(merged(FRONT, {"front": {"must": musts}})), "front", catalogue)
    assert found.shut == ()
    assert len(found.meets) == found.of
    assert {r.subject for r in found.uncounted} == musts.keys()


def test_accepted_work_is_credited(catalogue: Catalogue) -> None:
    """By hand: duals of 2005-2016 need single-wheel hubs, which bring 8x170; of 1999-2004 outer shafts too."""
    musts = {"rear_wheels": "single", "bolt_circle_mm": 170.0, "outer_splines": {"at_least": 35}, "ratio_sold": 5.13}
    plain = merged(FRONT, {"front": {"must": musts}})
    dual, leaf = "front-9.75-balljoint/a-2005-2010-drw", "front-9.75-balljoint/a-1999-2004-srw"
    for accepted, let_in in ((["single-wheel-hubs"], {dual}), (["outer-shafts"], {leaf}), ([], set())):
        found = admitted(parse_build(merged(plain, {"work": {"accepted": accepted}})), "front", catalogue)
        assert {dual, leaf} & set(found.with_work) == let_in
        assert set(found.with_work) <= set(found.meets)
        refused = admitted(parse_build(merged(plain, {"work": {"refused": accepted}})), "front", catalogue)
        assert refused.with_work == ()
        assert set(refused.meets) == set(found.meets) - set(found.with_work)


def test_what_the_pair_asks_is_held_against_the_end_that_is_there(catalogue: Catalogue) -> None:
    plain = merged(FRONT, {"pair": {"must": {"bolt_circle_same": True}}, "rear": {"has": {"bolt_circle_mm": 170.0}}})
    found = admitted(parse_build(plain), "front", catalogue)
    fronts = [v for v in catalogue.of_position("front") if v.family.donor_ok]
    alike = {v.key for v in fronts if any(abs(c - 170) < 0.8 for c in v.all("bolt_circle_mm"))}
    assert set(found.meets) == alike
    drilled = admitted(parse_build(merged(plain, {"work": {"accepted": ["redrill-hubs"]}})), "front", catalogue)
    assert set(drilled.with_work) == set(drilled.meets) - alike != set()


def test_front_and_rear_both_wanted_are_held_against_each_other(catalogue: Catalogue) -> None:
    """A front on a circle that no rear of the catalogue has can make no pair."""
    plain = {"name": "pair", "wants": ["front", "rear"], "pair": {"must": {"bolt_circle_same": True}}}
    found = admitted(parse_build(plain), "front", catalogue)
    rears = {c for v in catalogue.of_position("rear") if v.family.donor_ok for c in v.all("bolt_circle_mm")}
    for key in found.meets:
        assert any(abs(c - r) < 1 for c in catalogue.variants[key].all("bolt_circle_mm") for r in rears)
    assert len(found.meets) < found.of


def test_brakes_and_their_fluid_are_counted(catalogue: Catalogue) -> None:
    plain = merged(FRONT, {"vehicle": {"master_cylinder": "original"}, "front": {"must": {"brake_fluid_enough": True}}})
    found = admitted(parse_build(plain), "front", catalogue)
    two = {v.key for v in catalogue.of_position("front") if v.family.donor_ok and v.all("caliper_pistons") == (2,)}
    assert two
    assert not two & set(found.meets)
    larger = admitted(parse_build(merged(plain, {"work": {"accepted": ["master-cylinder"]}})), "front", catalogue)
    assert two <= set(larger.with_work)
    rear = admitted(
        parse_build({"name": "r", "wants": ["rear"], "rear": {"must": {"parking_brake": True}}}), "rear", catalogue
    )
    assert [s.requirement.subject for s in rear.shut] == ["parking_brake"]
    assert rear.meets


def test_a_price_is_held_against_the_usual_ones_of_the_kind(catalogue: Catalogue) -> None:
    found = admitted(
        parse_build(merged(FRONT, {"front": {"must": {"price_usd": {"at_most": 200}}}})), "front", catalogue
    )
    for key in found.meets:
        low = catalogue.variants[key].get("price_range_usd")
        assert isinstance(low, tuple)
        assert low[0] <= 200
    assert found.shut[0].shuts_out > 0


def test_a_ratio_between_two_that_are_listed_is_not_known(catalogue: Catalogue) -> None:
    """The verdict gives such a ratio some chance; so it shuts nothing out here."""
    late = "front-9.75-balljoint/a-2017-on-srw"
    gears = catalogue.gear_sets[str(catalogue.variants[late].get("gear_set"))]
    assert gears.confidence != "low"
    for ratio, state in ((4.7, "not_known"), (5.13, "out"), (4.56, "meets")):
        found = admitted(parse_build(merged(FRONT, {"front": {"must": {"ratio_sold": ratio}}})), "front", catalogue)
        states = {"meets": late in found.meets, "not_known": late in found.not_known}
        assert states == {"meets": state == "meets", "not_known": state == "not_known"}


def test_an_empty_catalogue_is_no_contradiction() -> None:
    found = looked(demo("crawler"), Catalogue({}, {}, {}))
    assert found.contradictions == ()
    assert found.ends[0].of == 0
