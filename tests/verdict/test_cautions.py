"""Cautions stand where what is on offer or the work that it asks for calls for them, once, and nowhere else."""

import re
from collections.abc import Callable
from typing import Any

import pytest

from donorbase.engineering import cautions as texts
from donorbase.facts import Reading
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.judging import judging
from donorbase.reference.odds import load_rates
from donorbase.reference.rules import cautions, fitup_rules
from donorbase.verdict.applies import Case
from donorbase.verdict.build import parse_build
from donorbase.verdict.cautions import cautions_for, cautions_on
from donorbase.verdict.judge import judge
from donorbase.verdict.prospect import prospects_of
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Call

Plain = dict[str, Any]
Read = Callable[..., Reading]
PLAIN_BUILD = Build("b", ("front",))


def by_work(*words: str, place: str = "check") -> tuple[str, ...]:
    return cautions_for([Case("front", PLAIN_BUILD, None, frozenset(words))], place)


def minded(build: Plain, reading: Reading, catalogue: Catalogue) -> tuple[str, ...]:
    made = parse_build(build)
    found = judge(made, reading, catalogue, distance_mi=12)
    prospects = [
        prospect
        for number, item in enumerate(reading.items)
        for prospect in prospects_of(number, item, reading, catalogue, judging(), load_rates())
    ]
    return cautions_on(found, prospects, made)


def test_each_caution_stands_once() -> None:
    found = by_work("disc-conversion", "master-cylinder", "change-width")
    assert len(found) == len(set(found))
    assert [found.count(text) for text in (texts.BRAKES, texts.WELDING)] == [1, 1]


@pytest.mark.parametrize(
    ("work", "words"),
    [
        ("disc-conversion", ["asbestos", "inspected by a licensed professional"]),
        ("change-width", ["qualified welder", "not taken for straight"]),
        ("straighten-housing", ["receipt"]),
        ("spacers", ["States forbid"]),
        ("redrill-hubs", ["studs of full grip"]),
        ("pull-from-vehicle", ["only a jack holds", "hold force", "forbid torches", "down a drain"]),
        ("tow-home", ["393.104"]),
        ("brackets", ["hold force"]),
    ],
)
def test_work_brings_its_cautions(work: str, words: list[str]) -> None:
    said = " ".join(by_work(work))
    assert all(word in said for word in words)


def test_no_work_brings_none() -> None:
    assert by_work() == ()
    assert by_work("regear") == ()


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"differential": "welded"}, "follow the steering wheel"),
        ({"differential": "spool"}, "follow the steering wheel"),
        ({"defects": "shortened"}, "not taken for straight"),
        ({"defects": "torched-brackets"}, "groove"),
    ],
)
def test_what_is_on_offer_brings_its_cautions(
    changed: Plain, word: str, plain_front: Plain, coil_front: Plain, reading: Read, catalogue: Catalogue
) -> None:
    assert not any(word in said for said in minded(plain_front, reading(coil_front), catalogue))
    assert any(word in said for said in minded(plain_front, reading(coil_front | changed), catalogue))


def test_an_axle_that_fits_as_it_stands_asks_for_none(
    plain_front: Plain, coil_front: Plain, reading: Read, catalogue: Catalogue
) -> None:
    assert minded(plain_front, reading(coil_front), catalogue) == ()


def test_big_calipers_on_a_small_master_cylinder(
    plain_front: Plain, coil_front: Plain, reading: Read, catalogue: Catalogue
) -> None:
    offer = reading(coil_front | {"caliper_pistons": 2})
    assert not any("long soft pedal" in said for said in minded(plain_front, offer, catalogue))
    plain_front["vehicle"]["master_cylinder"] = "original"
    assert any("long soft pedal" in said for said in minded(plain_front, offer, catalogue))


def test_unlike_ratios_of_a_pair(
    plain_builds: dict[str, Plain], coil_front: Plain, full_float_rear: Plain, reading: Read, catalogue: Catalogue
) -> None:
    """4.10 against 3.73 is 9.5 percent (2|a-b|/(a+b), arithmetic); geared alike at both ends it is none."""
    build = plain_builds["S10"] | {"work": {"planned": []}}
    front = coil_front | {"bolt_circle_mm": 165.1, "suspension": "leaf", "knuckle": "kingpin", "years": (1988, 1988)}
    unlike = minded(build, reading(front | {"ratio": 3.73}, full_float_rear | {"ratio": 4.1}), catalogue)
    assert any("unlike ratios" in said for said in unlike)
    alike = minded(build, reading(front | {"ratio": 4.1}, full_float_rear | {"ratio": 4.1}), catalogue)
    assert not any("unlike ratios" in said for said in alike)


def test_a_cut_housing_without_proof_never_fits(
    plain_front: Plain, coil_front: Plain, reading: Read, catalogue: Catalogue
) -> None:
    plain_front["work"] = {"planned": ["change-width", "straighten-housing"]}
    for defect in ("shortened", "bent"):
        offer = reading(coil_front | {"defects": defect})
        found = judge(parse_build(plain_front), offer, catalogue, distance_mi=12)
        assert found.verdict is not Call.FITS


def test_a_law_is_named_only_where_a_road_is_driven(plain_front: Plain) -> None:
    def law(**vehicle: Any) -> bool:
        build = parse_build({"name": "b", "wants": ["front"], "vehicle": vehicle})
        return any("30122" in t for t in cautions_for([Case("front", build, None, frozenset({"spacers"}))], "check"))

    assert law(road_use=True)
    assert not law(road_use=False)


def test_texts_name_no_torque_and_promise_nothing() -> None:
    said = [t for c in cautions().values() for t in (c.says, c.basis)]
    said += [t for p in fitup_rules().points for t in (p.do, p.why, p.basis, p.inspect, p.fill)]
    assert len(said) > 200
    for text in said:
        assert not re.search(r"\bsafe(?:ly|ty)?\b(?! equipment)", text.lower()), text
        assert not re.search(r"\d\s*(?:lb-?ft|ft-?lb|lb-in|nm|n·m)\b", text.lower()), text


def test_every_basis_says_of_what_kind_it_is() -> None:
    kinds = ("(read", "read in", "common practice", "from memory", "arithmetic")
    bases = [c.basis for c in cautions().values()] + [p.basis for p in fitup_rules().points]
    assert [basis for basis in bases if not any(kind in basis for kind in kinds)] == []


def test_a_caution_that_there_is_none_of() -> None:
    with pytest.raises(AttributeError):
        _ = texts.NOTHING  # type: ignore[attr-defined]
