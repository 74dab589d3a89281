"""The picture beside the database is believed only when it is of the present state and whole."""

from pathlib import Path

import pytest
from sqlalchemy import Engine

from donorbase.store.engine import writer
from donorbase.store.picture import Stamp, picture_path, read_picture, stamp_of, write_picture
from donorbase.store.seed import read_shipped
from donorbase.store.settings import touch

pytestmark = pytest.mark.sqlite

ROWS = {"word": [{"phrase": "dually", "meaning": "rear_wheels=dual"}], "work": []}


@pytest.fixture
def stamp(path: Path) -> Stamp:
    found = stamp_of(path, "1.0")
    assert found is not None
    return found


def test_a_picture_gives_the_rows_back(path: Path, engine: Engine, stamp: Stamp) -> None:
    with engine.connect() as connection:
        rows = read_shipped(connection)
    write_picture(path, stamp, rows)
    assert read_picture(path, stamp) == rows


def test_a_change_of_the_database_makes_it_stale(path: Path, engine: Engine, stamp: Stamp) -> None:
    write_picture(path, stamp, ROWS)
    with writer(engine).begin() as connection:
        touch(connection)
    later = stamp_of(path, "1.0")
    assert later is not None
    assert later != stamp
    assert read_picture(path, later) is None


def test_another_release_does_not_believe_it(path: Path, stamp: Stamp) -> None:
    write_picture(path, stamp, ROWS)
    other = stamp_of(path, "1.1")
    assert other is not None
    assert read_picture(path, other) is None


SPOILT = [
    pytest.param(lambda text: text[:-20], id="cut short"),
    pytest.param(lambda text: text.replace("dual", "none"), id="changed by hand"),
    pytest.param(lambda text: "", id="empty"),
    pytest.param(lambda text: "[]\n{}", id="another thing"),
]


@pytest.mark.parametrize("spoil", SPOILT)
def test_a_spoilt_picture_is_not_believed(path: Path, stamp: Stamp, spoil) -> None:  # type: ignore[no-untyped-def]
    write_picture(path, stamp, ROWS)
    assert read_picture(path, stamp) == ROWS
    picture = picture_path(path)
    picture.write_text(spoil(picture.read_text()))
    assert read_picture(path, stamp) is None


def test_no_stamp_where_there_is_no_database_of_ours(tmp_path: Path) -> None:
    assert stamp_of(tmp_path / "none.sqlite3", "1.0") is None
    (tmp_path / "words").write_text("no database")
    assert stamp_of(tmp_path / "words", "1.0") is None
    assert not (tmp_path / "none.sqlite3").exists()


def test_where_it_cannot_be_written_nothing_fails(path: Path, stamp: Stamp) -> None:
    picture_path(path).mkdir()
    write_picture(path, stamp, ROWS)
    assert read_picture(path, stamp) is None
    assert [p.name for p in path.parent.glob("*.part")] == []
