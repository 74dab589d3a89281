"""Build files: round trip, and every fault at once with its line."""

import re
from typing import Any

import pytest

from donorbase.errors import BadData
from donorbase.reference.load import load_catalogue
from donorbase.verdict.build import parse_build, read_build
from donorbase.verdict.spec import Level

FAULTY = """\
name = "crawler"
wants = ["frnt"]

[vehicle]
front_ouput = "driver"
wheel_dia_in = "17"
tires = "big ones"

[front.must]
bolt_circle_mm = 6.5
lugz = 8
outer_splines = { at_leest = 35 }
years = { between = [2016, 2005] }
ratio_mismatch_pct = { at_most = 0.5 }

[rear.has]
lugs = { at_least = 6 }

[work]
planned = ["regeer"]
accepted = ["redrill-hubs"]
refused = ["redrill-hubs"]

[money]
landed_limit_usd = -5
[money.yard]
half_price_day = "yes"
"""

FAULTS = {
    2: "front", 5: "front_output", 6: "a number", 7: "tire", 10: "165.1", 11: "lugs", 12: "at_least", 13: "2016",
    14: "no attribute", 17: "one value", 20: "regear", 22: "accepted and refused", 25: "believable",
    27: "true or false",
}  # fmt: skip


def test_every_fault_is_told_at_once_with_its_line() -> None:
    with pytest.raises(BadData) as wrong:
        read_build(FAULTY, "crawler.toml", works=load_catalogue().works)
    told = {int(m[1]): fault for fault in wrong.value.faults if (m := re.match(r"crawler.toml:(\d+):", fault))}
    assert told.keys() == FAULTS.keys()
    for line, word in FAULTS.items():
        assert word in told[line], told[line]
    assert wrong.value.next_step


def test_a_text_that_is_no_toml_is_told_with_its_place() -> None:
    with pytest.raises(BadData, match="line 2"):
        read_build('name = "x"\nwants = front\n', "x.toml")


def test_plain_data_without_lines_names_the_path() -> None:
    with pytest.raises(BadData, match=r"front\.must\.lugs"):
        parse_build({"wants": ["front"], "front": {"must": {"lugs": "eight"}}})


def test_the_ends_must_be_named() -> None:
    with pytest.raises(BadData, match="wants"):
        parse_build({"name": "x"})


def test_builds_come_back_from_toml_and_json_as_they_were(plain_builds: dict[str, dict[str, Any]]) -> None:
    assert len(plain_builds) > 10
    for plain in plain_builds.values():
        build = parse_build(plain, works=load_catalogue().works)
        assert parse_build(build.as_json()) == build
        assert read_build(build.as_toml(), "again") == build


@pytest.mark.parametrize("name", ['say "forty"', "back\\slash", "tab\there", "snow \u2603", "line\nbreak"])
def test_any_name_survives_the_round_trip(name: str) -> None:
    build = parse_build({"name": name, "wants": ["rear"]})
    assert read_build(build.as_toml(), "x") == build


def test_every_key_of_the_form_is_kept(plain_front: dict[str, Any]) -> None:
    plain_front["vehicle"] |= {"tires": "40x13.50R17", "engine_torque_lbft": 350, "first_gear": 6.32}
    plain_front["computed"] = False
    plain_front["any"] = {"avoid": {"defects": ["rusty"]}}
    plain_front["money"]["yard"] = {"half_price_day": True, "core_usd": 30, "entry_usd": 2}
    plain_front["money"]["part_price_usd"] = {"hubs": 560}
    build = parse_build(plain_front)
    assert build.as_json()["money"] == plain_front["money"]
    assert read_build(build.as_toml(), "x") == build
    assert build.vehicle.first_gear == 6.32


def test_what_an_end_says_itself_stands_over_what_both_ends_share() -> None:
    build = parse_build(
        {"wants": ["front"], "any": {"must": {"lugs": 8, "ratio": 4.1}}, "front": {"must": {"lugs": 6}}}
    )
    rows = {r.subject: r for r in build.of_end("front") if r.level is Level.MUST}
    assert rows["lugs"].condition.wanted == 6
    assert rows["ratio"].condition.wanted == 4.1
