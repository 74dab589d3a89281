"""The sum of money: the closed form against simulation, and sums worked by hand."""

import random
from collections.abc import Callable
from typing import Any

import pytest

from donorbase.verdict.build import parse_build
from donorbase.verdict.money import ASKED, closed
from donorbase.verdict.spec import Build, Money
from donorbase.verdict.verdicts import Call, Cost, Line, ListingVerdict, total_of

LINES = [
    Line("price", Cost(900, 900, 900), "stated"),
    Line("hubs", Cost(300, 550, 800), "shipped"),
    Line("discs", Cost(300, 400, 700), "shipped"),
    Line("cylinder", Cost(200, 450, 700), "shipped"),
]


def simulated(limit: float, draws: int = 20_000) -> float:
    """The same chance by drawing each line from its triangular distribution."""
    dice = random.Random(7)
    costs = [line.cost for line in LINES]
    return sum(sum(dice.triangular(c.low, c.high, c.likely) for c in costs) <= limit for _ in range(draws)) / draws


@pytest.mark.parametrize("limit", [1900, 2100, 2300, 2350, 2500, 2700])
def test_the_chance_of_staying_within_a_limit_agrees_with_simulation(limit: float) -> None:
    build = Build("x", ("front",), money=Money(landed_limit_usd=limit))
    priced = [Line(ASKED, LINES[0].cost, "stated"), *LINES[1:]]
    assert closed(priced, build, known=True).chance == pytest.approx(simulated(limit), abs=0.02)


def test_mean_and_variance_are_those_of_the_triangular_distribution() -> None:
    """(l + m + h) / 3 and (l2 + m2 + h2 - lm - lh - mh) / 18: any handbook of statistics; 0, 0, 1 gives 1/3
    and 1/18.
    """
    assert Cost(0, 0, 1).mean == pytest.approx(1 / 3)
    assert Cost(0, 0, 1).variance == pytest.approx(1 / 18)
    assert Cost(5, 5, 5).variance == 0


def test_the_total_is_the_sum_of_the_lines() -> None:
    assert total_of(LINES) == Cost(1700, 2300, 3100)


def test_without_a_limit_nothing_is_over() -> None:
    found = closed(LINES, Build("x", ("front",)), known=True)
    assert found.chance == 1
    assert not found.over
    assert found.break_even_usd is None


def test_the_limit_itself_is_not_over() -> None:
    build = Build("x", ("front",), money=Money(landed_limit_usd=2300))
    assert not closed(LINES, build, known=True).over
    assert closed([*LINES, Line("toll", Cost(1, 1, 1), "")], build, known=True).over


def test_what_is_free_costs_the_trip(
    front_build: Build, coil_front: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    found = verdict(front_build, coil_front, price=None, price_terms="free", miles=10)
    assert found.money.total is not None
    assert found.money.total.likely == pytest.approx(9)
    assert found.verdict is Call.FITS


YARD = "Self serve yard, row 14. Any rear axle 380 plus core. Everything half price this Saturday."


class TestYard:
    REAR = {  # noqa: RUF012
        "kind": "axle", "position": "rear", "years": (1991, 1991), "load_class": "three-quarter-ton",
        "rear_wheels": "single", "ring_gear_in": 10.5, "cover_bolts": 14, "float": "full", "lugs": 8,
        "bolt_circle_mm": 165.1, "brakes": "drum", "ratio": 4.1,
    }  # fmt: skip

    def sum_of(self, verdict: Callable[..., ListingVerdict], plain: dict[str, Any], text: str) -> ListingVerdict:
        return verdict(parse_build(plain), self.REAR, price=380, miles=18, text=text)

    def test_half_price_day_core_and_entry(
        self, plain_builds: dict[str, dict[str, Any]], verdict: Callable[..., ListingVerdict]
    ) -> None:
        found = self.sum_of(verdict, plain_builds["V02"], YARD)
        assert found.verdict is Call.FITS
        assert found.money.total is not None
        # 380 / 2 + core 30 + entry 2 + 36 mi x 0.50, as the person of the trade summed it up: 240.
        assert found.money.total.likely == pytest.approx(240)

    def test_a_private_seller_halves_nothing_and_keeps_no_core(
        self, plain_builds: dict[str, dict[str, Any]], verdict: Callable[..., ListingVerdict]
    ) -> None:
        found = self.sum_of(verdict, plain_builds["V02"], "out of my own truck")
        assert found.verdict is Call.NO
        assert found.money.total is not None
        assert found.money.total.likely == pytest.approx(398)


def test_the_price_book_stands_over_the_conversions_and_these_over_the_shipped_span(
    plain_builds: dict[str, dict[str, Any]], full_float_rear: dict[str, Any], verdict: Callable[..., ListingVerdict]
) -> None:
    plain = plain_builds["S11"]
    sources = {}
    for own in (True, False):
        prices = {"disc-conversion": 350} if own else {}
        build = parse_build(plain | {"work": plain["work"] | {"price_usd": prices}})
        found = verdict(build, full_float_rear, price=350, miles=22)
        sources |= {(own, task.word): (task.cost, task.source) for task in found.work}
    assert sources[True, "disc-conversion"][0] == Cost(350, 350, 350)
    assert sources[True, "disc-conversion"][1] == "your price book"
    assert sources[False, "disc-conversion"][0] == Cost(300, 500, 700)  # rear drum to disc of this very family


def test_one_missing_hub_costs_one_and_calipers_cost_two(
    plain_builds: dict[str, dict[str, Any]], verdict: Callable[..., ListingVerdict]
) -> None:
    from donorbase.facts import Fact, Known

    text = "both CALIPERS ARE GONE and the left locking hub is missing"
    hub = text.index("locking hub")
    front = {
        "kind": "axle", "position": "front", "years": (1986, 1986), "drop": "driver", "ring_gear_in": 8.5, "lugs": 6,
        "bolt_circle_mm": 139.7, "suspension": "leaf", "knuckle": "ball-joint", "brakes": "disc", "ratio": 3.31,
        "missing": [
            Fact("missing", "caliper", Known.STATED, ((5, 13),)),
            Fact("missing", "locking-hub", Known.STATED, ((hub, hub + 11),)),
        ],
    }  # fmt: skip
    found = verdict(parse_build(plain_builds["V36"]), front, price=225, miles=18, text=text)
    assert found.verdict is Call.WITH_WORK
    assert found.money.total is not None
    # 225 + 36 mi x 0.40 + 2 x 70 + 110, as the person of the trade summed it up: about 490.
    assert found.money.total.likely == pytest.approx(489.4)
