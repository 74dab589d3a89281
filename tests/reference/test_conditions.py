"""Conditions as people write them: read right or refused, and judged in three values."""

from collections.abc import Mapping

import pytest

from donorbase.attributes import attributes
from donorbase.errors import BadInput
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue, Family, Figure, GearSet, Variant
from donorbase.reference.conditions import RATIO_SOLD, meets, parse_condition


def variant(position: str = "front", **figures: tuple[Value, ...]) -> Variant:
    family = Family("front-x", "x", position, True, "x", (), "x", (), "x", None, (), (), (), "", "high", "made up", {})
    known: Mapping[str, Figure] = {name: Figure(name, v, "high", "made up") for name, v in figures.items()}
    return Variant("front-x/a", "x", family, known)


def catalogue_of_one(ratios: tuple[float, ...]) -> Catalogue:
    gear_set = GearSet("gg-x", "front", None, "standard", ratios, None, "", "", "", "high", "made up")
    return Catalogue({}, {}, {"gg-x": gear_set})


EMPTY = Catalogue({}, {}, {})

# attribute, condition, values fitted, whether they meet it
JUDGED = [
    ("outer_splines", "35+", (35,), True),
    ("outer_splines", "35+", (30,), False),
    ("outer_splines", ">=35", (36,), True),
    ("outer_splines", "30-35", (32,), True),
    ("outer_splines", "30,35", (32,), False),
    ("outer_splines", "35", (30, 35), True),
    ("min_wheel_in", "<=17", (17.0,), True),
    ("min_wheel_in", "<=16", (17.0,), False),
    ("years", "2005-2016", ((2011, 2016),), True),
    ("years", "2005-2016", ((2016, None),), True),
    ("years", "2005-2016", ((2017, None),), False),
    ("years", "2005-2016", ((1999, 2004),), False),
    ("years", "2008", ((2005, 2010),), True),
    ("years", "2017+", ((2011, None),), True),
    ("years", "<=1979", ((1977, 1979),), True),
    ("gawr_lb", "5000+", ((4850.0, 5200.0),), True),
    ("gawr_lb", "5,000+", ((4000.0, 4900.0),), False),
    ("bolt_circle_mm", "170", (170.0,), True),
    ("bolt_circle_mm", "6.69in", (170.0,), True),
    ("bolt_circle_mm", "6.5in", (165.1,), True),
    ("bolt_circle_mm", "6.5in", (170.0,), False),
    ("bolt_circle_mm", "165.1", (170.0,), False),
    ("ring_gear_in", '9.75"', (9.75,), True),
    ("ring_gear_in", "9 3/4", (9.75,), True),
    ("ring_gear_in", "247.65mm", (9.75,), True),
    ("ring_gear_in", "9", (9.25,), False),
    ("ratio", "4.10", (3.73, 4.1), True),
    ("ratio", "4.10", (4.11,), False),
    ("width_in", "68-70in", (69.5,), True),
    ("knuckle", "ball-joint", ("ball-joint",), True),
    ("knuckle", "Kingpin", ("ball-joint",), False),
    ("knuckle", "kingpin,ball-joint", ("ball-joint",), True),
    ("donor_line", "line-a", ("line-A",), True),
    ("abs", "yes", (True, False), True),
    ("abs", "yes", (False,), False),
    ("stud", "m14", ("M14x1.5",), True),
    ("stud", "9/16", ("9/16-18",), True),
    ("gear_set", "gg-9.75-*", ("gg-9.75-std",), True),
    ("gear_set", "gg-9.75-std", ("gg-9.75-reverse-17on",), False),
]


@pytest.mark.parametrize(("name", "text", "values", "met"), JUDGED)
def test_judged_as_meant(name: str, text: str, values: tuple[Value, ...], met: bool) -> None:
    position = attributes()[name].ends[0]
    assert meets(parse_condition(name, text), variant(position, **{name: values}), EMPTY) is met


@pytest.mark.parametrize("name", [a.name for a in attributes().values() if a.scope == "axle"])
def test_what_is_not_known_neither_meets_nor_fails(name: str) -> None:
    attribute = attributes()[name]
    if name in ("family", "variant"):
        return
    text = attribute.values[0] if attribute.values else f"{attribute.low or 1:g}"
    text = "yes" if attribute.kind.value == "flag" else text
    assert meets(parse_condition(name, text), variant(attribute.ends[0]), EMPTY) is None


def test_an_attribute_of_the_other_end_fails() -> None:
    """A rear has no outer shafts: nobody needs to ask for their splines."""
    assert meets(parse_condition("outer_splines", "35+"), variant("rear"), EMPTY) is False


SOLD = [
    ((4.56, 5.13), "5.13", True),
    ((4.56,), "5.13", False),
    ((), "5.13", None),
    ((4.56, 4.88), "4.5-4.9", True),
]


@pytest.mark.parametrize(("ratios", "text", "met"), SOLD)
def test_ratio_sold_is_asked_of_the_gear_set(ratios: tuple[float, ...], text: str, met: bool | None) -> None:
    having = variant(gear_set=("gg-x",))
    assert meets(parse_condition(RATIO_SOLD, text), having, catalogue_of_one(ratios)) is met


def test_ratio_sold_is_not_known_without_a_gear_set() -> None:
    assert meets(parse_condition(RATIO_SOLD, "5.13"), variant(), catalogue_of_one((5.13,))) is None


# attribute, text, words of the error, words of the next step
REFUSED = [
    ("bolt_circle_mm", "6.69", "6.69 is outside 90..350", "6.69in"),
    ("ring_gear_in", "248", "248 is outside 5..20", "248mm"),
    ("lugs", "eight", "'eight' is not a number", "4-12"),
    ("lugs", "8.5", "not a whole number", ""),
    ("lugs", "8,,9", "empty value", ""),
    ("lugs", "", "empty value", ""),
    ("years", "2016-2005", "reversed", "2005-2016"),
    ("years", "05-16", "outside 1940..2030", ""),
    ("drop", "left", "none of its words", "driver, passenger, center"),
    ("abs", "maybe", "neither yes nor no", "yes or no"),
    ("width_in", "69 kg", "is not a length", ""),
    ("lugs", "8in", "is not a number", ""),
    ("outer_splines", "nan", "is not a number", ""),
]


@pytest.mark.parametrize(("name", "text", "what", "next_step"), REFUSED)
def test_refused_with_what_would_be_right(name: str, text: str, what: str, next_step: str) -> None:
    with pytest.raises(BadInput) as wrong:
        parse_condition(name, text)
    assert what in wrong.value.what
    assert name in wrong.value.what
    assert next_step in wrong.value.next_step


def test_aliases_are_the_attribute() -> None:
    assert parse_condition("pilot_bore_mm", "125").attribute == "hub_bore_mm"
    with pytest.raises(KeyError):
        parse_condition("outer_spline", "35")


LISTS = [
    ("weight_lb", "330,600", 2),
    ("weight_lb", "1,200", 1),
    ("price_range_usd", "1,200,1,500", 2),
    ("lugs", "6,8", 2),
]


@pytest.mark.parametrize(("name", "text", "parts"), LISTS)
def test_commas_part_values_or_thousands(name: str, text: str, parts: int) -> None:
    assert len(parse_condition(name, text).spans) == parts
