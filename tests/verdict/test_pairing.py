"""The best pairs are those of an exhaustive search, and what one drive saves is never more than a trip."""

import itertools
import random
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from donorbase.facts import Reading
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.judging import judging
from donorbase.verdict.axle import Weighed
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import weigh
from donorbase.verdict.pairing import Pair, best_pairs, no_saving
from donorbase.verdict.spec import Build
from donorbase.verdict.together import judge_apart, judge_together
from donorbase.verdict.verdicts import Call

BUILD = {
    "name": "both-ends",
    "wants": ["front", "rear"],
    "gearing": {"ratio": 5.13},
    "front": {"must": {"lugs": 8}, "prefer": {"hubs": "locking"}},
    "rear": {"must": {"float": "full"}},
    "pair": {
        "must": {"ratio_mismatch_pct": {"at_most": 0.5}, "bolt_circle_same": True},
        "prefer": {"width_diff_in": {"at_most": 3}},
    },
    "work": {"accepted": ["regear", "redrill-hubs"]},
    "money": {"landed_limit_usd": 4000, "travel_usd_per_mi": 0.4},
}


Make = Callable[..., Reading]
Plain = dict[str, Any]
Offers = Sequence[tuple[Reading, float]]


def offers(
    seed: int, count: int, reading_of: Make, coil_front: Plain, full_float_rear: Plain
) -> list[tuple[Reading, float]]:
    """Invented offers, fronts, rears and both, with the miles to them; many lack a fact."""
    chance = random.Random(seed)

    def some(plain: dict[str, Any]) -> dict[str, Any]:
        plain = plain | {"ratio": chance.choice([3.54, 3.55, 3.73, 4.1, 4.11, 4.56])}
        plain |= {"bolt_circle_mm": chance.choice([165.1, 165.1, 170.0])}
        kept = {name for name in plain if chance.random() < 0.85}
        return {name: value for name, value in plain.items() if name in kept | {"kind", "position"}}

    found = []
    for _ in range(count):
        ends = chance.choice([[coil_front], [full_float_rear], [coil_front, full_float_rear]])
        price = chance.choice([None, *range(200, 1800, 50)])
        found.append((reading_of(*map(some, ends), price=price), float(chance.randint(5, 200))))
    return found


def weighed_ends(offered: Offers, build: Build, catalogue: Catalogue) -> tuple[list[Weighed], list[Weighed]]:
    every = [w for reading, miles in offered for w in weigh(build, reading, catalogue, distance_mi=miles)]
    fronts, rears = ([w for w in every if w.prospect.end == end] for end in ("front", "rear"))
    return fronts, rears


def exhaustive(
    fronts: Sequence[Weighed], rears: Sequence[Weighed], build: Build, count: int, saving: Any
) -> list[tuple[int, int]]:
    """Every pair judged, without any bound."""
    found = []
    for (i, front), (j, rear) in itertools.product(enumerate(fronts), enumerate(rears)):
        if front.prospect.reading is rear.prospect.reading:
            verdict = judge_together(front, rear, build, (front.verdict, rear.verdict), judging())
        else:
            verdict = judge_apart(front, rear, build, judging(), saving(front, rear))
        if verdict.verdict is not Call.NO:
            found.append(Pair(i, j, verdict))
    found.sort(key=lambda pair: (pair.rank, pair.front, pair.rear))
    return [(pair.front, pair.rear) for pair in found[:count]]


def cheaper_trip(front: Weighed, rear: Weighed) -> float:
    """As if both stood side by side: the most that one drive can save."""
    return min(sum(line.cost.likely for line in w.verdict.money.lines if line.label == "travel") for w in (front, rear))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("saving", [no_saving, cheaper_trip])
@pytest.mark.parametrize("accepted", [["regear", "redrill-hubs"], []])
def test_the_same_as_an_exhaustive_search(
    seed: int,
    saving: Any,
    accepted: list[str],
    catalogue: Catalogue,
    reading: Make,
    coil_front: Plain,
    full_float_rear: Plain,
) -> None:
    build = parse_build(BUILD | {"work": {"accepted": accepted}})
    fronts, rears = weighed_ends(offers(seed, 14, reading, coil_front, full_float_rear), build, catalogue)
    for count in (1, 7):
        found = best_pairs(fronts, rears, build, judging(), count, saving)
        assert [(p.front, p.rear) for p in found] == exhaustive(fronts, rears, build, count, saving)


def test_there_is_something_to_find(
    catalogue: Catalogue, reading: Make, coil_front: Plain, full_float_rear: Plain
) -> None:
    """The offers of the test above hold pairs that may fit: else it would compare nothing with nothing."""
    build = parse_build(BUILD)
    fronts, rears = weighed_ends(offers(0, 14, reading, coil_front, full_float_rear), build, catalogue)
    assert len(best_pairs(fronts, rears, build, judging(), 7)) == 7


def test_two_offers_are_paid_and_fetched_twice(
    catalogue: Catalogue, reading: Make, coil_front: Plain, full_float_rear: Plain
) -> None:
    build = parse_build(BUILD)
    offered = [(reading(coil_front, price=800), 50.0), (reading(full_float_rear, price=500), 30.0)]
    (front,), (rear,) = weighed_ends(offered, build, catalogue)
    apart = {line.label: line.cost.likely for line in judge_apart(front, rear, build, judging(), 12.0).money.lines}
    lines = judge_apart(front, rear, build, judging()).money.lines
    # 2 x 50 mi x 0.40 and 2 x 30 mi x 0.40, by hand.
    assert [line.cost.likely for line in lines if line.label == "travel"] == [40.0, 24.0]
    assert [line.cost.likely for line in lines if line.label == "the asking price"] == [800.0, 500.0]
    assert apart["one drive to both"] == -12.0
