"""Every fault of the data files is told at once, by file and line; what is blank stays blank."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from donorbase.attributes import PAIRS, Kind, attributes
from donorbase.errors import BadData
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.load import data_fingerprint, fingerprint_of, load_catalogue, load_from
from donorbase.reference.values import checked_values, neighbour_mm
from donorbase.shipped import data_dir

FAMILY = "families/rear-double-reduction-military.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of data/ to spoil."""
    shutil.copytree(data_dir(), tmp_path / "data")
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
    pytest.param(FAMILY, "bolt_circle_mm = 222.25", "bolt_circle_mm = 17.0", "bolt_circle_mm 17.0 is outside 90..350", id="out of bounds"),
    pytest.param(FAMILY, "lugs = 6", 'lugs = "six"', "lugs must be a whole number, not 'six'", id="words for a number"),
    pytest.param(FAMILY, "lugs = 6", "lugs = true", "lugs must be a whole number, not True", id="flag for a number"),
    pytest.param(FAMILY, "lugs = 6", "lugs = []", "lugs is an empty list", id="empty list"),
    pytest.param(FAMILY, "lugs = 6", "lugs = [6, 6]", "lugs lists a value twice", id="listed twice"),
    pytest.param(FAMILY, "bolt_circle_mm = 222.25", "bolt_circle_mm = 335.0", "puts neighbouring studs 168 mm apart", id="lugs and circle that cannot be"),
    pytest.param(FAMILY, 'drop = "center"', 'drop = "middle"', "drop 'middle' is none of: driver, passenger, center", id="no word of the choice"),
    pytest.param(FAMILY, "years = [1950, 1999]", "years = [1999, 1950]", "years is reversed: 1999 is above 1950", id="years reversed"),
    pytest.param(FAMILY, "years = [1950, 1999]", "years = [1950, 1999, 2001]", "years must be a first and a last value", id="three years"),
    pytest.param(FAMILY, "years = [1950, 1999]", "years = [50, 99]", "years 50 is outside 1940..2030", id="years of two digits"),
    pytest.param(FAMILY, "abs = false", "abs = 0", "abs must be true or false", id="number for a flag"),
    pytest.param(FAMILY, "parking_brake = ", "parking_break = ", "parking_break is not a key known here", id="unknown key"),
    pytest.param(FAMILY, "parking_brake = ", "outer_splines = 35\nparking_brake = ", "outer_splines is not an attribute of a rear axle", id="attribute of the other end"),
    pytest.param(FAMILY, 'price_range_usd = [300, 900]', 'price_range_usd = [900, 300]', "price_range_usd is reversed", id="range reversed"),
    pytest.param(FAMILY, 'gear_set = "gg-mil-2.5t"', 'gear_set = "gg-mil-3t"', "gear_set 'gg-mil-3t' is not in gearsets.csv", id="gear set not there"),
    pytest.param(FAMILY, 'gear_set = "gg-mil-2.5t"', 'gear_set = "gg-9.25-front"', "gear_set 'gg-9.25-front' is of a front axle", id="gear set of the other end"),
    pytest.param(FAMILY, 'key = "mil-2.5t"', 'key = "mil-5t"', "key 'rear-double-reduction-military/mil-5t' stands twice", id="variant twice"),
    pytest.param(FAMILY, 'key = "mil-2.5t"', 'key = "Mil 2.5t"', "must be small letters", id="odd key"),
    pytest.param(FAMILY, 'key = "rear-double', 'key = "rear-duble', "differs from the file's name", id="family is not the file"),
    pytest.param(FAMILY, 'torque_class = "military"', "", "torque_class is missing", id="missing words"),
    pytest.param(FAMILY, "donor_ok = true", "donor_ok = false", "refuse_reason is missing", id="refused without a reason"),
    pytest.param(FAMILY, 'brakes = "low", ', "", "brakes has no confidence and basis", id="no confidence"),
    pytest.param(FAMILY, 'identity = "high", gears', 'identity = "sure", gears', "confidence of identity must be one of", id="odd confidence"),
    pytest.param(FAMILY, 'identity = "common practice"', 'identity = ""', "basis of identity is missing", id="no basis"),
    pytest.param(FAMILY, 'confidence = { identity', 'confidence = { looks = "high", identity', "speaks of 'looks'", id="no such group"),
    pytest.param(FAMILY, "[[variant]]", "[[variant]", "is not TOML", id="not TOML"),
    pytest.param("gearsets.csv", "3.07|3.55", "3.07|x", "ratios_sold 'x' is not a number", id="ratio in words"),
    pytest.param("gearsets.csv", "3.07|3.55", "3.07|35.5", "ratios_sold 35.5 is outside", id="odd ratio"),
    pytest.param("gearsets.csv", "5.13,5.13", "5.13,4.88", "deepest 4.88 is not the deepest", id="deepest that is not"),
    pytest.param("interchange.csv", ",fit,outer-shaft,", ",fits,outer-shaft,", "kind 'fits' is none of", id="odd kind"),
    pytest.param("interchange.csv", "front-9.75-balljoint/a-2005-2010-*", "front-9.75-baljoint/a-*", "matches no variant", id="pattern of nothing"),
    pytest.param("interchange.csv", ",500,1100,", ",1100,500,", "cost_low_usd 1100 is above cost_high_usd 500", id="cost reversed"),
    pytest.param("interchange.csv", ",500,1100,", ",500,,", "cost_high_usd is missing beside its other end", id="half a cost"),
    pytest.param("interchange.csv", ",500,1100,", ",499.5,1100,", "must be whole dollars", id="cents"),
    pytest.param("interchange.csv", "single-wheel-hubs", "double-wheel-hubs", "'double-wheel-hubs' is not in works.csv", id="unknown work"),
    pytest.param("wear.csv", "W002", "W001", "'W001' stands twice", id="wear point twice"),
    pytest.param("wear.csv", ",all disc brakes,", ",,", "applies_to is missing", id="wear of nothing"),
    pytest.param("works.csv", "regear,", ",", "word is missing", id="work without a word"),
    pytest.param("lines.toml", 'key = "line-A"', 'key = "line-Z"', "key 'line-Z' is none of", id="no such line"),
    pytest.param("works.csv", "word,title", "word,name", "the columns must be word,title", id="other columns"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "said"), SPOILT)
def test_a_fault_is_told_with_file_and_line(folder: Path, file: str, old: str, new: str, said: str) -> None:
    line = spoil(folder, file, old, new)
    told = [fault for fault in faults_of(folder) if said in fault]
    assert told, faults_of(folder)
    place = Path(file).name
    assert told[0].startswith(place)
    if "gear_set" not in said and "missing" not in said and "without" not in said and "TOML" not in said:
        assert abs(int(told[0].split(":")[1]) - line) <= 1, told[0]


def test_all_faults_are_told_at_once(folder: Path) -> None:
    spoil(folder, FAMILY, "bolt_circle_mm = 222.25", "bolt_circle_mm = 17.0")
    spoil(folder, FAMILY, 'drop = "center"', 'drop = "middle"')
    spoil(folder, "works.csv", "regear,", ",")
    spoil(folder, "interchange.csv", "front-9.75-balljoint/a-2005-2010-*", "nothing")
    faults = faults_of(folder)
    assert len(faults) >= 4
    assert {fault.partition(":")[0] for fault in faults} == {Path(FAMILY).name, "works.csv", "interchange.csv"}


MISSING = ["gearsets.csv", "interchange.csv", "wear.csv", "works.csv", "lines.toml"]


@pytest.mark.parametrize("file", MISSING)
def test_a_missing_file_is_told(folder: Path, file: str) -> None:
    (folder / file).unlink()
    assert any(fault.startswith(f"{file}:1: ") for fault in faults_of(folder))


def test_rows_of_other_length_are_told(folder: Path) -> None:
    with (folder / "works.csv").open("a", encoding="utf-8") as file:
        file.write("one,two\n")
    assert any("has 2 cells, the header 8" in fault for fault in faults_of(folder))


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
    assert fingerprint_of(folder) == data_fingerprint()
    change(folder)
    assert fingerprint_of(folder) != data_fingerprint()
