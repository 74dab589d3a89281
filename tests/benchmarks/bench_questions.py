"""How many measurements until an axle is known at 95 %? The program's order against others and against a bound.

Run: ``python tests/benchmarks/bench_questions.py [--axles N] [--seed S]``. Everything starts from the position alone;
answers are drawn from the axle as it is, with the tool's error, and are the same whatever the order asked in.

- ours: bits over minutes, as ``questions`` ranks; greedy: bits alone
- checklist: the order in which a yard inspection goes by common practice, deal-killers first
- random: any order
- bound: no k answers can tell more than the k most telling ones told each by itself, so that fewer than the bound's
  cannot bring the entropy down to where 95 % leaves it
"""

import argparse
import pathlib
import random
import statistics
import sys
from collections.abc import Callable, Sequence

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "accuracy"))
from simulated_axles import Cup

from donorbase.attributes import of_scope
from donorbase.facts import Fact, Known, Value
from donorbase.identity.identification import Identification, Question
from donorbase.identity.identify import identify
from donorbase.identity.questions import questions
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.load import load_catalogue

SURE = 0.95
CHECKLIST = (
    "years", "donor_line", "load_class", "rear_wheels", "drop", "lugs", "bolt_circle_mm", "outer_splines", "float",
    "ring_gear_in", "ratio", "differential", "hub_bearing", "hubs", "knuckle", "inner_splines", "splines", "shaft_dia_in",
    "brakes", "caliper_pistons", "stud", "width_in", "tube_in", "suspension", "perch_pad_in", "cover_bolts", "pinion",
    "joint_cap_in", "pinion_splines", "abs", "hub_bore_mm", "rotor_dia_mm", "drum_dia_in", "caliper_piston_mm",
)  # fmt: skip
Answers = dict[str, Value]
Order = Callable[[tuple[Fact, ...], Identification, set[str]], str | None]


def answers_of(cup: Cup, catalogue: Catalogue) -> tuple[str, str, Answers]:
    """An axle (its key and end) and what measuring each attribute of it gives."""
    variant = cup.dice.choices(cup.variants, cup.weights)[0]
    found = {}
    for known in (a for a in of_scope("axle") if a.measurable and variant.family.position in a.ends):
        pool = variant.all(known.name) or cup._relatives(variant, known.name)
        if known.name == "years":
            found["years"] = cup._measured(known, cup._year(variant), variant.family.position)
        elif pool:
            true = cup._own(known, cup.dice.choice(pool))
            found[known.name] = cup._measured(known, true, variant.family.position)
    return variant.key, variant.family.position, found


def steps(order: Order, end: str, answers: Answers, catalogue: Catalogue) -> int | None:
    """Measurements until one candidate stands at 95 %; None where all of them do not bring it there."""
    facts: tuple[Fact, ...] = (Fact("position", end, Known.MEASURED),)
    left = set(answers) - {"position"}
    for count in range(len(answers)):
        found = identify(facts, catalogue)
        if found.best.probability >= SURE:
            return count
        name = order(facts, found, left)
        if name is None:
            return None
        left.discard(name)
        facts = (*facts, Fact(name, answers[name], Known.MEASURED))
    return None


def by_program(catalogue: Catalogue, rank: Callable[[Question], float] | None = None) -> Order:
    """The order of ``questions``, or ranked anew."""

    def pick(facts: tuple[Fact, ...], found: Identification, left: set[str]) -> str | None:
        ranked: Sequence[Question] = questions(facts, catalogue, found)
        if rank is not None:
            ranked = sorted(ranked, key=rank)
        return next((q.attribute for q in ranked if q.attribute in left), min(left, default=None))

    return pick


def by_list(names: Sequence[str]) -> Order:
    """A fixed order."""
    return lambda facts, found, left: next((name for name in names if name in left), None)


def bound(end: str, catalogue: Catalogue) -> int:
    """Fewest answers that can bring the entropy of that end down to what 95 % leaves."""
    facts = (Fact("position", end, Known.MEASURED),)
    found = identify(facts, catalogue)
    bits = sorted((q.bits for q in questions(facts, catalogue, found)), reverse=True)
    # At 95 % the rest can still lie anywhere: that is the most that may be left.
    left = -SURE * _log2(SURE) + sum(-(1 - SURE) * p * _log2((1 - SURE) * p) for p in _shares(found))
    need, told = found.entropy_bits() - left, 0.0
    for count, one in enumerate(bits, 1):
        told += one
        if told >= need:
            return count
    return len(bits)


def _log2(p: float) -> float:
    from math import log2

    return log2(p)


def _shares(found: Identification) -> list[float]:
    rest = [c.probability for c in found.candidates[1:]]
    return [p / sum(rest) for p in rest]


def compare(count: int, seed: int) -> dict[str, float]:
    """Mean measurements by order, over the axles that every order brings to 95 %."""
    catalogue = load_catalogue()
    cup, dice = Cup(catalogue, seed), random.Random(seed)
    orders: dict[str, Order] = {
        "ours": by_program(catalogue),
        "greedy": by_program(catalogue, lambda q: -q.bits),
        "checklist": by_list(CHECKLIST),
    }
    bounds = {end: bound(end, catalogue) for end in ("front", "rear")}
    rows: dict[str, list[int]] = {name: [] for name in (*orders, "random", "bound")}
    for _ in range(count):
        _, end, answers = answers_of(cup, catalogue)
        shuffled = dice.sample(sorted(answers), len(answers))
        each = {name: steps(order, end, answers, catalogue) for name, order in orders.items()}
        each["random"] = steps(by_list(shuffled), end, answers, catalogue)
        if all(taken is not None for taken in each.values()):
            for name, taken in each.items():
                rows[name].append(int(taken or 0))
            rows["bound"].append(bounds[end])
    print("axles brought to 95 % by all orders:", len(rows["ours"]), "of", count)
    return {name: statistics.fmean(taken) for name, taken in rows.items()}


def main() -> None:
    """Print the table."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--axles", type=int, default=150)
    ask.add_argument("--seed", type=int, default=1)
    given = ask.parse_args()
    means = compare(given.axles, given.seed)
    for name, mean in means.items():
        print(f"{name:10s} {mean:6.2f}  {mean / means['checklist']:5.2f} of the checklist  {mean / means['bound']:5.2f} of the bound")


if __name__ == "__main__":
    main()
