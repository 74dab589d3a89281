#!/usr/bin/env python3
"""Grade readings of listings against labels.

Usage: grade.py LABELS.jsonl READINGS.jsonl [--json] [--worst N]
LABELS lines:   {"id", "text", "expect": {...}}        (the form is SCHEMA.md's)
READINGS lines: {"id", "reading": {...}}               (the same form; keys it does not know are ignored)

A fact is one (field, value); a list counts each of its elements. Items are paired so that most facts agree.
Prints precision, recall and F1 over all facts, the share of listings that are right to the last fact, how often
silence was turned into a fact (a field that the label lacks), and each field's own figures, weakest first.
"""

import argparse
import collections
import itertools
import json
import pathlib

TOP = ["offer", "price_usd", "price_terms", "mileage_mi", "vin", "distance_mi", "zip", "contact"]
ITEM = [
    "kind",
    "part",
    "position",
    "years",
    "fits_years",
    "load_class",
    "rear_wheels",
    "lugs",
    "bolt_circle_mm",
    "ring_gear_in",
    "ratio",
    "differential",
    "inner_splines",
    "outer_splines",
    "splines",
    "shaft_dia_in",
    "knuckle",
    "drop",
    "pinion",
    "float",
    "brakes",
    "caliper_pistons",
    "suspension",
    "width_in",
    "tube_in",
    "hubs",
    "cover_bolts",
    "abs",
    "has",
    "missing",
    "defects",
    "rebuilt",
    "quantity",
]
TOLERANCE = {
    "bolt_circle_mm": 0.15,
    "ratio": 0.006,
    "ring_gear_in": 0.02,
    "shaft_dia_in": 0.01,
    "width_in": 0.06,
    "tube_in": 0.02,
    "price_usd": 0.5,
    "mileage_mi": 1.0,
    "distance_mi": 0.5,
}


def facts(record, fields):
    """(field, value) pairs of one record, lists taken apart, numbers as numbers."""
    out = []
    for field in fields:
        value = record.get(field)
        if value is None or value == [] or value is False and field in ("contact", "rebuilt"):
            continue
        if field in ("years", "fits_years"):
            out.append((field, tuple(value)))
        elif isinstance(value, list):
            out += [(field, v) for v in value]
        else:
            out.append((field, value))
    return out


def same(field, a, b):
    if isinstance(a, bool) or isinstance(b, bool) or isinstance(a, (str, tuple)) or isinstance(b, (str, tuple)):
        return a == b
    return abs(a - b) <= TOLERANCE.get(field, 1e-9)


def match(gold, read):
    """Split two lists of facts into agreed, missed (gold only) and wrong (read only)."""
    read = list(read)
    agreed, missed = [], []
    for field, value in gold:
        hit = next((r for r in read if r[0] == field and same(field, value, r[1])), None)
        if hit:
            read.remove(hit)
            agreed.append((field, value))
        else:
            missed.append((field, value))
    return agreed, missed, read


def pair(gold_items, read_items):
    """Pair items so that most facts agree (order breaks ties); the rest are paired with nothing."""
    n = max(len(gold_items), len(read_items))
    gold = gold_items + [{}] * (n - len(gold_items))
    read = read_items + [{}] * (n - len(read_items))
    if n > 6:
        return list(zip(gold, read))
    best = max(
        itertools.permutations(range(n)),
        key=lambda p: (
            sum(len(match(facts(g, ITEM), facts(read[i], ITEM))[0]) for g, i in zip(gold, p)),
            -sum(abs(i - j) for j, i in enumerate(p)),
        ),
    )
    return [(g, read[i]) for g, i in zip(gold, best)]


def compare(expect, reading):
    agreed, missed, wrong = match(facts(expect, TOP), facts(reading, TOP))
    silent = [w for w in wrong if expect.get(w[0]) is None]
    for gold, read in pair(expect.get("items", []), reading.get("items", [])):
        a, m, w = match(facts(gold, ITEM), facts(read, ITEM))
        agreed, missed, wrong = agreed + a, missed + m, wrong + w
        silent += [x for x in w if gold.get(x[0]) is None]
    return agreed, missed, wrong, silent


def grade(labels, readings):
    per = collections.defaultdict(lambda: [0, 0, 0])
    exact, silent_total, rows = 0, 0, []
    for label in labels:
        agreed, missed, wrong, silent = compare(label["expect"], readings.get(label["id"], {}))
        for field, _ in agreed:
            per[field][0] += 1
        for field, _ in missed:
            per[field][1] += 1
        for field, _ in wrong:
            per[field][2] += 1
        exact += not missed and not wrong
        silent_total += len(silent)
        rows.append((len(missed) + len(wrong), label["id"], missed, wrong))
    tp, fn, fp = (sum(v[i] for v in per.values()) for i in range(3))
    precision, recall = tp / max(tp + fp, 1), tp / max(tp + fn, 1)
    return {
        "listings": len(labels),
        "facts": tp + fn,
        "precision": precision,
        "recall": recall,
        "f1": 2 * precision * recall / max(precision + recall, 1e-9),
        "exact": exact / max(len(labels), 1),
        "silence_to_fact": silent_total / max(tp + fp, 1),
        "fields": {f: {"right": v[0], "missed": v[1], "wrong": v[2]} for f, v in per.items()},
    }, sorted(rows, key=lambda r: -r[0])


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("labels", type=pathlib.Path)
    parser.add_argument("readings", type=pathlib.Path)
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--worst", type=int, default=0, metavar="N", help="show the N listings with most errors")
    args = parser.parse_args()
    labels = [json.loads(line) for line in args.labels.read_text().splitlines() if line.strip()]
    lines = [json.loads(line) for line in args.readings.read_text().splitlines() if line.strip()]
    result, rows = grade(labels, {line["id"]: line["reading"] for line in lines})
    if args.json:
        print(json.dumps(result))
        return
    for name in ("precision", "recall", "f1", "exact", "silence_to_fact"):
        print(f"{name:16} {result[name]:.4f}")
    print(f"{'listings':16} {result['listings']}\n{'facts':16} {result['facts']}\n")
    for field, v in sorted(result["fields"].items(), key=lambda kv: -(kv[1]["missed"] + kv[1]["wrong"])):
        print(f"{field:16} right {v['right']:4}  missed {v['missed']:3}  wrong {v['wrong']:3}")
    for errors, ident, missed, wrong in rows[: args.worst]:
        if errors:
            print(f"\n{ident}: missed {missed}; wrong {wrong}")


if __name__ == "__main__":
    main()
