"""Copies are made and put back whole, tried before they replace anything; of a damaged file is saved what can be."""

import multiprocessing
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from multiprocessing.synchronize import Event
from pathlib import Path

import pytest

from donorbase.errors import BadDatabase
from donorbase.reference.load import load_catalogue
from donorbase.services import backups, words
from donorbase.services.database import check, status
from donorbase.services.house import House
from donorbase.services.shelf_files import export_shelf
from donorbase.store.backup import KEPT
from donorbase.store.builds import keep_build
from donorbase.store.engine import engine_of, writer
from donorbase.store.file_check import in_plain
from donorbase.store.migrate import downgrade
from donorbase.store.revision import newest_revision

EARLIER = "0008"


@pytest.fixture
def copy(lived: House, tmp_path: Path) -> Path:
    return backups.backup(lived, tmp_path / "copies" / "one.sqlite3")


@pytest.fixture
def changed(lived: House, copy: Path) -> House:
    """A house that went on after the copy was made."""
    words.add_word(lived, "later", "lugs=6")
    return lived


def phrases(house: House) -> list[str]:
    return [word.phrase for word in words.list_words(house)]


def go_back(place: str, revision: str) -> None:
    engine = writer(engine_of(place, foreign_keys=False))
    with engine.begin() as connection:
        downgrade(connection, revision)
    engine.dispose()


def test_what_was_saved_comes_back_and_what_was_there_is_kept(changed: House, copy: Path) -> None:
    shelf = export_shelf(changed)
    kept = backups.restore(changed, copy)
    assert phrases(changed) == ["grazier 35"]
    assert export_shelf(changed) == shelf
    assert kept in status(changed).backups
    backups.restore(changed, kept)
    assert phrases(changed) == ["grazier 35", "later"]
    assert not list(changed.backups.glob("trial*"))


def test_a_copy_of_an_earlier_release_is_brought_up_to_date_before_it_replaces(changed: House, copy: Path) -> None:
    go_back(str(copy), EARLIER)
    backups.restore(changed, copy)
    assert phrases(changed) == ["grazier 35"]
    assert status(changed).schema == newest_revision()
    with closing(sqlite3.connect(copy)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == (EARLIER,)


def newer(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.commit()


def torn(copy: Path) -> None:
    content = copy.read_bytes()
    copy.write_bytes(content[:8192] + b"\xff" * 40_960 + content[49_152:])


def unlinked(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("DELETE FROM listing")
        connection.commit()


def strange(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("ALTER TABLE part RENAME TO partridge")
        connection.commit()


def gone(copy: Path) -> None:
    copy.unlink()


@pytest.mark.parametrize("spoil", [newer, torn, unlinked, strange, gone], ids=lambda spoil: spoil.__name__)
def test_a_copy_that_does_not_stand_the_trial_replaces_nothing(
    spoil: Callable[[Path], None], changed: House, copy: Path
) -> None:
    spoil(copy)
    with pytest.raises(BadDatabase) as wrong:
        backups.restore(changed, copy)
    assert "trial" not in wrong.value.what
    assert wrong.value.next_step
    assert phrases(changed) == ["grazier 35", "later"]
    assert check(changed).sound


@pytest.mark.sqlite
def test_a_copy_replaces_a_file_that_cannot_be_opened_any_more(changed: House, copy: Path) -> None:
    assert changed.path
    changed.close()
    changed.path.write_bytes(b"SQLite format 3\0" + b"\xff" * 50_000)
    kept = backups.restore(changed, copy)
    assert phrases(changed) == ["grazier 35"]
    assert "damaged" in kept.name
    assert kept.stat().st_size == 50_016, "what was there can still be looked at"


@pytest.mark.sqlite
def test_a_file_that_is_in_use_or_no_database_is_not_set_aside(
    changed: House, copy: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("dear friend, this is no database at all, keep it well and write soon")
    with pytest.raises(BadDatabase, match="another kind of file"):
        backups.restore(House(letter), copy)
    assert letter.read_text().startswith("dear friend")

    def locked(*_: object) -> None:
        raise in_plain(changed.place, "database is locked")

    monkeypatch.setattr("donorbase.services.backups.backup", locked)
    with pytest.raises(BadDatabase, match="in use"):
        backups.restore(changed, copy)
    assert phrases(changed) == ["grazier 35", "later"]
    assert not [file for file in tmp_path.rglob("*") if "damaged" in file.name]


@pytest.mark.sqlite
def test_before_each_import_there_is_a_copy_and_the_last_ten_are_kept(house: House, tmp_path: Path) -> None:
    file = tmp_path / "words.csv"
    for number in range(KEPT + 2):
        file.write_text(f"phrase,meaning\nword {number},lugs=8\n")
        words.import_words(house, file)
    found = backups.copies(house.backups)
    assert len(found) == KEPT
    assert all("before-import" in one.name for one in found)
    with closing(sqlite3.connect(found[-1])) as last:
        assert last.execute("SELECT count(*) FROM word WHERE origin = 'user'").fetchone() == (KEPT + 1,)


@pytest.mark.postgresql
def test_before_a_server_is_migrated_all_of_it_is_kept_in_a_file(lived: House, tmp_path: Path) -> None:
    shelf = export_shelf(lived)
    lived.close()
    go_back(lived.place, EARLIER)
    assert phrases(lived) == ["grazier 35"]
    (kept,) = status(lived).backups
    assert f"before-migration-{EARLIER}" in kept.name
    with closing(House(kept)) as opened:
        assert export_shelf(opened) == shelf
        assert check(opened).sound


def overwrite(path: Path, page: int) -> None:
    content = bytearray(path.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\xff" * 4096
    path.write_bytes(content)


@pytest.fixture
def damaged(lived: House) -> House:
    """The first pages of two tables are overwritten, one of the user's and one of shipped facts."""
    assert lived.path
    lived.close()
    with closing(sqlite3.connect(lived.path)) as connection:
        roots = dict(connection.execute("SELECT name, rootpage FROM sqlite_master").fetchall())
    for name in ("reading", "variant"):
        overwrite(lived.path, roots[name])
    return House(lived.path)


@pytest.mark.sqlite
def test_of_a_damaged_file_all_is_saved_that_can_be_read_and_what_is_lost_is_said(damaged: House) -> None:
    assert damaged.path
    before = damaged.path.read_bytes()
    assert not check(damaged).sound
    found = backups.salvage(damaged)
    assert damaged.path.read_bytes() == before, "the damaged file stays as it is"
    assert list(found.torn) == ["reading"]
    assert (found.saved["reading"], found.saved["sighting"], found.saved["part"]) == (0, 4, 5)
    assert found.dropped["listed_item"] == found.saved["listed_item"] > 0, "nothing without the reading it is part of"
    with closing(House(found.target)) as saved:
        assert phrases(saved) == ["grazier 35"]
        assert saved.catalogue() == load_catalogue()
        assert check(saved).sound
    kept = backups.restore(damaged, found.target)
    assert check(damaged).sound
    assert kept.exists()


@pytest.mark.sqlite
def test_rows_around_a_torn_page_are_saved(house: House) -> None:
    assert house.path
    number = 3000
    with house.writing() as connection:
        for n in range(number):
            keep_build(connection, f"build {n:05}", "x" * 60, datetime(2026, 1, 1, tzinfo=UTC))
    house.close()
    with closing(sqlite3.connect(house.path)) as connection:
        (root,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'build'").fetchone()
    # The root of so large a table names its pages: four bytes each, the middle one among the first of them.
    content = house.path.read_bytes()[(root - 1) * 4096 : root * 4096]
    cell = int.from_bytes(content[14:16], "big")
    overwrite(house.path, int.from_bytes(content[cell : cell + 4], "big"))
    found = backups.salvage(House(house.path))
    assert number - 60 < found.saved["build"] < number
    assert found.saved["build"] + found.torn["build"] == number
    with closing(House(found.target)) as saved:
        names = [one.name for one in saved.builds()]
        assert check(saved).sound
    assert len(names) == found.saved["build"]
    assert names[-1] == "build 02999"


@pytest.mark.sqlite
def test_where_nothing_can_be_read_the_backups_are_named(lived: House, copy: Path) -> None:
    assert lived.path
    kept = backups.backup(lived)
    lived.close()
    lived.path.write_bytes(b"SQLite format 3\0" + b"\xff" * 50_000)
    with pytest.raises(BadDatabase, match=r"nothing of .* can be read") as wrong:
        backups.salvage(House(lived.path))
    assert str(kept.parent) in wrong.value.next_step


def _write_pairs(place: str, ready: Event, stop: Event) -> None:
    with closing(House(place)) as house:
        number = 0
        while not stop.is_set():
            with house.keeping() as connection:
                for half in ("left", "right"):
                    keep_build(connection, f"{half} {number:05}", "", datetime(2026, 1, 1, tzinfo=UTC))
            number += 1
            if number == 3:
                ready.set()


def test_copies_are_whole_while_another_writes(house: House, tmp_path: Path) -> None:
    fork = multiprocessing.get_context("spawn")
    ready, stop = fork.Event(), fork.Event()
    writing = fork.Process(target=_write_pairs, args=(house.place, ready, stop))
    writing.start()
    assert ready.wait(60)
    copies = [backups.backup(house, tmp_path / "copies" / f"{number}.sqlite3") for number in range(3)]
    stop.set()
    writing.join(60)
    assert writing.exitcode == 0, "nobody is turned away"
    counts = []
    for copy in copies:
        with closing(sqlite3.connect(copy)) as connection:
            halves = [name.split()[::-1] for (name,) in connection.execute("SELECT name FROM build")]
        assert sorted(n for n, half in halves if half == "left") == sorted(n for n, half in halves if half == "right")
        counts.append(len(halves))
    assert counts[0] < counts[-1], "it went on writing meanwhile"
