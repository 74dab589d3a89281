"""Yards: what a board tells, which vehicles are gone, and the walk to the rows that may hold what a build needs."""

from datetime import date
from pathlib import Path

import pytest

from donorbase.errors import BadInput, NotFound
from donorbase.services.builds import add_build, find_build
from donorbase.services.candidates import candidates
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.words import import_words
from donorbase.services.yard_candidates import keep_vehicle
from donorbase.services.yard_lists import Listed, Vehicle, digests
from donorbase.services.yards import keep_list, read_list, walk, yards
from donorbase.shipped import data_dir

DAY, LATER = date(2026, 11, 1), date(2026, 11, 8)
BOARD = """
RIVER YARD ROW 12 is no head

Row 12
  2006 Tolvern Grazier 35 4x4 diesel   set 10/28/2026
  1999 Kestrel sedan  10/28/2026
Row 2: 2012 Tolvern Grazier 25 4x4 stk# A1234
Row 2: 2012 Tolvern Grazier 25 2wd
Row 14 space 3 - '08 Tolvern Grazier 35, single rear wheels, set 2026-11-02
B7 | 2001 Tolvern Grazier 35 4wd
""".replace("RIVER YARD ROW 12 is no head\n", "")
CRAWLER = str(data_dir() / "demo" / "crawler.toml")


@pytest.fixture
def desk(house: House) -> Desk:
    import_words(house, data_dir() / "demo" / "words.csv")
    return Desk.of_house(house, 2026)


def vehicles(text: str, columns: dict[str, str] | None = None) -> list[Vehicle]:
    return [one.vehicle for one in read_list(text, "board", columns) if one.vehicle]


def faults(found: tuple[Listed, ...]) -> dict[str, str]:
    return {one.place: one.fault for one in found if one.fault}


def test_a_board_tells_row_space_stock_and_day() -> None:
    found = vehicles(BOARD)
    assert [(v.row, v.space) for v in found] == [("12", ""), ("12", ""), ("2", ""), ("2", ""), ("14", "3"), ("B7", "")]
    assert [v.set_on for v in found[:3]] == [date(2026, 10, 28), date(2026, 10, 28), None]
    assert found[2].stock == "A1234"
    assert found[2].text == "2012 Tolvern Grazier 25 4x4"
    assert found[4].text == "'08 Tolvern Grazier 35, single rear wheels"
    assert found[5].text == "2001 Tolvern Grazier 35 4wd"


def test_lines_that_are_no_vehicle_are_told() -> None:
    told = faults(
        read_list("1999 lost sheep\nRow 3\nhalf price on Saturday\n05 Grazier 35\nRow 4: 2005 x, 13/45/2026", "board")
    )
    assert list(told) == ["board:1", "board:3", "board:5"]
    assert "no row" in told["board:1"]
    assert "no model year" in told["board:3"]
    assert "no day" in told["board:5"]


def test_a_table_has_its_fields_and_its_faults() -> None:
    head = "Row,Year,Make,Model,Class,Set Date,Stock\n"
    text = f"{head}12,2006,line-A,Hauler,one-ton,10/28/2026,S1\n,2001,x,y,,,\n9,06,x,y,,,\n"
    (first,) = vehicles(text)
    assert (first.row, first.year, first.donor_line, first.load_class) == ("12", 2006, "line-A", "one-ton")
    assert (first.set_on, first.stock) == (date(2026, 10, 28), "S1")
    assert list(faults(read_list(text, "board"))) == ["board:3", "board:4"]
    assert vehicles("aisle no;what\n7;2006 Grazier\n", {"row": "aisle no", "text": "what"})[0].row == "7"
    with pytest.raises(BadInput, match="no column 'what'"):
        read_list("row,text\n", "board", {"text": "what"})


def test_two_lines_alike_are_two_vehicles() -> None:
    one, two = digests(vehicles("Row 1: 2006 Grazier 35\nRow 1: 2006 Grazier 35"))
    assert one != two
    by_stock = [digests(vehicles(f"Row {row}: 2006 Grazier 35 stk 77"))[0] for row in (1, 9)]
    assert by_stock[0] == by_stock[1], "the yard moved it to another row"


def test_a_later_list_says_what_is_gone_and_what_came_back(house: House) -> None:
    keep_list(house, "river", read_list(BOARD, "board"), DAY, place={"distance_mi": 30.0, "zip": None})
    shorter = BOARD.replace("B7 | 2001 Tolvern Grazier 35 4wd\n", "")
    done = keep_list(house, "river", read_list(shorter, "board"), LATER)
    assert (done.added, done.known, done.gone) == (0, 5, 1)
    (kept,) = yards(house)
    assert (kept["there"], kept["gone"], kept["listed_on"], kept["distance_mi"]) == (5, 1, LATER, 30.0)
    keep_list(house, "river", read_list(shorter, "board"), date(2026, 10, 1))
    assert yards(house)[0]["there"] == 5
    keep_list(house, "river", read_list("B7 | 2001 Tolvern Grazier 35 4wd", "board"), date(2026, 11, 15), full=False)
    assert (yards(house)[0]["there"], yards(house)[0]["gone"]) == (6, 0)


def test_a_list_with_faults_takes_nothing_to_be_gone(house: House) -> None:
    keep_list(house, "river", read_list(BOARD, "board"), DAY)
    broken = read_list("Row 12: 2006 Tolvern Grazier 35 4x4 diesel set 10/28/2026\nunreadable", "board")
    with pytest.raises(BadInput, match="1 lines cannot be used"):
        keep_list(house, "river", broken, LATER)
    done = keep_list(house, "river", broken, LATER, keep_good=True)
    assert (done.known, done.gone, done.faulty) == (1, 0, 1)


def test_the_walk_goes_row_by_row_to_what_may_meet_the_build(house: House, desk: Desk) -> None:
    keep_list(house, "river", read_list(BOARD, "board"), DAY)
    found = walk(house, desk, "river", find_build(house, CRAWLER))
    assert [stop.vehicle["row"] for stop in found.stops] == ["2", "12", "14", "B7"]
    assert {stop.end for stop in found.stops} == {"front"}
    assert found.untold == 1, "nobody knows what a sedan of that name stands on"
    assert all(stop.checks for stop in found.stops)
    assert {"magnet", "rule in mm"} <= set(found.bring)


def test_a_front_that_nobody_said_is_driven_is_never_called_fitting(house: House, desk: Desk) -> None:
    """A truck driven at the rear alone has no front axle to sell: silence about it is no fact."""
    build = find_build(house, CRAWLER)
    rows = "Row 1: 2008 Tolvern Grazier 35 single rear wheels 8x170 35 spline outers coil\n"
    keep_list(house, "quiet", read_list(rows, "board"), DAY)
    keep_list(house, "said", read_list(rows.replace("coil", "coil 4x4"), "board"), DAY)
    keep_list(house, "not", read_list(rows.replace("coil", "coil 2wd"), "board"), DAY)
    (quiet,) = walk(house, desk, "quiet", build).stops
    (said,) = walk(house, desk, "said", build).stops
    assert str(quiet.verdict) == "unclear"
    assert "4x4" in quiet.checks[0]
    assert said.verdict.rank <= quiet.verdict.rank
    assert walk(house, desk, "not", build).stops == ()


def test_a_yard_that_is_not_kept_names_the_near_ones(house: House, desk: Desk, tmp_path: Path) -> None:
    assert tmp_path.exists()
    keep_list(house, "river yard", read_list(BOARD, "board"), DAY)
    with pytest.raises(NotFound, match="no yard 'rivr yard'") as wrong:
        walk(house, desk, "rivr yard", find_build(house, CRAWLER))
    assert "river yard" in wrong.value.next_step


def test_a_vehicle_becomes_a_candidate_with_what_its_columns_say(house: House, desk: Desk) -> None:
    add_build(house, Path(CRAWLER))
    head = "Row,Year,Model,Class,Wheels,Stock\n"
    table = f"{head}12,2006,Grazier 4x4,one-ton,single,S1\n12,2006,Grazier 4x4,one-ton,single,S2\n"
    keep_list(house, "river", read_list(table, "board"), DAY, place={"distance_mi": 30, "zip": "80202"})
    stops = {stop.vehicle["id"]: stop for stop in walk(house, desk, "river", find_build(house, CRAWLER)).stops}
    outcomes = [keep_vehicle(house, desk, "river", n, ("crawler",), Occasion(LATER))[0] for n in sorted(stops)]
    assert len({outcome.listing_id for outcome in outcomes}) == len(stops) == 2
    found = candidates(house)
    assert [(c.title, c.distance_mi, c.zip) for c in found] == [
        ("river, row 12, stock S1", 30, "80202"), ("river, row 12, stock S2", 30, "80202"),
    ]  # fmt: skip
    assert [c.verdict for c in found] == [str(stop.verdict) for stop in stops.values()]


def test_a_vehicle_that_is_gone_or_not_there_is_none(house: House, desk: Desk) -> None:
    add_build(house, Path(CRAWLER))
    keep_list(house, "river", read_list("Row 1: 2006 Grazier 35 4x4\nRow 2: 2007 Grazier 35 4x4", "board"), DAY)
    keep_list(house, "river", read_list("Row 2: 2007 Grazier 35 4x4", "board"), LATER)
    for number, error in ((1, BadInput), (9, NotFound)):
        with pytest.raises(error):
            keep_vehicle(house, desk, "river", number, ("crawler",), Occasion(LATER))
    assert candidates(house) == ()


@pytest.mark.parametrize("words", ["2006 Tolvern Grazier 35", "2006 Tolvern Grazier 35 2wd"])
def test_a_front_that_nobody_said_to_be_driven_is_no_fit_as_a_candidate_either(
    words: str, house: House, desk: Desk
) -> None:
    add_build(house, Path(CRAWLER))
    keep_list(house, "river", read_list(f"Row 1: {words}", "board"), DAY)
    outcome, _ = keep_vehicle(house, desk, "river", 1, ("crawler",), Occasion(DAY))
    assert outcome.is_new
    assert candidates(house)[0].verdict not in ("fits", "fits with work")
