"""Orders of gears and lockers against the break of carriers, tooth counts and the cut of the teeth.

Worked figures: 41/10 against 37/9 is 0.27 percent apart, 45/11 against 37/9 0.49, 4.10 against 3.73 9.5 (arithmetic,
2|a-b|/(a+b)). Reverse-cut gears do not interchange with standard ones (general how-to article, Jan 2014). Cases of the
9.75-in change between 4.10 and 4.56, and thick ring gears bridge that (owners' forum and a gear supplier's page).
"""

from collections.abc import Mapping
from typing import Any

import pytest

from donorbase.errors import BadInput, NotFound
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.lockers import INSERTS, KINDS, MADE, locker_entries, lockers_of
from donorbase.services.desk import Desk
from donorbase.services.orders import check_order
from donorbase.verdict.build import parse_build
from donorbase.verdict.lights import Light
from donorbase.verdict.order import Ordered
from donorbase.verdict.ordered import Order

TO_2016 = "front-9.75-balljoint/a-2005-2010-srw"
FROM_2017 = "front-9.75-balljoint/a-2017-on-srw"
KINGPIN_HIGH = "front-9.75-kingpin/a-1985-1991-srw"
KINGPIN_LOW = "front-9.75-kingpin/b-1977-1991-srw"
REAR_975 = "rear-9.75-full-float/a-1967-1985-30"
FOURTEEN = "rear-10.50-fourteen-bolt/b-1973-2000-srw-drum"
RIGHT: dict[str, Any] = {"ratio": 41 / 8, "cut": "reverse", "made_for": (2005, 2016), "other_ratio": 5.13}


@pytest.fixture(scope="module")
def desk() -> Desk:
    return Desk.as_shipped(2026)


def ordered(desk: Desk, variant: str = TO_2016, saw: Mapping[str, Any] | None = None, **order: Any) -> Ordered:
    return check_order(desk, Order(**order), variant=variant, saw=saw or {})


def light(found: Ordered, topic: str) -> Light:
    [line] = [line for line in found.lines if topic in line.topic]
    assert line.basis
    return line.light


def test_an_order_of_which_all_is_told_and_right_goes(desk: Desk) -> None:
    found = ordered(desk, **RIGHT, thick=False, case_ratio=4.56)
    assert {line.topic: line.light for line in found.lines} == dict.fromkeys(
        ("generation of the gears", "spiral (cut)", "made for it", "teeth front and rear", "side of the case"), Light.GO
    )
    assert found.light is Light.GO


@pytest.mark.parametrize("silent", ["cut", "made_for", "other_ratio"])
def test_what_is_not_told_never_goes(desk: Desk, silent: str) -> None:
    told = {name: value for name, value in RIGHT.items() if name != silent}
    found = ordered(desk, **told, thick=False, case_ratio=4.56)
    assert found.light is Light.UNCLEAR
    assert all(line.settle for line in found.lines if line.light is Light.UNCLEAR)


def test_a_set_for_the_years_before_does_not_go_into_2017_on(desk: Desk) -> None:
    found = ordered(desk, FROM_2017, **RIGHT)
    assert light(found, "generation") is Light.STOP
    assert light(found, "made for it") is Light.STOP  # nothing deeper than 4.88: common practice
    assert found.light is Light.STOP
    assert light(ordered(desk, FROM_2017, ratio=4.56, made_for=(2017, None)), "generation") is Light.GO
    assert light(ordered(desk, FROM_2017, ratio=4.56, made_for=(2017, None)), "made for it") is Light.GO


def test_years_over_both_generations_leave_it_open(desk: Desk) -> None:
    assert light(ordered(desk, ratio=4.56, made_for=(2005, 2020)), "generation") is Light.UNCLEAR


@pytest.mark.parametrize(
    ("axle", "source", "wanted"),
    [
        pytest.param(KINGPIN_HIGH, TO_2016, Light.GO, id="both reverse before 2017"),
        pytest.param(TO_2016, FROM_2017, Light.STOP, id="the pinion changed for 2017"),
        pytest.param(KINGPIN_LOW, REAR_975, Light.GO, id="a standard-cut front takes the gears of the rear"),
        pytest.param(KINGPIN_HIGH, REAR_975, Light.STOP, id="a high-pinion front takes no standard cut"),
        pytest.param("rear-9.50-fourteen-bolt-semi/b-1980-1998", FOURTEEN, Light.STOP, id="fourteen bolts alone"),
    ],
)
def test_a_used_set_out_of_another_axle(desk: Desk, axle: str, source: str, wanted: Light) -> None:
    if axle not in desk.catalogue.variants:
        axle = next(key for key in desk.catalogue.variants if key.startswith(axle.partition("/")[0]))
    found = ordered(desk, axle, ratio=4.56, set_key=source)
    assert light(found, "generation") is wanted
    assert light(found, "matched numbers") is Light.UNCLEAR  # used, and its numbers are not told


@pytest.mark.parametrize(
    ("axle", "cut", "wanted"),
    [
        (TO_2016, "reverse", Light.GO), (TO_2016, "standard", Light.STOP), (KINGPIN_LOW, "standard", Light.GO),
        (KINGPIN_LOW, "reverse", Light.STOP), (FOURTEEN, "reverse", Light.STOP), (TO_2016, "", Light.UNCLEAR),
    ],
)  # fmt: skip
def test_the_spiral(desk: Desk, axle: str, cut: str, wanted: Light) -> None:
    assert light(ordered(desk, axle, ratio=4.56, cut=cut), "spiral") is wanted


@pytest.mark.parametrize(
    ("front", "rear", "wanted"),
    [
        pytest.param(41 / 10, 37 / 9, Light.GO, id="0.27 percent"),
        pytest.param(45 / 11, 37 / 9, Light.GO, id="0.49 percent"),
        pytest.param(4.10, 3.73, Light.STOP, id="9.5 percent"),
        pytest.param(3.50, 3.55, Light.STOP, id="1.4 percent, which one page accepts"),
    ],
)
def test_teeth_front_and_rear(desk: Desk, front: float, rear: float, wanted: Light) -> None:
    assert light(ordered(desk, ratio=front, other_ratio=rear), "teeth") is wanted


@pytest.mark.parametrize(
    ("ratio", "case", "thick", "wanted"),
    [
        (4.56, 4.88, False, Light.GO), (4.56, 4.10, False, Light.STOP), (4.56, 4.10, True, Light.GO),
        (4.56, 4.88, True, Light.STOP), (3.73, 4.10, False, Light.GO), (3.73, 4.56, False, Light.STOP),
        (3.73, 4.10, True, Light.STOP), (4.56, 4.10, None, Light.UNCLEAR), (4.56, 4.88, None, Light.UNCLEAR),
        (3.73, 4.10, None, Light.GO), (3.73, 4.56, None, Light.STOP), (4.56, 4.30, False, Light.UNCLEAR),
    ],
)  # fmt: skip
def test_the_side_of_the_case(desk: Desk, ratio: float, case: float, thick: bool | None, wanted: Light) -> None:
    assert light(ordered(desk, ratio=ratio, case_ratio=case, thick=thick), "side of the case") is wanted


def test_the_gears_that_are_in_it_tell_the_case(desk: Desk) -> None:
    assert light(ordered(desk, ratio=4.56, thick=False), "side of the case") is Light.UNCLEAR
    assert light(ordered(desk, ratio=4.56, thick=False, saw={"ratio": 3.73}), "side of the case") is Light.STOP
    assert light(ordered(desk, ratio=4.56, thick=True, saw={"ratio": 3.73}), "side of the case") is Light.GO


def test_one_case_for_every_ratio_takes_no_thick_ring(desk: Desk) -> None:
    key = next(v.key for v in desk.catalogue.variants.values() if v.get("gear_set") == "gg-8.80-std")
    assert light(ordered(desk, key, ratio=4.56), "side of the case") is Light.GO
    assert light(ordered(desk, key, ratio=4.56, thick=True), "side of the case") is Light.STOP


def test_matched_numbers(desk: Desk) -> None:
    assert light(ordered(desk, ratio=4.56, ring_number="A 17", pinion_number="a 17"), "matched") is Light.GO
    assert light(ordered(desk, ratio=4.56, ring_number="A 17", pinion_number="A 18"), "matched") is Light.STOP
    assert light(ordered(desk, ratio=4.56, ring_number="A 17"), "matched") is Light.UNCLEAR
    assert any("numbers" in line for line in ordered(desk, ratio=4.56).on_arrival)


def test_gears_known_with_low_confidence_never_go(desk: Desk) -> None:
    low = {key for key, gear_set in desk.catalogue.gear_sets.items() if gear_set.confidence == "low"}
    axles = [v for v in desk.catalogue.variants.values() if v.get("gear_set") in low and v.family.donor_ok]
    assert len(axles) > 10
    for variant in axles:
        listed = desk.catalogue.gear_sets[str(variant.get("gear_set"))].ratios_sold
        found = ordered(desk, variant.key, ratio=(listed or (4.1,))[0])
        assert light(found, "made for it") is not Light.GO, variant.key
        assert light(found, "side of the case") is not Light.GO, variant.key


# ---------------------------------------------------------------- lockers


def test_every_row_of_lockers_can_be_read(desk: Desk) -> None:
    rows = [row for row in desk.catalogue.interchange if row.part == "lockers"]
    assert len(rows) > 25
    for row in rows:
        entries = locker_entries(row)
        assert [entry.kind for entry in entries] == list(KINDS), row.id
        assert {entry.made for entry in entries} <= set(MADE), row.id


def test_what_no_row_tells_of_is_not_known(desk: Desk) -> None:
    catalogue: Catalogue = desk.catalogue
    told = [row for row in catalogue.interchange if row.part == "lockers"]
    silent = [v for v in catalogue.variants.values() if not any(row.applies_to(v.key) for row in told)]
    assert silent
    for variant in silent:
        assert {locker.made for locker in lockers_of(variant, catalogue)} == {"not known"}


@pytest.mark.parametrize(
    ("axle", "kind", "wanted"),
    [
        (TO_2016, "air", Light.GO), (FOURTEEN, "air", Light.GO), (TO_2016, "lunchbox", Light.UNCLEAR),
        ("front-double-reduction-military/mil-2.5t", "electric", Light.STOP),
        ("rear-10.54-full-float/x-1975-1996-35", "electric", Light.UNCLEAR),
        ("front-9.00-reverse/a-1999-2002-leaf", "spool", Light.UNCLEAR),
    ],
)  # fmt: skip
def test_whether_a_kind_is_made(desk: Desk, axle: str, kind: str, wanted: Light) -> None:
    assert light(ordered(desk, axle, locker=kind), "locker made") is wanted


@pytest.mark.parametrize(("splines", "wanted"), [(35, Light.GO), (30, Light.STOP), (None, Light.UNCLEAR)])
def test_the_side_gears_take_the_shafts(desk: Desk, splines: int | None, wanted: Light) -> None:
    assert light(ordered(desk, locker="air", locker_splines=splines), "splines") is wanted


def test_shafts_that_were_measured_speak_against_their_kind(desk: Desk) -> None:
    saw = {"inner_splines": 30}
    found = ordered(desk, locker="air", locker_splines=30, saw=saw)
    assert light(found, "splines") is Light.UNCLEAR  # counted 30, and its kind has 35: count again
    assert light(found, "the axle itself") is Light.UNCLEAR
    assert light(ordered(desk, locker="air", locker_splines=35, saw=saw), "splines") is Light.UNCLEAR
    assert light(ordered(desk, locker="air", locker_splines=35, saw={"inner_splines": 35}), "splines") is Light.GO


def test_a_pinion_seen_against_its_kind_leaves_the_cut_open(desk: Desk) -> None:
    for cut in ("standard", "reverse"):
        assert light(ordered(desk, ratio=4.56, cut=cut, saw={"pinion": "low"}), "spiral") is Light.UNCLEAR


def test_a_locker_brings_its_case_and_its_side(desk: Desk) -> None:
    silent = ordered(desk, ratio=4.56, thick=False, locker="air", saw={"ratio": 4.56})
    assert light(silent, "side of the case") is Light.UNCLEAR
    assert light(ordered(desk, ratio=4.56, thick=False, locker="air", case_ratio=4.88), "side of the case") is Light.GO
    kept = {"locker": "air", "saw": {"ratio": 3.73}}
    assert light(ordered(desk, **kept, case_ratio=4.88), "side of the case") is Light.STOP
    assert light(ordered(desk, **kept, case_ratio=3.73), "side of the case") is Light.GO


def test_an_insert_wants_an_open_case(desk: Desk) -> None:
    assert light(ordered(desk, locker="lunchbox", saw={"differential": "open"}), "open case") is Light.GO
    assert light(ordered(desk, locker="lunchbox", saw={"differential": "spool"}), "open case") is Light.STOP


def test_a_spool_in_front_never_goes(desk: Desk) -> None:
    for kind in ("spool", "mini-spool"):
        found = ordered(desk, locker=kind, locker_splines=35, case_ratio=3.73, saw={"ratio": 3.73})
        assert light(found, "on the road") is not Light.GO
    assert not [line for line in ordered(desk, FOURTEEN, locker="spool").lines if line.topic == "on the road"]


def test_cautions_stand_where_the_order_calls_for_them(desk: Desk) -> None:
    def said(variant: str, **order: Any) -> str:
        return " ".join(ordered(desk, variant, **order).cautions)

    assert "follow the steering wheel" in said(TO_2016, locker="spool")
    assert "drags a wheel" in said(FOURTEEN, locker="spool")
    assert "unlike ratios" in said(TO_2016, ratio=4.1, other_ratio=3.73)
    assert said(TO_2016, locker="air", ratio=4.1, other_ratio=4.1) == ""


# ---------------------------------------------------------------- the service


def test_a_build_gives_the_ratio_and_that_of_the_other_end(desk: Desk) -> None:
    build = parse_build({"name": "b", "wants": ["front"], "gearing": {"ratio": 5.13}, "rear": {"has": {"ratio": 4.1}}})
    found = check_order(desk, Order(), variant=TO_2016, build=build)
    assert light(found, "teeth") is Light.STOP
    both = parse_build({"name": "b", "wants": ["front", "rear"], "gearing": {"ratio": 5.13}})
    assert light(check_order(desk, Order(), variant=TO_2016, build=both), "teeth") is Light.GO


def test_an_advert_that_leaves_the_gears_open_says_what_tells_them(desk: Desk) -> None:
    text = "Front axle off an 09 one ton 4x4, coils, ball joints, 8 lug, 3.73. $700"
    found = check_order(desk, Order(ratio=5.13), text=text)
    assert light(found, "generation") is Light.UNCLEAR
    assert found.settle
    assert found.write == ("nothing yet: settle first which gears the axle has",)


@pytest.mark.parametrize(
    "order",
    [Order(), Order(ratio=4.56, cut="left"), Order(locker="magnetic"), Order(ratio=4.56, set_key="line-A")],
)
def test_what_cannot_be_ordered(desk: Desk, order: Order) -> None:
    with pytest.raises(BadInput):
        check_order(desk, order, variant=TO_2016)


def test_axles_that_are_not_there(desk: Desk) -> None:
    with pytest.raises(NotFound):
        check_order(desk, Order(ratio=4.56), variant="front-9.75-balljoynt/a")
    with pytest.raises(BadInput, match="no single kind"):
        check_order(desk, Order(ratio=4.56), variant="front-9.75-balljoint")
    with pytest.raises(BadInput, match="no axle was named"):
        check_order(desk, Order(ratio=4.56))
    with pytest.raises(BadInput, match="wheel studs 99"):
        check_order(desk, Order(ratio=4.56), variant=TO_2016, saw={"lugs": 99})
    with pytest.raises(BadInput, match="there is no"):
        check_order(desk, Order(ratio=4.56), text="four tires, $100")


def test_inserts_are_no_kinds_with_a_case() -> None:
    assert not set(KINDS) & set(INSERTS)
