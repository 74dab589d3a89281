"""Great circle against Rosetta Code's task text and geopy's documentation."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.engineering.distance import great_circle_km, great_circle_mi, road_miles
from donorbase.errors import BadInput

LAT, LON = st.floats(-90, 90), st.floats(-180, 180)


@pytest.mark.parametrize(("radius", "km"), [(6371.0, 2886.44444283798), (6372.8, 2887.25995060711)])
def test_rosetta_code(radius: float, km: float) -> None:
    assert great_circle_km(36.12, -86.67, 33.94, -118.40, radius) == pytest.approx(km, abs=1e-8)


def test_geopy_documentation() -> None:
    # geopy prints 536.997990696 mi with a radius of 6371.009 km, 538.39044536 mi on the ellipsoid.
    points = (41.49008, -71.312796, 41.499498, -81.695391)
    assert great_circle_km(*points, radius_km=6371.009) / 1.609344 == pytest.approx(536.997990696, abs=1e-6)
    assert great_circle_mi(*points) == pytest.approx(538.39044536, rel=0.005)


def test_a_degree_and_the_antipodes() -> None:
    assert great_circle_km(0, 0, 0, 1) == pytest.approx(111.19508, abs=5e-6)
    assert great_circle_km(0, 0, 0, 180) == pytest.approx(20015.11444, abs=5e-6)
    assert great_circle_km(90, 0, -90, 0) == pytest.approx(20015.11444, abs=5e-6)


@given(LAT, LON, LAT, LON)
def test_symmetric_and_never_past_the_antipodes(lat: float, lon: float, other_lat: float, other_lon: float) -> None:
    there = great_circle_km(lat, lon, other_lat, other_lon)
    assert 0 <= there <= 20015.2
    assert great_circle_km(other_lat, other_lon, lat, lon) == pytest.approx(there, abs=1e-6)


def test_no_place() -> None:
    with pytest.raises(BadInput):
        great_circle_km(90.5, 0, 0, 0)
    with pytest.raises(BadInput):
        great_circle_km(0, 0, 0, -180.5)
    with pytest.raises(BadInput):
        great_circle_mi(0, 0, 0, float("nan"))


def test_roads_are_longer() -> None:
    assert road_miles(100) == pytest.approx((120, 140))
