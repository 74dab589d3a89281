"""Distances against geopy and pyproj (GeographicLib's ellipsoid), and measuring errors against SciPy, over ranges."""

import pytest
from geopy.distance import geodesic, great_circle
from hypothesis import assume, given
from hypothesis import strategies as st
from pyproj import Geod
from scipy import stats

from donorbase.engineering.distance import great_circle_km, great_circle_mi
from donorbase.engineering.uncertainty import error_rate, likelihood, rectangular_sd, step_sd

LAT, LON = st.floats(-89, 89), st.floats(-179, 179)
CONTINENT = st.tuples(st.floats(25, 49), st.floats(-124, -67))
GEOPY_RADIUS_KM = 6371.009
WGS84 = Geod(ellps="WGS84")


@given(LAT, LON, LAT, LON)
def test_the_great_circle_is_geopys(lat: float, lon: float, other_lat: float, other_lon: float) -> None:
    theirs = great_circle((lat, lon), (other_lat, other_lon)).km
    assert great_circle_km(lat, lon, other_lat, other_lon, GEOPY_RADIUS_KM) == pytest.approx(theirs, rel=1e-6, abs=1e-4)


@given(CONTINENT, CONTINENT)
def test_within_half_a_percent_of_the_ellipsoid(here: tuple[float, float], there: tuple[float, float]) -> None:
    theirs = geodesic(here, there).miles
    assume(theirs > 0.1)
    _, _, metres = WGS84.inv(here[1], here[0], there[1], there[0])
    assert theirs == pytest.approx(metres / 1609.344, rel=1e-6)
    assert great_circle_mi(*here, *there) == pytest.approx(theirs, rel=0.005)


@given(st.floats(-10, 10), st.floats(-10, 10), st.floats(0.05, 5))
def test_the_likelihood_of_a_reading_is_the_normal_density(reading: float, true: float, sd: float) -> None:
    assert likelihood(reading, true, sd) == pytest.approx(stats.norm(true, sd).pdf(reading), rel=1e-9, abs=1e-300)


@given(st.floats(0.01, 20), st.floats(0.05, 5))
def test_the_rate_of_error_is_the_normal_tail(apart: float, sd: float) -> None:
    """A reading errs where it lies nearer to the other of two values, so past the middle between them."""
    assert error_rate(apart, sd) == pytest.approx(stats.norm(0, sd).sf(apart / 2), rel=1e-9, abs=1e-300)


@given(st.floats(0.001, 100))
def test_bounds_and_steps_are_rectangular_distributions(half: float) -> None:
    assert rectangular_sd(half) == pytest.approx(stats.uniform(-half, 2 * half).std())
    assert step_sd(2 * half) == pytest.approx(stats.uniform(-half, 2 * half).std())
