"""Measures the search on queries with known answers: ``python measure_search.py [--worst]``.

``queries.jsonl`` holds queries as people type them, each with its meaning in the words of the labels; what is relevant
follows from the labels of the listings alone: every listing of which one thing meets all that is meant. ``--make``
writes the ids into the file anew. The listings are kept in a new database and searched as a user searches.

Printed: mean reciprocal rank (1 where the first hit is right, 1/2 where the second is, 0 where none of 20 is) and the
share of relevant listings among the first ten (or among as many as there are), for the queries that may be looked at
and for 15 held back by a hash of their words, of which only the totals are shown.
"""

import argparse
import hashlib
import json
import tempfile
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.search import search

HERE = Path(__file__).parent
QUERIES = HERE / "queries.jsonl"
SETS = ("open", "blind", "drill1", "drill2")
HELD_BACK = 15
LIMIT = 20
THIS_YEAR = 2026
LOCKERS = {"locker", "selectable-locker", "automatic-locker"}


def lines_of(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]


def labels() -> list[dict[str, Any]]:
    return [one for name in SETS for one in lines_of(HERE / "listings" / f"{name}.jsonl")]


def is_meant(meaning: Mapping[str, Any], label: Mapping[str, Any]) -> bool:
    """Whether one thing of a listing meets all that is meant, by its label; ``words`` must stand in the text."""
    expect, text = label["expect"], label["text"].casefold()
    if not all(word in text for word in meaning.get("words", ())):
        return False
    asked = {name: wanted for name, wanted in meaning.items() if name != "words"}
    return any(all(_holds(n, w, expect, item) for n, w in asked.items()) for item in expect.get("items", [{}]))


def _holds(name: str, wanted: Any, expect: Mapping[str, Any], item: Mapping[str, Any]) -> bool:
    for ending, inside in (("_max", lambda v: v <= wanted), ("_min", lambda v: v >= wanted)):
        if name.endswith(ending):
            value = expect.get(name.removesuffix(ending))
            return value is not None and inside(value)
    if name == "not":
        return not any(_has(n, w, item) for n, w in wanted.items())
    if name == "years":
        first, last = item.get("years", (None, None))
        return "years" in item and (last or 9999) >= (wanted[0] or 0) and (first or 0) <= (wanted[1] or 9999)
    if name == "splines":
        return wanted in (item.get("splines"), item.get("outer_splines"), item.get("inner_splines"))
    if name in ("offer", "price_terms", "vin", "zip"):
        return _has(name, wanted, expect)
    return _has(name, wanted, item)


def _has(name: str, wanted: Any, told: Mapping[str, Any]) -> bool:
    value = told.get(name)
    if isinstance(value, list):
        return set(wanted if isinstance(wanted, list) else [wanted]) <= set(value)
    return value in LOCKERS if (name, wanted) == ("differential", "locker") else bool(value == wanted)


def make() -> None:
    """Write the relevant ids of every query into the file."""
    known = labels()
    rows = []
    for query in lines_of(QUERIES):
        relevant = [one["id"] for one in known if is_meant(query["meaning"], one)]
        rows.append(json.dumps({"query": query["query"], "meaning": query["meaning"], "relevant": relevant}))
    QUERIES.write_text("\n".join(rows) + "\n", "utf-8")


def kept_ids(house: House, desk: Desk) -> dict[int, set[str]]:
    """Every listing of the sets kept in a database; the ids of the labels by the number of the listing."""
    keeper = Keeper(house, desk, ())
    every = labels()
    seen = [Seen(one["text"], date(THIS_YEAR, 11, 1), url=one["id"]) for one in every]
    outcomes = keeper.keep(seen)
    found: dict[int, set[str]] = {}
    for one, outcome in zip(every, outcomes, strict=True):
        found.setdefault(outcome.listing_id, set()).add(one["id"])
    return found


def scored(queries: Sequence[Mapping[str, Any]], house: House, desk: Desk) -> list[dict[str, Any]]:
    """For each query its reciprocal rank, and the share found among the first ten."""
    ids = kept_ids(house, desk)
    rows = []
    for query in queries:
        relevant = set(query["relevant"])
        hits = [bool(ids[hit.listing_id] & relevant) for hit in search(query["query"], house, desk, limit=LIMIT).hits]
        rank = hits.index(True) + 1 if True in hits else 0
        good = sum(bool(one & relevant) for one in ids.values())
        first = hits[:10]
        share = sum(first) / min(10, good) if good else 0.0
        rows.append({"query": query["query"], "rr": 1 / rank if rank else 0.0, "share": share})
    return rows


def is_held_back(queries: Sequence[Mapping[str, Any]]) -> set[str]:
    """The queries of the smallest hashes."""
    by_hash = sorted((hashlib.sha256(q["query"].encode()).hexdigest(), q["query"]) for q in queries)
    return {query for _, query in by_hash[:HELD_BACK]}


def measure() -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The scores of the queries that may be looked at, and of those held back."""
    queries = lines_of(QUERIES)
    with tempfile.TemporaryDirectory() as folder:
        house = House(Path(folder) / "search.sqlite3")
        try:
            rows = scored(queries, house, Desk.of_house(house, THIS_YEAR))
        finally:
            house.close()
    held = is_held_back(queries)
    return [r for r in rows if r["query"] not in held], [r for r in rows if r["query"] in held]


def mean(rows: Sequence[Mapping[str, Any]], name: str) -> float:
    return float(sum(row[name] for row in rows) / len(rows))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--worst", action="store_true", help="show the queries whose first hit is wrong")
    parser.add_argument("--make", action="store_true", help="work the relevant ids out anew, by the labels")
    given = parser.parse_args()
    if given.make:
        make()
    looked, held = measure()
    for name, rows in (("looked at", looked), ("held back", held)):
        figures = f"MRR {mean(rows, 'rr'):.3f}  share of the first ten {mean(rows, 'share'):.3f}"
        print(f"{name}: {len(rows)} queries  {figures}")
    if given.worst:
        for row in sorted(looked, key=lambda r: (r["rr"], r["share"])):
            if row["rr"] < 1 or row["share"] < 1:
                print(f"  {row['rr']:.2f} {row['share']:.2f} {row['query']}")
