"""Gearing against published worked examples; the constant 63360/(60 pi) is exact algebra."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering import gearing
from donorbase.errors import BadInput


def test_the_constant() -> None:
    assert pytest.approx(336.135240, abs=5e-7) == gearing.RPM_CONSTANT


@pytest.mark.parametrize(
    ("mph", "ratio", "gear", "tire_in", "rpm", "source"),
    [
        (50, 1.0, 1.0, 16, 1050, "general how-to: 50 mph on a radius of 8 in, 1,050 wheel rpm"),
        (15, 10, 1.0, 30.0, 1680, "hydraulic-drive page: reduction 10, 15 mph, 15 in radius, constant 168"),
        (65, 4.56, 0.75, 37, 2019.5, "computed"),
        (65, 4.10, 1.00, 33, 2714.5, "computed"),
        (70, 3.73, 0.69, 31, 1953.5, "computed"),
        (3, 4.56, 4.00 * 2.72, 37, 1352.2, "computed"),
        (65, 5.13, 1.0, 40, 2802, "worked example of the trade's formula"),
    ],
)
def test_engine_speed(mph: float, ratio: float, gear: float, tire_in: float, rpm: float, source: str) -> None:
    found = gearing.engine_rpm(mph, ratio, tire_in, gear)
    assert found == pytest.approx(rpm, rel=5e-4), source
    assert gearing.road_mph(found, ratio, tire_in, gear) == pytest.approx(mph)
    assert gearing.wanted_ratio_for_rpm(mph, found, tire_in, gear) == pytest.approx(ratio)


@pytest.mark.parametrize(
    ("ratio", "old_in", "new_in", "wanted"),
    [(4.10, 32, 40, 5.125), (3.73, 31, 37, 4.4519), (4.10, 33, 40, 4.9697), (3.31, 29.5, 35, 3.9271)],
)
def test_ratio_for_new_tires(ratio: float, old_in: float, new_in: float, wanted: float) -> None:
    assert gearing.wanted_ratio_for_tires(ratio, old_in, new_in) == pytest.approx(wanted, abs=5e-5)
    assert gearing.effective_ratio(wanted, new_in, old_in) == pytest.approx(wanted * new_in / old_in)
    assert gearing.effective_ratio(ratio, old_in, new_in) == pytest.approx(ratio * old_in / new_in)


def test_nearest_sets() -> None:
    assert gearing.nearest_ratios(4.4519, (4.10, 4.44, 4.56, 4.88)) == (4.44, 4.56)


@pytest.mark.parametrize(
    ("first", "low", "ratio", "crawl"),
    [(4.00, 2.72, 4.56, 49.61), (4.46, 2.62, 4.10, 47.91), (6.55, 4.00, 5.13, 134.41)],
)
def test_crawl(first: float, low: float, ratio: float, crawl: float) -> None:
    assert gearing.crawl_ratio(first, low, ratio) == pytest.approx(crawl, abs=0.005)


def test_speedometer_reads_low_on_bigger_tires() -> None:
    assert gearing.true_mph(60, 31, 37) == pytest.approx(71.61, abs=0.005)


MISMATCHES = [
    (41 / 10, 45 / 11, 0.22, "match"),
    (41 / 10, 37 / 9, 0.27, "match"),
    (43 / 14, 40 / 13, 0.18, "match"),
    (46 / 13, 39 / 11, 0.20, "match"),
    (41 / 9, 32 / 7, 0.35, "match"),
    (41 / 8, 36 / 7, 0.35, "match"),
    (39 / 8, 34 / 7, 0.37, "match"),
    (45 / 11, 37 / 9, 0.49, "match"),
    (47 / 11, 43 / 10, 0.64, "loose ground only"),
    (35 / 10, 46 / 13, 1.09, "no four-wheel drive"),
    (35 / 10, 39 / 11, 1.29, "no four-wheel drive"),
    (37 / 7, 43 / 8, 1.68, "no four-wheel drive"),
    (40 / 9, 41 / 9, 2.47, "no four-wheel drive"),
    (46 / 13, 41 / 11, 5.20, "no four-wheel drive"),
    (41 / 10, 41 / 11, 9.5, "no four-wheel drive"),
]


@pytest.mark.parametrize(("front", "rear", "pct", "band"), MISMATCHES)
def test_mismatch(front: float, rear: float, pct: float, band: str) -> None:
    # From tooth counts, computed; the bands are common practice.
    found = gearing.mismatch_pct(front, rear)
    assert found == pytest.approx(pct, abs=0.05 if pct > 9 else 0.0051)
    assert gearing.mismatch_pct(rear, front) == found
    assert gearing.mismatch_band(found) == band


def test_mismatch_of_quoted_ratios_goes_by_their_teeth() -> None:
    quoted = gearing.quoted_mismatch(4.10, 4.11)
    assert quoted.likely_pct == pytest.approx(0.27, abs=0.005)
    assert quoted.band == "match"
    same = gearing.quoted_mismatch(3.73, 3.73)
    assert (same.low_pct, same.likely_pct) == (0.0, 0.0)
    # 3.73 is 41/11 as a rule, but 56/15 is written alike.
    assert 0 < same.high_pct < 0.2


def test_unequal_tires_add_to_the_mismatch() -> None:
    # 1 % of a 37 in tire is 0.37 in.
    assert gearing.mismatch_pct(4.1, 4.1, 37.0, 36.63) == pytest.approx(1.0, abs=0.01)


def test_a_quantity_that_is_not_above_nought_is_named() -> None:
    with pytest.raises(BadInput, match="tire_in"):
        gearing.engine_rpm(65, 4.1, 0)
    with pytest.raises(BadInput, match="rear_ratio"):
        gearing.mismatch_pct(4.1, float("nan"))


@given(st.floats(2, 8), st.floats(20, 50), st.floats(20, 50))
def test_the_wanted_ratio_brings_the_old_feel_back(ratio: float, old_in: float, new_in: float) -> None:
    wanted = gearing.wanted_ratio_for_tires(ratio, old_in, new_in)
    assert gearing.effective_ratio(wanted, old_in, new_in) == pytest.approx(ratio)


def test_edges_of_the_bands() -> None:
    # Common practice: up to 0.5 % match, to 1 % on loose ground only.
    assert [gearing.mismatch_band(pct) for pct in (0.0, 0.5, 0.51, 1.0, 1.01)] == [
        "match",
        "match",
        "loose ground only",
        "loose ground only",
        "no four-wheel drive",
    ]
