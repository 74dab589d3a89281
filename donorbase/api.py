"""The library's face: read a listing, identify an axle, judge an offer, with the shipped catalogue and words.

>>> from donorbase import api
>>> reading = api.read("Front axle off an 06, 8x170, 3.73, $500")
>>> reading.items[0].get("bolt_circle_mm")
170.0
>>> api.identify({"lugs": 8, "bolt_circle_mm": 170, "outer_splines": 35}).identification.best.variant is not None
True

For a user's own words and database, open a :class:`donorbase.services.house.House` and take a
:class:`donorbase.services.desk.Desk` of it; the functions here are those of a desk as shipped.
"""

from collections.abc import Mapping
from datetime import date
from functools import cache
from typing import Any

from donorbase.facts import Reading
from donorbase.services.desk import Checked, Desk, Identified
from donorbase.verdict.build import parse_build

__all__ = ["Checked", "Desk", "Identified", "Reading", "identify", "judge", "read"]


@cache
def _desk(year: int) -> Desk:
    return Desk.as_shipped(year)


def _today(this_year: int | None) -> Desk:
    return _desk(this_year or date.today().year)


def read(text: str, *, this_year: int | None = None) -> Reading:
    """What a listing says; ``this_year`` bounds the model years that can be meant (default: the calendar's)."""
    return _today(this_year).read(text)


def identify(saw: Mapping[str, Any], *, this_year: int | None = None) -> Identified:
    """Which axle it is by what was seen or measured, in the names and units of the attributes."""
    return _today(this_year).identify(saw)


def judge(
    build: Mapping[str, Any], listing: str, *, distance_mi: float | None = None, this_year: int | None = None
) -> Checked:
    """A listing against a build in the form of a build file; BadData names every fault of the build."""
    return _today(this_year).check(listing, parse_build(build), distance_mi)
