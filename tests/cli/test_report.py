"""``report``: one page of a build, without scripts, that says what the shortlist says."""

import json
import re
from pathlib import Path

import pytest

DEMO = Path(__file__).parents[2] / "data" / "demo"
HOSTILE = "<script>alert(1)</script> kingpin front axle, 85 one ton, 8x6.5, 4.56, leaf, driver side, 1800 obo"


@pytest.fixture
def kept(run_fresh):
    assert run_fresh("build", "add", str(DEMO / "rock-truck.toml")).exit_code == 0
    result = run_fresh("candidate", "import", str(DEMO / "listings.jsonl"), "--build", "rock-truck", "--keep-good")
    assert result.exit_code == 0, result.stderr
    assert run_fresh("candidate", "add", "-", "--build", "rock-truck", text=HOSTILE).exit_code == 0
    return run_fresh


def test_the_page_holds_what_the_shortlist_holds(kept, tmp_path: Path) -> None:
    page = tmp_path / "report.html"
    result = kept("report", "--build", "rock-truck", "-o", str(page))
    assert result.exit_code == 0, result.stderr
    html = page.read_text("utf-8")
    listed = json.loads(kept("shortlist", "--build", "rock-truck", "--json").stdout)["shortlist"]
    assert listed
    for one in listed:
        assert f"<td>{one['id']}</td>" in html
        assert f'<span class="verdict">{one["verdict"]}</span>' in html
    assert html.count("<svg") == 2
    assert "<h2>Pairs</h2>" in html
    assert not re.search(r"<script|src=|href=|@import|url\(", html)


def test_json_says_the_same(kept) -> None:
    found = json.loads(kept("report", "--build", "rock-truck", "--json").stdout)
    shortlist = json.loads(kept("shortlist", "--build", "rock-truck", "--count", "20", "--json").stdout)
    assert found["shortlist"] == shortlist["shortlist"]
    assert found["pairs"] == json.loads(kept("pairs", "--build", "rock-truck", "--count", "5", "--json").stdout)


def test_wrong_use(kept, tmp_path: Path) -> None:
    assert kept("report", "--build", "rock-truck").exit_code == 2
    assert kept("report", "--build", "nobody", "--json").exit_code == 5
    nowhere = kept("report", "--build", "rock-truck", "-o", str(tmp_path / "no" / "page.html"))
    assert nowhere.exit_code == 3
    assert "cannot be written" in nowhere.stderr


def test_sellers_numbers_stay_at_home_unless_asked_for(kept, tmp_path: Path) -> None:
    advert = "kingpin front 85 8x6.5 4.56, joe@example.com 555-0142. 1800"
    assert kept("candidate", "add", "-", "--build", "rock-truck", text=advert).exit_code == 0
    page = tmp_path / "page.html"
    assert kept("report", "--build", "rock-truck", "-o", str(page)).exit_code == 0
    html = page.read_text("utf-8")
    assert "[address]" in html
    assert not re.search(r"555-01\d\d|@example", html)
    assert kept("report", "--build", "rock-truck", "--contacts", "-o", str(page)).exit_code == 0
    assert "joe@example.com" in page.read_text("utf-8")
