"""Distance along the great circle; roads are longer, by 1.2 to 1.4 (from memory)."""

import math

from donorbase.errors import BadInput
from donorbase.reference.units import KM_PER_MI

SOURCE = "haversine on a sphere of WGS-84's mean radius, within 0.5 % of the ellipsoid (geopy's documentation)"
MEAN_RADIUS_KM = 6371.0088
ROAD_FACTOR = (1.2, 1.4)
"""Road miles over straight miles (from memory)."""


def great_circle_km(
    lat: float, lon: float, other_lat: float, other_lon: float, radius_km: float = MEAN_RADIUS_KM
) -> float:
    """Kilometres between two points given in degrees, north and east positive. Source: SOURCE.

    Raises BadInput where a latitude lies outside ±90 or a longitude outside ±180.
    """
    for latitude, longitude in ((lat, lon), (other_lat, other_lon)):
        if not -90 <= latitude <= 90 or not -180 <= longitude <= 180:
            raise BadInput(f"({latitude:g}, {longitude:g}) is no place", "Latitude to ±90, longitude to ±180 degrees.")
    phi, other_phi = math.radians(lat), math.radians(other_lat)
    half_north, half_east = (other_phi - phi) / 2, math.radians(other_lon - lon) / 2
    haversine = math.sin(half_north) ** 2 + math.cos(phi) * math.cos(other_phi) * math.sin(half_east) ** 2
    # Antipodes may round to just above 1.
    return 2 * radius_km * math.asin(math.sqrt(min(1.0, haversine)))


def great_circle_mi(lat: float, lon: float, other_lat: float, other_lon: float) -> float:
    """Statute miles between two points given in degrees."""
    return great_circle_km(lat, lon, other_lat, other_lon) / KM_PER_MI


def road_miles(straight_mi: float) -> tuple[float, float]:
    """(least, most) road miles to reckon with for a straight distance."""
    return straight_mi * ROAD_FACTOR[0], straight_mi * ROAD_FACTOR[1]
