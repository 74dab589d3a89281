"""How long a search takes among many kept listings: median and 95th percentile of one call, by the clock.

    python tests/benchmarks/bench_search.py [--count 100000] [--rounds 3] [--at FILE]

The listings are the adverts of synthetic_ads.py, each kept as a listing with its reading; the queries are those of
tests/accuracy/queries.jsonl and ten of words alone. Beside it: the reading of the query alone, which is part of it.
Each query is asked once before it is timed. Keeping 100,000 adverts takes about ten minutes; with --at they stay in
that file and are there the next time.
"""

import argparse
import json
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

from synthetic_ads import AdvertMaker, plain_sentences

from donorbase.services.database import status
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.search import search
from donorbase.services.search_query import understand

QUERIES = Path(__file__).parents[1] / "accuracy" / "queries.jsonl"
WORDS = (
    "garage",
    "barn",
    "tractor",
    "swaged",
    "delivery",
    "trailor",
    "powdercoat",
    "farm fresh",
    "storage",
    "weekends",
)
AT_ONCE = 500


def keep_many(house: House, desk: Desk, count: int) -> None:
    keeper = Keeper(house, desk, ())
    made = AdvertMaker(plain_sentences(desk)).adverts(count)
    seen = [Seen(one.text, date(2026, 11, 1), url=f"https://ads.example/{n}") for n, one in enumerate(made)]
    for begin in range(0, count, AT_ONCE):
        keeper.keep(seen[begin : begin + AT_ONCE])


def timed(label: str, queries: Sequence[str], rounds: int, work: Callable[[str], object]) -> None:
    spent = []
    for query in queries * rounds:
        begin = time.perf_counter()
        work(query)
        spent.append((time.perf_counter() - begin) * 1000)
    last = statistics.quantiles(spent, n=20)[-1]
    print(f"{label:28} median {statistics.median(spent):7.1f} ms   95% {last:7.1f} ms   ({len(spent)} calls)")


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--count", type=int, default=100_000)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--at", type=Path, help="a database of these adverts, made where there is none")
    asked = parser.parse_args()
    facts = [json.loads(line)["query"] for line in QUERIES.read_text("utf-8").splitlines()]
    with tempfile.TemporaryDirectory() as folder:
        file = asked.at or Path(folder, "bench.sqlite3")
        there, house = file.exists(), House(file)
        desk = Desk.of_house(house, 2026)
        if not there:
            keep_many(house, desk, asked.count)
        print(f"{status(house).counts['listings']:,} listings kept")
        for query in (*facts, *WORDS):
            search(query, house, desk)
        timed("queries of facts", facts, asked.rounds, lambda query: search(query, house, desk))
        timed("queries of words", WORDS, asked.rounds, lambda query: search(query, house, desk))
        timed("understanding alone", facts, asked.rounds, lambda query: understand(query, desk))
        house.close()


if __name__ == "__main__":
    main()
