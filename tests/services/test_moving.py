"""From one database into another, whatever either runs on, and out and back in: nothing is lost and nothing changed."""

import json
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from donorbase.errors import BadDatabase, BadInput
from donorbase.services import backups, words
from donorbase.services.candidates import candidates
from donorbase.services.database import check
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, note
from donorbase.services.moving import copy_database, export_database, import_database
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf_files import export_shelf
from donorbase.shipped import data_fingerprint
from donorbase.store.rows import SHIPPED_TABLES

from .lived_in import WHEN, live_in  # type: ignore[import-not-found]  # tests are no package for mypy


@pytest.fixture
def other(new_place: Callable[[], str]) -> Iterator[House]:
    with closing(House(new_place())) as house:
        yield house


def held(house: House) -> dict[str, tuple[int, str]]:
    from donorbase.store.transfer import contents_of

    with house.reading() as connection:
        return contents_of(connection)


def own(house: House) -> dict[str, tuple[int, str]]:
    return {name: told for name, told in held(house).items() if name not in (*SHIPPED_TABLES, "setting")}


def test_the_house_that_is_moved_has_rows_in_every_table(lived: House) -> None:
    empty = [name for name, (number, _) in held(lived).items() if not number]
    assert empty == ["gathering"], "an import fills that one"


def test_a_copy_holds_the_same_in_a_file_on_a_server_and_back(lived: House, other: House, tmp_path: Path) -> None:
    """On files this goes from file to file; on a server from server to server, to a file and back."""
    counts = copy_database(lived, other.place)
    assert counts["part"] == 5
    assert held(other) == held(lived)
    assert export_shelf(other) == export_shelf(lived)
    with closing(House(tmp_path / "file.sqlite3")) as file:
        copy_database(other, file.place)
        assert held(file) == held(lived)
        assert check(file).sound
        assert words.list_words(file) == words.list_words(lived)
        assert candidates(file) == candidates(lived)


@pytest.mark.postgresql
def test_what_was_moved_to_a_server_goes_on_there(other: House, tmp_path: Path) -> None:
    with closing(House(tmp_path / "file.sqlite3")) as file:
        live_in(file)
        copy_database(file, other.place)
        assert held(other) == held(file)
    tags = {part["tag"] for part in export_shelf(other)["parts"]}
    assert pull(other, Pulled("yoke"), WHEN).tag not in tags
    words.add_word(other, "another", "lugs=8")
    note(other, candidates(other)[0].id, Occasion(WHEN.on, "Kim", "numbers go on"))
    assert check(other).sound


def test_a_copy_never_goes_over_what_somebody_has(lived: House, other: House) -> None:
    other.keep_build("mine", "name = 'mine'")
    before = held(other)
    with pytest.raises(BadInput, match="not empty: it has rows of build"):
        copy_database(lived, other.place)
    assert held(other) == before
    with pytest.raises(BadInput, match="the same database"):
        copy_database(lived, lived.place)


def test_a_copy_that_comes_out_otherwise_changes_nothing(
    lived: House, other: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    from donorbase.store import transfer

    other.catalogue()
    before, fill = held(other), transfer.fill

    def careless(connection: Any, table: Any, rows: Iterator[dict[str, Any]]) -> None:
        fill(connection, table, (row | {"toml": ""} if table.name == "build" else row for row in rows))

    monkeypatch.setattr(transfer, "fill", careless)
    with pytest.raises(BadDatabase, match="not the same"):
        copy_database(lived, other.place)
    assert held(other) == before


def test_what_goes_out_comes_back_the_same(lived: House, other: House, tmp_path: Path) -> None:
    file = tmp_path / "all.jsonl"
    number = export_database(lived, file, contacts=True)
    assert number == len(file.read_text("utf-8").splitlines()) - 1
    assert oct(file.stat().st_mode & 0o777) == "0o600"
    assert import_database(other, file) == number
    assert own(other) == own(lived) | {"word": held(other)["word"]}
    assert words.list_words(other) == words.list_words(lived)
    again = tmp_path / "again.jsonl"
    export_database(other, again, contacts=True)
    assert again.read_text("utf-8").splitlines()[1:] == file.read_text("utf-8").splitlines()[1:]
    assert [p.name for p in tmp_path.rglob("*import*")] in ([], [p.name for p in backups.copies(other.backups)])


def test_unless_asked_for_contacts_are_masked_and_nothing_else(lived: House, other: House, tmp_path: Path) -> None:
    """A masked export is sound where it is taken in, and its listings are known again by their own texts."""
    whole, file = tmp_path / "whole.jsonl", tmp_path / "masked.jsonl"
    export_database(lived, whole, contacts=True)
    export_database(lived, file)
    text = file.read_text("utf-8")
    assert "555-0101" in whole.read_text("utf-8")
    assert "555-0101" not in text
    unlike = [line for line in text.splitlines()[1:] if line not in whole.read_text("utf-8")]
    assert unlike
    assert all("###-####" in line for line in unlike)
    import_database(other, file)
    assert check(other).sound
    with lived.reading() as here, other.reading() as there:
        query = "SELECT digest, length(text) FROM sighting ORDER BY id"
        assert here.exec_driver_sql(query).fetchall() == there.exec_driver_sql(query).fetchall()


def cut_short(lines: list[str]) -> list[str]:
    return lines[:-3]


def torn(lines: list[str]) -> list[str]:
    return [*lines[:-1], lines[-1][:20]]


def doubled(lines: list[str]) -> list[str]:
    return [*lines, lines[-1]]


def led_nowhere(lines: list[str]) -> list[str]:
    return [line.replace('"listing_id": 1', '"listing_id": 999') for line in lines]


def another_type(lines: list[str]) -> list[str]:
    return [line.replace('"miles": 9', '"miles": "nine"') for line in lines]


def newer(lines: list[str]) -> list[str]:
    return [json.dumps(json.loads(lines[0]) | {"schema": "9999"}), *lines[1:]]


def not_ours(lines: list[str]) -> list[str]:
    return ["{}", *lines[1:]]


def with_rows(lines: list[str], *rows: tuple[str, dict[str, Any]]) -> list[str]:
    """The same with more rows, and a first line that counts them."""
    head = json.loads(lines[0])
    head["rows"] |= {name: head["rows"].get(name, 0) + sum(of == name for of, _ in rows) for name, _ in rows}
    return [json.dumps(head), *lines[1:], *(json.dumps(row) for row in rows)]


def with_facts_of_its_own(lines: list[str]) -> list[str]:
    """Figures that say of an axle what is not so, under the mark of those that this release ships."""
    row = {"id": 9_999, "confidence": "high", "basis": "a forged source"}
    return with_rows(lines, ("basis", row), ("setting", {"name": "shipped_facts", "value": data_fingerprint()}))


def with_shipped_words_of_its_own(lines: list[str]) -> list[str]:
    word = {"phrase": "welded solid", "meaning": "differential=open", "origin": "shipped"}
    return with_rows(lines, ("word", word))


@pytest.mark.parametrize(
    "spoil",
    [
        cut_short,
        torn,
        doubled,
        led_nowhere,
        another_type,
        newer,
        not_ours,
        with_facts_of_its_own,
        with_shipped_words_of_its_own,
    ],
    ids=lambda spoil: spoil.__name__,
)
def test_nothing_is_kept_of_a_file_that_is_not_whole(
    spoil: Callable[[list[str]], list[str]], lived: House, other: House, tmp_path: Path
) -> None:
    file = tmp_path / "all.jsonl"
    export_database(lived, file)
    lines = file.read_text("utf-8").splitlines()
    changed = spoil(lines)
    assert changed != lines
    file.write_text("\n".join([*changed, ""]), "utf-8")
    other.catalogue()
    before = held(other)
    with pytest.raises((BadInput, BadDatabase)) as wrong:
        import_database(other, file)
    assert wrong.value.next_step
    assert held(other) == before


def test_an_export_goes_over_nothing(lived: House, tmp_path: Path) -> None:
    (tmp_path / "x").write_text("precious")
    with pytest.raises(BadInput, match="exists already"):
        export_database(lived, tmp_path / "x")
    with pytest.raises(BadInput, match="not empty"):
        import_database(lived, tmp_path / "x")
    assert (tmp_path / "x").read_text() == "precious"
