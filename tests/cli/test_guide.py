"""The guide: short pages in the order of the job, each term once, every command as it stands works."""

import json
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner

from donorbase.cli.main import cli
from donorbase.errors import BadData
from donorbase.reference.guide import pages, pages_from, terms


@pytest.fixture
def nowhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home without a database."""
    monkeypatch.setenv("DONORBASE_DB", str(tmp_path / "none.sqlite3"))
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


def guide(*topic: str) -> str:
    done = CliRunner().invoke(cli, ["guide", *topic])
    assert done.exit_code == 0, done.stderr
    return done.stdout


def test_the_contents_name_every_page_and_term(nowhere: Path) -> None:
    told = guide()
    assert len(pages()) >= 10
    for page in pages():
        assert f"donorbase guide {page.key}" in told
    for one in terms():
        assert one.title in " ".join(told.split())
    assert list(nowhere.iterdir()) == [], "it needs no database"


@pytest.mark.parametrize("page", pages(), ids=[page.key for page in pages()])
def test_a_page_is_short_and_leads_on(page, nowhere: Path) -> None:
    told = guide(page.key)
    assert len(told.splitlines()) < 50
    assert all(len(line) <= 80 or line.startswith("  donorbase") for line in told.splitlines())
    assert page.commands
    for command in page.commands:
        assert command in told
    assert "Next: `donorbase guide" in told or page is pages()[-1]


def test_each_term_is_explained_on_one_page() -> None:
    told = Counter(one.name for page in pages() for one in page.explains)
    assert max(told.values()) == 1
    assert len(told) > 15


@pytest.mark.parametrize("words", [["bolt", "circle"], ["bolt_circle_mm"], ["Bolt circle"]])
def test_a_term_by_its_name_or_title(words: list[str], nowhere: Path) -> None:
    told = guide(*words)
    assert "170" in told
    assert "outside of one stud" in " ".join(told.split()), "how to find it out"


def test_a_term_says_how_sellers_call_it(nowhere: Path) -> None:
    words = json.loads(guide("rear_wheels", "--json"))["words"]
    assert {"srw", "drw"} <= set(words)


def test_what_is_not_there_is_said_with_what_is_near(nowhere: Path) -> None:
    done = CliRunner().invoke(cli, ["guide", "knuckel"])
    assert done.exit_code == 5
    assert "knuckle" in done.stderr


def test_a_page_that_explains_what_is_not_defined_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "guide.toml"
    file.write_text(
        '[[page]]\nkey = "a"\ntitle = "A"\nexplains = ["bolt_circel"]\nbasis = "common practice"\n', "utf-8"
    )
    with pytest.raises(BadData, match="bolt_circel"):
        pages_from(file)
