"""Two thousand fronts with two thousand rears: ``python tests/benchmarks/bench_pairs.py [COUNT]``.

The axles are some hundreds of weighed offers of the verdict tests' generator, each taken many times with its own price
and miles; two builds, one that accepts work and one that accepts none. Judging single axles is not in the figure.
"""

import copy
import random
import statistics
import sys
import time
from dataclasses import replace
from pathlib import Path

from donorbase.reference.judging import judging
from donorbase.reference.load import load_catalogue
from donorbase.verdict.axle import Weighed
from donorbase.verdict.build import parse_build
from donorbase.verdict.money import closed
from donorbase.verdict.pairing import best_pairs, no_saving
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Cost, Line

sys.path.insert(0, str(Path(__file__).parents[2]))
from tests.verdict.conftest import COIL_FRONT, FULL_FLOAT_REAR, reading_of
from tests.verdict.test_pairing import BUILD, cheaper_trip, offers, weighed_ends

_SINGLE = 300


def repriced(weighed: Weighed, build: Build, chance: random.Random) -> Weighed:
    """The same axle at another price, so that no two cost the same."""
    more = round(chance.uniform(-200, 900), 2)
    lines = [*weighed.verdict.money.lines, Line("dearer", Cost(more, more, more), "benchmark")]
    money = closed(lines, build, known=weighed.verdict.money.known)
    # A reading of its own, so that it counts as another offer.
    prospect = copy.copy(weighed.prospect)
    prospect.reading = replace(weighed.prospect.reading)
    return replace(weighed, prospect=prospect, verdict=replace(weighed.verdict, money=money))


def main(count: int) -> None:
    """Print the seconds of five searches for each build."""
    chance, catalogue = random.Random(1), load_catalogue()
    for accepted in (["regear", "redrill-hubs"], []):
        build = parse_build(BUILD | {"work": {"accepted": accepted}})
        ends = weighed_ends(offers(1, _SINGLE, reading_of, COIL_FRONT, FULL_FLOAT_REAR), build, catalogue)
        fronts, rears = ([repriced(chance.choice(end), build, chance) for _ in range(count)] for end in ends)
        for saving in (no_saving, cheaper_trip):
            seconds = []
            for _ in range(5):
                begun = time.perf_counter()
                found = best_pairs(fronts, rears, build, judging(), 20, saving)
                seconds.append(time.perf_counter() - begun)
            best = found[0].verdict.verdict if found else "none"
            work = "work accepted" if accepted else "no work accepted"
            print(f"{count} x {count}, {work}, {saving.__name__}: {statistics.median(seconds):.2f} s, best: {best}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
