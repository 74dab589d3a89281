"""How far one server goes: listings imported, small changes and searches a second, by one, four and eight at once.

    .ci/with-postgresql python tests/benchmarks/bench_server.py [--count 5000] [--seconds 8]

With DONORBASE_TEST_SERVER="-c fsync=on -c synchronous_commit=on" the server writes to its disk before it says that
anything is done, as one that is trusted with data must. Without a server the same is measured on a file. Programs and
server share the processors of one machine here, which is why more at once bring little more.
"""

import argparse
import multiprocessing
import statistics
import tempfile
import time
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

from bench_reading import texts

from donorbase.services.database import status
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.pulling import Pulled, pull
from donorbase.services.search import search
from donorbase.services.shelf import parts
from donorbase.services.tending import move_part
from tests.conftest import SERVER, Databases

DAY = date(2026, 11, 1)
_HANDED: dict[str, Any] = {}


def act(place: str, what: str, who: str, seconds: float) -> list[float]:
    """Do one thing again and again; how long each took."""
    took: list[float] = []
    with closing(House(place, who)) as house:
        tag = next(part.tag for part in parts(house) if part.place.startswith(who))
        _HANDED["gate"].wait(60)
        until = time.perf_counter() + seconds
        while time.perf_counter() < until:
            began = time.perf_counter()
            if what == "changes":
                move_part(house, tag, f"{who} {len(took)}", Occasion(DAY, who))
            else:
                search("kingpin front 8 lug rusty", house, _HANDED["desk"])
            took.append(time.perf_counter() - began)
    return took


def at_once(place: str, what: str, number: int, seconds: float) -> None:
    """Let some do the same and print how many a second they did, and how long 19 of 20 took at most."""
    fork = multiprocessing.get_context("fork")
    _HANDED["gate"] = fork.Barrier(number)
    with fork.Pool(number) as pool:
        told = pool.starmap(act, [(place, what, f"w{n}", seconds) for n in range(number)], chunksize=1)
    took = [one for each in told for one in each]
    slow = statistics.quantiles(took, n=20)[-1] * 1000
    print(f"{what:10} by {number}: {len(took) / seconds:7,.0f} a second, 19 of 20 within {slow:6,.0f} ms")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=5_000)
    parser.add_argument("--seconds", type=float, default=8)
    asked = parser.parse_args()
    databases, desk = Databases(), Desk.as_shipped(2026)
    seen = [Seen(f"{text}\nref {n}", DAY, url=f"https://ads.example/{n}") for n, text in enumerate(texts(asked.count))]
    desk.read(seen[0].text)
    _HANDED["desk"] = desk
    with tempfile.TemporaryDirectory() as folder:
        place = databases.new(Path(folder))
        with closing(House(place)) as house:
            house.catalogue()
            for number in range(8):
                pull(house, Pulled("rotor", place=f"w{number}"), Occasion(DAY))
            before, began = status(house).size_bytes, time.perf_counter()
            keeper = Keeper(house, desk, ())
            for first in range(0, asked.count, 500):
                keeper.keep(seen[first : first + 500])
            spent = time.perf_counter() - began
            each = (status(house).size_bytes - before) / asked.count
        print(f"{'on a server' if SERVER else 'on a file'}, {asked.count:,} listings")
        print(f"imported      : {asked.count / spent:7,.0f} a second, {each / 1024:.1f} kB each")
        for what in ("changes", "searches"):
            for number in (1, 4, 8):
                at_once(place, what, number, asked.seconds)
        databases.drop_all()


if __name__ == "__main__":
    main()
