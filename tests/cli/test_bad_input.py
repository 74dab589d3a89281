"""What cannot be read is told clearly, on stderr, with a next step, and nothing is half-written."""

import os
from pathlib import Path

import pytest

from donorbase.services.intake import MAX_CHARACTERS

NOT_LISTINGS = [
    pytest.param(b"\x89PNG\r\n\x1a\n" + bytes(64), "picture", id="a picture"),
    pytest.param(b"%PDF-1.7\n%\xe2\xe3", "PDF", id="a PDF"),
    pytest.param(b"PK\x03\x04rest", "zip", id="an office file"),
    pytest.param(b"front axle\0\0\1\2", "binary", id="binary"),
    pytest.param(b"", "empty", id="nothing"),
    pytest.param(b" \n\t ", "empty", id="blanks"),
    pytest.param(b"axle " * (MAX_CHARACTERS // 5 + 1), "characters", id="far too long"),
    pytest.param(b"eje delantero a\xf1o 2008", "line 1", id="another encoding"),
]


@pytest.mark.parametrize(("raw", "word"), NOT_LISTINGS)
def test_not_a_listing(run, raw: bytes, word: str, tmp_path: Path) -> None:
    file = tmp_path / "pasted"
    file.write_bytes(raw)
    for args, text in ((["read", str(file)], None), (["read", "-"], raw), (["read"], raw)):
        result = run(*args, text=text)
        assert result.exit_code == 3, args
        assert word in result.stderr
        assert "Next:" in result.stderr
        assert result.stdout == ""
        assert "Traceback" not in result.stderr


def test_the_encoding_can_be_said(run, tmp_path: Path) -> None:
    file = tmp_path / "old.txt"
    file.write_bytes("Rear axle, 1998, 4.10, one owner, ½ price, a\xf1o".encode("cp1252"))
    result = run("read", str(file), "--encoding", "cp1252", "--json")
    assert result.exit_code == 0, result.stderr
    assert '"ratio": 4.1' in result.stdout


def test_no_such_file(run) -> None:
    result = run("read", "/nowhere/advert.txt")
    assert result.exit_code == 3
    assert "no file" in result.stderr


BAD_BUILD = """\
name = "faulty"
wants = ["front", "sideways"]

[front.must]
lugs = 8
bolt_circle_mm = 6.5
knukle = "kingpin"
outer_splines = { at_leest = 35 }

[work]
planned = ["regaer"]

[money]
landed_limit_usd = "much"
"""


def test_all_faults_of_a_build_at_once_each_with_its_line(run_fresh, tmp_path: Path) -> None:
    file = tmp_path / "faulty.toml"
    file.write_text(BAD_BUILD)
    result = run_fresh("build", "add", str(file))
    assert result.exit_code == 4
    for line, word in (
        (2, "wants"),
        (6, "bolt_circle_mm"),
        (7, "knuckle"),
        (8, "at_least"),
        (11, "regear"),
        (14, "number"),
    ):
        told = [row for row in result.stderr.splitlines() if f"faulty.toml:{line}:" in row]
        assert told, f"line {line} is not told"
        assert word in told[0]
    assert run_fresh("build", "list", "--json").stdout.strip() == "[]"


def test_an_unknown_build(run) -> None:
    result = run("check", "--build", "crawlr", text="front axle $500")
    assert result.exit_code == 5
    assert "crawlr" in result.stderr


DATABASES = [
    pytest.param(b"this is no database, it is a letter to a friend" * 40, id="a letter"),
    pytest.param(b"SQLite format 3\0" + b"\xff" * 4096, id="damaged"),
]


@pytest.mark.sqlite
@pytest.mark.parametrize("content", DATABASES)
def test_a_file_that_is_no_sound_database_is_left_as_it_is(content: bytes, tmp_path: Path) -> None:
    from tests.cli.conftest import runner_on

    place = tmp_path / "mine.sqlite3"
    place.write_bytes(content)
    result = runner_on(place)("words", "list")
    assert result.exit_code == 6
    assert str(place) in result.stderr
    assert "Next:" in result.stderr
    assert place.read_bytes() == content


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_no_rights(tmp_path: Path) -> None:
    from tests.cli.conftest import runner_on

    tmp_path.chmod(0o500)
    result = runner_on(tmp_path / "sub" / "mine.sqlite3")("words", "list")
    tmp_path.chmod(0o700)
    assert result.exit_code == 6


@pytest.mark.sqlite
def test_a_folder_is_no_database(tmp_path: Path) -> None:
    from tests.cli.conftest import runner_on

    result = runner_on(tmp_path)("words", "list")
    assert result.exit_code == 6


def test_bad_lines_of_a_jsonl_file_do_not_stop_the_good_ones(run, tmp_path: Path) -> None:
    file = tmp_path / "ads.jsonl"
    file.write_text('{"id": "a", "text": "rear axle 4.10 $300"}\nnot json\n{"id": "c"}\n{"id": "d", "text": 5}\n[]\n'
                    '{"id": "z", "text": "front axle kingpin"}\n')  # fmt: skip
    result = run("read", "--jsonl", str(file))
    assert result.exit_code == 3
    assert [line[:9] for line in result.stdout.splitlines()] == ['{"id": "a', '{"id": "z']
    for number in (2, 3, 4, 5):
        assert f"ads.jsonl:{number}:" in result.stderr


def test_a_listing_cannot_repaint_the_terminal(run) -> None:
    for args in (["read"], ["read", "--steps"]):
        result = run(*args, text="front axle \x1b[31m4.10\x1b[0m \u202e0001$ hidden\u200b words 8x170 $300")
        assert result.exit_code == 0, result.stderr
        assert "8x170" in result.stdout
        assert not {"\x1b", "\u202e", "\u200b"} & set(result.stdout)
