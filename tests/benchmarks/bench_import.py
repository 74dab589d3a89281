"""Listings imported a second into a new database, and judged a second, on one core; memory and size beside it.

    python tests/benchmarks/bench_import.py [--count 10000] [--judged 300]

The texts are those of bench_reading.py, each with a number of its own, so that each is a listing of its own. Times
are of the processor, since other work on the same machine would count as ours. ``read alone`` is the reading of
the same texts, which is a part of importing them; ``again`` is the same file once more.
"""

import argparse
import json
import resource
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TypeVar

from bench_reading import texts

from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates
from donorbase.services.desk import Desk
from donorbase.services.gathering import gather, look_through
from donorbase.services.house import House
from donorbase.services.keeping import Keeper
from donorbase.services.rejudging import judge_due
from donorbase.services.sources import Source
from donorbase.shipped import data_dir

T = TypeVar("T")


def timed(label: str, count: int, work: Callable[[], T]) -> T:
    begin, clock = time.process_time(), time.perf_counter()
    found = work()
    spent, waited = time.process_time() - begin, time.perf_counter() - clock
    print(f"{label:16} {count / spent:8,.0f} a second of the processor ({spent:.1f} s; {waited:.1f} s by the clock)")
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=10_000)
    parser.add_argument("--judged", type=int, default=300)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "ads.jsonl")
        with file.open("w", encoding="utf-8") as lines:
            for number, text in enumerate(texts(asked.count)):
                lines.write(
                    json.dumps({"text": f"{text}\nref {number}", "url": f"https://ads.example/{number}"}) + "\n"
                )
        house = House(Path(folder, "bench.sqlite3"))
        add_build(house, data_dir() / "demo" / "crawler.toml")
        desk, source = Desk.of_house(house, 2026), Source(file, "jsonl", date(2026, 11, 1))
        keeper = Keeper(house, desk, ("crawler",))
        rows = [found.seen.plain for found in source if found.seen]
        timed("read alone", asked.count, lambda: [desk.read(text) for text in rows])
        timed("looked through", asked.count, lambda: look_through(source, print))
        done = timed("imported", asked.count, lambda: gather(keeper, source))
        assert done.added == asked.count
        again = timed("again", asked.count, lambda: gather(keeper, source))
        assert again.known == asked.count
        ids = [one.id for one in candidates(house, limit=asked.judged)]
        judged = timed("judged", len(ids), lambda: judge_due(house, desk, only=ids))
        assert judged.judged == len(ids)
        size = Path(house.place).stat().st_size
        print(f"{size / asked.count:,.0f} bytes a listing in the database")
        print(f"at most {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:,.0f} MB of memory")
        house.close()


if __name__ == "__main__":
    main()
