"""What a house gives is what its database holds, by the picture or without it."""

import subprocess
import sys
from datetime import UTC
from pathlib import Path

import pytest

from donorbase.errors import BadDatabase, BadInput, NotFound
from donorbase.reference.load import load_catalogue
from donorbase.reference.words import load_words
from donorbase.services.house import House
from donorbase.services.usual_place import default_database
from donorbase.store.picture import picture_path
from donorbase.store.rows import catalogue_of

HEAVY = ("sqlmodel", "sqlalchemy", "alembic", "pydantic")


@pytest.mark.sqlite
def test_the_catalogue_equals_the_shipped_one(house: House) -> None:
    assert house.catalogue() == load_catalogue()
    assert not house.store_is_open
    assert house.fresh_catalogue() == load_catalogue()
    assert house.words() == load_words()


@pytest.mark.sqlite
def test_picture_and_database_give_the_same_rows(house: House) -> None:
    house.keep_build("rock truck", "name = 'rock truck'")
    again = House(house.place)
    pictured = again.rows()
    assert not again.store_is_open, "the picture is of the present state"
    assert catalogue_of(pictured) == house.fresh_catalogue()
    assert pictured["word"] == house.rows()["word"]
    assert again.builds() == house.builds()


@pytest.mark.sqlite
def test_reading_an_up_to_date_database_imports_no_heavy_library(house: House) -> None:
    """SQLModel alone takes most of a second to import."""
    code = (
        "import sys; from donorbase.services.house import House; from donorbase.services.find import find\n"
        "from donorbase.services.show import show; from donorbase.services.compare import compare\n"
        f"h = House({house.place!r}); assert len(h.words()) > 1000; assert h.builds() == ()\n"
        "assert find({'outer_splines': '35+'}, h).meets; a, b = list(h.catalogue().variants)[:2]\n"
        "show(a, h); compare(a, b, h)\n"
        f"print([name for name in {HEAVY} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.stdout.strip() == "[]"


@pytest.mark.sqlite
def test_without_the_picture_all_is_the_same(house: House) -> None:
    picture_path(Path(house.place)).unlink()
    assert house.catalogue() == load_catalogue()
    assert house.store_is_open
    assert picture_path(Path(house.place)).exists(), "it is drawn anew"


@pytest.mark.sqlite
def test_a_spoilt_picture_does_no_harm(house: House) -> None:
    picture_path(Path(house.place)).write_text("{}")
    assert house.catalogue() == load_catalogue()


def test_other_shipped_facts_are_taken_in(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    house.keep_build("rock truck", "name = 'rock truck'")
    monkeypatch.setattr("donorbase.services.house.data_fingerprint", lambda: "other facts")
    again = House(house.place)
    assert [build.name for build in again.builds()] == ["rock truck"]
    assert again.store_is_open, "the picture is of other facts"
    again.close()


def test_builds_are_kept_changed_and_forgotten(house: House) -> None:
    assert house.keep_build("rock truck", "name = 'one'") is True
    first = house.build("rock truck")
    assert house.keep_build("rock truck", "name = 'two'") is False
    second = house.build("rock truck")
    assert second.toml == "name = 'two'"
    assert second.made_at == first.made_at
    assert second.changed_at >= first.changed_at
    assert second.made_at.tzinfo is UTC
    with pytest.raises(NotFound) as wrong:
        house.build("rok truck")
    assert "rock truck" in wrong.value.next_step
    house.forget_build("rock truck")
    assert house.builds() == ()
    with pytest.raises(NotFound):
        house.forget_build("rock truck")


def test_a_build_needs_a_name(house: House) -> None:
    for name in ("", "  ", " x"):
        with pytest.raises(BadInput):
            house.keep_build(name, "")


def test_a_fault_while_writing_undoes_it(house: House) -> None:
    from donorbase.store.builds import keep_build

    def write_and_fail() -> None:
        from datetime import datetime

        with house.writing() as connection:
            keep_build(connection, "half", "", datetime.now(UTC))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        write_and_fail()
    assert house.builds() == ()


def test_what_is_no_database_is_told(tmp_path: Path) -> None:
    (tmp_path / "advert.txt").write_text("front axle, eight lugs, 900 dollars, come and get it")
    with pytest.raises(BadDatabase, match="not a database"):
        House(tmp_path / "advert.txt").catalogue()


PLACES = [
    ({"DONORBASE_DB": "/x/mine.db"}, "linux", "/x/mine.db"),
    ({}, "linux", "/home/u/.local/share/donorbase/donorbase.sqlite3"),
    ({"XDG_DATA_HOME": "/d"}, "linux", "/d/donorbase/donorbase.sqlite3"),
    ({}, "darwin", "/home/u/Library/Application Support/donorbase/donorbase.sqlite3"),
    ({"LOCALAPPDATA": "/l"}, "win32", "/l/donorbase/donorbase.sqlite3"),
]


@pytest.mark.parametrize(("env", "platform", "place"), PLACES)
def test_default_database(env: dict[str, str], platform: str, place: str) -> None:
    assert default_database(env, platform, Path("/home/u")) == place
