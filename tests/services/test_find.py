"""Axles by any attributes: those that meet, those that cannot be told, and slips told plainly."""

import json

import pytest

from donorbase.errors import BadInput
from donorbase.services.find import find
from donorbase.services.house import House

SRW = "front-9.75-balljoint/a-2005-2010-srw"
WANTED = {
    "position": "front",
    "years": "2005-2016",
    "outer-splines": "35+",
    "lugs": "8",
    "bolt-circle-mm": "170",
    "ratio-sold": "5.13",
}


def test_the_front_everybody_wants(house: House) -> None:
    """Common practice: 35-spline outers on 8x170 came from 2005; the pinion changed for 2017."""
    found = find(WANTED, house)
    keys = [row.variant.key for row in found.meets]
    assert SRW in keys
    assert "front-9.75-balljoint/a-1999-2004-srw" not in keys, "30 splines outside"
    assert not any("/a-2017" in key for key in keys), "no 5.13 is sold for the later pinion"
    assert all(row.not_known == () for row in found.meets)


def test_what_is_not_known_is_shown_apart(house: House) -> None:
    found = find({"position": "front", "width_in": "69-70"}, house)
    assert found.meets
    assert found.not_known
    for row in found.not_known:
        assert row.not_known == ("width_in",)
        assert "width_in" not in row.variant.figures
    assert not {r.variant.key for r in found.meets} & {r.variant.key for r in found.not_known}


def test_nothing_asked_gives_all(house: House) -> None:
    found = find({}, house)
    assert len(found.meets) == len(house.catalogue().variants)
    assert found.not_known == ()


@pytest.mark.sqlite
def test_picture_and_database_find_the_same(house: House) -> None:
    quick = find(WANTED, house, "width_in", descending=True)
    assert not house.store_is_open
    house.fresh_catalogue()
    assert house.store_is_open
    assert find(WANTED, house, "width_in", descending=True) == quick


def test_sorted_by_any_attribute_unknown_last(house: House) -> None:
    for descending in (False, True):
        widths = [row.variant.get("width_in") for row in find({}, house, "width-in", descending).meets]
        known = [float(str(width)) for width in widths if width is not None]
        assert known == sorted(known, reverse=descending)
        assert widths[len(known) :] == [None] * (len(widths) - len(known))


def test_columns_are_what_was_asked_then_what_tells_an_axle(house: House) -> None:
    assert find({"drop": "driver"}, house).columns[:3] == ("drop", "years", "donor_line")


def test_json_is_plain(house: House) -> None:
    plain = json.loads(json.dumps(find(WANTED, house).as_json()))
    assert plain["asked"]["outer_splines"] == "35+"
    assert plain["meets"][0]["figures"]["lugs"] == [8]
    assert {"variant", "title", "not_known", "donor_ok"} <= plain["meets"][0].keys()


SLIPS = [
    ("outer_spline", "35", "an axle has no attribute 'outer_spline'", "outer_splines"),
    ("boltcircle", "170", "no attribute 'boltcircle'", "bolt_circle_mm"),
    ("price_usd", "900", "no attribute 'price_usd'", "price_range_usd"),
    ("qqqq", "1", "no attribute 'qqqq'", "position"),
    ("drop", "left", "'left' is none of its words", "driver"),
]


@pytest.mark.parametrize(("name", "text", "what", "hint"), SLIPS)
def test_slips_are_told(house: House, name: str, text: str, what: str, hint: str) -> None:
    with pytest.raises(BadInput) as wrong:
        find({name: text}, house)
    assert what in wrong.value.what
    assert hint in wrong.value.next_step


def test_sorting_by_what_is_no_order_is_told(house: House) -> None:
    with pytest.raises(BadInput, match="no order"):
        find({}, house, "ratio_sold")
    with pytest.raises(BadInput, match="no attribute"):
        find({}, house, "beauty")
