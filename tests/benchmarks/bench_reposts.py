"""Reposts found among synthetic adverts: how many, how rightly, how fast, beside datasketch's MinHash LSH in one run.

    python tests/benchmarks/bench_reposts.py [--counts 20000 100000]

`synthetic_ads.py` tells how reposts and hard negatives are made. The facts are those that the reader reads in the
texts, with its mistakes; reading is not timed, for a listing is read anyway when it is kept (the rate is in
`bench_reading.py`). Ours: all adverts are counted, then each is joined to the most alike earlier one. "one by one"
is the same without the counting beforehand, as in a database that fills. datasketch (the `bench` extra): 128
permutations over the same words in pairs, threshold 0.5, each candidate then scored by rapidfuzz's ratio of the
sorted words and, to be fair, parted by the same facts; the cut is the one best for it.

Seconds are of the processor, so that a busy machine does not count. Recall and precision are of pairs of adverts:
those joined, directly or through others, against those of one axle.
"""

import argparse
import resource
import time
from collections import defaultdict
from collections.abc import Callable, Sequence
from itertools import combinations, pairwise
from multiprocessing import Pool
from typing import Any

from synthetic_ads import Advert as Made
from synthetic_ads import AdvertMaker, plain_sentences

from donorbase.reposts.claims import Claims, claims_of, parted_by
from donorbase.reposts.earlier import Advert, Memory, find_earlier, keep
from donorbase.reposts.sketch import slots_of, words_of
from donorbase.services.desk import Desk

THIS_YEAR = 2026
Pairs = set[tuple[int, int]]
Row = tuple[Made, Claims, float | None]
_DESK = Desk.as_shipped(THIS_YEAR)


def read_one(text: str) -> tuple[Claims, float | None]:
    reading = _DESK.read(text)
    price = reading.get("price_usd")
    return claims_of(reading), float(price) if isinstance(price, int | float) else None


def rows_of(count: int) -> list[Row]:
    made = AdvertMaker(plain_sentences(_DESK)).adverts(count)
    with Pool(2) as pool:
        read = pool.map(read_one, [one.text for one in made], chunksize=500)
    return [(one, *found) for one, found in zip(made, read, strict=True)]


def ours(rows: Sequence[Row], *, beforehand: bool) -> list[int]:
    """The first advert of the axle that each is said to be of."""
    shelf = Memory(counting=not beforehand)
    adverts = [Advert.of(made.text, price) for made, _, price in rows]
    if beforehand:
        for advert in adverts:
            shelf.count(slots_of(advert.pairs))
    first = list(range(len(rows)))
    for key, (advert, (_, claims, _)) in enumerate(zip(adverts, rows, strict=True)):
        shelf.claimed[key] = (claims, advert.text)
        telling, found = find_earlier(advert, claims, shelf)
        if found and not found[0].parted_by:
            first[key] = first[found[0].key]
        keep(key, advert, telling, shelf)
    return first


def by_datasketch(rows: Sequence[Row]) -> dict[float, list[int]] | None:
    """For each of several cuts the first advert of the axle."""
    try:
        from datasketch import MinHash, MinHashLSH
    except ImportError:
        print("datasketch is not installed: left out")
        return None
    from rapidfuzz import fuzz

    index = MinHashLSH(threshold=0.5, num_perm=128)
    scored: list[tuple[float, int, int]] = []
    ordered: list[str] = []
    for key, (made, _, price) in enumerate(rows):
        words = words_of(made.text, price)
        sketch = MinHash(num_perm=128)
        sketch.update_batch([f"{a} {b}".encode() for a, b in pairwise(words)])
        ordered.append(" ".join(sorted(words)))
        scored += [(fuzz.ratio(ordered[other], ordered[key]), other, key) for other in index.query(sketch)]
        index.insert(key, sketch)
    return {cut: _joined(rows, scored, cut) for cut in (70, 75, 80, 85, 90, 92, 94)}


def _joined(rows: Sequence[Row], scored: list[tuple[float, int, int]], cut: float) -> list[int]:
    first = list(range(len(rows)))
    best: dict[int, tuple[float, int]] = {}
    for score, other, key in scored:
        if score >= cut and score > best.get(key, (0, 0))[0]:
            a, b = rows[other], rows[key]
            if not parted_by(a[1], b[1], a[0].text, b[0].text):
                best[key] = (score, other)
    for key in sorted(best):
        first[key] = first[best[key][1]]
    return first


def pairs_of_groups(first: Sequence[int]) -> Pairs:
    groups = defaultdict(list)
    for key, of in enumerate(first):
        groups[of].append(key)
    return {pair for group in groups.values() for pair in combinations(group, 2)}


def told(name: str, seconds: float, rows: Sequence[Row], first: Sequence[int]) -> tuple[float, float]:
    truth = pairs_of_groups([made.axle for made, _, _ in rows])
    got = pairs_of_groups(first)
    recall, precision = len(got & truth) / len(truth), len(got & truth) / max(1, len(got))
    print(f"  {name:42} {seconds:7.1f} s   recall {recall:.4f}   precision {precision:.4f}", flush=True)
    return recall, precision


def timed(run: Callable[[], Any]) -> tuple[float, Any]:
    begin = time.process_time()
    found = run()
    return time.process_time() - begin, found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--counts", type=int, nargs="+", default=[20_000, 100_000])
    for count in parser.parse_args().counts:
        rows = rows_of(count)
        again = sum(made.kind not in ("new", "seller's other", "template twin") for made, _, _ in rows)
        print(
            f"{count} adverts, {again} of them reposts, mean {sum(len(m.text) for m, _, _ in rows) // count} characters"
        )
        told("ours", *_seconds_first(rows, beforehand=True))
        told("ours, one by one", *_seconds_first(rows, beforehand=False))
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        print(f"  peak memory so far, with the adverts and their facts: {peak} MB")
        seconds, cuts = timed(lambda rows=rows: by_datasketch(rows))
        for cut, first in (cuts or {}).items():
            told(f"datasketch + rapidfuzz >= {cut} + our facts", seconds, rows, first)


def _seconds_first(rows: Sequence[Row], *, beforehand: bool) -> tuple[float, Sequence[Row], list[int]]:
    seconds, first = timed(lambda: ours(rows, beforehand=beforehand))
    return seconds, rows, first


if __name__ == "__main__":
    main()
