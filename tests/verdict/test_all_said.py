"""Of every axle on record: who says plainly all that is asked, and nothing else, must be told that it fits.

By the verdict rule a must that is stated is met, and nothing else may hold a verdict back.
"""

from typing import Any

import pytest

from donorbase.facts import Fact, Item, Reading
from donorbase.reference.catalogue import Variant
from donorbase.reference.load import load_catalogue
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.verdicts import Call

CATALOGUE = load_catalogue()
OF_BOTH = ("lugs", "bolt_circle_mm", "ring_gear_in", "rear_wheels", "brakes", "suspension", "width_in")
OF_END = {"front": ("inner_splines", "outer_splines", "knuckle", "drop"), "rear": ("splines", "float")}
AT_LEAST = frozenset({"ring_gear_in", "inner_splines", "outer_splines", "splines"})
DONORS = [variant for variant in CATALOGUE.variants.values() if variant.family.donor_ok]


def figures(variant: Variant) -> dict[str, Any]:
    """What is asked of axles and has one value in this one."""
    names = (*OF_BOTH, *OF_END[variant.family.position])
    return {name: variant.all(name)[0] for name in names if len(variant.all(name)) == 1}


def told(variant: Variant, said: dict[str, Any], asked: dict[str, Any]) -> Call:
    end = variant.family.position
    must = {name: {"at_least": value} if name in AT_LEAST else value for name, value in asked.items()}
    build = parse_build({"name": "all said", "wants": [end], end: {"must": must}})
    first, last = variant.all("years")[0]
    year = first if last is None else (first + last) // 2
    facts = [Fact("kind", "axle"), Fact("position", end), Fact("years", (year, year))]
    item = Item((*facts, *(Fact(name, value) for name, value in said.items())))
    offer = (Fact("offer", "for-sale"), Fact("price_usd", 500.0))
    return judge(build, Reading("", offer, (item,)), CATALOGUE, distance_mi=10).verdict


@pytest.mark.parametrize("variant", DONORS, ids=[variant.key for variant in DONORS])
def test_an_axle_of_which_all_that_is_asked_is_said_fits(variant: Variant) -> None:
    said = figures(variant)
    assert len(said) > 3
    assert told(variant, said, said) is Call.FITS


@pytest.mark.parametrize("variant", DONORS, ids=[variant.key for variant in DONORS])
def test_it_does_not_fit_where_another_number_of_studs_is_asked(variant: Variant) -> None:
    said = figures(variant)
    assert told(variant, said, said | {"lugs": said["lugs"] + 1}) is Call.NO
