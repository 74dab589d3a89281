"""Measures the reader on the labelled listings: ``python measure_reading.py [SET ...] [--keep] [--worst]``.

A set is the name of a file in ``tests/accuracy/listings`` without its ending; all of them without one. ``--keep``
appends the figures to ``history.csv``; ``--worst`` lists what went wrong, and is refused for a set that is only there
to measure by.
"""

import argparse
import csv
import datetime
import importlib.util
import json
import sys
import time
from pathlib import Path
from types import ModuleType
from typing import Any

from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.words import load_words

HERE = Path(__file__).parent
SETS = HERE / "listings"
HISTORY = HERE / "history.csv"
MEASURE_ONLY = frozenset({"held", "fresh2", "sight3", "sight4"})
"""Sets whose listings are never shown: whoever tunes by them has nothing left to measure by."""
THIS_YEAR = 2026
TOTALS = ("precision", "recall", "f1", "exact", "silence_to_fact")


def _grader() -> ModuleType:
    spec = importlib.util.spec_from_file_location("grade", HERE / "grade.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def labels_of(name: str) -> list[dict[str, Any]]:
    """The labelled listings of a set."""
    lines = (SETS / f"{name}.jsonl").read_text("utf-8").splitlines()
    return [json.loads(line) for line in lines if line.strip()]


def measure(labels: list[dict[str, Any]]) -> tuple[dict[str, Any], list[Any]]:
    """The grader's figures for those listings, and what went wrong in each."""
    lexicon = Lexicon.build(load_words())
    begun = time.perf_counter()
    read = {row["id"]: read_listing(row["text"], lexicon, THIS_YEAR).as_json(evidence=False) for row in labels}
    seconds = time.perf_counter() - begun
    figures, rows = _grader().grade(labels, read)
    return {**figures, "per_second": len(labels) / seconds}, rows


def _shown(name: str, figures: dict[str, Any]) -> str:
    head = "  ".join(f"{key} {figures[key]:.4f}" for key in TOTALS)
    lines = [f"{name}: {figures['listings']} listings, {figures['facts']} facts", head]
    for field, seen in sorted(figures["fields"].items(), key=lambda f: -(f[1]["missed"] + f[1]["wrong"])):
        lines.append(f"  {field:16} right {seen['right']:4}  missed {seen['missed']:3}  wrong {seen['wrong']:3}")
    return "\n".join(lines)


def _kept(name: str, figures: dict[str, Any]) -> None:
    fresh = not HISTORY.exists()
    with HISTORY.open("a", encoding="utf-8", newline="") as lines:
        writer = csv.writer(lines, lineterminator="\n")
        if fresh:
            writer.writerow(["date", "set", "listings", "facts", *TOTALS])
        today = datetime.date.today().isoformat()
        writer.writerow(
            [today, name, figures["listings"], figures["facts"], *(f"{figures[key]:.4f}" for key in TOTALS)]
        )


def main(arguments: list[str]) -> int:
    """Print, and keep where asked, the figures of the sets named."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("sets", nargs="*", default=sorted(path.stem for path in SETS.glob("*.jsonl")))
    parser.add_argument("--keep", action="store_true", help="append the figures to history.csv")
    parser.add_argument("--worst", action="store_true", help="list the listings that went wrong")
    chosen = parser.parse_args(arguments)
    for name in chosen.sets:
        figures, rows = measure(labels_of(name))
        print(_shown(name, figures))
        if chosen.keep:
            _kept(name, figures)
        if chosen.worst and name not in MEASURE_ONLY:
            for errors, ident, missed, wrong in rows:
                if errors:
                    print(f"  {ident}: missed {missed}; wrong {wrong}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
