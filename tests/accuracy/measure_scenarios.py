"""How often the verdicts agree with those of a person of the trade, on the labelled scenarios.

    python tests/accuracy/measure_scenarios.py [open|blind|blind2|drill|rounds|sight1|held|sight2] [--cases]

Prints totals and a table of the verdicts given against those expected. ``--cases`` shows each open scenario
that went wrong; of the held-back ones nothing but totals is ever shown.
"""

import json
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.load import load_catalogue
from donorbase.reference.words import load_words
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.verdicts import Call, ListingVerdict

FOLDER = Path(__file__).parent / "scenarios"
THIS_YEAR = 2026
SHOWN = frozenset({"open", "blind", "blind2", "drill", "rounds", "sight1"})
"""Parts whose texts may be looked at."""
FITTING = frozenset({Call.FITS, Call.WITH_WORK})


@dataclass(frozen=True, slots=True)
class Case:
    """A scenario with the verdict that was given."""

    scenario: dict[str, Any]
    given: ListingVerdict

    @property
    def expected(self) -> Call:
        """What the person of the trade said."""
        return Call(self.scenario["verdict"])

    @property
    def right(self) -> bool:
        """Whether both say the same."""
        return self.given.verdict is self.expected

    @property
    def false_fit(self) -> bool:
        """The worst thing: it is said to fit, as it is or with work, and it is unclear or does not."""
        return self.given.verdict in FITTING and self.expected not in FITTING


def cases(part: str) -> Iterator[Case]:
    """Each scenario of a part judged from its text."""
    lexicon, catalogue = Lexicon.build(load_words()), load_catalogue()
    for line in (FOLDER / f"{part}.jsonl").read_text("utf-8").splitlines():
        scenario = json.loads(line)
        reading = read_listing(scenario["listing"], lexicon, THIS_YEAR)
        build = parse_build(scenario["build"], works=catalogue.works)
        yield Case(scenario, judge(build, reading, catalogue, distance_mi=scenario["distance_mi"]))


def report(part: str, *, show: bool) -> str:
    """The totals as text, and the cases that went wrong where they may be shown."""
    found = list(cases(part))
    right, false_fits = sum(c.right for c in found), sum(c.false_fit for c in found)
    pairs = Counter((str(c.expected), str(c.given.verdict)) for c in found)
    lines = [f"{part}: {right} of {len(found)} right, {false_fits} false fits"]
    lines += [f"  {expected:14} -> {given:14} {count}" for (expected, given), count in sorted(pairs.items())]
    for case in found if show and part in SHOWN else ():
        lines += [] if case.right else [_shown(case)]
    return "\n".join(lines)


def _shown(case: Case) -> str:
    reasons = "".join(f"\n      {reason}" for reason in case.given.reasons)
    return f"  {case.scenario['id']}: {case.expected} expected, {case.given.verdict} given{reasons}"


if __name__ == "__main__":
    parts = [arg for arg in sys.argv[1:] if not arg.startswith("-")] or ["open"]
    for name in parts:
        print(report(name, show="--cases" in sys.argv))
