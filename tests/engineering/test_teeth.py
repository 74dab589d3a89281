"""Tooth pairs: quotients are arithmetic; 4.10 is 41/10 and 4.11 is 37/9 in repair guides."""

from decimal import Decimal
from fractions import Fraction

import pytest

from donorbase.engineering.teeth import (
    USUAL_PAIRS,
    ToothPair,
    exact_ratios,
    read_ratio,
    tooth_pairs,
    usual_pair,
)
from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue

# Ratio as the trade writes it, usual teeth, whether they hunt, other hunting pairs that are written alike.
TRADE_TABLE = """
2.73 41/15 yes -      | 2.94 47/16 yes 50/17 | 3.07 43/14 yes 46/15 | 3.08 40/13 yes 37/12 | 3.15 41/13 yes -
3.21 45/14 yes - | 3.25 39/12 no - | 3.27 36/11 yes 49/15 | 3.31 43/13 yes 53/16 | 3.36 37/11 yes 47/14
3.42 41/12 yes -      | 3.50 35/10 no -      | 3.54 46/13 yes -     | 3.55 39/11 yes -     | 3.70 37/10 yes -
3.73 41/11 yes 56/15  | 3.90 39/10 yes -     | 3.91 43/11 yes -     | 3.92 47/12 yes 51/13 | 4.09 45/11 yes -
4.10 41/10 yes -      | 4.11 37/9 yes -      | 4.27 47/11 yes -     | 4.30 43/10 yes -     | 4.33 39/9 no -
4.44 40/9 yes -       | 4.56 41/9 yes -      | 4.57 32/7 yes -      | 4.63 37/8 yes -      | 4.86 34/7 yes -
4.88 39/8 yes -       | 5.13 41/8 yes -      | 5.14 36/7 yes -      | 5.29 37/7 yes -      | 5.38 43/8 yes -
5.57 39/7 yes -       | 5.83 35/6 yes -      | 5.86 41/7 yes -      | 6.17 37/6 yes -      | 6.50 39/6 no -
6.72 47/7 yes -       | 7.17 43/6 yes -
"""
ROWS = [cell.split() for line in TRADE_TABLE.strip().splitlines() for cell in line.split("|")]


@pytest.mark.parametrize(("written", "teeth", "hunting", "other"), ROWS)
def test_the_trades_table(written: str, teeth: str, hunting: str, other: str) -> None:
    pair = usual_pair(float(written))
    assert pair is not None
    assert (str(pair), pair.hunting) == (teeth, hunting == "yes")
    # 6.72 is 47/7 in the trade, which would be written 6.71.
    assert pair.nominal == Decimal(written) or written == "6.72"
    if other != "-":
        assert other in [str(p) for p in tooth_pairs(float(written))]


def test_the_table_is_whole() -> None:
    assert len(ROWS) == len(USUAL_PAIRS) == 42


def test_ratios_are_exact_fractions_and_written_half_up() -> None:
    assert ToothPair(37, 9).ratio == Fraction(37, 9)
    assert ToothPair(37, 8).nominal == Decimal("4.63")  # 4.625: round() would give 4.62
    assert ToothPair(41, 8).nominal == Decimal("5.13")
    assert exact_ratios(4.10) == (4.1,)
    assert exact_ratios(4.11) == (37 / 9,)
    # 3.73 may be 41/11 or 56/15; counted teeth are what they are.
    assert exact_ratios(3.73) == (41 / 11, 56 / 15)
    assert exact_ratios(41 / 11) == (41 / 11,)


@pytest.mark.parametrize(("one", "other"), [(5.12, 5.13), (4.62, 4.63)])
def test_both_ways_of_rounding_mean_the_same_teeth(one: float, other: float) -> None:
    assert usual_pair(one) == usual_pair(other)


def test_ratios_near_each_other_stay_apart() -> None:
    assert len({usual_pair(r) for r in (4.09, 4.10, 4.11)}) == 3
    assert len({usual_pair(r) for r in (3.54, 3.55, 3.07, 3.08, 3.91, 3.92)}) == 6


def test_every_pair_lies_within_the_tolerance() -> None:
    for hundredths in range(200, 900):
        for pair in tooth_pairs(hundredths / 100):
            assert abs(pair.ratio - Fraction(hundredths, 100)) <= Fraction("0.006")


def test_what_no_pair_makes() -> None:
    assert tooth_pairs(12.9) == ()
    assert usual_pair(12.9) is None
    assert exact_ratios(12.9) == (12.9,)
    with pytest.raises(BadInput):
        tooth_pairs(float("nan"))


def test_every_ratio_that_the_catalogue_says_is_sold_can_be_cut() -> None:
    # A double reduction is a product of two pairs.
    single = [g for g in load_catalogue().gear_sets.values() if g.cut != "double reduction"]
    sold = {ratio for gears in single for ratio in gears.ratios_sold}
    assert len(sold) > 20
    assert [ratio for ratio in sorted(sold) if not tooth_pairs(ratio)] == []


@pytest.mark.parametrize(
    ("text", "ratio"),
    [
        ("4.10", 4.1),
        ("4.10:1", 4.1),
        ("4.56 to 1", 4.56),
        ("41/10", 4.1),
        ("41-10", 4.1),
        ("9:37", 37 / 9),
        ("4", 4.0),
    ],
)
def test_reading_a_ratio(text: str, ratio: float) -> None:
    assert read_ratio(text) == ratio


@pytest.mark.parametrize("text", ["", "410", "1.0", "41/0", "14.2", "4.1.0", "4,10", "x", "41/40", "-4.1"])
def test_what_is_no_ratio(text: str) -> None:
    with pytest.raises(BadInput):
        read_ratio(text)
