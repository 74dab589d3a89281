"""Model years in every notation that sellers use, and the years and numbers that are none of the donor's.

What a part of a decade means is a rule of the labelled sets: early is its first four years, mid its fifth to seventh,
late its last four.
"""

from collections.abc import Callable
from typing import Any

import pytest

First = Callable[[str], dict[str, Any]]

DONOR = [
    ("off a 99.5", 1999, 1999), ("from a 2k7", 2007, 2007), ("2k4-2k7", 2004, 2007), ("mid-nineties", 1994, 1996),
    ("94ish", 1994, 1994), ("98 model", 1998, 1998), ("MY2021", 2021, 2021), ("MY98", 1998, 1998), ("(94)", 1994, 1994),
    ("between 78 and 79", 1978, 1979), ("between 1978 & 1979", 1978, 1979), ("78-9", 1978, 1979), ("donor = 11", 2011,
    2011),
    ("late 70s early 80s", 1976, 1983), ("late 70s to early 80s", 1976, 1983), ("mid to late 90s", 1994, 1999),
    ("early to mid 80s", 1980, 1986), ("late 80s/early 90s", 1986, 1993), ("an 08 or it might be an 09", 2008, 2009),
    ("08 maybe 09", 2008, 2009), ("97 disc", 1997, 1997), ("off a 1 ton of 1968", 1968, 1968), ("its a 78", 1978, 1978),
    ("a ninety four", 1994, 1994), ("from 1983 (sticker) or 1984 (title)", 1983, 1984), ("97 4.10", 1997, 1997),
    ("/ 98 / drum", 1998, 1998), ("from a set of 2017 takeoffs", 2017, 2017),
    ("78 hp kp", 1978, 1978), ("6x5.5 97 3.73", 1997, 1997), ("4x4 2010 $80", 2010, 2010), ("off a 1998 1/2", 1998,
    1998), ("from a pickup of 2004", 2004, 2004), ("del 98", 1998,
    1998), ("donor 11", 2011,
    2011), ("off what is left. The 77 in the creek", 1977, 1977), ("the 92 is", 1992, 1992),
]  # fmt: skip
NOT_DONOR = [
    "parked 2009", "last ran 2012", "regeared 2015", "painted 2015", "sat since 08", "call after 05", "make it 2000",
    "its a 70", "2012 people asked", "in 67 pieces", "98 bucks", "98 each", "85 psi", "weighs 75 lbs", "bin 98",
    "howls at 45 and up", "the 70 is", "the 75 bucks is firm",
]  # fmt: skip
FITTED = [
    ("fits 2005 on", 2005, None), ("for 2005 forward", 2005, None), ("fits thru 2004", None, 2004),
    ("will go on anything 80-91", 1980, 1991), ("should work on 80-91", 1980, 1991), ("swap into 78-79", 1978, 1979),
    ("fits 04-back", None, 2004), ("fits 05 & later", 2005, None), ("for a 72,", 1972, 1972),
]  # fmt: skip


@pytest.mark.parametrize(("text", "begin", "end"), DONOR)
def test_years_of_the_donor(first: First, text: str, begin: int, end: int) -> None:
    assert first(f"rear axle {text}, 3.73 8 lug").get("years") == [begin, end]


@pytest.mark.parametrize("text", NOT_DONOR)
def test_years_that_are_none_of_the_donors(first: First, text: str) -> None:
    assert "years" not in first(f"rear axle, 8 lug. {text}")


@pytest.mark.parametrize(("text", "begin", "end"), FITTED)
def test_years_that_it_fits(first: First, text: str, begin: int | None, end: int | None) -> None:
    assert first(f"manual locking hubs {text}").get("fits_years") == [begin, end]


def test_a_plus_sign_that_joins_is_no_open_end(first: First) -> None:
    assert first("rear axle 4.30 10 lug 2012 + spare center section")["years"] == [2012, 2012]
    assert first("rear axle 4.30 10 lug 2012+ donor")["years"] == [2012, None]


def test_years_that_are_sought(first: First) -> None:
    assert first("looking for an 05-07 front, coil")["years"] == [2005, 2007]
    assert first("looking for a 78-79 rear")["years"] == [1978, 1979]
    assert first("Rear axle; 8 lug; dual wheel; 94. Drum")["years"] == [1994, 1994]
    assert first("front axle bj, 1999 1/2 to 2004, 4.30")["years"] == [1999, 2004]
