"""The shelf as a spreadsheet: out and back equal, no cell that runs, every bad row told, none kept twice."""

import csv
import io
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from donorbase.errors import BadInput
from donorbase.services.cells import as_typed, harmless
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.promising import Taking, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf import part_history, parts
from donorbase.services.shelf_csv import export_csv, keep_rows, look_over
from donorbase.services.splitting import assemble, split_part
from donorbase.services.tending import note_part, photo_part

WHEN = Occasion(date(2026, 11, 9), "owner")
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
TODAY = date(2026, 11, 25)
WORDS = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=30)


@pytest.fixture
def other(new_place: Callable[[], str]) -> Iterator[House]:
    house = House(new_place())
    yield house
    house.close()


def bring_in(house: House, text: str, folder: Path) -> tuple[int, int, list[str]]:
    """Parts added, parts known, faults told."""
    file = folder / "shelf.csv"
    file.write_text(text, "utf-8", newline="")
    told: list[str] = []
    found = look_over(house, file, {}, "utf-8", TODAY, told.append)
    return keep_rows(house, [row for _, row in found.rows], "owner"), found.known, told


def test_what_goes_out_comes_back_equal_and_is_not_doubled(house: House, other: House, tmp_path: Path) -> None:
    whole = pull(house, Pulled("axle", axle=KINGPIN, year=1985, miles=9, place="=yard", cost_cents=65_001), WHEN)
    pieces = split_part(house, whole.tag, WHEN, asked=["rotor", "rotor", "knuckle:left"]).pieces
    photo_part(house, pieces[0].tag, "a b.jpg", WHEN)
    note_part(house, pieces[0].tag, Occasion(date(2026, 11, 12), "owner", "+ünï\n2026-01-01 no day of its own"))
    take(house, pieces[0].tag, Taking("reserved", person="Kim"), WHEN)
    take(house, pieces[0].tag, Taking("sold", person="Kim", price_cents=1_999), WHEN)
    assemble(house, KINGPIN, [pieces[1].tag, pieces[2].tag], WHEN)
    text = export_csv(house)
    assert bring_in(other, text, tmp_path) == (5, 0, [])
    assert export_csv(other) == text
    assert bring_in(other, text, tmp_path) == (0, 5, [])
    assert [(p.tag, p.state, p.out_of, p.into_part, p.cost_cents) for p in parts(other)] == [
        (p.tag, p.state, p.out_of, p.into_part, p.cost_cents) for p in parts(house)
    ]


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(condition=WORDS, place=WORDS, note=WORDS.filter(str.strip), cents=st.integers(0, 10**8))
def test_whatever_words_are_kept_come_back(
    house: House, new_place: Callable[[], str], tmp_path: Path, condition: str, place: str, note: str, cents: int
) -> None:
    part = pull(house, Pulled("rotor", condition=condition, place=place, cost_cents=cents), WHEN)
    note_part(house, part.tag, Occasion(WHEN.on, "", note))
    text, back = export_csv(house), House(new_place())
    try:
        assert bring_in(back, text, tmp_path)[2] == []
        assert export_csv(back) == text
        assert part_history(back, part.tag).notes == part_history(house, part.tag).notes
    finally:
        back.close()


@given(WORDS)
def test_no_cell_runs_and_each_comes_back(text: str) -> None:
    """OWASP, CSV Injection: a cell must not begin with = + - @, a tab or a carriage return; a number is none."""
    cell = harmless(text)
    assert as_typed(cell) == text
    assert cell[:1] not in tuple("=+-@\t\r") or float(cell) is not None


def test_every_bad_row_is_told_with_its_line_and_every_reason(house: House, tmp_path: Path) -> None:
    pull(house, Pulled("yoke"), WHEN)
    rows = [
        "tag,kind,side,year,cost_usd,state,person,build,out_of",
        ",knuckle,left,1985,40.50,,,,",
        ",knuckel,up,85x,-3,,,,",
        "AAC7,rotor,,,,,,,",
        "AAC4,rotor,,,,,,,",
        ",rotor,,,1,sold,,,",
        ",rotor,,,1,reserved,Kim,crawler,",
        ",rotor,,,1,,,,AAFT",
        ",rotor,,",
        ",rotor,,,1.005,,,,",
    ]
    added, known, told = bring_in(house, "\n".join(rows), tmp_path)
    assert (added, known) == (1, 0)
    expected = {
        3: ("'knuckel'", "85x", "'-3'"),
        4: ("AAC7", "misread"),
        5: ("AAC4", "another part"),
        6: ("sold", "nobody"),
        7: ("promised once",),
        8: ("AAFT", "missing"),
        9: ("4 columns, the head has 9",),
        10: ("1.005",),
    }
    assert [line.split(": ")[0] for line in told] == [f"shelf.csv:{number}" for number in expected]
    for line, words in zip(told, expected.values(), strict=True):
        assert all(word in line for word in words), line


def test_rows_that_speak_of_a_row_that_is_left_out_are_left_out_too(house: House, tmp_path: Path) -> None:
    text = "tag,kind,out_of\nAAC4,wing,\nAAEY,axle,AAC4\nAAFT,rotor,AAEY\n"
    added, _, told = bring_in(house, text, tmp_path)
    assert added == 0
    assert [line[:12] for line in told] == ["shelf.csv:2:", "shelf.csv:3:", "shelf.csv:4:"]


def test_a_sheet_of_ones_own_needs_the_kind_alone(house: House, tmp_path: Path) -> None:
    file = tmp_path / "heap.csv"
    file.write_text("What;Where;Colour\nunit bearing;shed;red\n", "utf-8")
    found = look_over(house, file, {"kind": "What", "place": "where"}, "utf-8", TODAY, print)
    assert found.unread == ("Colour",)
    keep_rows(house, [row for _, row in found.rows], "owner")
    (part,) = parts(house)
    assert (part.kind, part.place, part.tag) == ("unit-bearing", "shed", "AAC4")
    with pytest.raises(BadInput, match="what kind"):
        look_over(house, file, {}, "utf-8", TODAY, print)


def test_spreadsheets_read_it(house: House) -> None:
    """RFC 4180, by the standard library's reader."""
    pull(house, Pulled("rotor", condition='1.4", rusty\nedge'), WHEN)
    (row,) = csv.DictReader(io.StringIO(export_csv(house)))
    assert row["condition"] == '1.4", rusty\nedge'


def test_a_heap_that_was_taken_in_before_is_not_doubled(house: House, tmp_path: Path) -> None:
    """Three rotors alike are three; of a file that has grown by two only those two are new."""
    file = tmp_path / "heap.csv"
    heap = "kind,place,cost_usd\nrotor,shed,20\nrotor,shed,20\nrotor,shed,20\nhub,loft,\n"

    def taken_in(text: str, *, again: bool = False) -> tuple[int, int]:
        file.write_text(text, "utf-8")
        found = look_over(house, file, {}, "utf-8", TODAY, print, again=again)
        return keep_rows(house, [row for _, row in found.rows], "owner"), found.alike

    assert taken_in(heap) == (4, 0)
    assert taken_in(heap) == (0, 4)
    assert taken_in(heap + "rotor,shed,20\nhub,shed,\n") == (2, 4)
    assert taken_in(heap, again=True) == (4, 0)
    assert len(parts(house)) == 10
