"""Hold points: the usual mistakes of the job are covered, each stands once and only where it applies.

Worked figures: caster 2.5 + pinion 10.5 = 13.0, wanted 5.75 + 10.5: turn the knuckles 3.25 degrees (an owner's thread);
links of equal slope and length steer nothing (geometry); 2.15 and 3-4-5 triangles (arithmetic); 65 mph, 40 in, 5.13
turns the shaft 2,802 a minute (rpm = mph x R x 336.135 / D).
"""

from pathlib import Path
from typing import Any

import pytest

from donorbase.engineering.steering import bump_steer, link_of
from donorbase.errors import BadData, BadInput
from donorbase.reference.rules import (
    SUMS,
    cautions,
    cautions_from,
    fitup_from,
    fitup_rules,
    things_from,
    things_to_take,
)
from donorbase.services.desk import Desk
from donorbase.services.fitting import fit_up_sheet, things_along
from donorbase.shipped import data_dir
from donorbase.verdict.applies import Case, applies
from donorbase.verdict.build import parse_build
from donorbase.verdict.fitup import FitUp
from donorbase.verdict.lights import Light
from donorbase.verdict.spec import Build
from donorbase.verdict.subjects import VEHICLE, requirement_names

FRONT = "front-9.75-balljoint/a-2005-2010-srw"
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
FULL_FLOAT = "rear-10.50-fourteen-bolt/b-1973-2000-srw-drum"
SEMI_FLOAT = "rear-8.80-ten-bolt/a-1995-2001-31-disc"
LINKED: dict[str, Any] = {
    "suspension": "link", "track_bar": True, "steering": "crossover", "steering_assist": "hydraulic", "road_use": True,
    "tires": "40x13.50R17", "wheel_dia_in": 17, "cruise_mph": 65,
}  # fmt: skip
LEAFED: dict[str, Any] = {"suspension": "leaf", "steering": "push-pull", "steering_assist": "none", "road_use": False}


@pytest.fixture(scope="module")
def desk() -> Desk:
    return Desk.as_shipped(2026)


def build_of(vehicle: dict[str, Any], *planned: str, **more: Any) -> Build:
    plain = {"name": "b", "wants": ["front"], "vehicle": vehicle, "work": {"planned": list(planned)}}
    return parse_build(plain | more)


def keys(found: FitUp) -> list[str]:
    return [hold.point.key for hold in found.holds]


def worked_out(found: FitUp, key: str) -> str:
    return " ".join(said for hold in found.holds if hold.point.key == key for said in hold.sums)


USUAL_MISTAKES = {
    "bracket-holes", "full-steer-full-bump", "track-bar-cover", "bracket-pitman", "links-at-the-knuckle", "same-slope",
    "caster-and-pinion", "link-points", "wheel-over-caliper", "assist-ram", "pedal", "welding", "straight", "retorque",
    "bed-in-pads", "width-and-law", "driveshaft", "same-ratio",
}  # fmt: skip


def test_the_usual_mistakes_are_covered(desk: Desk) -> None:
    build = build_of(LINKED, "brackets", "regear", "brake-rebuild", gearing={"ratio": 5.13})
    found = fit_up_sheet(desk, build, variants=[FRONT])
    assert set(keys(found)) >= USUAL_MISTAKES
    assert len(keys(found)) == len(set(keys(found)))


def test_points_stand_in_the_order_of_the_work(desk: Desk) -> None:
    found = fit_up_sheet(desk, build_of(LINKED, "brackets"), variants=[FRONT])
    order = [word for word, _ in found.stages]
    stages = [order.index(hold.point.stage) for hold in found.holds]
    assert stages == sorted(stages)
    assert set(stages) == set(range(len(order)))


@pytest.mark.parametrize(
    ("vehicle", "axle", "there", "gone"),
    [
        pytest.param(
            LINKED, FRONT,
            ["track-bar-cover", "coil-buckets", "old-brackets-off", "unit-bearing", "assist-ram"],
            ["leaf-perches", "ubolts", "drag-link-and-leaves", "kingpins", "sector-shaft", "full-hydraulic"],
            id="links",
        ),
        pytest.param(
            LEAFED, KINGPIN,
            ["leaf-perches", "ubolts", "drag-link-and-leaves", "kingpins"],
            ["track-bar-cover", "bracket-pitman", "same-slope", "old-brackets-off", "assist-ram", "unit-bearing"],
            id="leaves",
        ),
        pytest.param(
            LINKED, FULL_FLOAT,
            ["full-float", "pinion-rear"],
            ["semi-float", "same-slope", "kingpins", "wheel-over-caliper"],
            id="rear with drums",
        ),
        pytest.param(LEAFED, SEMI_FLOAT, ["semi-float", "wheel-over-caliper"], ["full-float"], id="semi float"),
        pytest.param({**LEAFED, "tire_dia_in": 37}, KINGPIN, ["sector-shaft"], ["assist-ram"], id="no assist"),
        pytest.param({**LEAFED, "tire_dia_in": 33}, KINGPIN, [], ["sector-shaft", "width-and-law"], id="small tires"),
        pytest.param(
            {**LINKED, "steering": "full-hydraulic"}, FRONT, ["full-hydraulic"], ["links-at-the-knuckle"], id="no link"
        ),
    ],
)  # fmt: skip
def test_only_what_applies_is_shown(
    desk: Desk, vehicle: dict[str, Any], axle: str, there: list[str], gone: list[str]
) -> None:
    found = keys(fit_up_sheet(desk, build_of(vehicle), variants=[axle]))
    assert [key for key in there if key not in found] == []
    assert [key for key in gone if key in found] == []


def test_work_brings_its_points(desk: Desk) -> None:
    bare = keys(fit_up_sheet(desk, build_of(LEAFED), variants=[KINGPIN]))
    for work, key in (
        ("brackets", "straight"), ("change-width", "narrowed"), ("spacers", "adapters"), ("regear", "run-in-gears"),
        ("disc-conversion", "bed-in-pads"),
    ):  # fmt: skip
        assert key not in bare
        assert key in keys(fit_up_sheet(desk, build_of(LEAFED, work), variants=[KINGPIN])), work


def test_why_a_point_applies_is_said(desk: Desk) -> None:
    found = fit_up_sheet(desk, build_of(LINKED), variants=[FRONT])
    [hold] = [hold for hold in found.holds if hold.point.key == "old-brackets-off"]
    assert hold.sure
    assert any("coil" in reason for reason in hold.because)
    assert any("link" in reason for reason in hold.because)
    assert [h.point.key for h in found.holds if h.point.when and not h.because] == []


def test_what_the_build_leaves_open_stays_on_the_sheet_and_says_so(desk: Desk) -> None:
    found = fit_up_sheet(desk, build_of({}), variants=[FRONT])
    [hold] = [hold for hold in found.holds if hold.point.key == "track-bar-cover"]
    assert not hold.sure
    assert "not said in the build: track_bar" in hold.because


def test_an_axle_that_nobody_named(desk: Desk) -> None:
    found = fit_up_sheet(desk, build_of(LINKED))
    assert found.axles == ("front: not known which",)
    both = {"kingpins", "ball-joints"}
    assert {hold.point.key: hold.sure for hold in found.holds if hold.point.key in both} == dict.fromkeys(both, False)
    assert "narrowed" not in keys(found)


def test_a_point_of_both_ends_stands_once(desk: Desk) -> None:
    found = fit_up_sheet(desk, build_of(LEAFED), variants=[KINGPIN, SEMI_FLOAT])
    ends = {hold.point.key: hold.ends for hold in found.holds}
    assert ends["ubolts"] == ("front", "rear")
    assert ends["semi-float"] == ("rear",)
    assert len(keys(found)) == len(set(keys(found)))


def test_the_housing_of_an_advert_that_was_cut(desk: Desk) -> None:
    text = "Rear axle, 14 bolt full float, 8x6.5, narrowed by previous owner, discs. $400"
    found = fit_up_sheet(desk, build_of(LEAFED), text=text)
    assert "narrowed" in keys(found)
    assert any("not taken for straight" in said for said in found.cautions)


# ---------------------------------------------------------------- sums


def test_caster_against_pinion(desk: Desk) -> None:
    measured = {"caster_deg": "2.5", "pinion_deg": "10.5", "want_caster_deg": "5.75", "want_pinion_deg": "10.5"}
    said = worked_out(fit_up_sheet(desk, build_of(LINKED), variants=[FRONT], measured=measured), "caster-and-pinion")
    assert "sum to 13, wanted are 16.25: turn the knuckles +3.25 degrees" in said
    now = {name: measured[name] for name in ("caster_deg", "pinion_deg")}
    assert "sum to 13 degrees" in worked_out(
        fit_up_sheet(desk, build_of(LINKED), variants=[FRONT], measured=now), "caster-and-pinion"
    )


def test_links_from_their_ends() -> None:
    assert link_of((0, 30), (40, 0)) == pytest.approx((50, 36.8699), abs=1e-4)  # 3-4-5
    assert link_of((40, 0), (0, 30)) == pytest.approx((50, -36.8699), abs=1e-4)
    with pytest.raises(BadInput):
        link_of((3, 1), (3, 9))


def test_bump_steer_from_measured_points(desk: Desk) -> None:
    points = {"drag_frame": "10,30", "drag_axle": "46,26", "bar_frame": "12,28", "bar_axle": "46,26", "arm_in": "7"}
    said = worked_out(fit_up_sheet(desk, build_of(LINKED), variants=[FRONT], measured=points), "same-slope")
    links = (*link_of((10, 30), (46, 26)), *link_of((12, 28), (46, 26)))
    assert f"4 in up steers {bump_steer(*links, 4, 7).steer_deg:+.2f} degrees" in said
    assert f"4 in down steers {bump_steer(*links, -4, 7).steer_deg:+.2f} degrees" in said
    shorter = points | {"up_in": "2", "down_in": "5"}
    said = worked_out(fit_up_sheet(desk, build_of(LINKED), variants=[FRONT], measured=shorter), "same-slope")
    assert f"2 in up steers {bump_steer(*links, 2, 7).steer_deg:+.2f} degrees" in said


def test_equal_links_steer_nothing(desk: Desk) -> None:
    measured = {"drag_link_in": "36", "drag_link_deg": "4", "track_bar_in": "36", "track_bar_deg": "4", "arm_in": "7"}
    said = worked_out(fit_up_sheet(desk, build_of(LINKED), variants=[FRONT], measured=measured), "same-slope")
    assert said.count("steers +0.00 degrees") == 2
    assert worked_out(fit_up_sheet(desk, build_of(LINKED), variants=[FRONT]), "same-slope") == ""


def test_wheel_and_shaft_speed_and_ratios(desk: Desk) -> None:
    build = build_of(LINKED, "regear", gearing={"ratio": 5.13}, rear={"has": {"ratio": 4.56}})
    found = fit_up_sheet(desk, build, variants=[FRONT], measured={"joint_deg": "9"})
    assert "17 in, its brakes ask for 17: enough" in worked_out(found, "wheel-over-caliper")
    assert "turns 2,802 a minute" in worked_out(found, "driveshaft")
    assert "PAST it" in worked_out(found, "driveshaft")
    assert "no four-wheel drive" in worked_out(found, "same-ratio")
    assert "560-650 lb" in worked_out(found, "held-up")  # of the family's file, from memory
    small = fit_up_sheet(desk, build_of({**LINKED, "wheel_dia_in": 16}), variants=[FRONT])
    assert "too small" in worked_out(small, "wheel-over-caliper")


@pytest.mark.parametrize(
    "measured",
    [{"drag_lnk_in": "36"}, {"drag_frame": "12"}, {"drag_frame": "a,b"}, {"caster_deg": "steep"}],
)
def test_what_cannot_be_measured(desk: Desk, measured: dict[str, str]) -> None:
    with pytest.raises(BadInput) as wrong:
        fit_up_sheet(desk, build_of(LINKED), variants=[FRONT], measured=measured)
    assert wrong.value.next_step


def test_two_axles_for_one_end(desk: Desk) -> None:
    with pytest.raises(BadInput, match="two axles"):
        fit_up_sheet(desk, build_of(LINKED), variants=[FRONT, KINGPIN])


# ---------------------------------------------------------------- the data


def test_every_condition_of_the_data_can_be_read() -> None:
    whens = [when for rule in (*fitup_rules().points, *cautions().values(), *things_to_take()) for when in rule.when]
    assert len(whens) > 50
    for when in whens:
        for vehicle in (LINKED, LEAFED, {}):
            applies((when,), Case("front", build_of(vehicle), None, frozenset()))
        assert set(when.vehicle) <= set(VEHICLE)
        assert set(when.finding) <= {*requirement_names(pair=False), *requirement_names(pair=True)}
    assert {point.sum for point in fitup_rules().points} - {""} == set(SUMS)


def test_steering_and_brakes_and_welds_are_to_be_inspected() -> None:
    points = {point.key: point for point in fitup_rules().points}
    for key in ("welding", "cast-iron", "straight", "links-at-the-knuckle", "pedal", "assist-ram", "full-hydraulic",
                "width-and-law", "full-steer-full-bump", "parking-brake", "droop"):  # fmt: skip
        assert points[key].inspect, key


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ('stage = "mock-up"', 'stage = "later"', "'later' is none of"),
        ('work = ["brackets", "move-perches"]', 'work = ["brakets"]', "'brakets' is not in works.csv"),
        ('axle = { suspension = "leaf" }', 'axle = { suspenders = "leaf" }', "suspenders is no attribute"),
        ('axle = { suspension = "leaf" }', 'axle = { suspension = "air" }', "'air' is none of its words"),
        ('end = "front"', 'end = "left"', "'left' is neither"),
        ('key = "held-up"', 'key = "centred"', "'centred' stands twice"),
        ('sum = "bump-steer"', 'sum = "bumps"', "'bumps' is none of"),
        ('basis = "common practice"', 'base = "common practice"', "base is not a key"),
    ],
)
def test_a_fault_of_the_file_is_told_with_its_line(tmp_path: Path, old: str, new: str, fault: str) -> None:
    text = (data_dir() / "fitup.toml").read_text("utf-8")
    assert old in text
    (tmp_path / "fitup.toml").write_text(text.replace(old, new, 1), "utf-8")
    with pytest.raises(BadData) as wrong:
        fitup_from(tmp_path / "fitup.toml")
    assert any(fault in line and line.startswith("fitup.toml:") for line in wrong.value.faults)


def test_faults_of_cautions_are_told(tmp_path: Path) -> None:
    (tmp_path / "cautions.toml").write_text(
        '[[caution]]\nkey = "x"\nsays = "y"\nbasis = "z"\nshown = ["wall"]\n', "utf-8"
    )
    with pytest.raises(BadData) as wrong:
        cautions_from(tmp_path / "cautions.toml")
    assert any("'wall'" in line for line in wrong.value.faults)
    (tmp_path / "cautions.toml").write_text("", "utf-8")
    with pytest.raises(BadData):
        cautions_from(tmp_path / "cautions.toml")


def test_what_is_known_only_when_stated_stays_away(desk: Desk) -> None:
    locked = [c for c in cautions().values() if c.key == "locked-front"]
    [caution] = locked
    assert applies(caution.when, Case("front", build_of(LINKED), None, frozenset())).light is Light.STOP


# ---------------------------------------------------------------- what to take along

FORGOTTEN = {"yoke", "driveshaft", "hard-lines", "tie-rod-and-drag-link", "calipers-and-brackets", "own-bolts"}
"""What buyers come back for: yokes, shaft, lines, tie rod, caliper brackets, bolts (common practice)."""


def test_what_is_forgotten_is_on_the_list_and_only_what_this_axle_has(desk: Desk) -> None:
    front = {take.thing.key for take in things_along(desk, build_of(LINKED), variants=[FRONT]) if take.sure}
    kingpin = {take.thing.key for take in things_along(desk, build_of(LEAFED), variants=[KINGPIN]) if take.sure}
    assert front >= FORGOTTEN | {"coil-seats", "abs-leads"}
    assert "steering-arms" in kingpin - front
    assert "u-bolts-plates" in kingpin - front
    assert "full-float-nuts" not in front | kingpin


def test_a_bigger_master_cylinder_is_taken_where_the_vehicle_has_its_own(desk: Desk) -> None:
    vehicle = LINKED | {"master_cylinder": "original"}
    assert "master-cylinder" in {t.thing.key for t in things_along(desk, build_of(vehicle), variants=[FRONT])}
    vehicle["master_cylinder"] = "enlarged"
    assert "master-cylinder" not in {t.thing.key for t in things_along(desk, build_of(vehicle), variants=[FRONT])}


def test_of_an_unknown_axle_it_says_what_it_hangs_on(desk: Desk) -> None:
    found = {take.thing.key: take for take in things_along(desk, build_of(LINKED))}
    assert not found["steering-arms"].sure
    assert "not known" in " ".join(found["steering-arms"].because)


def test_faults_of_the_list_are_told(tmp_path: Path) -> None:
    text = (data_dir() / "take-along.toml").read_text("utf-8").replace('end = "rear"', 'end = "left"', 1)
    (tmp_path / "take-along.toml").write_text(text, "utf-8")
    with pytest.raises(BadData) as caught:
        things_from(tmp_path / "take-along.toml")
    assert any("'left' is neither" in line for line in caught.value.faults)
