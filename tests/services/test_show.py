"""A page shows every figure with its basis and all that speaks of the axle; two axles side by side."""

import json

import pytest

from donorbase.attributes import attributes
from donorbase.errors import BadInput, NotFound
from donorbase.services.compare import DIFFERS, MAY_DIFFER, NOT_KNOWN, SAME, compare
from donorbase.services.house import House
from donorbase.services.show import FamilyPage, GearSetPage, LinePage, VariantPage, show

SRW = "front-9.75-balljoint/a-2005-2010-srw"
DRW = "front-9.75-balljoint/a-2005-2010-drw"
EARLY = "front-9.75-balljoint/a-1999-2004-srw"
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
FOURTEEN = "rear-10.50-fourteen-bolt/b-1973-2000-srw-drum"


def test_every_figure_stands_with_its_basis(house: House) -> None:
    page = show(SRW, house)
    assert isinstance(page, VariantPage)
    variant = house.catalogue().variants[SRW]
    assert {f.attribute: f.values for f in page.figures} == {n: f.values for n, f in variant.figures.items()}
    assert all(f.basis and f.confidence for f in page.figures)
    assert not {f.attribute for f in page.figures} & set(page.not_known)
    assert page.gear_set is not None
    assert 5.13 in page.gear_set.ratios_sold


def test_what_fits_converts_and_wears(house: House) -> None:
    page = show(DRW, house)
    assert isinstance(page, VariantPage)
    single = [row for row in page.conversions if row.work == "single-wheel-hubs"]
    assert single
    assert single[0].cost_usd is not None
    assert single[0].labor_h is not None
    assert any(row.fits == "no" for row in (*page.fits, *page.takes)), "what does not fit is said too"
    assert page.wear
    assert page.family.recognise
    assert page.family.faults


def test_takes_are_parts_of_others(house: House) -> None:
    page = show(SRW, house)
    assert isinstance(page, VariantPage)
    assert page.takes
    assert all(row.fits_onto(SRW) for row in page.takes)
    assert all(row.applies_to(SRW) for row in page.fits)


def test_pages_of_families_lines_and_gear_sets(house: House) -> None:
    family = show("front-9.75-balljoint", house)
    assert isinstance(family, FamilyPage)
    assert SRW in [key for key, _ in family.variants]
    line = show("LINE-a", house)
    assert isinstance(line, LinePage)
    assert line.line.sights
    assert {note.kind for note in line.notes} == {"sight_order", "trap"}
    gear_set = show("gg-9.75-reverse-17on", house)
    assert isinstance(gear_set, GearSetPage)
    assert gear_set.variants


def test_every_page_is_plain_json(house: House) -> None:
    catalogue = house.catalogue()
    keys = [*catalogue.variants, *catalogue.families, *catalogue.lines, *catalogue.gear_sets]
    assert len(keys) > 200
    for key in keys:
        assert json.loads(json.dumps(show(key, house).as_json()))


# A mistyped key, and one that must be among those named.
MISTYPED = [
    ("front-9.75-baljoint/a-2005-2010-srw", SRW),
    ("a-2005-2010-srw", SRW),
    ("front-9.75-kingpn", "front-9.75-kingpin"),
    ("line-F", "line-A"),
]


@pytest.mark.parametrize(("typed", "meant"), MISTYPED)
def test_a_mistyped_key_names_the_near_ones(house: House, typed: str, meant: str) -> None:
    with pytest.raises(NotFound) as wrong:
        show(typed, house)
    assert typed in wrong.value.what
    assert meant in wrong.value.next_step


def test_compare_puts_what_tells_them_apart_first(house: House) -> None:
    rows = compare(SRW, EARLY, house).rows
    states = [row.state for row in rows]
    assert states == sorted(states, key=[DIFFERS, MAY_DIFFER, NOT_KNOWN, SAME].index)
    differing = [row for row in rows if row.state == DIFFERS and row.how]
    assert "outer_splines" in [row.attribute for row in differing]
    assert [(r.trouble_min, r.miscount) for r in differing] == sorted((r.trouble_min, r.miscount) for r in differing)
    assert "bolt_circle_mm" in [row.attribute for row in rows if row.state == SAME]


def test_kingpin_or_ball_joint_is_a_look(house: House) -> None:
    """Common practice: the cap with four bolts on top of the knuckle tells the two at arm's length."""
    rows = {row.attribute: row for row in compare("front-9.75-kingpin", "front-9.75-balljoint", house).rows}
    assert rows["knuckle"].state == DIFFERS
    assert rows["knuckle"].trouble_min <= 1
    assert rows["ring_gear_in"].state == SAME


def test_compare_is_the_same_both_ways(house: House) -> None:
    there, back = compare(SRW, KINGPIN, house), compare(KINGPIN, SRW, house)
    assert [(r.attribute, r.state) for r in there.rows] == [(r.attribute, r.state) for r in back.rows]
    assert [(r.first, r.second) for r in there.rows] == [(r.second, r.first) for r in back.rows]


def test_not_known_never_tells_apart(house: House) -> None:
    looked = 0
    for key in (EARLY, DRW, KINGPIN, FOURTEEN):
        for row in compare(SRW, key, house).rows:
            if not row.first or not row.second:
                looked += 1
                assert row.state == NOT_KNOWN
    assert looked > 10


def test_free_words_never_decide(house: House) -> None:
    texts = {a.name for a in attributes().values() if a.kind.value == "text"}
    rows = [row for row in compare(SRW, EARLY, house).rows if row.attribute in texts]
    assert rows
    assert DIFFERS not in [row.state for row in rows]


def test_comparison_is_plain_json(house: House) -> None:
    plain = json.loads(json.dumps(compare(SRW, FOURTEEN, house).as_json()))
    assert plain["first"]["key"] == SRW
    assert plain["rows"][0]["state"] == DIFFERS


def test_a_line_is_no_axle_to_compare(house: House) -> None:
    with pytest.raises(BadInput, match="line-A is no axle"):
        compare("line-A", SRW, house)
