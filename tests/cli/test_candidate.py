"""The hunt from the command line: keep, move, put right, import, walk a yard."""

import json
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from donorbase.services.database import check
from donorbase.services.gathering import gatherings
from donorbase.services.house import House
from donorbase.shipped import data_dir

ADVERT = "Front axle off a 2008 line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $900 obo"
DEMO = data_dir() / "demo"


@pytest.fixture
def hunt(run_fresh):
    for name in ("crawler", "trail-wagon"):
        assert run_fresh("build", "add", str(DEMO / f"{name}.toml")).exit_code == 0
    return run_fresh


def listed(hunt, *args: str) -> list[dict]:
    result = hunt("candidate", "list", "--json", *args)
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)


def test_add_without_a_build_keeps_it_for_those_it_may_suit(hunt) -> None:
    result = hunt("candidate", "add", "--distance-mi", "40", text=ADVERT)
    assert result.exit_code == 0, result.stderr
    assert "does not fit" in result.stdout
    (one,) = listed(hunt)
    assert (one["build"], one["verdict"], one["state"], one["due"]) == ("crawler", "fits", "watching", False)
    again = json.loads(hunt("candidate", "add", "--json", text=ADVERT).stdout)
    assert again["is_new"] is False
    assert len(listed(hunt)) == 1


def test_add_that_suits_no_build_says_how_to_keep_it_all_the_same(hunt) -> None:
    wanted = "WTB front axle 8 lug"
    assert "--build" in hunt("candidate", "add", text=wanted).stdout
    assert listed(hunt) == []
    assert hunt("candidate", "add", "-b", "crawler", text=wanted).exit_code == 0
    assert listed(hunt)[0]["verdict"] == "does not fit"


def test_the_hunt_and_its_history(hunt) -> None:
    hunt("candidate", "add", "-b", "crawler", "--seen", "2026-11-01", text=ADVERT)
    assert hunt("candidate", "asked", "1", "--note", "left word", "--on", "2026-11-02", "--who", "sam").exit_code == 0
    told = hunt("candidate", "correct", "1", "rear_wheels=dual", "--measured")
    assert "before fits" in told.stdout
    assert "fits, before" in hunt("candidate", "undo", "1").stdout
    assert "asks 650 USD, before 900" in hunt("candidate", "price", "1", "650").stdout
    assert hunt("candidate", "passed", "1", "--note", "bent tube").exit_code == 0
    assert listed(hunt) == []
    assert listed(hunt, "--all")[0]["state"] == "passed"
    events = json.loads(hunt("candidate", "history", "1", "--json").stdout)
    assert [e["kind"] for e in events if e["kind"] != "verdict"] == [
        "added", "state", "correction", "undo", "price", "state",
    ]  # fmt: skip
    assert (events[1]["note"], events[1]["who"], events[1]["happened_on"]) == ("left word", "sam", "2026-11-02")
    shown = hunt("candidate", "show", "1").stdout
    assert ADVERT.split(",")[0] in shown
    assert "900 on 2026-11-01" in shown
    found = json.loads(hunt("candidate", "show", "1", "--json").stdout)
    assert found["checked"]["verdict"] == "fits"


NOT_THERE = [
    ("show", "7"),
    ("asked", "7"),
    ("undo", "7"),
    ("note", "7", "x"),
    ("correct", "7", "lugs=8"),
    ("price", "7", "1"),
]


@pytest.mark.parametrize("args", NOT_THERE, ids=lambda args: args[0])
def test_a_number_that_is_not_there(hunt, args: tuple[str, ...]) -> None:
    result = hunt("candidate", *args)
    assert result.exit_code == 5
    assert "no candidate 7" in result.stderr
    assert "Next:" in result.stderr


def test_import_tells_bad_rows_and_keeps_the_good_if_asked(hunt, tmp_path: Path) -> None:
    file = tmp_path / "ads.csv"
    file.write_text(f'text,price\n"{ADVERT}",900\nshort\n"rear axle",cheap\n')
    refused = hunt("candidate", "import", str(file), "-b", "crawler")
    assert refused.exit_code == 3
    assert "ads.csv:3: 1 columns" in refused.stderr
    assert "ads.csv:4: price_usd 'cheap'" in refused.stderr
    assert listed(hunt) == []
    kept = hunt("candidate", "import", str(file), "-b", "crawler", "--keep-good", "--json")
    assert kept.exit_code == 0, kept.stderr
    assert json.loads(kept.stdout)["added"] == 1
    assert listed(hunt)[0]["verdict"] == "fits"


def test_import_of_a_paste_for_every_build(hunt) -> None:
    page = f"{ADVERT}\n----\nRear 14 bolt full float, 4.10, 8 lug, $300"
    result = hunt("candidate", "import", "-", "--all-builds", "--source", "club board", "--json", text=page)
    assert json.loads(result.stdout)["candidates"] == 4
    assert {one["build"] for one in listed(hunt)} == {"crawler", "trail-wagon"}


def test_import_needs_a_build_and_a_file_that_is_there(hunt) -> None:
    assert hunt("candidate", "import", "x.csv").exit_code == 2
    missing = hunt("candidate", "import", "x.csv", "-b", "crawler")
    assert missing.exit_code == 3
    assert "no file or folder x.csv" in missing.stderr
    assert hunt("candidate", "import", "x.csv", "-b", "crawlr").exit_code == 5


def test_judge_shows_what_changed(hunt, tmp_path: Path) -> None:
    hunt("candidate", "add", "-b", "crawler", text=ADVERT)
    assert "Judged 0" in hunt("candidate", "judge").stdout
    draft = DEMO.joinpath("crawler.toml").read_text().replace("landed_limit_usd = 2200", "landed_limit_usd = 200")
    place = tmp_path / "crawler.toml"
    place.write_text(draft)
    hunt("build", "add", str(place))
    (change,) = json.loads(hunt("candidate", "judge", "--json").stdout)["changed"]
    assert (change["before"], change["after"]) == ("fits", "does not fit")


FULL_DISK = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]),) * 2)
from donorbase.cli.main import cli
cli(sys.argv[2:], prog_name="donorbase")
"""


@pytest.mark.sqlite
def test_no_room_on_the_disk_is_said_and_nothing_is_lost(hunt, tmp_path: Path) -> None:
    """A limit on the size of a file stands for a full disk: writes fail in the middle of the import."""
    file = tmp_path / "ads.jsonl"
    file.write_text("".join(json.dumps({"text": f"front axle {'8 lug ' * 60} ref {n}"}) + "\n" for n in range(3000)))
    place = json.loads(hunt("db", "status", "--json").stdout)["place"]
    room = (
        sum(part.stat().st_size for part in Path(place).parent.glob(f"{Path(place).name}*") if part.is_file())
        + 1_000_000
    )
    asked = ["--db", place, "candidate", "import", str(file), "-b", "crawler", "--no-judge"]
    full = subprocess.run(
        [sys.executable, "-c", FULL_DISK, str(room), *asked], capture_output=True, text=True, timeout=240, check=False
    )
    assert full.returncode == 6, full.stderr
    assert "disk" in full.stderr
    assert "Traceback" not in full.stderr
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] == resource.RLIM_INFINITY
    house = House(place)
    assert check(house).sound
    (begun,) = gatherings(house)
    assert begun["ended_at"] is None
    house.close()
    done = json.loads(hunt(*asked[2:], "--json").stdout)
    assert done["added"] + done["known"] == 3000
    assert len(listed(hunt)) == 3000


def test_all_builds_at_once(hunt) -> None:
    found = json.loads(hunt("check", "--all-builds", "--json", text=ADVERT).stdout)
    assert [(one["build"], one["verdict"]) for one in found] == [("crawler", "fits"), ("trail-wagon", "does not fit")]
    assert hunt("check", "--all-builds", "--build", "crawler", text=ADVERT).exit_code == 2


def test_a_yard_from_its_board_to_the_walk(hunt, tmp_path: Path) -> None:
    hunt("words", "import", str(DEMO / "words.csv"))
    board = tmp_path / "board.txt"
    board.write_text("Row 12\n 2006 Tolvern Grazier 35 4x4 set 10/28/2026\nRow 3: 2012 Tolvern Grazier 25 4x4\n")
    assert "2 new vehicles" in hunt("yard", "import", "river", str(board), "--distance-mi", "30").stdout
    walk = json.loads(hunt("yard", "rows", "river", "-b", "crawler", "--json").stdout)
    assert [stop["row"] for stop in walk["stops"]] == ["3", "12"]
    shown = hunt("yard", "rows", "river", "-b", "crawler").stdout
    assert shown.index("Row 3") < shown.index("Row 12")
    assert "Bring:" in shown
    assert "river" in hunt("yard", "list").stdout
    number = walk["stops"][0]["id"]
    assert f"no. {number}" in shown
    kept = hunt("yard", "keep", "river", str(number), "-b", "crawler", "--note", "near the gate")
    assert "river, row 3: kept." in kept.stdout, kept.stderr
    assert "kept before" in hunt("yard", "keep", "river", str(number), "-b", "crawler").stdout
    (one,) = listed(hunt)
    assert (one["title"], one["distance_mi"], one["state"]) == ("river, row 3", 30, "watching")
    assert one["verdict"] == walk["stops"][0]["verdict"]
    assert hunt("yard", "keep", "river", "99", "-b", "crawler").exit_code == 5
    board.write_text("nothing to see\n")
    refused = hunt("yard", "import", "river", str(board))
    assert refused.exit_code == 3
    assert "board.txt:1: no row" in refused.stderr
