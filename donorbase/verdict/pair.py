"""A front and a rear together: do their gears agree, their wheels interchange, their widths match?"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from donorbase.engineering.gearing import quoted_mismatch
from donorbase.facts import Value
from donorbase.reference.judging import Judging
from donorbase.reference.wording import plain_text
from donorbase.verdict.computed import wanted_ratio
from donorbase.verdict.condition import same
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build, Requirement
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import Finding, State
from donorbase.verdict.weigh import sold

Spread = tuple[tuple[Value, float], ...]
"""Values with their chances; what is missing to 1 is not known."""


@dataclass(frozen=True, slots=True)
class Side:
    """One end of a pair: an axle on offer with its findings, or what is there already."""

    end: str
    prospect: Prospect | None = None
    findings: tuple[Finding, ...] = ()
    has: Mapping[str, Value] | None = None

    def spread(self, name: str) -> Spread:
        """What the attribute may be."""
        if self.has is not None:
            return ((self.has[name], 1.0),) if name in self.has else ()
        if self.prospect is None:
            return ()
        stated = self.prospect.all(name)
        if self.prospect.plainly(name) and len(set(stated)) == 1:
            return ((stated[0], 1.0),)
        return tuple(self.prospect.overall(name))

    def settled(self, name: str) -> Spread:
        """What the attribute may be once the work that is counted is done."""
        after = self.after_work(name)
        return ((after, 1.0),) if after is not None else self.spread(name)

    def after_work(self, name: str) -> Value | None:
        """The value that a must of this end brings about, met as it is or made good; None where there is
        none.
        """
        for finding in self.findings:
            if finding.requirement.subject == name and not finding.failed and not finding.open:
                return finding.requirement.condition.wanted
        return None


def judge_pair(build: Build, front: Side, rear: Side, rules: Judging, counted: frozenset[str]) -> list[Finding]:
    """The requirements of the pair; one of them whose sides are both silent is not known."""
    return [_finding(requirement, build, front, rear, rules, counted) for requirement in build.of_pair()]


def _finding(
    requirement: Requirement, build: Build, front: Side, rear: Side, rules: Judging, counted: frozenset[str]
) -> Finding:
    attribute, measure = _MEASURES[requirement.subject]
    sides = (front.settled(attribute), rear.settled(attribute))
    chance, words = chance_of(requirement, *sides), _sides_words(requirement.subject, *sides, measure)
    state = state_of(chance, rules)
    work = "" if state is State.MEETS else _cure(requirement, build, front, rear, rules, counted)
    if state is State.UNKNOWN and work not in counted | set(build.work.planned):
        work = ""  # what is not known is not made good by work that nobody has decided on
    because = f"{words}; the build asks {requirement.condition.words()}" if state is not State.MEETS else words
    return Finding(requirement, "pair", state, chance, because, work, work in build.work.planned)


def state_of(chance: float, rules: Judging) -> State:
    """What a chance of being met says: met, failed, or not known."""
    return State.MEETS if chance >= rules.known.high else State.FAILS if chance <= rules.known.low else State.UNKNOWN


def attribute_of(subject: str) -> str:
    """The attribute of each end that a requirement of the pair holds side by side."""
    return _MEASURES[subject][0]


@lru_cache(maxsize=65536)
def chance_of(requirement: Requirement, front: Spread, rear: Spread) -> float:
    """The chance that a requirement of the pair is met as the ends are."""
    # Of thousands of axles many are alike in what the pair asks of them.
    measure, subject = _MEASURES[requirement.subject][1], subject_of(requirement.subject)
    total = known = 0.0
    for one, p in front:
        for other, q in rear:
            known += p * q
            total += p * q * requirement.condition.share(measure(one, other), subject)
    return total + 0.5 * max(0.0, 1 - known)


def _sides_words(subject: str, front: Spread, rear: Spread, measure: Callable[[Value, Value], Value]) -> str:
    if not front or not rear or max(p for _, p in front) < 0.5 or max(p for _, p in rear) < 0.5:
        return f"{subject_of(subject).title} is not known"
    one, other = front[0][0], rear[0][0]
    what = {"ratio_mismatch_pct": "ratio", "bolt_circle_same": "bolt circle", "width_diff_in": "width"}[subject]
    found = measure(one, other)
    tail = "" if isinstance(found, bool) else f", {plain_text(found)} {'percent' if what == 'ratio' else 'in'} apart"
    return f"{what} {plain_text(one)} in front and {plain_text(other)} in the rear{tail}"


def _mismatch(one: Value, other: Value) -> Value:
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return quoted_mismatch(float(one), float(other)).likely_pct
    return 100.0


def _circles(one: Value, other: Value) -> Value:
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return same(float(one), float(other), subject_of("bolt_circle_mm"))
    return False


def _apart(one: Value, other: Value) -> Value:
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return abs(float(one) - float(other))
    return 60.0


_MEASURES: dict[str, tuple[str, Callable[[Value, Value], Value]]] = {
    "ratio_mismatch_pct": ("ratio", _mismatch),
    "bolt_circle_same": ("bolt_circle_mm", _circles),
    "width_diff_in": ("width_in", _apart),
}


def _cure(
    requirement: Requirement, build: Build, front: Side, rear: Side, rules: Judging, counted: frozenset[str]
) -> str:
    """The work that makes a pair agree: planned, or counted already, or accepted; empty where there is
    none.
    """
    willing = {*build.work.planned, *build.work.accepted} - set(build.work.refused)
    words = [c.work for c in rules.cures if c.subject == requirement.subject and c.work in willing]
    if requirement.subject == "ratio_mismatch_pct":
        words = [word for word in words if _gears_exist(build, front, rear)]
    order = {word: (word not in build.work.planned, word not in counted, word) for word in words}
    return min(words, key=lambda word: order[word], default="")


def _gears_exist(build: Build, front: Side, rear: Side) -> bool:
    """Whether one end can be given the other's ratio, or both the build's, with sets that are sold."""
    wanted = wanted_ratio(build)[0]
    likely = [side.spread("ratio")[0][0] if side.spread("ratio") else None for side in (front, rear)]
    targets = {float(v) for v in (wanted, *likely) if isinstance(v, (int, float))}
    return any(all(_reaches(side, ratio) for side in (front, rear)) for ratio in targets)


def _reaches(side: Side, ratio: float) -> bool:
    now = [value for value, p in side.spread("ratio") if p > 0.5]
    if any(isinstance(v, (int, float)) and same(float(v), ratio, subject_of("ratio")) for v in now):
        return True
    if side.prospect is None:
        return False
    chances = [(w.weight, sold(ratio, side.prospect, w.variant)) for w in side.prospect.worlds()]
    return sum(weight * (holds + 0.5 * unknown) for weight, (holds, unknown) in chances) >= 0.7
