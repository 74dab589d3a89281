"""How many measurements until an axle is known at 95 %? The program's order against others and a bound.

Run: ``python tests/benchmarks/bench_questions.py [--axles N] [--seed S]``. Everything starts from the
position alone; answers are drawn from the axle as it is, with the tool's error, and are the same whatever the
order asked in. Axles that some order does not bring to 95 % with all that can be measured are left out.

- ours: expected bits over minutes, as ``questions`` ranks
- bits: expected bits alone
- checklist: the order in which a yard inspection goes by common practice, deal-killers first
- random: any order
- bound: an answer can tell no more than its expected bits, and k answers no more than the k most telling ones
  each by itself; so many are needed at least to bring the entropy down to what 95 % leaves. Taken after the
  best first question, over all its answers, which is closer than before it.
"""

import argparse
import pathlib
import random
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from math import log2
from statistics import fmean

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "accuracy"))
from simulated_axles import Cup

from donorbase.attributes import attribute, of_scope
from donorbase.facts import Fact, Known, Value
from donorbase.identity.identification import Identification, Question
from donorbase.identity.identify import identify
from donorbase.identity.model import model_of
from donorbase.identity.noise import as_told
from donorbase.identity.questions import answers_to, questions
from donorbase.identity.truth import told_of
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.load import load_catalogue

SURE = 0.95
LIKELY_ANSWER = 0.004
CHECKLIST = (
    "years", "donor_line", "load_class", "rear_wheels", "drop", "lugs", "bolt_circle_mm", "outer_splines",
    "float", "ring_gear_in", "ratio", "differential", "hub_bearing", "hubs", "knuckle", "inner_splines",
    "splines", "shaft_dia_in", "brakes", "caliper_pistons", "stud", "width_in", "tube_in", "suspension",
    "perch_pad_in", "cover_bolts", "pinion", "joint_cap_in", "pinion_splines", "abs", "hub_bore_mm",
    "rotor_dia_mm", "drum_dia_in", "caliper_piston_mm",
)  # fmt: skip
Facts = tuple[Fact, ...]
Answers = dict[str, Value]
Order = Callable[[Facts, Identification, set[str]], str | None]


@dataclass
class Run:
    """Measurements and minutes of one order, an entry an axle."""

    counts: list[float] = field(default_factory=list)
    minutes: list[float] = field(default_factory=list)


def answers_of(cup: Cup) -> tuple[str, Answers]:
    """The end of an axle, and what measuring each attribute of it gives."""
    variant = cup.dice.choices(cup.variants, cup.weights)[0]
    end = variant.family.position
    found = {}
    for known in (a for a in of_scope("axle") if a.measurable and end in a.ends and a.name != "position"):
        pool = variant.all(known.name) or cup.of_kind(variant, known.name)
        if known.name == "years":
            found["years"] = cup.measured(known, cup.year(variant), end)
        elif pool:
            found[known.name] = cup.measured(known, cup.own(known, cup.dice.choice(pool)), end)
    return end, found


def asked(order: Order, end: str, answers: Answers, catalogue: Catalogue) -> list[str] | None:
    """What was measured until one candidate stood at 95 %; None where all of it does not bring it there."""
    facts: Facts = (Fact("position", end, Known.MEASURED),)
    names: list[str] = []
    while len(names) < len(answers):
        found = identify(facts, catalogue)
        if found.best.probability >= SURE:
            return names
        name = order(facts, found, set(answers) - set(names))
        if name is None:
            return None
        names.append(name)
        facts = (*facts, Fact(name, answers[name], Known.MEASURED))
    return None


def by_program(catalogue: Catalogue, rank: Callable[[Question], float] | None = None) -> Order:
    """The order of ``questions``, or ranked anew."""

    def pick(facts: Facts, found: Identification, left: set[str]) -> str | None:
        ranked: Sequence[Question] = questions(facts, catalogue, found)
        if rank is not None:
            ranked = sorted(ranked, key=rank)
        return next((q.attribute for q in ranked if q.attribute in left), min(left, default=None))

    return pick


def by_list(names: Sequence[str]) -> Order:
    """A fixed order."""
    return lambda facts, found, left: next((name for name in names if name in left), None)


def at_least(facts: Facts, catalogue: Catalogue) -> int:
    """So many answers are needed at least from here on."""
    found = identify(facts, catalogue)
    if found.best.probability >= SURE:
        return 0
    bits = sorted((q.bits for q in questions(facts, catalogue, found)), reverse=True)
    need, told = found.entropy_bits() - left_at_95(found), 0.0
    for count, one in enumerate(bits, 1):
        told += one
        if told >= need:
            return count
    return len(bits) + 1


def left_at_95(found: Identification) -> float:
    """The most entropy that may be left at 95 %: the rest spread as it is now."""
    rest = [c.probability for c in found.candidates[1:]]
    shares = [SURE, *((1.0 - SURE) * p / sum(rest) for p in rest)]
    return -sum(p * log2(p) for p in shares if p > 0.0)


def bound(end: str, catalogue: Catalogue) -> float:
    """One and the least that is needed after the best first question, averaged over its answers."""
    facts: Facts = (Fact("position", end, Known.MEASURED),)
    found = identify(facts, catalogue)
    first = sorted(questions(facts, catalogue, found), key=lambda q: -q.bits)[:9]
    return 1.0 + min(fmean_over(after(facts, q.attribute, found, catalogue)) for q in first)


def after(facts: Facts, name: str, found: Identification, catalogue: Catalogue) -> Iterator[tuple[float, int]]:
    """(chance, least number from there on) of each likely answer to a question."""
    model = model_of(catalogue)
    answers = answers_to(told_of(model, facts), name, found)
    for value, chance in zip(answers.values, answers.together(), strict=False):
        if chance >= LIKELY_ANSWER:
            told = Fact(name, as_told(model.traits[name], value), Known.MEASURED)
            yield chance, at_least((*facts, told), catalogue)


def fmean_over(pairs: Iterator[tuple[float, int]]) -> float:
    """The mean of the second by the weight of the first."""
    kept = list(pairs)
    return sum(p * n for p, n in kept) / sum(p for p, _ in kept)


def compare(count: int, seed: int) -> tuple[dict[str, Run], int]:
    """Runs by order over the axles that every order brings to 95 %, and how many axles were tried."""
    catalogue = load_catalogue()
    cup, dice = Cup(catalogue, seed), random.Random(seed)
    bounds = {end: bound(end, catalogue) for end in ("front", "rear")}
    runs = {name: Run() for name in ("ours", "bits", "checklist", "random")}
    least = Run()
    for _ in range(count):
        end, answers = answers_of(cup)
        orders = {
            "ours": by_program(catalogue),
            "bits": by_program(catalogue, lambda q: -q.bits),
            "checklist": by_list(CHECKLIST),
            "random": by_list(dice.sample(sorted(answers), len(answers))),
        }
        each = {name: asked(order, end, answers, catalogue) for name, order in orders.items()}
        if any(names is None for names in each.values()):
            continue
        for name, names in each.items():
            runs[name].counts.append(len(names or ()))
            runs[name].minutes.append(sum(attribute(n).trouble for n in names or ()))
        least.counts.append(bounds[end])
    return {**runs, "bound": least}, count


def table(runs: dict[str, Run]) -> list[str]:
    """The comparison as lines of a Markdown table."""
    mean = {name: fmean(run.counts) for name, run in runs.items()}
    lines = [
        "| order | measurements | of the checklist's | of the bound | minutes |",
        "|---|---|---|---|---|",
    ]
    for name, run in runs.items():
        minutes = f"{fmean(run.minutes):.1f}" if run.minutes else ""
        shares = f"{mean[name] / mean['checklist']:.2f} | {mean[name] / mean['bound']:.2f}"
        lines.append(f"| {name} | {mean[name]:.2f} | {shares} | {minutes} |")
    return lines


def main() -> None:
    """Print the table."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--axles", type=int, default=150)
    ask.add_argument("--seed", type=int, default=1)
    given = ask.parse_args()
    runs, tried = compare(given.axles, given.seed)
    print(f"{len(runs['ours'].counts)} of {tried} axles brought to 95 % by all orders")
    print("\n".join(table(runs)))


if __name__ == "__main__":
    main()
