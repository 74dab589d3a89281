"""Long work is told to a person, once a second has gone by, and to nobody else."""

import os
import pty
import subprocess
import sys
import time
from pathlib import Path

import pytest

from donorbase.cli import waiting

ROOT = Path(__file__).parents[2]


@pytest.fixture
def watched(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(waiting, "FIRST_S", 0.05)
    monkeypatch.setattr(waiting, "AGAIN_S", 0.05)


def test_what_takes_long_is_told_to_a_person(watched: None, monkeypatch, capsys) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with waiting.working("Copying"):
        time.sleep(0.3)
    told = capsys.readouterr().err.splitlines()
    assert told[0] == "Copying ..."
    assert len(told) > 2
    assert told[1].startswith("Copying ... ")


def test_what_is_quick_is_not_told(monkeypatch, capsys) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with waiting.working("Copying"):
        pass
    assert capsys.readouterr().err == ""


def test_a_pipe_is_told_nothing(watched: None, capsys) -> None:
    with waiting.working("Copying"):
        time.sleep(0.2)
    assert capsys.readouterr().err == ""


def test_an_error_ends_the_telling(watched: None, monkeypatch, capsys) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with pytest.raises(ValueError, match="no"), waiting.working("Copying"):
        raise ValueError("no")
    before = capsys.readouterr().err
    time.sleep(0.2)
    assert capsys.readouterr().err == "" == before


@pytest.mark.sqlite
@pytest.mark.parametrize("args", [["words", "list"], ["db", "backup"]], ids=["made anew", "backup"])
def test_making_and_copying_a_database_is_told_on_a_terminal(tmp_path: Path, args: list[str]) -> None:
    master, slave = pty.openpty()
    code = "from donorbase.cli import waiting; waiting.FIRST_S = 0.01; from donorbase.cli.main import run; run()"
    env = os.environ | {"DONORBASE_DB": str(tmp_path / "new.sqlite3"), "PYTHONPATH": str(ROOT), "NO_COLOR": "1"}
    done = subprocess.run(
        [sys.executable, "-c", code, *args], env=env, stdout=subprocess.PIPE, stderr=slave, check=True
    )
    os.close(slave)
    told = os.read(master, 65536).decode()
    os.close(master)
    assert "Bringing the database up to date ..." in told
    assert b"..." not in done.stdout
