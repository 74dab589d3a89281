"""Every fault of the data files is told at once, by file and line; what is blank stays blank."""

from collections.abc import Callable
from pathlib import Path

import pytest

from donorbase.attributes import PAIRS, Kind, attributes
from donorbase.errors import BadData
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.load import load_catalogue, load_from
from donorbase.reference.values import checked_values, neighbour_mm
from donorbase.shipped import fingerprint_of

FAMILY = "families/rear-9.00-made-up.toml"

# A small folder of the shape of data/, made up, so that the tests do not hang on any shipped figure.
FILES = {
    FAMILY: """
key = "rear-9.00-made-up"
name = "Made-up rear"
position = "rear"
donor_ok = true
ring_gear_in = 9.0
housing = "cast iron"
recognise = ["a helmet for a cover"]
pinion_support = "two bearings"
torque_class = "heavy"
tire_guide_in = 37
strengths = ["common"]
weaknesses = ["heavy"]
faults = ["leaks"]
confidence = "high"
basis = "common practice"

[[variant]]
key = "a-1950-1999"
title = "the early one"
years = [1950, 1999]
donor_line = "line-A"
drop = "center"
gear_set = "gg-9.00-made-up"
lugs = 6
bolt_circle_mm = 139.7
abs = false
parking_brake = "on the transfer case"
brakes = "drum"
price_range_usd = [300, 900]
confidence = { identity = "high", gears = "low", knuckle_hub = "low", brakes = "low", price = "low" }
basis = { identity = "common practice", gears = "memory", knuckle_hub = "memory", brakes = "tag", price = "tag" }

[[variant]]
key = "a-2000-on"
title = "the late one"
years = [2000]
donor_line = "line-A"
confidence = { identity = "high" }
basis = { identity = "common practice" }
""",
    "gearsets.csv": """\
gear_generation,position,ring_gear_in,cut,ratios_sold,deepest,carrier_split,needs,note,confidence,basis
gg-9.00-made-up,rear,9.0,standard,3.07|3.55|5.13,5.13,,,,high,common practice
gg-8.00-front,front,8.0,reverse,4.10,4.1,,,,high,common practice
gg-8.00-rear,rear,8.0,standard,,,,,,low,memory
""",
    "interchange.csv": """\
id,kind,part,from,to,fits,condition,parts_needed,cost_low_usd,cost_high_usd,labor_low_h,labor_high_h,note,confidence,basis,work
F001,fit,axle-shaft,rear-9.00-made-up/a-1950-*,rear-9.00-made-up/a-2000-*,yes,,,,,,,,high,common practice,
C001,conversion,re-gear,rear-9.00-*/*,other ratio,conversion,,gears,500,1100,3,6,,high,common practice,regear
""",
    "wear.csv": """\
id,part,applies_to,what_to_measure,new_value,limit,unit,tool,how,meaning_if_out,confidence,basis
W001,rotor,all disc brakes,thickness,,1.2,in,caliper,,discard,high,common practice
W002,hub,all,play,,none,,hand,,bearings,high,common practice
""",
    "works.csv": """\
word,title,cost_low_usd,cost_high_usd,labor_low_h,labor_high_h,confidence,basis
regear,new ring and pinion,450,950,6,10,high,common practice
brackets,brackets,,,,,low,memory
""",
    "lines.toml": """
[[line]]
key = "line-A"
sights = [["in short", "made up"]]
basis = "memory"

[[trap]]
text = "look"
basis = "memory"
""",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The small folder, to spoil."""
    for name, text in FILES.items():
        path = tmp_path / "data" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text.lstrip("\n"), "utf-8")
    return tmp_path / "data"


def spoil(folder: Path, file: str, old: str, new: str) -> int:
    """Replace the first ``old`` and return its line number."""
    path = folder / file
    text = path.read_text("utf-8")
    assert old in text, f"{file} does not hold {old!r}"
    path.write_text(text.replace(old, new, 1), "utf-8")
    return text[: text.index(old)].count("\n") + 1


def faults_of(folder: Path) -> tuple[str, ...]:
    with pytest.raises(BadData) as wrong:
        load_from(folder)
    assert wrong.value.exit_code == 4
    return wrong.value.faults


def test_the_shipped_files_pass() -> None:
    catalogue = load_catalogue()
    assert len(catalogue.families) > 30
    assert len(catalogue.variants) > 130
    assert len(catalogue.gear_sets) > 40
    assert len(catalogue.lines) == 6
    assert len(catalogue.works) > 20
    assert len(catalogue.interchange) > 100
    assert len(catalogue.wear) > 80


# What is spoilt (file, old, new), and what is said of it.
SPOILT = [
    (FAMILY, "bolt_circle_mm = 139.7", "bolt_circle_mm = 17.0", "bolt_circle_mm 17.0 is outside 90..350"),
    (FAMILY, "lugs = 6", 'lugs = "six"', "lugs must be a whole number, not 'six'"),
    (FAMILY, "lugs = 6", "lugs = true", "lugs must be a whole number, not True"),
    (FAMILY, "lugs = 6", "lugs = []", "lugs is an empty list"),
    (FAMILY, "lugs = 6", "lugs = [6, 6]", "lugs lists a value twice"),
    (FAMILY, "bolt_circle_mm = 139.7", "bolt_circle_mm = 335.4", "puts neighbouring studs 168 mm apart"),
    (FAMILY, 'drop = "center"', 'drop = "middle"', "drop 'middle' is none of: driver, passenger, center"),
    (FAMILY, "years = [1950, 1999]", "years = [1999, 1950]", "years is reversed: 1999 is above 1950"),
    (FAMILY, "years = [1950, 1999]", "years = [1950, 1999, 2001]", "years must be a first and a last value"),
    (FAMILY, "years = [1950, 1999]", "years = [50, 99]", "years 50 is outside 1940..2030"),
    (FAMILY, "abs = false", "abs = 0", "abs must be true or false"),
    (FAMILY, "parking_brake = ", "parking_break = ", "parking_break is not a key known here"),
    (FAMILY, "abs = false", "outer_splines = 35", "outer_splines is not an attribute of a rear axle"),
    (FAMILY, "[300, 900]", "[900, 300]", "price_range_usd is reversed"),
    (FAMILY, "[300, 900]", "[300.5, 900]", "price_range_usd must be a whole number"),
    (FAMILY, '"gg-9.00-made-up"', '"gg-9.00-other"', "gear_set 'gg-9.00-other' is not in gearsets.csv"),
    (FAMILY, '"gg-9.00-made-up"', '"gg-8.00-front"', "gear_set 'gg-8.00-front' is of a front axle"),
    (FAMILY, '"gg-9.00-made-up"', '"gg-8.00-rear"', "ring_gear_in 9.0 is not that of 'gg-8.00-rear', 8.0"),
    (FAMILY, 'key = "a-2000-on"', 'key = "a-1950-1999"', "'rear-9.00-made-up/a-1950-1999' stands twice"),
    (FAMILY, 'key = "a-1950-1999"', 'key = "A 1950"', "key 'A 1950' must be small letters"),
    (FAMILY, 'key = "rear-9.00-made-up"', 'key = "rear-9.00-made"', "differs from the file's name"),
    (FAMILY, 'torque_class = "heavy"', "", "torque_class is missing"),
    (FAMILY, "donor_ok = true", "donor_ok = false", "refuse_reason is missing"),
    (FAMILY, ', brakes = "low"', "", "brakes has no confidence and basis"),
    (FAMILY, 'identity = "high", gears', 'identity = "sure", gears', "confidence of identity must be one of"),
    (
        FAMILY,
        'basis = { identity = "common practice", gears',
        'basis = { identity = "", gears',
        "basis of identity",
    ),
    (FAMILY, "confidence = { identity", 'confidence = { looks = "high", identity', "speaks of 'looks'"),
    (FAMILY, "[[variant]]", "[[variant]", "is not TOML"),
    ("gearsets.csv", "3.07|3.55", "3.07|x", "ratios_sold 'x' is not a number"),
    ("gearsets.csv", "3.07|3.55", "3.07|35.5", "ratios_sold 35.5 is outside"),
    ("gearsets.csv", "3.07|3.55", "3.07|3.07", "ratios_sold lists a ratio twice"),
    ("gearsets.csv", "5.13,5.13", "5.13,3.55", "deepest 3.55 is not the deepest"),
    ("interchange.csv", ",fit,", ",fits,", "kind 'fits' is none of"),
    ("interchange.csv", "made-up/a-1950-*", "made-up/b-*", "from 'rear-9.00-made-up/b-*' matches no variant"),
    ("interchange.csv", "made-up/a-2000-*", "made-up/b-*", "to 'rear-9.00-made-up/b-*' matches no variant"),
    ("interchange.csv", ",500,1100,", ",1100,500,", "cost_low_usd 1100 is above cost_high_usd 500"),
    ("interchange.csv", ",500,1100,", ",500,,", "cost_high_usd is missing beside its other end"),
    ("interchange.csv", ",500,1100,", ",499.5,1100,", "must be whole dollars"),
    ("interchange.csv", ",regear", ",degear", "work 'degear' is not in works.csv"),
    ("wear.csv", "W002", "W001", "'W001' stands twice"),
    ("wear.csv", ",all disc brakes,", ",,", "applies_to is missing"),
    ("works.csv", "regear,", ",", "word is missing"),
    ("works.csv", "word,title", "word,name", "the columns must be word,title"),
    ("works.csv", "regear,", '"regear,', "is not CSV"),
    ("lines.toml", 'key = "line-A"', 'key = "line-Z"', "key 'line-Z' is none of"),
    ("lines.toml", 'text = "look"', "", "text is missing"),
    ("lines.toml", "[[line]]", "[[lines]]", "lines is not a key known here"),
    ("lines.toml", '[["in short", "made up"]]', '["in short"]', "sights must be a list of"),
]

# A key that is not there has no line: its record's is told. tomllib tells where it stumbled.
NO_LINE_OF_ITS_OWN = (
    "is missing",
    "gear_set 'gg",
    "ring_gear_in 9.0",
    "is not TOML",
    "has no confidence",
    "is not CSV",
)


@pytest.mark.parametrize(("file", "old", "new", "said"), SPOILT)
def test_a_fault_is_told_with_file_and_line(folder: Path, file: str, old: str, new: str, said: str) -> None:
    line = spoil(folder, file, old, new)
    told = [fault for fault in faults_of(folder) if said in fault]
    assert told, faults_of(folder)
    assert told[0].startswith(Path(file).name)
    if not any(part in said for part in NO_LINE_OF_ITS_OWN):
        assert told[0].startswith(f"{Path(file).name}:{line}: "), line


def test_all_faults_are_told_at_once(folder: Path) -> None:
    spoil(folder, FAMILY, "bolt_circle_mm = 139.7", "bolt_circle_mm = 17.0")
    spoil(folder, FAMILY, 'drop = "center"', 'drop = "middle"')
    spoil(folder, "works.csv", "regear,", ",")
    spoil(folder, "interchange.csv", "made-up/a-1950-*", "nothing")
    faults = faults_of(folder)
    assert len(faults) >= 4
    assert {fault.partition(":")[0] for fault in faults} == {
        Path(FAMILY).name,
        "works.csv",
        "interchange.csv",
    }


MISSING = ["gearsets.csv", "interchange.csv", "wear.csv", "works.csv", "lines.toml"]


@pytest.mark.parametrize("file", MISSING)
def test_a_missing_file_is_told(folder: Path, file: str) -> None:
    (folder / file).unlink()
    assert any(fault.startswith(f"{file}:1: ") for fault in faults_of(folder))


def test_rows_of_other_length_are_told(folder: Path) -> None:
    with (folder / "works.csv").open("a", encoding="utf-8") as file:
        file.write("one,two\n")
    assert any("has 2 cells, the header 8" in fault for fault in faults_of(folder))


def test_the_small_folder_itself_passes(folder: Path) -> None:
    catalogue = load_from(folder)
    early = catalogue.variants["rear-9.00-made-up/a-1950-1999"]
    assert early.get("ring_gear_in") == 9.0, "what the family shares is known of its variants"
    assert early.figures["lugs"].basis == "memory"
    assert early.get("width_in") is None
    assert catalogue.interchange[1].cost_usd == (500.0, 1100.0)
    assert catalogue.interchange[0].cost_usd is None
    assert catalogue.gear_sets["gg-8.00-rear"].ratios_sold == ()


def test_blank_stays_blank() -> None:
    catalogue = load_catalogue()
    blank = [key for key, v in catalogue.variants.items() if "width_in" not in v.figures]
    assert blank
    assert all(catalogue.variants[key].get("width_in") is None for key in blank)
    assert all(catalogue.variants[key].all("width_in") == () for key in blank)
    assert any(row.cost_usd is None for row in catalogue.interchange)


def figures_of(catalogue: Catalogue) -> list[tuple[str, str]]:
    return [(key, name) for key, v in catalogue.variants.items() for name in v.figures]


def test_every_figure_is_of_its_attributes_kind_and_has_a_basis() -> None:
    types = {Kind.COUNT: int, Kind.LENGTH: float, Kind.RATIO: float, Kind.FLAG: bool}
    catalogue, looked = load_catalogue(), 0
    for key, name in figures_of(catalogue):
        figure = catalogue.variants[key].figures[name]
        wanted = tuple if attributes()[name].kind in PAIRS else types.get(attributes()[name].kind, str)
        assert figure.values, (key, name)
        assert all(type(value) is wanted for value in figure.values), (key, name)
        assert figure.confidence in ("high", "medium", "low"), (key, name)
        assert figure.basis.strip(), (key, name)
        looked += 1
    assert looked > 3000


def test_an_open_last_year_is_none() -> None:
    assert checked_values(attributes()["years"], [2011]) == ((2011, None),)


# Chords of bolt circles as wheel makers print them: 8x170 is 65.1 mm from stud to stud, 5x139.7 is 82.1 mm
# (plane geometry: d sin(180/n)).
CHORDS = [(8, 170.0, 65.05), (5, 139.7, 82.11), (6, 139.7, 69.85)]


@pytest.mark.parametrize(("lugs", "circle", "chord"), CHORDS)
def test_neighbouring_studs(lugs: int, circle: float, chord: float) -> None:
    assert neighbour_mm(lugs, circle) == pytest.approx(chord, abs=0.01)


CHANGES: list[Callable[[Path], object]] = [
    lambda folder: spoil(folder, "works.csv", "450", "451"),
    lambda folder: (folder / FAMILY).rename(folder / "families/other.toml"),
    lambda folder: (folder / "wear.csv").unlink(),
]


@pytest.mark.parametrize("change", CHANGES)
def test_the_fingerprint_knows_every_change(folder: Path, change: Callable[[Path], object]) -> None:
    before = fingerprint_of(folder)
    change(folder)
    assert fingerprint_of(folder) != before
