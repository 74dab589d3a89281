"""Where a ZIP lies, without the internet: the points of the ``zipcodes`` package, where it is installed."""

from functools import lru_cache

from donorbase.engineering.distance import great_circle_mi
from donorbase.errors import BadInput

Place = tuple[float, float]
"""Latitude and longitude in degrees, north and east positive."""

SOURCE = (
    "points of the zipcodes package (its own sources: a ZIP table, GeoNames under CC BY 4.0, a postal list); two such "
    "lists lie 0.8 mi apart in the median and 6.4 mi at nine ZIPs in ten"
)
INSTALL = "Install donorbase[zip] to have ZIPs looked up, or give miles, or latitude,longitude."


@lru_cache(maxsize=4096)
def zip_place(code: str) -> Place | None:
    """The point of a five-digit ZIP; None where there is none of that number. BadInput without the package."""
    try:
        import zipcodes
    except ImportError:
        raise BadInput("ZIPs cannot be looked up: the zipcodes package is not installed", INSTALL) from None
    plain = code.strip()[:5]
    if len(plain) != 5 or not plain.isascii() or not plain.isdigit():
        raise BadInput(f"{code[:20]!r} is no ZIP", "A ZIP has five digits.")
    found = zipcodes.matching(plain)  # type: ignore[no-untyped-call]
    return (float(found[0]["lat"]), float(found[0]["long"])) if found else None


def place_of(text: str) -> Place:
    """A place written as a ZIP or as ``latitude,longitude``; BadInput where it is neither, or no such ZIP is known."""
    if "," in text:
        return _degrees(text)
    found = zip_place(text)
    if found is None:
        raise BadInput(f"no ZIP {text.strip()} is on record", "Look at its digits, or give latitude,longitude.")
    return found


def miles_between(one: Place, other: Place) -> float:
    """Miles in a straight line; roads are longer, by 1.2 to 1.4 (from memory)."""
    return great_circle_mi(*one, *other)


def zip_miles(one: str | None, other: str | None) -> float | None:
    """Miles in a straight line between two ZIPs; None where one is not known, or ZIPs cannot be looked up."""
    if not one or not other:
        return None
    try:
        here, there = zip_place(one), zip_place(other)
    except BadInput:
        return None
    return miles_between(here, there) if here and there else None


def _degrees(text: str) -> Place:
    try:
        latitude, longitude = (float(part) for part in text.split(","))
    except ValueError:
        raise BadInput(
            f"{text[:40]!r} is not a place", "Write a ZIP, or latitude,longitude: 39.7491,-104.9946."
        ) from None
    return latitude, longitude
