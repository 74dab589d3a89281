"""The database from the command line: out, in, over, back, and who did what."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from .conftest import runner_on  # type: ignore[import-not-found]  # tests are no package for mypy


@pytest.fixture
def used(run_fresh):
    assert run_fresh("words", "add", "grazier 35", "donor_line=line-A").exit_code == 0
    return run_fresh


def phrases(run) -> list[str]:
    return [word["phrase"] for word in json.loads(run("words", "list", "--json").stdout)]


def test_out_of_one_database_and_into_another(used, tmp_path: Path, new_place: Callable[[], str]) -> None:
    file = tmp_path / "all.jsonl"
    assert "which you alone may read" in used("db", "export", str(file)).stdout
    other = runner_on(new_place())
    assert "taken in" in other("db", "import", str(file)).stdout
    assert phrases(other) == ["grazier 35"]
    again = other("db", "import", str(file))
    assert (again.exit_code, "not empty" in again.stderr) == (3, True)


def test_a_copy_is_told_to_be_the_same(used, new_place: Callable[[], str]) -> None:
    place = new_place()
    assert "both sides hold the same" in used("db", "copy", place).stdout
    assert phrases(runner_on(place)) == ["grazier 35"]


def test_history_says_who(used, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DONORBASE_WHO", "Kim")
    used("words", "remove", "grazier 35")
    newest, first = json.loads(used("db", "history", "--json").stdout)
    assert (newest["who"], newest["did"], first["did"]) == ("Kim", "removed", "added")
    assert "grazier 35" in used("db", "history").stdout


def test_back_for_an_older_program(used) -> None:
    told = used("db", "back", "0008")
    assert "schema 0008" in told.stdout
    assert json.loads(used("db", "status", "--json").stdout)["schema"] == "0008"
    assert phrases(used) == ["grazier 35"]


def test_backed_up_and_restored(used, tmp_path: Path) -> None:
    copy = tmp_path / "copies" / "one.sqlite3"
    assert str(copy) in used("db", "backup", str(copy)).stdout
    used("words", "remove", "grazier 35")
    assert "Restored" in used("db", "restore", str(copy)).stdout
    assert phrases(used) == ["grazier 35"]


@pytest.mark.sqlite
def test_what_is_saved_of_a_damaged_file_is_told(used) -> None:
    place = Path(json.loads(used("db", "status", "--json").stdout)["place"])
    content = bytearray(place.read_bytes())
    page = content.index(b"grazier 35") // 4096
    content[page * 4096 : (page + 1) * 4096] = b"\xff" * 4096
    place.write_bytes(content)
    assert used("db", "check").exit_code == 6
    told = used("db", "salvage")
    assert told.exit_code == 0, told.stderr
    for words in ("rows unreadable", "is sound", "donorbase db restore"):
        assert words in told.stdout


@pytest.mark.postgresql
def test_roles_are_printed_for_the_owner_to_run(used) -> None:
    sql = used("db", "roles").stdout
    assert "GRANT SELECT ON ALL TABLES" in sql
    assert "REVOKE UPDATE, DELETE ON change" in sql
