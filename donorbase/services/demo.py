"""The demo: invented builds, words and listings, judged in a database of its own."""

import json
from dataclasses import dataclass
from pathlib import Path

from donorbase.services.builds import add_build, find_build
from donorbase.services.desk import Checked, Desk
from donorbase.services.house import House
from donorbase.services.words import import_words
from donorbase.shipped import data_dir
from donorbase.verdict.spec import Build

SHOWN_IN_FULL = "demo-04"
"""The advert that is shown whole: one answer decides it."""


@dataclass(frozen=True, slots=True)
class Advert:
    """An invented advert; ``distance_mi`` is one way, None where it does not say."""

    id: str
    text: str
    distance_mi: float | None


@dataclass(frozen=True, slots=True)
class JudgedBuild:
    """A build and every advert judged against it, best first."""

    name: str
    build: Build
    judged: tuple[tuple[Advert, Checked], ...]


def demo_place(usual: str) -> str:
    """Where the demo's database lies: beside the usual one, and never it."""
    return str(Path(usual).with_name("donorbase-demo.sqlite3")) if "://" not in usual else "donorbase-demo.sqlite3"


def run_demo(house: House, this_year: int) -> tuple[JudgedBuild, ...]:
    """Keep the demo's builds and words in a house and judge all its adverts against each build."""
    folder = data_dir() / "demo"
    import_words(house, folder / "words.csv")
    names = [add_build(house, path).name for path in sorted(folder.glob("*.toml"))]
    desk = Desk.of_house(house, this_year)
    adverts = _adverts(folder / "listings.jsonl")
    return tuple(_judged(desk, name, find_build(house, name), adverts) for name in names)


def _adverts(path: Path) -> list[Advert]:
    rows = [json.loads(line) for line in path.read_text("utf-8").splitlines()]
    return [Advert(row["id"], row["text"], row["distance_mi"]) for row in rows]


def _judged(desk: Desk, name: str, build: Build, adverts: list[Advert]) -> JudgedBuild:
    judged = [(advert, desk.check(advert.text, build, advert.distance_mi)) for advert in adverts]
    judged.sort(key=lambda pair: (pair[1].verdict.verdict.rank, -pair[1].verdict.chance))
    return JudgedBuild(name, build, tuple(judged))
