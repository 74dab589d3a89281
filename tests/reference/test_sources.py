"""The facts in data/ against what was published, and the promise that each says where it comes from.

The figures of ``PUBLISHED`` are copied here by hand from the sources named beside them, so that a slip of the
pen in data/ shows. Public standard in use: the inch of 25.4 mm.
"""

import csv
import json
import re
import tomllib
from typing import Any

import pytest

from donorbase.attributes import attributes
from donorbase.reference.load import load_catalogue
from donorbase.shipped import data_dir

TM = "TM 9-2320-289-34"
MANUAL_96 = "maker's 1996 workshop manual for line-A"
TABLE_2019 = "axle table, Nov 2019"
COMPARISON = "comparing two full-float rears, 4x4 magazine, Feb 1999"
JUNKYARD = "junkyard-axle guide, Oct 2019"

PUBLISHED = [
    # tables 7-1 and 7-2: rotor discard 1.465 in (37.21 mm), 1.215 in (30.86 mm); drums 13.090 and 11.240
    ("front-9.75-kingpin/b-1977-1991-srw", "rotor_min_mm", (37.21,), TM),
    ("front-9.75-kingpin/b-1977-1991-drw", "rotor_min_mm", (37.21,), TM),
    ("front-9.75-kingpin/mil-1984-1987", "rotor_min_mm", (37.21,), TM),
    ("front-8.50-ten-bolt/b-1977-1991-half", "rotor_min_mm", (30.86,), TM),
    ("front-8.50-ten-bolt/mil-1984-1987-utility", "rotor_min_mm", (30.86,), TM),
    ("rear-10.50-fourteen-bolt/b-1973-2000-srw-drum", "drum_dia_in", (13.0,), TM),
    ("rear-10.50-fourteen-bolt/b-1973-2000-srw-drum", "drum_max_in", (13.09,), TM),
    ("rear-10.50-fourteen-bolt/mil-1984-1987", "drum_max_in", (13.09,), TM),
    ("rear-8.50-ten-bolt/b-1972-1988-28", "drum_dia_in", (11.15,), TM),
    ("rear-8.50-ten-bolt/b-1972-1988-28", "drum_max_in", (11.24,), TM),
    ("rear-8.50-ten-bolt/mil-1984-1987-utility", "drum_max_in", (11.24,), TM),
    # sections 06-03 and 06-04: discard 1.12 in, 0.96 in; class 4 rear 38.05 new, 36.3 discard, 11,000 lb
    ("front-9.75-balljoint/a-1992-1997-srw", "rotor_min_mm", (28.5,), MANUAL_96),
    ("front-9.75-balljoint/a-1992-1997-drw", "rotor_min_mm", (28.5,), MANUAL_96),
    ("front-independent/a-1980-1997-swing-half", "rotor_min_mm", (24.45,), MANUAL_96),
    ("rear-11.25-full-float/a-1988-1997-10lug", "rotor_new_mm", (38.05,), MANUAL_96),
    ("rear-11.25-full-float/a-1988-1997-10lug", "rotor_min_mm", (36.3,), MANUAL_96),
    ("rear-11.25-full-float/a-1988-1997-10lug", "caliper_piston_mm", (60.0,), MANUAL_96),
    ("rear-11.25-full-float/a-1988-1997-10lug", "gawr_lb", ((11000, 11000),), MANUAL_96),
    # the table of November 2019: shafts and widths
    ("rear-9.00-drop-out/a-1973-1986-28", "shaft_dia_in", (1.2,), TABLE_2019),
    ("rear-9.00-drop-out/a-1973-1986-31", "shaft_dia_in", (1.3,), TABLE_2019),
    ("rear-9.00-drop-out/a-1973-1986-31", "width_in", (65.0,), TABLE_2019),
    ("rear-9.00-drop-out/a-1974-1986-van", "width_in", (68.0,), TABLE_2019),
    ("rear-9.75-full-float/x-35-spline", "splines", (35,), TABLE_2019),
    ("rear-9.75-full-float/a-1967-1985-30", "width_range_in", ((66, 70),), TABLE_2019),
    ("rear-10.54-full-float/x-1967-1975-23", "splines", (23,), TABLE_2019),
    ("rear-10.54-full-float/x-1975-1996-35", "splines", (35,), TABLE_2019),
    ("rear-10.54-full-float/c-1987-2002-32", "splines", (32,), TABLE_2019),
    # the comparison of February 1999: 1 5/16-in and 1 9/16-in shafts, thirty splines each
    ("rear-9.75-full-float/c-1972-1993-30", "shaft_dia_in", (1.31,), COMPARISON),
    ("rear-10.50-fourteen-bolt/b-1973-2000-srw-drum", "shaft_dia_in", (1.56,), COMPARISON),
    ("rear-10.50-fourteen-bolt/b-1973-2000-srw-drum", "splines", (30,), COMPARISON),
    ("rear-10.50-twelve-bolt/a-2005-2010", "splines", (35,), JUNKYARD),
    # articles on single swaps: widths
    ("rear-8.80-ten-bolt/a-1995-2001-31-disc", "width_in", (59.5,), "same article: 59 1/2 in"),
    ("rear-8.80-ten-bolt/a-1995-2001-31-disc", "tube_in", (3.25,), "3 1/4-in tubes"),
    ("rear-7.58-oval/d-1990-2006-cclip", "width_in", (60.75,), "about 60 3/4 in"),
    ("front-9.75-balljoint/a-1999-2004-srw", "width_in", (69.0,), "Feb 2019 (read): a little over 69 in"),
    ("front-8.50-hex/a-1977-1979-hp-coil", "width_in", (64.0,), "May 2018 (read): 64 in wide"),
    ("front-8.50-hex/a-1977-1979-hp-leaf-half", "tube_wall_in", (0.5,), "Feb 2017 (read): 1/2-in wall"),
    # makers' manuals and military articles: ratios
    ("front-9.25-unit-bearing/c-2003-2008-srw", "ratio", (3.73, 4.1), "2003 service manual for line-C"),
    ("rear-10.50-line-c/c-2003-2013", "ratio", (3.73, 4.1), "2003 service manual for line-C"),
    ("front-double-reduction-military/mil-2.5t", "ratio", (6.72,), "2.44 upper x 2.75 lower"),
    ("rear-double-reduction-military/mil-2.5t", "ratio", (6.72,), "2.44 x 2.75"),
]

GEAR_RANGES = [
    # key, lowest and deepest of the published range (None: not told), the source
    ("gg-8.50-hex-std", 2.73, 5.89, JUNKYARD),
    ("gg-8.80-std", None, 5.71, "8.8 swap (read)"),
    ("gg-10.25-std", 3.08, 5.38, JUNKYARD),
    ("gg-10.50-tw", 3.08, 5.38, JUNKYARD),
    ("gg-10.50-14ff", 3.21, 5.38, "fourteen-bolt build-up (read)"),
    ("gg-10.54-std", 3.07, 7.17, JUNKYARD),
    ("gg-11.25-std", 3.23, 5.38, JUNKYARD),
]

METRIC_RING_GEARS = [
    # manuals of 2001 and 2003 for line-C name the ring gears in millimetres
    ("front-9.75-balljoint", 248), ("front-9.25-unit-bearing", 235), ("rear-10.50-line-c", 266),
    ("rear-10.54-full-float", 267), ("rear-11.25-full-float", 286),
]  # fmt: skip

WEAR_LIMITS = [
    ("W002", "1.215 (30.86 mm)", TM), ("W003", "1.465 (37.21 mm)", TM), ("W004", "1.12 (28.5 mm)", MANUAL_96),
    ("W005", "1.43 (36.3 mm)", MANUAL_96), ("W010", "13.090", TM), ("W011", "11.240", TM),
    ("W013", "1/32", "49 CFR 570.59(c)"), ("W033", "1/4", "49 CFR 570.60"),
    ("W038", "1.123", "TM 9-2320-361-34"), ("W039", "1.126", "TM 9-2320-361-34"),
]  # fmt: skip

KINDS_OF_BASIS = (
    "(read)",
    "read in part",
    "common practice",
    "from memory",
    "same article",
    "ANSI B92.1",
    "same TM",
)


def tables(name: str) -> list[dict[str, str]]:
    with (data_dir() / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def family_files() -> list[tuple[str, dict[str, Any]]]:
    paths = sorted((data_dir() / "families").glob("*.toml"))
    return [(path.name, tomllib.loads(path.read_text("utf-8"))) for path in paths]


@pytest.mark.parametrize(("key", "name", "values", "source"), PUBLISHED)
def test_a_published_figure_stays_as_published(key: str, name: str, values: tuple[Any, ...], source: str) -> None:
    figure = load_catalogue().variants[key].figures[name]
    assert figure.values == values
    assert source in figure.basis


@pytest.mark.parametrize(("key", "lowest", "deepest", "source"), GEAR_RANGES)
def test_the_ratios_sold_keep_within_the_published_range(
    key: str, lowest: float | None, deepest: float, source: str
) -> None:
    gear_set = load_catalogue().gear_sets[key]
    assert max(gear_set.ratios_sold) == gear_set.deepest == deepest
    assert min(gear_set.ratios_sold) >= (lowest or 0)
    assert source in gear_set.basis


@pytest.mark.parametrize(("key", "millimetres"), METRIC_RING_GEARS)
def test_ring_gears_agree_with_their_metric_names(key: str, millimetres: int) -> None:
    [ring_gear_in] = load_catalogue().families[key].figures["ring_gear_in"].values
    # The trade rounds to what it calls the axle by (10.5 for 10.47), hence three hundredths.
    assert ring_gear_in == pytest.approx(millimetres / 25.4, abs=0.03)


@pytest.mark.parametrize(("key", "limit", "source"), WEAR_LIMITS)
def test_a_published_wear_limit_stays_as_published(key: str, limit: str, source: str) -> None:
    [point] = [p for p in load_catalogue().wear if p.id == key]
    assert limit in point.limit
    assert source in point.basis


def test_wear_limits_in_two_units_say_the_same() -> None:
    pairs = [
        (float(inches), float(mm))
        for point in load_catalogue().wear
        for inches, mm in re.findall(r"(\d+\.\d+) \((\d+\.\d+) mm\)", f"{point.limit} {point.new_value}")
        if point.unit == "in"
    ]
    assert len(pairs) > 5
    for inches, mm in pairs:
        assert mm == pytest.approx(inches * 25.4, abs=0.13)  # half of a hundredth of an inch


def test_every_group_of_figures_has_basis_and_confidence_and_no_more() -> None:
    known = attributes()
    seen = 0
    for file, family in family_files():
        assert family["basis"], file
        assert family["confidence"] in {"high", "medium", "low"}, file
        for variant in family["variant"]:
            spoken = {known[name].group for name in variant.keys() & known.keys()}
            # A variant that differs from its family in what the family shares differs in its centre section.
            groups = {"gears" if group == "family" else group for group in spoken}
            assert groups == set(variant["confidence"]) == set(variant["basis"]), (file, variant["key"])
            assert set(variant["confidence"].values()) <= {"high", "medium", "low"}
            seen += len(groups)
    assert seen > 500


def test_every_basis_is_of_a_kind_that_the_readme_names() -> None:
    bases = [basis for _, family in family_files() for v in family["variant"] for basis in v["basis"].values()]
    bases += [row["basis"] for name in ("gearsets.csv", "wear.csv") for row in tables(name)]
    strange = [basis for basis in bases if not any(kind in basis for kind in KINDS_OF_BASIS)]
    assert len(bases) > 600
    assert [b for b in strange if not re.search(r"\bCFR\b|\bTM \d", b)] == []


@pytest.mark.parametrize("name", ["gearsets.csv", "interchange.csv", "wear.csv", "works.csv"])
def test_every_row_of_a_table_has_basis_and_confidence(name: str) -> None:
    rows = tables(name)
    assert len(rows) > 20
    for row in rows:
        assert row["basis"].strip(), row
        assert row["confidence"] in {"high", "medium", "low"}, row


def test_the_readme_tells_of_every_file_and_column() -> None:
    text = (data_dir() / "README.md").read_text("utf-8")
    names = [path.name for path in data_dir().iterdir() if path.is_file() and path.name != "README.md"]
    assert len(names) > 6
    assert [name for name in names if f"`{name}`" not in text] == []
    columns = [column for path in data_dir().glob("*.csv") for column in tables(path.name)[0]]
    assert len(columns) > 40
    assert [column for column in columns if f"`{column}`" not in text] == []


def test_every_donor_line_is_told_by_sight() -> None:
    file = tomllib.loads((data_dir() / "lines.toml").read_text("utf-8"))
    assert [line["key"] for line in file["line"]] == list(attributes()["donor_line"].values)
    assert all(len(line["sights"]) >= 5 for line in file["line"])
    assert len(file["trap"]) == 4
    assert all(row["text"] and row["basis"] for row in [*file["trap"], *file["sight_order"]])


def test_the_demo_reaches_nobody() -> None:
    """Numbers 555-0100 to 555-0199 are set aside for fiction by the North American Numbering Plan."""
    text = (data_dir() / "demo" / "listings.jsonl").read_text("utf-8")
    listings = [json.loads(line) for line in text.splitlines()]
    phones = re.findall(r"\b\d{3}-\d{4}\b", text)
    assert len({listing["id"] for listing in listings}) == len(listings) >= 40
    assert len(phones) > 30
    assert all(phone.startswith("555-01") for phone in phones)
