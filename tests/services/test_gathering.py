"""Imports: all or nothing unless asked, never doubled, and going on after they were killed."""

import json
import signal
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import pytest

from donorbase.errors import BadInput
from donorbase.services.backups import restore
from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates
from donorbase.services.database import check
from donorbase.services.desk import Desk
from donorbase.services.gathering import gather, gatherings, look_through, refuse_faults
from donorbase.services.house import House
from donorbase.services.keeping import Keeper
from donorbase.services.sources import Found, Source
from donorbase.shipped import data_dir

DAY = date(2026, 11, 1)
ROWS = 1200


@pytest.fixture
def keeper(house: House) -> Keeper:
    add_build(house, data_dir() / "demo" / "crawler.toml")
    return Keeper(house, Desk.of_house(house, 2026), ("crawler",), "owner")


def listings(path: Path, number: int, first: int = 0) -> Source:
    lines = [{"text": f"front axle, 8 lug, {3 + n % 2}.73 gears, ref {n}", "price": 100 + n} for n in range(number)]
    path.write_text("".join(json.dumps(line) + "\n" for line in lines[first:]))
    return Source(path, "jsonl", DAY)


def test_the_same_file_twice_doubles_nothing(keeper: Keeper, tmp_path: Path) -> None:
    source = listings(tmp_path / "ads.jsonl", 40)
    one, two = gather(keeper, source), gather(keeper, source)
    assert (one.added, one.known, one.candidates) == (40, 0, 40)
    assert (two.added, two.known, two.candidates) == (0, 40, 0)
    found = candidates(keeper.house)
    assert len(found) == 40
    assert [c.price_usd for c in found] == [100 + n for n in range(40)]
    assert [g["added"] for g in gatherings(keeper.house)] == [0, 40]
    assert all(g["ended_at"] for g in gatherings(keeper.house))


def test_rows_with_faults_keep_the_rest_out_unless_asked(keeper: Keeper, tmp_path: Path) -> None:
    source = listings(tmp_path / "ads.jsonl", 3)
    with source.path.open("a") as file:
        file.write('{"text": ""}\nnothing\n')
    told: list[Found] = []
    looked = look_through(source, told.append)
    assert (looked.good, looked.faulty) == (3, 2)
    assert [one.place.rpartition(":")[2] for one in told] == ["4", "5"]
    with pytest.raises(BadInput, match=r"2 rows of .* nothing was kept") as refused:
        refuse_faults(looked, source.told, keep_good=False)
    assert "--keep-good" in refused.value.next_step
    refuse_faults(looked, source.told, keep_good=True)
    done = gather(keeper, source)
    assert (done.added, done.faulty) == (3, 2)


@pytest.mark.sqlite
def test_an_import_is_backed_up_first(keeper: Keeper, tmp_path: Path) -> None:
    gather(keeper, listings(tmp_path / "one.jsonl", 5))
    second = gather(keeper, listings(tmp_path / "two.jsonl", 9, first=5))
    assert second.backup is not None
    assert len(candidates(keeper.house)) == 9
    restore(keeper.house, second.backup)
    assert len(candidates(keeper.house)) == 5


def test_a_source_without_a_listing_says_so(tmp_path: Path) -> None:
    (tmp_path / "empty.jsonl").write_text("\n\n")
    source = Source(tmp_path / "empty.jsonl", "jsonl", DAY)
    with pytest.raises(BadInput, match="holds no listing"):
        refuse_faults(look_through(source, print), source.told, keep_good=True)


IMPORTING = "import sys; from donorbase.cli.main import cli; cli(sys.argv[1:], prog_name='donorbase')"


def import_(house: House, path: Path) -> "subprocess.Popen[bytes]":
    asked = ["--db", house.place, "candidate", "import", str(path), "--build", "crawler", "--no-judge"]
    return subprocess.Popen([sys.executable, "-c", IMPORTING, *asked], stderr=subprocess.PIPE, stdout=subprocess.PIPE)


def kept_texts(house: House) -> list[str]:
    with house.reading() as connection:
        rows = connection.exec_driver_sql("SELECT text FROM sighting JOIN candidate USING (listing_id)").all()
    return [row[0] for row in rows]


@pytest.mark.parametrize("kept_before_the_kill", [0, 1, 2])
def test_killed_in_the_middle_it_goes_on_and_loses_and_doubles_nothing(
    keeper: Keeper, tmp_path: Path, kept_before_the_kill: int
) -> None:
    """Killed when a backup stands, after one batch, and after two: each batch is there whole or not at all."""
    house, source = keeper.house, listings(tmp_path / "ads.jsonl", ROWS)
    running = import_(house, source.path)
    until = time.monotonic() + 120
    while running.poll() is None and time.monotonic() < until:
        begun = gatherings(house)
        if begun and (begun[0]["added"] >= 500 * kept_before_the_kill):
            break
        time.sleep(0.02)
    running.send_signal(signal.SIGKILL)
    running.communicate()
    there = len(kept_texts(house))
    assert there in (0, 500, 1000, ROWS)
    assert check(house).sound
    again = import_(house, source.path)
    told = again.communicate(timeout=240)
    assert again.returncode == 0, told
    texts = kept_texts(house)
    assert len(texts) == len(set(texts)) == ROWS
    assert gatherings(house)[0]["known"] == there


def test_ctrl_c_says_that_nothing_is_lost_and_how_to_go_on(keeper: Keeper, tmp_path: Path) -> None:
    house, source = keeper.house, listings(tmp_path / "ads.jsonl", 4000)
    running = import_(house, source.path)
    until = time.monotonic() + 120
    while not (begun := gatherings(house)) and time.monotonic() < until:
        time.sleep(0.02)
    assert begun, "the import never began"
    running.send_signal(signal.SIGINT)
    _, told = running.communicate(timeout=120)
    assert running.returncode == 1
    assert b"goes on from there" in told
    assert b"Traceback" not in told
    assert len(kept_texts(house)) % 500 == 0
    assert gatherings(house)[0]["ended_at"] is None


def test_two_imports_at_once_double_nothing(keeper: Keeper, tmp_path: Path) -> None:
    source = listings(tmp_path / "ads.jsonl", 600)
    running = [import_(keeper.house, source.path) for _ in range(2)]
    told = [one.communicate(timeout=240) for one in running]
    assert [one.returncode for one in running] == [0, 0], told
    texts = kept_texts(keeper.house)
    assert len(texts) == len(set(texts)) == 600
