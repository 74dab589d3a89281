"""``screen``: files in, a file of verdicts out, wrong use told."""

import json
from pathlib import Path

CRAWLER = str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml")
PAGE = "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73. $900\n-----\nset of wheels 8x170, 200\n"


def test_a_page_of_adverts(run, tmp_path: Path) -> None:
    page, out = tmp_path / "ads.txt", tmp_path / "out.jsonl"
    page.write_text(PAGE, "utf-8")
    result = run("screen", str(page), "--build", CRAWLER, "-o", str(out))
    assert result.exit_code == 0, result.stderr
    assert "Judged 2 rows" in result.stderr
    axle, wheels = (json.loads(line) for line in out.read_text("utf-8").splitlines())
    assert axle["taken_for"][0].startswith("front: probably the One-ton front, 9.75-in")
    assert wheels["verdict"] == "does not fit"


def test_wrong_use_is_told(run, tmp_path: Path) -> None:
    page = tmp_path / "ads.txt"
    page.write_text(PAGE, "utf-8")
    out = ("-o", str(tmp_path / "out.jsonl"))
    assert run("screen", *out).exit_code == 2
    assert run("screen", str(page), *out).exit_code == 2
    assert run("screen", str(page), "--build", CRAWLER, "--shard", "3/2", *out).exit_code == 3
    assert run("screen", str(tmp_path / "none.jsonl"), "--build", CRAWLER, *out).exit_code == 3
    assert run("screen", str(page), "--build", "nobody", *out).exit_code == 5
    same = run("screen", str(page), "--build", CRAWLER, "-o", str(page))
    assert same.exit_code == 3
    assert page.read_text("utf-8") == PAGE
    nowhere = run("screen", str(page), "--build", CRAWLER, "-o", str(tmp_path / "no" / "out.jsonl"))
    assert nowhere.exit_code == 3
    assert "cannot be written" in nowhere.stderr
    no_cluster = run("screen", str(page), "--build", CRAWLER, "--dask", "nonsense", *out)
    assert no_cluster.exit_code == 3
    assert "no Dask scheduler" in no_cluster.stderr
