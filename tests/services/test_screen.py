"""Screening: the same lines whoever works them, in whatever shards, however often it is stopped.

What is checked against is one process that judges one listing after the other with ``Desk.check``. Invented adverts.
"""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator
from datetime import date
from functools import partial
from pathlib import Path

import pytest

from donorbase.errors import BadInput
from donorbase.services.builds import find_build
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.screen import Screening, join
from donorbase.services.screen_workers import work_beside, work_here, work_on_cluster
from donorbase.services.screening import Block, Setup, shard_of
from donorbase.services.sources import Source

BUILD = str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml")
YEAR, DAY, SIZE = 2026, date(2026, 11, 25), 5
ADVERTS = [
    f"Front axle, {2005 + n % 6} one ton, coil, ball joints, SRW, 8x170, {3.73 if n % 2 else 4.10}, ${500 + 10 * n}"
    for n in range(23)
]


def rows() -> list[dict[str, object]]:
    return [{"text": text, "distance_mi": n} for n, text in enumerate(ADVERTS)]


@pytest.fixture
def screening(tmp_path: Path) -> Screening:
    path = tmp_path / "ads.jsonl"
    lines = [json.dumps(row) for row in rows()]
    path.write_text("\n".join([*lines[:7], "rubbish", *lines[7:]]) + "\n", "utf-8")
    return screening_of(tmp_path, path)


def screening_of(folder: Path, path: Path, output: str = "out.jsonl", form: str = "jsonl", **more: object) -> Screening:
    house = House(folder / "db.sqlite3")
    source = Source(path, form, DAY, name="ads")
    return Screening(house, BUILD, [source], folder / output, YEAR, size=SIZE, **more)  # type: ignore[arg-type]


def one_by_one(house: House) -> list[dict[str, object]]:
    desk, build = Desk.of_house(house, YEAR), find_build(house, BUILD)
    return [desk.check(str(row["text"]), build, float(str(row["distance_mi"]))).verdict.as_json() for row in rows()]


def lines_of(path: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


def done(_: int) -> None:
    pass


def test_each_row_is_judged_as_check_judges_it(screening: Screening) -> None:
    assert screening.rows() == 24
    assert screening.run(work_here, done) == 0
    found = lines_of(screening.output)
    assert found[7] == {"place": "ads:8", "fault": "not JSON (Expecting value: line 1 column 1 (char 0))"}
    good = [line for line in found if "fault" not in line]
    for line, alone in zip(good, one_by_one(screening.house), strict=True):
        assert {name: line[name] for name in ("verdict", "chance", "reasons", "cost_usd")} == {
            name: alone[name] for name in ("verdict", "chance", "reasons", "cost_usd")
        }
    assert not list(screening.output.parent.glob("*.part"))


@pytest.mark.slow
def test_processes_beside_give_the_same(screening: Screening, tmp_path: Path) -> None:
    screening.run(work_here, done)
    other = screening_of(tmp_path, tmp_path / "ads.jsonl", "beside.jsonl")
    other.run(partial(work_beside, workers=2), done)
    assert other.output.read_bytes() == screening.output.read_bytes()


def test_shards_joined_give_the_same(screening: Screening, tmp_path: Path) -> None:
    screening.run(work_here, done)
    parts = []
    for n in (1, 2, 3):
        one = screening_of(tmp_path, tmp_path / "ads.jsonl", f"part-{n}.jsonl", shard=(n, 3))
        one.run(work_here, done)
        parts.append(one.output)
    whole = tmp_path / "joined.jsonl"
    assert join(parts, whole, SIZE) == 24
    assert whole.read_bytes() == screening.output.read_bytes()
    with pytest.raises(BadInput, match="no file"):
        join([*parts, tmp_path / "missing.jsonl"], whole, SIZE)


@pytest.mark.parametrize("stop_after", [0, 1, 3])
def test_a_stopped_run_goes_on_where_it_was(screening: Screening, tmp_path: Path, stop_after: int) -> None:
    whole = screening_of(tmp_path, tmp_path / "ads.jsonl", "whole.jsonl")
    whole.run(work_here, done)
    worked: list[int] = []

    def stopping(setup: Setup, blocks: Iterable[Block]) -> Iterator[list[str]]:
        for number, block in enumerate(blocks):
            if number == stop_after:
                raise KeyboardInterrupt
            yield from work_here(setup, [block])

    def watched(setup: Setup, blocks: Iterable[Block]) -> Iterator[list[str]]:
        for block in blocks:
            worked.append(block.number)
            yield from work_here(setup, [block])

    with pytest.raises(KeyboardInterrupt):
        screening.run(stopping, done)
    assert not screening.output.exists()
    (part,) = tmp_path.glob("out.jsonl.*.part")
    with part.open("ab") as file:
        file.write(b'{"place": "half a li')  # as a kill in the middle of a write leaves it
    assert screening.run(watched, done) == stop_after * SIZE
    assert worked == list(range(stop_after, 5))
    assert screening.output.read_bytes() == whole.output.read_bytes()


def test_lines_of_another_beginning_are_not_taken(screening: Screening, tmp_path: Path) -> None:
    def one_block(setup: Setup, blocks: Iterable[Block]) -> Iterator[list[str]]:
        yield from work_here(setup, list(blocks)[:1])
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        screening.run(one_block, done)
    with (tmp_path / "ads.jsonl").open("a", encoding="utf-8") as file:
        file.write(json.dumps({"text": "rear axle, 14 bolt, 1990, 400"}) + "\n")
    assert screening.run(work_here, done) == 0


def test_parquet_gives_what_jsonl_gives(screening: Screening, tmp_path: Path) -> None:
    duckdb = pytest.importorskip("duckdb")
    plain = tmp_path / "plain.jsonl"
    plain.write_text("".join(json.dumps(row) + "\n" for row in rows()), "utf-8")
    target = tmp_path / "ads.parquet"
    with duckdb.connect() as connection:
        connection.execute(f"copy (select * from read_json_auto('{plain}')) to '{target}' (format parquet)")
    one = screening_of(tmp_path, plain, "plain-out.jsonl")
    other = screening_of(tmp_path, target, "parquet-out.jsonl", "parquet")
    one.run(work_here, done)
    other.run(work_here, done)
    assert lines_of(other.output) == lines_of(one.output)
    bad = screening_of(tmp_path, plain, "x.jsonl", "parquet")
    with pytest.raises(BadInput, match="no Parquet"):
        bad.rows()


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_a_cluster_gives_the_same_though_a_worker_is_killed(screening: Screening, tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed")
    screening.run(work_here, done)
    other = screening_of(tmp_path, tmp_path / "ads.jsonl", "cluster.jsonl")
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        pids = [worker.pid for worker in cluster.workers.values()]

        def and_kill(setup: Setup, blocks: Iterable[Block]) -> Iterator[list[str]]:
            for number, lines in enumerate(work_on_cluster(setup, blocks, cluster.scheduler_address)):
                if number == 0:
                    os.kill(pids[0], signal.SIGKILL)
                yield lines

        other.run(and_kill, done)
    assert other.output.read_bytes() == screening.output.read_bytes()


@pytest.mark.slow
def test_a_killed_command_goes_on(tmp_path: Path) -> None:
    path = tmp_path / "ads.jsonl"
    path.write_text("".join(json.dumps({"text": f"{ADVERTS[0]} no. {n}"}) + "\n" for n in range(900)), "utf-8")
    env = os.environ | {"DONORBASE_DB": str(tmp_path / "db.sqlite3")}
    command = [sys.executable, "-m", "donorbase", "screen", str(path), "--build", BUILD, "-o"]
    begun = subprocess.Popen([*command, str(tmp_path / "out.jsonl")], env=env, stderr=subprocess.DEVNULL)
    while begun.poll() is None and not any(p.stat().st_size for p in tmp_path.glob("out*.part")):
        time.sleep(0.02)
    begun.kill()
    begun.wait()
    assert not (tmp_path / "out.jsonl").exists(), "it was done before it could be killed"
    again = subprocess.run([*command, str(tmp_path / "out.jsonl")], env=env, capture_output=True, text=True, check=True)
    assert "of them before" in again.stderr
    subprocess.run([*command, str(tmp_path / "whole.jsonl")], env=env, check=True, stderr=subprocess.DEVNULL)
    assert (tmp_path / "out.jsonl").read_bytes() == (tmp_path / "whole.jsonl").read_bytes()


def test_a_shard_is_written_i_of_n() -> None:
    assert shard_of("2/5") == (2, 5)
    for wrong in ("0/5", "6/5", "2", "a/b", "-1/2", "2/", ""):
        with pytest.raises(BadInput):
            shard_of(wrong)
