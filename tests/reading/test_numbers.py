"""Each way of writing a figure is read, and what only looks like it is not.

Bolt circles and fractions are checked by arithmetic (1 in = 25.4 mm exactly); the rest are the readings that the
labelling rules of the accuracy sets give.
"""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.reading.clean import clean
from donorbase.reading.figures import compose
from donorbase.reading.tokens import tokenise

First = Callable[[str], dict[str, Any]]

RATIOS = [
    ("rear axle 4.10", 4.1), ("rear axle 4:10", 4.1), ("rear axle 410s", 4.1), ("rear axle 410 gears", 4.1),
    ("rear axle 4 10 gears", 4.1), ("rear axle four tens", 4.1), ("rear axle with three seventy threes", 3.73),
    ("rear axle 4.56's", 4.56), ("rear axle 3.73:1", 3.73), ("rear axle, ratio 4,10", 4.1),
    ("rear axle geared 488", 4.88),
    ("rear axle, gear count 41 over 10", 4.1), ("rear axle, tag says 41-11", 3.73), ("rear axle 4.625:1", 4.625),
    ("rear axle, pinion teeth 11, ring teeth 41", 3.73), ("rear axle 373 posi", 3.73),
    ("rear axle regeared to 5.13", 5.13),
    ("rear axle, relación 3.73", 3.73), ("pont arrière rapport 3.55", 3.55), ("rear axle tag 3L73", 3.73),
    ("rear axle, is it 4.10? no, 3.73", 3.73), ("rear axle 4.86? 4.88", 4.88),
    ("rear axle, tag (3.21) is wrong, it's 4.10 now", 4.1), ("rear axle tag says 4.56 but I counted 41 and 10", 4.1),
    ("rear axle gears three fifty five hang on three seventy three", 3.73),
    ("rear axle was 3.73, regeared to 4.88", 4.88), ("rear axle four-tens", 4.1), ("rear axle, fore tens", 4.1),
    ("rear axle for tens", 4.1), ("rear axle with five 13s", 5.13), ("rear axle 4/10 gears", 4.1),
    ("rear axle gears three sixty", 3.6), ("rear axle, ratio 3,909", 3.909), ("rear axle, rapport 3,73, 8 lug", 3.73),
    ("rear axle, ring 41 pinion 10", 4.1), ("rear axle, 37 on the ring and 9 on the pinion", 4.11),
    ("front axle kp 410 disc", 4.1), ("rear axle drums 3 55 8 lug", 3.55), ("rear axle, disc. 3 73. Manual hubs", 3.73),
    ("rear axle with 41 tooth ring and 10 tooth pinion", 4.1), ("rear axle 11.5 / 4.10 / 14b", 4.1),
    ("front pumpkin 7.25 ring, 3.42, open", 3.42), ("rear axle originally 3.55, now 4.56", 4.56),
    ("rear axle 3 : 73 posi", 3.73), ("rear axle gears 3 . 42 , drum", 3.42),
    ("it is a four-ten with the posi, rear axle", 4.1),
]  # fmt: skip
NO_RATIO = [
    "rear axle $410", "rear axle 410 obo", "rear axle asking 373", "rear axle call after 4:30 pm",
    "rear axle 3.50 tubes",
    "rear axle, 6.8 v8", "rear axle for 4.56 and up gears", "rear axle either 3.73 or 4.10", "front axle, ran 35s",
    "rear axle 4.10 price drop $300 not 4.10", "rear axle 555-0410", "rear axle lot 4-10", "rear axle not 4.10",
    "rear axle. my other truck has 3.73s", "rear axle 35x12.50R17 tires", "rear axle, 3/4 in bolts",
    "rear axle 5.57/7.75 two speed", "rear axle 3.73 mi past the elevator", "rear axle auction Sat 4/10",
    "rear axle 2.75 in tubes", "rear axle, call 4:10", "rear axle, 4.10 an hour", "rear axle, 4.56 a gallon",
    "rear axle between 3.55 and 4.10", "two speed rear axle 6.50/8.87", "rear axle for 4.56 up",
    "rear carrier 3.73-and-numerically-lower",
    "rear axle, call at 4 : 10 pm", "rear axle, rows 4 , 10 lug", "rear axle, four-ten with pickup only",
    "rear axle disc 350 kingpin", "rear axle 3 73 trucks", "rear axle $4 10 lug", "rear axle disc 410 firm",
]  # fmt: skip


@pytest.mark.parametrize(("text", "ratio"), RATIOS)
def test_ratio(first: First, text: str, ratio: float) -> None:
    assert first(text).get("ratio") == pytest.approx(ratio, abs=0.001)


@pytest.mark.parametrize("text", [text for text in NO_RATIO if "price drop" not in text])
def test_no_ratio(first: First, text: str) -> None:
    assert "ratio" not in first(text)


CIRCLES = [
    ("8x6.5", 8, 6.5 * 25.4), ("8 x 6.5", 8, 6.5 * 25.4), ("8 on 6 1/2", 8, 6.5 * 25.4), ("8x6½", 8,
    6.5 * 25.4), ("8x170", 8, 170),
    ("8 on 170", 8, 170), ("8-170", 8, 170), ("8x165.1", 8, 165.1), ("8 x 165,1", 8, 165.1), ("8x165", 8, 165.1),
    ("eight on one seventy", 8, 170), ("5x4.5", 5, 4.5 * 25.4), ("5 on 4 3/4", 5, 4.75 * 25.4), ("6x5.5", 6,
    5.5 * 25.4),
    ("8 lug on a 6.5 circle", 8, 6.5 * 25.4), ("8 birlos en 6.5", 8, 6.5 * 25.4), ("8, the 170 kind", None,
    170), ("10x225", 10, 225),
    ("8 x 180 mm", 8, 180), ("8 on 275 mm", 8, 275), ("6x139.7", 6, 139.7), ("8 x 200mm", 8, 200), ("5x5", 5, 127),
    ("8L(170)", 8, 170), ("8 on 6.5 / 9/16 studs", 8, 6.5 * 25.4), ("8 boulons 6.5", 8, 6.5 * 25.4),
    ("8 on 6 and a half", 8, 6.5 * 25.4), ("8x6 5", 8, 6.5 * 25.4), ("5x4 5", 5, 4.5 * 25.4), ("8/6.5", 8, 6.5 * 25.4),
    ("8 lug metric 170", 8, 170), ("eight lugs and 170", 8, 170), ("5.5 bolt circle 5 lug", 5, 5.5 * 25.4),
    ("lug: 8 (170mm)", 8, 170),
    ("8x6.5 / 166k", 8, 6.5 * 25.4), ("8x6.5bp", 8,
    6.5 * 25.4), ("6 lug on 222 mm", 6, 222), ("8 on 165? No, 170.", 8,
    170),
]  # fmt: skip
NO_CIRCLE = [
    "8x10 shed",
    "35x12.50",
    "17x9 wheels",
    "4x4 truck",
    "8 lug",
    "12x2.5 drums",
    "8-4:30",
    "6x6 truck",
    "not 8x6.5",
    "5x4.5/5x4.75",
    "5x5 and 5x5.5 both drilled",
]


@pytest.mark.parametrize(("text", "lugs", "circle_mm"), [case for case in CIRCLES if case[1]])
def test_bolt_circle(first: First, text: str, lugs: int, circle_mm: float) -> None:
    item = first(f"front axle {text} 3.73")
    assert item.get("lugs") == lugs
    assert item.get("bolt_circle_mm") == pytest.approx(circle_mm, abs=0.06)


@pytest.mark.parametrize("text", NO_CIRCLE)
def test_no_bolt_circle(first: First, text: str) -> None:
    assert "bolt_circle_mm" not in first(f"front axle {text} 3.73")


LUGS = [
    ("eight studs", 8), ("six wheel nuts", 6), ("disc / 6-LUG / open", 6), ("8L BJ", 8), ("it has 8 bolts.", 8),
    ("10 lug... I lied, 8 lug", 8), ("takes 3/8 lug nuts", None), ("U bolts (8 bolts) included", None),
    ("14 tornillos", None), ("lot 8", None), ("8 bolt drums", 8), ("ate lug", 8), ("he ate lunch", None),
    ("8 nuts per wheel", 8),
    ("8 agujeros", 8), ("8 écrous", 8), ("8 l of oil", None), ("8 bolt yoke", None), ("8 bolt flange", None),
    ("the six bolt pattern", 6),
    ("bolt pattern 8", 8), ("bolts: 8", 8), ("cover bolts: 10", None), ("bolts: 8 grade 8", None),
    ("the eight bolt kind", 8), ("8 bolt yoke kit", None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "lugs"), LUGS)
def test_lugs(first: First, text: str, lugs: int | None) -> None:
    assert first(f"rear axle 2005, {text}").get("lugs") == lugs


COVER_BOLTS = [
    ("14 tornillos", 14), ("cover bolts: 14", 14), ("14bff", 14), ("cover has ten bolts", 10), ("fourteen bolter",
    14), ("spaces B12-B13", None),
    ("a bag of 14 bolts", None), ("14 bolt? idk", None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "bolts"), COVER_BOLTS)
def test_cover_bolts(first: First, text: str, bolts: int | None) -> None:
    assert first(f"rear axle 2005, {text}").get("cover_bolts") == bolts


YEARS = [
    ("off an 06", [2006, 2006]), ("out of a '98", [1998, 1998]), ("from a 2011", [2011, 2011]), ("05-07", [2005,
    2007]),
    ("99-04", [1999, 2004]), ("1999 thru 2004", [1999, 2004]), ("78-79", [1978, 1979]), ("from late 80s", [1986,
    1989]),
    ("early 90s", [1990, 1993]), ("mid 80s", [1984, 1986]), ("late 70s", [1976, 1979]), ("80s", [1980, 1989]),
    ("out of my 2k9", [2009, 2009]), ("out of an oh eight", [2008, 2008]), ("from the 07 1/2", [2007, 2007]),
    ("not sure if 05 or 06", [2005, 2006]), ("off a 92 three quarter ton", [1992, 1992]), ("modelo 2010", [2010,
    2010]),
    ("de una doble rodado 99", [1999, 1999]), ("late 90s, 97 to be exact", [1997, 1997]), ("11-16 dually", [2011,
    2016]),
    ("early eighties", [1980, 1983]), ("mid-80s", [1984, 1986]), ("pre-99", [None, 1998]), ("73-79ish", [1973, 1979]),
]  # fmt: skip
NO_YEARS = [
    "$2000", "2000 obo", "bearings packed in 2019", "repainted 1983", "ran 35s", "fits 99-04", "for my 2001",
    "$1998 firm", "brakes done in 2020", "my 2017 has no use for it", "41-10 tag", "555-0198", "route 66",
    "bearings done in '19", "50s/60s", "new bearings 2022", "2024 tires", "$45 + $14 shipping", "4/10 sat",
    "posted May 2024",
]  # fmt: skip


@pytest.mark.parametrize(("text", "years"), YEARS)
def test_years(first: First, text: str, years: list[int]) -> None:
    assert first(f"rear axle {text}").get("years") == years


@pytest.mark.parametrize("text", NO_YEARS)
def test_no_years(first: First, text: str) -> None:
    assert "years" not in first(f"rear axle. 8 lug. {text}")


FITS = [("fits 05 and up", [2005, None]), ("fits pre 99", [None, 1998]), ("fit 78 to 91", [1978, 1991]),
    ("for a 05+", [2005, None]),
        ("will fit 57 thru 72", [1957, 1972]), ("for my 2001", [2001, 2001]), ("fits 2011-2019", [2011,
        2019])]  # fmt: skip


@pytest.mark.parametrize(("text", "years"), FITS)
def test_fits_years(first: First, text: str, years: list[int | None]) -> None:
    assert first(f"manual locking hubs {text}").get("fits_years") == years


SIZES = [
    ("68-3/4 wms", "width_in", 68.75), ("WMS to WMS 72 1/8", "width_in", 72.125), ("flange to flange 1,830 mm",
    "width_in", 1830 / 25.4),
    ("67 wide", "width_in", 67), ('3-1/8" tubes', "tube_in", 3.125), ("tube 89 mm dia", "tube_in", 89 / 25.4),
    ("tube 3.00", "tube_in", 3),
    ("shafts 1.5 in", "shaft_dia_in", 1.5), ("1 5/16 shaft", "shaft_dia_in", 1.3125), ("shaft 38 mm",
    "shaft_dia_in", 38 / 25.4),
    ("10.5 ring", "ring_gear_in", 10.5), ("ring gear measures 10 1/2 in", "ring_gear_in", 10.5), ("the 9.75",
    "ring_gear_in", 9.75),
    ("ring 9 3/8", "ring_gear_in", 9.375), ("11.5 inch ring gear", "ring_gear_in", 11.5),
    ("65 & 3/8 wms", "width_in", 65.375), ("64 7/8 between wheel surfaces", "width_in", 64.875),
    ("60 even wms", "width_in", 60), ("narrowed to 58", "width_in", 58), ("W: 65 3/8", "width_in", 65.375),
    ("sixty nine and a half wms", "width_in", 69.5), ("3-1/2 x 3/8 tube", "tube_in", 3.5),
    ("4 in. tube", "tube_in", 4), ("35 spline 1 1/2", "shaft_dia_in", 1.5), ("40 spline shafts, 1.708 dia",
    "shaft_dia_in", 1.708),
    ("ring OD 11.5", "ring_gear_in", 11.5), ("11.5 / 4.10 / 14b", "ring_gear_in", 11.5),
    ('"10.25" cast near it', "ring_gear_in", 10.25), ("68.75\'\' wms", "width_in", 68.75), ("68.75 from wms to wms",
    "width_in", 68.75),
    ("sixty eight and three quarters wms", "width_in", 68.75), ("flange to flange 1 724 mm", "width_in", 1724 / 25.4),
    ("3.5 inch dom tubes", "tube_in", 3.5), ("tube size 3.5", "tube_in", 3.5), ("66 3/8.", "width_in", 66.375),
    ("4.10, 59 in.", "width_in", 59), ("rear 67.5, front 69.", "width_in", 67.5), ("58 1/4 between faces", "width_in",
    58.25), ("11.5/14.", "ring_gear_in", 11.5), ("11.5/14.", "cover_bolts", 14),
    ("8 studs spaced 6 1/2 in across", "bolt_circle_mm", 165.1),
]  # fmt: skip
NO_SIZES = [("spring perches 42.5 center to center", "width_in"), ("9/16 studs", "tube_in"), ("5/16 wall", "tube_in"),
            ("8 ft wide", "width_in"), ("35 spline, 1.5 lift", "shaft_dia_in"), ("41 ring 9 pinion", "ring_gear_in"),
            ("full width 60 axle", "width_in"), ("rear 67, front 69.", "width_in"), ("tie rod, 58 1/4.", "width_in"),
            ("sits on a 66 inch bed", "width_in"), ("$67.5", "width_in"), ("11.5/14.5", "cover_bolts"),
            ("eight and a quarter.", "ring_gear_in"),
            ("8x6.5 drilled and 8x170 drilled", "bolt_circle_mm"),
            ("6 in lift", "ring_gear_in"), ("10.5 wide tires 33x10.5",
            "ring_gear_in"), ("$9.50",
            "ring_gear_in")]  # fmt: skip


@pytest.mark.parametrize(("text", "field", "value"), SIZES)
def test_sizes(first: First, text: str, field: str, value: float) -> None:
    assert first(f"rear axle, {text}").get(field) == pytest.approx(value, abs=0.01)


@pytest.mark.parametrize(("text", "field"), NO_SIZES)
def test_no_sizes(first: First, text: str, field: str) -> None:
    assert field not in first(f"rear axle, {text}")


SPLINES = [
    ("35 spline", {"splines": 35}), ("35/30 spline", {"inner_splines": 35, "outer_splines": 30}),
    ("30 spline outers", {"outer_splines": 30}),
    ("30/35 spl (outer/inner)", {"inner_splines": 35, "outer_splines": 30}), ("35 spline inner and outer",
    {"inner_splines": 35, "outer_splines": 35}),
    ("30 spline outers NOT 35 spline", {"outer_splines": 30}), ("35 spl inners", {"inner_splines": 35}),
    ("32 estrías", {"splines": 32}),
    ("35sp", {"splines": 35}), ("35 spl. outers", {"outer_splines": 35}), ("37 spline chromo outers",
    {"outer_splines": 37}),
    ("30 in/ 27 out", {"inner_splines": 30, "outer_splines": 27}), ("30 splines or 31", {}),
    ("35i/30o splines", {"inner_splines": 35, "outer_splines": 30}), ("inners: 35", {"inner_splines": 35}),
    ("35 spline in, 30 out", {"inner_splines": 35, "outer_splines": 30}), ("inner splines 35", {"inner_splines": 35}),
    ("inner/outer splines 35/30", {"inner_splines": 35, "outer_splines": 30}), ("outer spline count: 30",
    {"outer_splines": 30}),
    ("30 out, 35 in; outers twisted", {"inner_splines": 35, "outer_splines": 30}), ("14 spline pinion", {}),
    ("35 spline at the diff", {"inner_splines": 35}), ("30 spline at the hub", {"outer_splines": 30}),
    ("35 spline inners 32 outers", {"inner_splines": 35, "outer_splines": 32}),
    ("count is 30 at the outer end & 35 spline at the inner", {"inner_splines": 35, "outer_splines": 30}),
    ("40 spline thru out", {"inner_splines": 40, "outer_splines": 40}),
    ("35 spline everything, inner and outer", {"inner_splines": 35, "outer_splines": 35}),
    ("35 spline, inner tube is straight", {"splines": 35}),
    ("inner shafts are 35 spline", {"inner_splines": 35}), ("inners 30 spline outers 35 spline", {"inner_splines": 30,
    "outer_splines": 35}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), SPLINES)
def test_splines(first: First, text: str, expected: dict[str, int]) -> None:
    item = first(f"front axle, {text}, ran 37s")
    assert {k: v for k, v in item.items() if k.endswith("splines")} == expected


SPOKEN = [
    ("four thirty", "430"), ("two thousand eleven", "2011"), ("one hundred forty thousand", "140000"),
    ("one seventy five thousand", "175000"), ("a hundred and a quarter", "125"), ("a thousand and a half", "1500"),
    ("nineteen hundred ninety eight", "1998"), ("two hundred and ten", "210"), ("two-thousand-and-seven", "2007"),
    ("doscientos cincuenta", "250"),
    ("mil novecientos noventa y ocho", "1998"), ("ciento cuarenta mil", "140000"), ("soixante treize", "73"),
    ("quatre vingt dix huit", "98"), ("quatre-vingt-seize", "96"), ("deux mille trois", "2003"), ("trois cents", "300"),
    ("catorce", "14"), ("cuatro diez", "410"), ("oh eight", "08"), ("twelve hundred", "1200"),
    ("hundred fifty", "150"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "digits"), SPOKEN)
def test_a_number_in_words_is_one_number(words: str, digits: str) -> None:
    (piece,) = compose(tokenise(clean(words)))
    assert piece.raw == digits


APART = [
    ("two hundred four thirty", ["200", "430"]), ("two thousand eleven four tens", ["2011", "410"]),
    ("seize the day", ["seize", "the", "day"]), ("per cent", ["per", "cent"]), ("only once", ["only", "once"]),
]  # fmt: skip


@pytest.mark.parametrize(("words", "pieces"), APART)
def test_words_that_are_not_one_number(words: str, pieces: list[str]) -> None:
    assert [piece.raw for piece in compose(tokenise(clean(words)))] == pieces
