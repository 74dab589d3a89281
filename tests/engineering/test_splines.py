"""Involute splines against ANSI B92.1 as a handbook prints it, and a published list of splined hubs."""

import pytest

from donorbase.engineering.splines import (
    AXLE_COUNTS,
    AXLE_PITCH,
    read_pitch,
    spline_candidates,
    spline_diameters,
)
from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue

# N, D, major, minor, internal minor, internal major at 24/48 (formulas of ANSI B92.1, computed).
TABLE_24 = [
    (27, 1.1250, 1.1667, 1.0687, 1.0833, 1.1813),
    (28, 1.1667, 1.2083, 1.1104, 1.1250, 1.2229),
    (30, 1.2500, 1.2917, 1.1937, 1.2083, 1.3063),
    (31, 1.2917, 1.3333, 1.2354, 1.2500, 1.3479),
    (32, 1.3333, 1.3750, 1.2771, 1.2917, 1.3896),
    (33, 1.3750, 1.4167, 1.3187, 1.3333, 1.4313),
    (35, 1.4583, 1.5000, 1.4021, 1.4167, 1.5146),
    (38, 1.5833, 1.6250, 1.5271, 1.5417, 1.6396),
    (40, 1.6667, 1.7083, 1.6104, 1.6250, 1.7229),
]

# Outside diameters of a published list of inch splined hubs "to ANSI B92.1-1970, class 5", and a few from
# memory.
HUB_LIST = [
    (9, 16, 5 / 8, "read"), (11, 16, 3 / 4, "read"), (12, 16, 13 / 16, "read"), (13, 16, 7 / 8, "read"),
    (14, 12, 1.25, "read"), (14, 10, 1.5, "read"), (13, 8, 1.75, "read"),
    (15, 16, 1.0, "from memory"), (21, 16, 1.375, "from memory"), (27, 16, 1.75, "from memory"),
    (17, 12, 1.5, "from memory"),
]  # fmt: skip


@pytest.mark.parametrize("row", TABLE_24)
def test_24_48(row: tuple[float, ...]) -> None:
    spline = spline_diameters(int(row[0]))
    found = (
        spline.pitch_in,
        spline.major_in,
        spline.minor_in,
        spline.internal_minor_in,
        spline.internal_major_in,
    )
    assert found == pytest.approx(row[1:], abs=6e-5)
    assert spline.base_in < spline.minor_in < spline.internal_minor_in < spline.pitch_in < spline.major_in


@pytest.mark.parametrize(("teeth", "pitch", "outside_in", "known"), HUB_LIST)
def test_published_outside_diameters(teeth: int, pitch: float, outside_in: float, known: str) -> None:
    assert spline_diameters(teeth, pitch).major_in == outside_in, known
    reading = read_pitch(teeth, outside_in)
    assert (reading.standard, reading.agrees) == (pitch, "yes")


def test_metric_of_35_splines() -> None:
    assert spline_diameters(35).major_mm == pytest.approx(38.10)


@pytest.mark.parametrize(
    ("teeth", "outside_in", "pitch", "agrees", "standard"),
    [
        (35, 1.50, 24.00, "yes", 24),
        (28, 1.20, 24.17, "yes", 24),
        (33, 1.41, 24.11, "yes", 24),
        (27, 1.16, 24.14, "yes", 24),
        (30, 1.31, 23.66, "loosely", 24),
        (30, 1.55, 20.00, "yes", 20),
        (30, 1.50, 20.67, "no", 20),
        (19, 1.25, 16.00, "yes", 16),
        (10, 1.31, 8.40, "no", 8),
    ],
)
def test_pitch_from_count_and_diameter(
    teeth: int, outside_in: float, pitch: float, agrees: str, standard: float
) -> None:
    reading = read_pitch(teeth, outside_in)
    assert reading.pitch == pytest.approx(pitch, abs=0.005)
    assert (reading.agrees, reading.standard) == (agrees, standard)


def test_no_diameter_follows_from_ten_or_nineteen_teeth() -> None:
    assert "measurement" in read_pitch(19, 1.25).advice
    assert "measurement" in read_pitch(10, 1.31).advice


def test_candidates_from_a_caliper() -> None:
    best = spline_candidates(1.500)
    assert (best[0].teeth, best[0].pitch) == (35, 24.0)
    # The two 30-tooth splines differ by 0.258 in and are easily told.
    assert (spline_candidates(1.55)[0].teeth, spline_candidates(1.55)[0].pitch) == (30, 20.0)
    # The trade's 1.31 lies between 30 and 31 teeth: both must be named.
    assert {c.teeth for c in spline_candidates(1.31)} == {30, 31}
    assert sum(c.share for c in spline_candidates(1.31)) == pytest.approx(1.0, abs=0.05)
    assert spline_candidates(2.5) == ()


def test_every_axle_spline_is_found_from_its_own_diameter() -> None:
    for teeth in AXLE_COUNTS:
        assert spline_candidates(spline_diameters(teeth).major_in)[0].teeth == teeth


@pytest.mark.parametrize("bad", [(5, 24.0), (99, 24.0), (30, 0.0)])
def test_no_shaft_spline(bad: tuple[int, float]) -> None:
    with pytest.raises(BadInput):
        spline_diameters(*bad)
    with pytest.raises(BadInput):
        read_pitch(30, 0)
    with pytest.raises(BadInput):
        spline_candidates(1.5, 0)


# Splines of the catalogue that do not obey 24/48, and why: (teeth, diameter in inches).
NOT_24_48 = {
    (30, 1.31): "the trade's figure; (N+1)/24 is 1.292",
    (30, 1.56): "20/40 pitch of heavy full-float rears, 1.550 by the standard",
    (23, 1.5): "16/32 pitch, exact",
    (32, 1.5): "no standard pitch",
    (31, 1.3): "a trade figure, or the body's; (N+1)/24 is 1.333",
}


def test_the_catalogues_shafts_obey_the_standard() -> None:
    seen = set()
    for variant in load_catalogue().variants.values():
        count = variant.get("inner_splines") or variant.get("splines")
        seen |= {(count, dia) for dia in variant.all("shaft_dia_in") if isinstance(count, int)}
    assert len(seen) > 5
    off = {(n, dia) for n, dia in seen if abs(float(str(dia)) - spline_diameters(n, AXLE_PITCH).major_in) > 0.015}
    assert off == NOT_24_48.keys()


def test_the_advice_says_the_pitch_only_where_the_diameter_agrees() -> None:
    assert read_pitch(35, 1.50).advice == "24/48 pitch"
    near = read_pitch(35, 1.50 * 1.015)
    assert near.agrees == "loosely"
    assert "nearest 24/48, but off" in near.advice
    assert "no standard involute pitch" in read_pitch(35, 1.50 * 1.12).advice


def test_diameters_say_of_what_spline_they_are() -> None:
    found = spline_diameters(30, 20.0)
    assert (found.teeth, found.pitch) == (30, 20.0)
    assert (spline_diameters(35).teeth, spline_diameters(35).pitch) == (35, 24.0)
