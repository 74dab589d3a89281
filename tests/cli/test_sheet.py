"""``sheet``: for print, for a phone, for programs."""

import json
import re
from pathlib import Path

CRAWLER = str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml")
AXLE = "front-9.75-balljoint/a-2005-2010-srw"
ADVERT = "Front axle out of an 06 one ton, coil, ball joints, 4.10, 8 lug. Locks by hand. 900 obo 555-0142"


def test_a_kind_of_axle_for_print(run) -> None:
    result = run("sheet", AXLE, "--build", CRAWLER, "--text")
    assert result.exit_code == 0, result.stderr
    lines = result.stdout.splitlines()
    assert max(len(line) for line in lines[:-3]) <= 78
    titles = ["BEFORE YOU REACH IN", "ENDS THE DEAL", "BRINGS THE PRICE DOWN", "WRITE IT DOWN"]
    assert [line for line in lines if line in titles] == titles
    assert "outer shaft splines: 35; the build asks at least 35. Found: ____________" in result.stdout
    assert "licensed" in result.stdout


def test_an_advert_on_a_page(run, tmp_path: Path) -> None:
    page = tmp_path / "sheet.html"
    result = run("sheet", "--listing", "-", "--build", CRAWLER, "-o", str(page), text=ADVERT)
    assert result.exit_code == 0, result.stderr
    html = page.read_text("utf-8")
    assert html.count("<svg") >= 6
    assert "What decides" in html
    assert "bolt circle" in html
    assert not re.search(r"<script|src=|href=|@import|url\(", html), "the page must need nothing from elsewhere"


def test_words_of_an_advert_do_nothing_to_the_page(run, tmp_path: Path) -> None:
    page = tmp_path / "sheet.html"
    text = f"<script>alert(1)</script> <img src=x onerror=y> {ADVERT}"
    assert run("sheet", "--listing", "-", "--build", CRAWLER, "-o", str(page), text=text).exit_code == 0
    html = page.read_text("utf-8")
    assert "<script" not in html
    assert "<img" not in html


def test_what_decides_comes_first_among_what_ends_the_deal(run) -> None:
    found = json.loads(run("sheet", "--listing", "-", "--build", CRAWLER, "--json", text=ADVERT).stdout)
    axle = found["axles"][0]
    stops = [look for look in axle["looks"] if look["weight"] == "stop"]
    decides = [look["decides"] for look in stops]
    assert any(decides)
    assert decides == sorted(decides, reverse=True)
    assert axle["looks"][0]["weight"] == "safe"
    assert all(look["basis"] for look in axle["looks"])


def test_a_candidate(run_fresh) -> None:
    assert run_fresh("build", "add", CRAWLER).exit_code == 0
    kept = run_fresh("candidate", "add", "-", "--build", "crawler", "--zip", "00601", text=ADVERT)
    assert kept.exit_code == 0, kept.stderr
    result = run_fresh("sheet", "1")
    assert result.exit_code == 0, result.stderr
    assert "candidate 1; ZIP 00601" in result.stdout
    assert "asked 900 USD" in result.stdout
    assert run_fresh("sheet", "1", "--build", "other").exit_code == 3


def test_a_hazard_stands_on_the_sheet_and_is_asked_about(run) -> None:
    text = (
        "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, 35 spline outers, hub to hub, driver side. "
        "$900 obo. It went through a fire."
    )
    result = run("sheet", "--listing", "-", "--build", CRAWLER, "--text", text=text)
    assert result.exit_code == 0, result.stderr
    told = " ".join(result.stdout.split())
    assert "unclear as told so far: the donor burned" in told
    assert "1. fire: How far did the fire reach" in told


def test_wrong_use(run) -> None:
    assert run("sheet", "--build", CRAWLER).exit_code == 2
    assert run("sheet", AXLE, "--listing", "x", "--build", CRAWLER).exit_code == 2
    no_axle = run("sheet", "--listing", "-", "--build", CRAWLER, text="set of wheels 8x170, 200")
    assert no_axle.exit_code == 3
    assert "no axle is on offer" in no_axle.stderr
    assert run("sheet", "front-9.75-balljoint/zzz", "--build", CRAWLER).exit_code == 5
    assert run("sheet", "999", "--build", CRAWLER).exit_code == 5
