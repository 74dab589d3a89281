"""The main job from the command line: read, identify, judge, find, show, teach, keep."""

import json
from pathlib import Path

import pytest

ADVERT = "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $900 obo, 555-0101"
CRAWLER = Path(__file__).parents[2] / "data" / "demo" / "crawler.toml"


def test_read_shows_the_words_that_gave_each_fact(run) -> None:
    result = run("read", text=ADVERT)
    assert result.exit_code == 0, result.stderr
    assert "170 mm" in result.stdout
    assert "8x170" in result.stdout


def test_read_json_has_the_labels_form_and_evidence(run) -> None:
    found = json.loads(run("read", "-", "--json", text=ADVERT).stdout)
    (item,) = found["items"]
    assert item["years"] == [2008, 2008]
    assert item["bolt_circle_mm"] == 170.0
    assert found["price_usd"] == 900
    spans = [fact for fact in found["evidence"]["items"][0] if fact["attribute"] == "ratio"]
    assert spans[0]["words"] == ["3.73"]


def test_read_steps_shows_every_step(run) -> None:
    result = run("read", "--steps", text=ADVERT)
    assert result.exit_code == 0
    assert len(result.stdout.splitlines()) > 10


def test_identify_from_measurements(run) -> None:
    saws = [
        "--saw",
        "lugs=8",
        "--saw",
        "stud_across_mm=170",
        "--saw",
        "outer_splines=35",
        "--saw",
        "suspension=coil",
    ]
    found = json.loads(run("identify", *saws, "--json").stdout)
    assert found["identification"][0]["variant"].startswith("front-9.75-balljoint/a-20")
    assert sum(c["probability"] for c in found["identification"]) == pytest.approx(1.0, abs=1e-3)
    assert found["next"][0]["how"]


def test_identify_uses_the_rest_when_one_entry_is_impossible(run) -> None:
    result = run("identify", "--saw", "lugs=7", "--saw", "tube_in=35", "--saw", "knuckle=kingpin")
    assert result.exit_code == 0
    assert "tube" in result.stdout
    assert "kingpin" in result.stdout


def test_identify_jsonl(run, tmp_path: Path) -> None:
    file = tmp_path / "saw.jsonl"
    file.write_text('{"id": "x", "saw": {"lugs": 8, "bolt_circle_mm": 170, "outer_splines": 35}}\n')
    line = json.loads(run("identify", "--jsonl", str(file)).stdout)
    assert line["id"] == "x"
    assert {"identification", "next"} <= line.keys()


def test_identify_asks_the_best_question_first_and_takes_no_for_an_answer(run) -> None:
    result = run("identify", "--ask", text="\n" * 80)
    assert result.exit_code == 0
    assert "So far" in result.stderr


def test_check_gives_verdict_reasons_and_money(run) -> None:
    result = run("check", "--build", str(CRAWLER), "--distance-mi", "20", text=ADVERT)
    assert result.exit_code == 0, result.stderr
    assert "FITS" in result.stdout
    assert "landed" in result.stdout
    assert "certify" in result.stdout, "the caution is part of every verdict"


def test_check_json(run) -> None:
    found = json.loads(run("check", "--build", str(CRAWLER), "--json", text=ADVERT).stdout)
    assert found["verdict"] in {"fits", "fits with work", "unclear", "does not fit"}
    assert {"identification", "verdict", "chance", "reasons", "questions", "work", "cost_usd"} <= found["items"][
        0
    ].keys()


def test_check_jsonl_takes_builds_as_objects_and_by_name(run_fresh, tmp_path: Path) -> None:
    assert run_fresh("build", "add", str(CRAWLER)).exit_code == 0
    plain = json.loads(run_fresh("build", "show", "crawler", "--json").stdout)
    file = tmp_path / "s.jsonl"
    rows = [{"id": n, "build": b, "listing": ADVERT, "distance_mi": 20} for n, b in (("a", plain), ("b", "crawler"))]
    file.write_text("".join(json.dumps(row) + "\n" for row in rows))
    result = run_fresh("check", "--jsonl", str(file))
    assert result.exit_code == 0, result.stderr
    first, second = map(json.loads, result.stdout.splitlines())
    assert first.keys() == {"id", "verdict", "chance", "reasons", "questions", "cost_usd"}
    assert {**first, "id": ""} == {**second, "id": ""}


def test_find_keeps_what_is_not_known_apart(run) -> None:
    query = ["--position", "front", "--outer-splines", "35+", "--lugs", "8", "--ratio-sold", "5.13"]
    found = json.loads(run("find", *query, "--json").stdout)
    assert "front-9.75-balljoint/a-2005-2010-srw" in [row["variant"] for row in found["meets"]]
    assert "front-9.75-balljoint/a-2017-on-srw" not in [row["variant"] for row in found["meets"] + found["not_known"]]
    assert all(row["not_known"] for row in found["not_known"])


def test_find_csv(run) -> None:
    lines = run("find", "--family", "front-9.75-kingpin", "--csv").stdout.splitlines()
    assert lines[0].startswith("axle,")
    assert len(lines) == 8


def test_show_two_puts_what_differs_first(run) -> None:
    keys = ["front-9.75-balljoint/a-2005-2010-srw", "front-9.75-balljoint/a-2005-2010-drw"]
    result = run("show", *keys)
    assert result.exit_code == 0
    assert "bolt circle" in result.stdout
    assert "200 mm" in result.stdout


def test_words_are_taught_and_read_by(run_fresh, tmp_path: Path) -> None:
    advert = "Mulvane Ox 35 front axle, 2009, coil springs, 8 lug, $700"
    before = json.loads(run_fresh("read", "--json", text=advert).stdout)
    assert "donor_line" not in before["items"][0]
    assert run_fresh("words", "add", "Mulvane Ox 35", "donor_line=line-A; load_class=one-ton").exit_code == 0
    after = json.loads(run_fresh("read", "--json", text=advert).stdout)
    assert after["items"][0]["donor_line"] == "line-A"
    assert after["items"][0]["load_class"] == "one-ton"
    exported = tmp_path / "words.csv"
    exported.write_text(run_fresh("words", "export").stdout)
    assert run_fresh("words", "remove", "mulvane ox 35").exit_code == 0
    assert run_fresh("words", "list", "--json").stdout.strip() == "[]"
    assert run_fresh("words", "import", str(exported)).exit_code == 0
    assert "Mulvane Ox 35" in run_fresh("words", "list").stdout


def test_the_sheet_names_every_line_and_family(run) -> None:
    sheet = run("words", "sheet").stdout
    assert sheet.count("donor_line=") == 6
    assert sheet.count("family=") == 33


def test_a_build_is_kept_shown_and_forgotten(run_fresh) -> None:
    assert run_fresh("build", "add", str(CRAWLER), "--name", "mine").exit_code == 0
    assert "mine" in run_fresh("build", "list").stdout
    shown = run_fresh("build", "show", "mine")
    assert "at least 35" in shown.stdout
    assert run_fresh("build", "remove", "mine").exit_code == 0
    assert run_fresh("build", "show", "mine").exit_code == 5


def test_demo_shows_the_whole_job_in_its_own_database(tmp_path: Path) -> None:
    from tests.cli.conftest import runner_on

    usual = tmp_path / "usual.sqlite3"
    result = runner_on(usual)("demo")
    assert result.exit_code == 0, result.stderr
    for verdict in ("FITS", "FITS WITH WORK", "UNCLEAR", "does not fit"):
        assert verdict in result.stdout
    assert not usual.exists()


def test_db_status_and_check(run_fresh) -> None:
    assert run_fresh("words", "list").exit_code == 0
    assert json.loads(run_fresh("db", "status", "--json").stdout)["counts"]["variants"] >= 137
    assert run_fresh("db", "check").exit_code == 0


def test_identify_with_a_build_asks_what_may_change_the_verdict(run) -> None:
    saws = ["--saw", "lugs=8", "--saw", "knuckle=ball-joint", "--saw", "suspension=coil", "--saw", "years=2008"]
    found = json.loads(run("identify", *saws, "--build", str(CRAWLER), "--json").stdout)
    asked = [question["attribute"] for question in found["next"]]
    assert "bolt_circle_mm" in asked or "rear_wheels" in asked
    assert any("change the verdict" in note for note in found["notes"])


def test_lookalikes(run) -> None:
    found = json.loads(run("lookalikes", "front-9.75-balljoint/a-2005-2010-srw", "--json").stdout)
    assert found[0]["telling"]
    assert run("lookalikes", "front-9.75-balljoint").exit_code == 3


def test_claims_and_priors(run_fresh, tmp_path: Path) -> None:
    advert = tmp_path / "advert.txt"
    advert.write_text("Front axle, 35 spline outer shafts, 8 lug, $500")
    kept = run_fresh("claims", "add", str(advert), "--axle", "barn", "--saw", "outer_splines=30", "--saw", "lugs=8")
    assert kept.exit_code == 0, kept.stderr
    assert "differs" in kept.stdout
    assert "barn" in run_fresh("claims", "list").stdout
    assert json.loads(run_fresh("claims", "rates", "--json").stdout)["rates"][0]["counts"] is False
    assert run_fresh("claims", "use", "off").exit_code == 0
    assert run_fresh("claims", "remove", "barn").exit_code == 0
    assert run_fresh("priors", "set", "rear-10.50-fourteen-bolt/*", "12").exit_code == 0
    assert "12" in run_fresh("priors", "list").stdout
    assert run_fresh("priors", "remove", "rear-10.50-fourteen-bolt/*").exit_code == 0
    assert run_fresh("priors", "set", "nothing-like-it/*", "2").exit_code == 3
