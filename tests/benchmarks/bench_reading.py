"""Listings a second on one core: our whole reading beside readers that only match words, in one run.

    python tests/benchmarks/bench_reading.py [--count 2000] [--rounds 5]

Baselines, where they are installed (the `bench` extra): a spaCy blank pipeline with an EntityRuler of the same
vocabulary; ingredient-parser, a trained reader of comparable short texts; one regular-expression alternation of
the vocabulary. The texts are the labelled listings of tests/accuracy, joined and cut to a mean of about 400
characters with other numbers put in, so that no cache of whole texts can help. Medians of interleaved rounds.
"""

import argparse
import json
import random
import re
import statistics
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.words import load_words

LISTINGS = Path(__file__).parents[1] / "accuracy" / "listings"
THIS_YEAR = 2026
MEAN_CHARACTERS = 400


def texts(count: int) -> list[str]:
    """Listings of about 400 characters, made from the labelled ones, digits varied."""
    rows = [json.loads(line)["text"] for line in (LISTINGS / "open.jsonl").read_text("utf-8").splitlines()]
    rng = random.Random(7)
    made = []
    for _ in range(count):
        text = rng.choice(rows)
        while len(text) < MEAN_CHARACTERS * 0.75:
            text += "\n" + rng.choice(rows)
        made.append(re.sub(r"\d(?=\d{3}\b)", lambda _m: str(rng.randint(1, 9)), text))
    return made


def spacy_matcher(phrases: list[str]) -> Callable[[list[str]], object] | None:
    try:
        import spacy
    except ImportError:
        return None
    pipeline = spacy.blank("en")
    ruler = pipeline.add_pipe("entity_ruler", config={"phrase_matcher_attr": "LOWER"})
    ruler.add_patterns([{"label": "TERM", "pattern": phrase} for phrase in phrases])  # type: ignore[attr-defined]
    return lambda batch: [len(doc.ents) for doc in pipeline.pipe(batch)]


def trained_parser() -> Callable[[list[str]], object] | None:
    try:
        from ingredient_parser import parse_ingredient

        parse_ingredient("2 cups of flour")
    except Exception as missing:  # it fetches a tagger's model at import, which fails without a network
        print(f"ingredient-parser left out: {missing}")
        return None
    return lambda batch: [parse_ingredient(text) for text in batch]


def alternation(phrases: list[str]) -> Callable[[list[str]], object]:
    longest_first = sorted({p.lower() for p in phrases}, key=len, reverse=True)
    pattern = re.compile(r"(?<!\w)(?:" + "|".join(map(re.escape, longest_first)) + r")(?!\w)")
    return lambda batch: [pattern.findall(text.lower()) for text in batch]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--rounds", type=int, default=5)
    args = parser.parse_args()
    words = load_words()
    phrases = sorted({word.phrase for word in words})
    lexicon = Lexicon.build(words)
    batch = texts(args.count)
    runs = {
        "donorbase, the whole reading": lambda b: [read_listing(t, lexicon, THIS_YEAR) for t in b],
        "spaCy blank + EntityRuler": spacy_matcher(phrases),
        "ingredient-parser": trained_parser(),
        "one regular expression": alternation(phrases),
    }
    present = {name: run for name, run in runs.items() if run}
    rates: dict[str, list[float]] = {name: [] for name in present}
    for _ in range(args.rounds):
        for name, run in present.items():
            part = batch[: args.count // 20] if name == "ingredient-parser" else batch
            begin = time.perf_counter()
            run(part)
            rates[name].append(len(part) / (time.perf_counter() - begin))
    print(f"{args.count} listings, mean {statistics.mean(map(len, batch)):.0f} characters, {len(phrases)} phrases")
    for name, found in rates.items():
        print(f"{name:32} {statistics.median(found):8.0f} a second  [{min(found):.0f}-{max(found):.0f}]")
    tracemalloc.start()
    present["donorbase, the whole reading"](batch)
    print(f"peak memory of reading {tracemalloc.get_traced_memory()[1] / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
