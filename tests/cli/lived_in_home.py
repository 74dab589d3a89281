"""A home in which somebody has worked for a while: files, a database, what examples of the help take for granted."""

import csv
import json
import shutil
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from tests.cli.conftest import Run, runner_on

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "data" / "demo"
AXLE = "front-9.75-kingpin/b-1977-1991-srw"
ADVERT = (
    "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver drop, 35 spline outers. $900, 555-0101"
)
BOARD = "Row 12\n  2006 drayman 35 4x4 dually  set 10/28/2026\nRow 14: 2008 drayman 35 4x4 SRW set 10/30/2026\n"

_USED = [["part", "use", "AAEY", "--build", "crawler"]]
_SHARDS = [["screen", "ads.jsonl", "--build", "crawler", "--shard", f"{i}/2", "-o", f"part-{i}.jsonl"] for i in (1, 2)]
BEFORE: dict[str, Sequence[Sequence[str]]] = {
    "candidate part": [["candidate", "join", "12", "31"]],
    "candidate undo": [["candidate", "note", "12", "hub caps gone"]],
    "claims remove": [["claims", "add", "advert.txt", "--axle", "barn-front", "--saw", "outer_splines=30"]],
    "db import": [["db", "export", "everything.jsonl"]],
    "db restore": [["db", "backup", "shelf-copy.sqlite3"]],
    "part advert": [["part", "fact", "AAC4", "lugs=8", "bolt_circle_mm=170"]],
    "part apart": [["part", "assemble", "AAEY", "AAFT", "--axle", "front-9.75-kingpin"]],
    "part card": [["part", "fact", "AAC4", "lugs=8"], ["part", "setup", "AAC4", "backlash=0.006in"]],
    "part matrix": _USED,
    "part money": _USED,
    "part needs": _USED,
    "part rejoin": [["part", "split", "AAC4"]],
    "part release": [["part", "reserve", "AAC4", "--build", "crawler"]],
    "part spares": _USED,
    "part undo": [["part", "note", "AAC4", "one stud pulled"]],
    "priors remove": [["priors", "set", "rear-10.50-fourteen-bolt/*", "12"]],
    "screen": _SHARDS,
    "words remove": [["words", "add", "drayman 35", "donor_line=line-A; load_class=one-ton"]],
}
"""What is done before the example of a command, on the home's database."""


def make_home(folder: Path, database: str) -> Path:
    """Fill a folder with files and its database, a copy of an empty one."""
    for file in Path(database).parent.glob(f"{Path(database).name}*"):
        if file.is_file():
            shutil.copy(file, folder / f"own.sqlite3{file.name.removeprefix(Path(database).name)}")
    adverts = [json.loads(line)["text"] for line in (DEMO / "listings.jsonl").read_text("utf-8").splitlines()]
    texts = {
        "advert.txt": ADVERT,
        "complete.txt": ADVERT,
        "housing.txt": "Bare front housing, 2008 one ton, 8x170, $200",
    }
    texts |= {
        "truck.txt": "Whole truck 2006 one ton 4x4 SRW, coil front, 3.73, runs, $2500 555-0101",
        "board.txt": BOARD,
    }
    for name, text in texts.items():
        (folder / name).write_text(text, "utf-8")
    for build in ("crawler", "rock-truck"):
        shutil.copy(DEMO / f"{build}.toml", folder)
    _tables(folder, adverts)
    (folder / "photos").mkdir()
    (folder / "photos" / "knuckle-left.jpg").write_bytes(b"\xff\xd8\xff")
    _keep(runner_on(folder / "own.sqlite3"), folder)
    return folder


def _tables(folder: Path, adverts: list[str]) -> None:
    with (folder / "saved-ads.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([("Body", "zip"), *((text, "80501") for text in adverts)])
    with (folder / "ads.jsonl").open("w", encoding="utf-8") as file:
        file.writelines(json.dumps({"text": text}) + "\n" for text in adverts)
    with suppress(ImportError):
        import duckdb

        duckdb.sql(f"COPY (FROM '{folder / 'ads.jsonl'}') TO '{folder / 'ads.parquet'}'")
    (folder / "heap.csv").write_text("What,place\nknuckle,shed\nrotor,shed\n", "utf-8")
    (folder / "sheet.csv").write_text("phrase,meaning\ndrayman,donor_line=line-A\n", "utf-8")


def _keep(run: Run, folder: Path) -> None:
    for args in (
        ["build", "add", "crawler.toml"],
        ["build", "add", "rock-truck.toml"],
        ["words", "import", str(DEMO / "words.csv")],
        ["candidate", "import", "saved-ads.csv", "--build", "crawler", "--column", "text=Body", "--form", "csv"],
        ["yard", "import", "river yard", "board.txt", "--zip", "80501"],
        ["part", "add", "axle", "--axle", AXLE, "--year", "1985", "--place", "shed 3", "--cost", "300"],
        ["part", "add", "housing", "--axle", AXLE, "--place", "loft"],
        ["part", "add", "knuckle", "--side", "left", "--axle", AXLE, "--place", "shed 3"],
        ["part", "add", "rotor", "--axle", AXLE, "--place", "loft"],
        ["claims", "add", "advert.txt", "--axle", "old rear", "--saw", "lugs=8"],
        ["db", "backup", "broken.sqlite3"],
    ):
        done = run(*args)
        assert done.exit_code == 0, (args, done.stderr)
    (folder / "shelf.json").write_text(run("part", "export").stdout, "utf-8")
