"""Writes ``identity_report.md``: calibration, hit rates, questions and speed of the identification.

Run: ``python tests/accuracy/report_identity.py [--axles 21600] [--questions 240] [--seed 2026]``; takes some
minutes. Everything is simulated (``simulated_axles``): no published set of axles with known origin was found.
"""

import argparse
import datetime
import pathlib
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).parent))
sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "benchmarks"))
from bench_questions import compare, table
from identity_tally import NONE_SHARE, SURE, Tally, share, tally, tally_of_held_out, tally_of_none
from simulated_axles import Cup

from donorbase.identity.identify import identify
from donorbase.reference.load import load_catalogue


def reliability(found: Tally) -> list[str]:
    """The reliability table of the likeliest candidate."""
    lines = ["| said | axles | mean said | right |", "|---|---|---|---|"]
    for low, (n, said, right) in enumerate(found.bins):
        if n:
            lines.append(f"| {low / 10:.1f}-{low / 10 + 0.1:.1f} | {n:.0f} | {said / n:.3f} | {right / n:.3f} |")
    return lines


def rates(found: Tally) -> str:
    """Share right with its count."""
    right = sum(row[2] for row in found.bins) / found.count
    return f"right {right:.3f} of {found.count:.0f} (ideal observer {share(found.ideal_right):.3f})"


def seconds(axles: int = 1000) -> float:
    """Mean time of one identification, each of other facts."""
    catalogue = load_catalogue()
    told = [axle.facts for axle in Cup(catalogue, 7).axles(axles, 0.0)]
    identify(told[0], catalogue)
    begin = time.perf_counter()
    for facts in told:
        identify(facts, catalogue)
    return (time.perf_counter() - begin) / axles


def report(axles: int, asked: int, seed: int) -> list[str]:
    """The report's lines."""
    mixed, none = tally(axles, seed, worlds=12), tally_of_none(axles // 8, seed + 100)
    held = tally_of_held_out(axles // 8, seed + 200, families=15)
    return [
        "# Identification: how often it is right",
        "",
        f"{datetime.date.today()}, seed {seed}, {len(load_catalogue().variants)} variants; written by",
        "`report_identity.py`. Axles, sellers and measurers are simulated by `simulated_axles.py`, which",
        "shares no table with the identification; its error rates differ from the model's by factors of 0.5",
        "to 2, drawn anew in each of 12 worlds. Observations suffice where an observer who knows the dice",
        f"(`ideal_observer.py`) is at least {SURE:.0%} sure.",
        "",
        *of_mixed(mixed),
        *of_none(none, held),
        *of_questions(asked, seed),
        "",
        f"One identification takes {seconds() * 1e3:.2f} ms on the mean, each of other facts (pure Python).",
    ]


def of_mixed(mixed: Tally) -> list[str]:
    """Calibration and hits over axles of which most stand in the catalogue."""
    return [
        f"## Mixed: {NONE_SHARE:.0%} stand not in the catalogue",
        "",
        f"- {rates(mixed)}",
        f"- expected calibration error {mixed.calibration_error():.4f} (limit 0.03)",
        f"- right where the observations suffice: {share(mixed.enough):.4f} of {len(mixed.enough)} (limit 0.97)",
        f"- probability given to none of these: mean {mixed.none_said / mixed.count:.4f}, true share "
        f"{len(mixed.none_all) / mixed.count:.4f}",
        "",
        *reliability(mixed),
        "",
    ]


def of_none(none: Tally, held: Tally) -> list[str]:
    """Axles that the catalogue does not hold."""
    return [
        "## None of these: like a known axle, with three to seven figures of its own",
        "",
        f"- said where the observations suffice: {share(none.none_enough):.4f} of {len(none.none_enough)} (limit 0.9)",
        f"- said over all: {share(none.none_all):.3f} of {len(none.none_all)}, by the ideal observer "
        f"{share(none.ideal_right):.3f}; an advert",
        "  that tells only what a known axle shares cannot give it away",
        "",
        "## Held out: whole families taken out of the catalogue",
        "",
        "Such an axle can share every figure told with families that are left; the observer takes it for one of",
        "the odd axles above, so that he is no limit here.",
        "",
        f"- said where he is sure of it: {share(held.none_enough):.3f} of {len(held.none_enough)}",
        f"- said over all: {share(held.none_all):.3f} of {len(held.none_all)}, by that observer "
        f"{share(held.ideal_right):.3f}",
        "",
    ]


def of_questions(asked: int, seed: int) -> list[str]:
    """How many measurements each order needs."""
    runs, tried = compare(asked, seed)
    return [
        "## Questions: measurements until one candidate stands at 95 %",
        "",
        f"{len(runs['ours'].counts)} of {tried} axles that every order brings there; orders and bound as in",
        "`tests/benchmarks/bench_questions.py`. Limits: 0.60 of the checklist's, 1.25 of the bound.",
        "",
        *table(runs),
    ]


def main() -> None:
    """Write the report beside this file and print it."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--axles", type=int, default=21600)
    ask.add_argument("--questions", type=int, default=240)
    ask.add_argument("--seed", type=int, default=2026)
    given = ask.parse_args()
    text = "\n".join(report(given.axles, given.questions, given.seed)) + "\n"
    pathlib.Path(__file__).with_name("identity_report.md").write_text(text, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
