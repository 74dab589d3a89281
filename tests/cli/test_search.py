"""The search from the command line: what was understood is shown, and what answers."""

import json

from donorbase.shipped import data_dir

ADVERT = "Front axle off a 1979 one ton, leaf, kingpin, 8 lug, 4.10, passenger side. $600, in my barn"


def test_search_shows_its_filters_and_the_candidates(run_fresh, tmp_path):
    assert run_fresh("build", "add", str(data_dir() / "demo" / "crawler.toml")).exit_code == 0
    file = tmp_path / "advert.txt"
    file.write_text(ADVERT)
    assert run_fresh("candidate", "add", str(file), "--build", "crawler").exit_code == 0
    shown = run_fresh("search", "king", "pin", "front", "35 spline", "barn", "under 900")
    assert shown.exit_code == 0, shown.stderr
    assert "asking price: 900 USD or less; front or rear: front; shaft splines: 35; knuckle: kingpin." in shown.stdout
    assert "Words: barn." in shown.stdout
    assert "3 of 4" in shown.stdout
    found = json.loads(run_fresh("search", "kingpin", "--json").stdout)
    assert [hit["candidates"][0]["id"] for hit in found["hits"]] == [1]
    assert "No kept listing" in run_fresh("search", "kingpin over 900").stdout
    assert run_fresh("search", "kingpin", "--state", "gone").stdout.count("No kept listing") == 1


def test_a_search_for_nothing_says_what_to_write(run):
    refused = run("search", " ")
    assert refused.exit_code == 3
    assert "Next: Write what you look for" in refused.stderr


def test_what_was_put_right_is_found_and_what_was_taken_back_is_not(run_fresh) -> None:
    build = str(data_dir() / "demo" / "crawler.toml")
    assert run_fresh("build", "add", build).exit_code == 0
    text = "Front axle, 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, 900 obo"
    assert run_fresh("candidate", "add", "-", "--build", "crawler", text=text).exit_code == 0
    asked = ("search", "--json", "outer", "35", "spline")

    def met() -> list[int]:
        return [len(hit["met"]) for hit in json.loads(run_fresh(*asked).stdout)["hits"]]

    assert not any(met())
    assert run_fresh("candidate", "correct", "1", "outer_splines=35", "--measured").exit_code == 0
    assert any(met())
    assert run_fresh("candidate", "undo", "1").exit_code == 0
    assert not any(met())
