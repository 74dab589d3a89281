"""Whatever the program writes of other people's words is for its owner alone, however careless his umask is.

POSIX: a file's mode is what was asked for less the umask, so that with a umask of nought the asking shows.
"""

import json
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from .conftest import runner_on  # type: ignore[import-not-found]  # tests are no package for mypy

DEMO = Path(__file__).parents[2] / "data" / "demo"
ADVERT = "front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver side, $900 obo, call 555-0142"


@pytest.fixture
def careless() -> Iterator[None]:
    """A umask that takes nothing away."""
    before = os.umask(0)
    yield
    os.umask(before)


@pytest.mark.sqlite
@pytest.mark.usefixtures("careless")
def test_nobody_else_reads_what_is_kept_or_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    home = tmp_path / "home"
    home.mkdir(mode=0o755)
    monkeypatch.setenv("EDITOR", "true")
    run, ads = runner_on(home / "data" / "own.sqlite3"), tmp_path / "ads.jsonl"
    ads.write_text(json.dumps({"text": ADVERT}) + "\n", "utf-8")
    done: Any = None
    for args in (
        ("build", "add", str(DEMO / "rock-truck.toml")), ("candidate", "import", str(ads), "--build", "rock-truck"),
        ("part", "add", "knuckle", "--side", "left"), ("db", "backup"), ("db", "backup", str(home / "copy.sqlite3")),
        ("db", "export", str(home / "all.jsonl"), "--contacts"), ("db", "restore", str(home / "copy.sqlite3")),
        ("report", "-b", "rock-truck", "-o", str(home / "report.html")), ("sheet", "1", "-o", str(home / "sheet.html")),
        ("part", "bill", "AAC4", "--buyer", "Kim", "-o", str(home / "bill.txt")),
        ("screen", str(ads), "--build", "rock-truck", "-o", str(home / "verdicts.jsonl")),
        ("candidate", "list"), ("build", "edit", "rock-truck"),
    ):  # fmt: skip
        done = run(*args)
        assert done.exit_code == 0, (args, done.output, done.exception)
    found = {path.relative_to(home): stat.S_IMODE(path.stat().st_mode) for path in home.rglob("*")}
    files = {path: mode for path, mode in found.items() if (home / path).is_file()}
    assert len(files) > 7, files
    assert {path: oct(mode) for path, mode in files.items() if mode & 0o077} == {}
    assert stat.S_IMODE((home / "data").stat().st_mode) == 0o700


@pytest.mark.sqlite
@pytest.mark.usefixtures("careless")
def test_what_is_being_written_is_nobody_elses_either(tmp_path: Path) -> None:
    """While the database is open its log holds the newest words."""
    place = tmp_path / "own.sqlite3"
    run = runner_on(place)
    assert run("build", "add", str(DEMO / "rock-truck.toml")).exit_code == 0
    from donorbase.services.house import House

    house = House(str(place))
    with house.keeping() as connection:
        connection.exec_driver_sql("UPDATE build SET toml = toml")
        modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in tmp_path.iterdir()}
    house.close()
    assert any(name.endswith("-wal") for name in modes), modes
    assert {name: oct(mode) for name, mode in modes.items() if mode & 0o077} == {}
