"""What fits what: rows with their sources, figures that cannot go together, and silence that never becomes a yes."""

import re
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from donorbase.reference.load import load_catalogue
from donorbase.reference.parts import PartKind, part_kinds
from donorbase.shelf.fits import FITS, fit_of, variants_of

CATALOGUE = load_catalogue()
KINDS = part_kinds()
KINGPIN_B, TWIN = "front-9.75-kingpin/b-1977-1991-srw", "front-9.75-kingpin/mil-1984-1987"
EARLY, MIDDLE, LATE = (f"front-9.75-balljoint/a-{years}-srw" for years in ("1999-2004", "2005-2010", "2011-2016"))
REAR_B, REAR_TWIN = "rear-10.50-fourteen-bolt/b-1973-2000-srw-drum", "rear-10.50-fourteen-bolt/mil-1984-1987"

# Worked by hand from the rows of interchange.csv, each with the source it names.
BY_HAND = [
    ("rotor", None, KINGPIN_B, TWIN, "yes", "TM 9-2320-289-34, table 7-2"),
    ("brake-drum", None, REAR_B, REAR_TWIN, "yes", "TM 9-2320-289-34, table 7-1"),
    ("outer-shaft", None, EARLY, MIDDLE, "no", "30-spline stub does not drive a 35-spline hub"),
    ("outer-shaft", None, MIDDLE, EARLY, "with parts", "35-spline locking hubs, U-joints"),
    ("outer-shaft", None, MIDDLE, LATE, "yes", "F001"),
    ("inner-shaft", "left", MIDDLE, LATE, "yes", "left side only"),
    ("inner-shaft", None, MIDDLE, LATE, "not known", "left or right is not told"),
    ("knuckle", "left", MIDDLE, LATE, "if", "caliper bracket spacing"),
    ("caliper", "left", MIDDLE, LATE, "if", "low confidence"),
    ("ring-and-pinion", None, "front-9.75-kingpin/a-1985-1991-srw", MIDDLE, "if", "case split must match"),
    ("ring-and-pinion", None, REAR_B, "rear-10.50-line-c/c-2003-2013", "no", "caged three-bearing pinion"),
    ("wheel", None, EARLY, REAR_B, "no", "8x170 against 8x165.1"),
    ("unit-bearing", None, KINGPIN_B, MIDDLE, "no", "hub_bearing"),
    ("knuckle", "left", KINGPIN_B, MIDDLE, "no", "kingpin against ball-joint"),
    ("tie-rod", None, EARLY, MIDDLE, "not known", "nothing is on record"),
    ("ring-and-pinion", None, MIDDLE, MIDDLE, "if", "case split must match"),
    ("rotor", None, MIDDLE, MIDDLE, "yes", "the same kind of axle"),
    ("rotor", None, None, MIDDLE, "not known", "the axle it is off is not known"),
    ("knuckle", "left", KINGPIN_B, REAR_B, "no", "a rear axle has no knuckle"),
    ("axle", None, MIDDLE, MIDDLE, "not known", "donorbase check"),
]


@pytest.mark.parametrize(("kind", "side", "off", "onto", "state", "why"), BY_HAND)
def test_by_hand(kind: str, side: str | None, off: str | None, onto: str, state: str, why: str) -> None:
    fit = fit_of(KINDS[kind], side, off, onto, CATALOGUE)
    assert (fit.state, why in " ".join(fit.because)) == (state, True), fit


def test_what_is_worn_out_fits_nothing() -> None:
    fit = fit_of(KINDS["rotor"], None, KINGPIN_B, TWIN, CATALOGUE, ["rotor-thickness 1.4 in"])
    assert (fit.state, fit.because) == ("no", ("measured out of its limit: rotor-thickness 1.4 in",))


PROMISING = {"yes", "if", "with parts"}


def test_silence_never_becomes_a_yes() -> None:
    """Law: where the axle or a needed side is not told, or only the family is, nothing is promised that every
    variant would not keep; and between different axles a promise needs a row on record."""
    seen = dict.fromkeys(FITS, 0)
    keys = [key for key in CATALOGUE.variants if key.startswith(("front-9.75", "front-8.50", "rear-10.50"))]
    assert len(keys) > 20
    for kind, off, onto in product(KINDS.values(), keys, keys):
        fit = fit_of(kind, "left", off, onto, CATALOGUE)
        seen[fit.state] += 1
        if fit.state in PROMISING and off != onto:
            rows = [r for r in CATALOGUE.interchange if r.part == kind.interchange]
            there = any(r.applies_to(off) and r.fits_onto(onto) and r.fits in ("yes", "with parts") for r in rows)
            back = any(r.applies_to(onto) and r.fits_onto(off) and r.fits == "yes" for r in rows)
            assert there or (back and fit.state == "if")
        if kind.sided:
            assert fit_of(kind, None, off, onto, CATALOGUE).state in ("no", "not known")
    assert all(seen.values()), seen


def test_a_family_promises_what_all_its_variants_keep() -> None:
    looked = 0
    for kind, off, onto in product(KINDS.values(), ("front-9.75-kingpin", "front-8.50-ten-bolt"), (MIDDLE, KINGPIN_B)):
        state = fit_of(kind, "left", off, onto, CATALOGUE).state
        each = {fit_of(kind, "left", v.key, onto, CATALOGUE).state for v in variants_of(off, CATALOGUE)}
        if state != "not known":
            looked += 1
            assert each == {state}
    assert looked > 5


def pairs_on_record(kind: PartKind) -> set[tuple[str, str]]:
    """Pairs of variants of which a row speaks, some of each row."""
    rows = [row for row in CATALOGUE.interchange if row.kind == "fit" and row.part == kind.interchange]
    keys = list(CATALOGUE.variants)
    return {
        (off, onto)
        for row in rows
        for off in [key for key in keys if row.applies_to(key)][:8]
        for onto in [key for key in keys if row.fits_onto(key)][:8]
    }


def test_what_goes_on_as_it_is_may_change_places() -> None:
    """Law: a plain yes is of two parts that mate alike, so the other way round is never a no, nor silence."""
    yes = 0
    for kind in KINDS.values():
        for off, onto in pairs_on_record(kind):
            there, back = (fit_of(kind, "left", a, b, CATALOGUE).state for a, b in ((off, onto), (onto, off)))
            yes += there == "yes" != back
            assert there != "yes" or back in ("yes", "if", "with parts"), (kind.kind, off, onto, back)
            assert {there, back} != {"if", "no"}, (kind.kind, off, onto)
    assert yes > 20


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(list(KINDS.values())), *[st.sampled_from(sorted(CATALOGUE.variants))] * 2)
def test_figures_that_cannot_go_together_cannot_either_way(kind: PartKind, one: str, other: str) -> None:
    """Law: where no row speaks, a no is of figures that differ, and they differ from either side."""
    there, back = (fit_of(kind, "left", a, b, CATALOGUE) for a, b in ((one, other), (other, one)))
    on_record = any(re.search(r"\bF\d+", line) for fit in (there, back) for line in fit.because)
    if not on_record and CATALOGUE.variants[one].family.position == CATALOGUE.variants[other].family.position:
        assert there.state == back.state
