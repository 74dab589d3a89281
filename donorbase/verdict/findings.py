"""Requirements -> findings: the chance, the state, and whether work that will be done makes a bad answer
good.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from donorbase.attributes import Attribute, attributes
from donorbase.facts import Known
from donorbase.identity.identification import Belief
from donorbase.verdict.because import because
from donorbase.verdict.cures import Option, options_for, perhaps
from donorbase.verdict.prices import price_of_work
from donorbase.verdict.prospect import Prospect, World
from donorbase.verdict.signs import owned_up
from donorbase.verdict.spec import Build, Level, Requirement
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import Finding, State
from donorbase.verdict.weigh import chance_in

_UNKNOWN_SHARE = 0.5
"""Of what nobody knows, half is taken to meet: an even chance in either direction."""

_OF_THE_TEXT = frozenset({"offer", "kind", "missing", "defects", "price_usd"})
"""What only the text can tell; its silence is judged by the odds of unsaid things."""


@dataclass(frozen=True, slots=True)
class Judged:
    """The findings of one axle, the work counted for them, and the chance that all musts are met together."""

    findings: tuple[Finding, ...]
    counted: frozenset[str]
    chance: float


def judge_requirements(
    requirements: Sequence[Requirement], prospect: Prospect, build: Build, extra: frozenset[str] = frozenset()
) -> Judged:
    """Each requirement judged; ``extra`` is work that is counted already for another reason."""
    worlds = prospect.worlds()
    table = [[_likely(r, prospect, world, build) for world in worlds] for r in requirements]
    raw = [
        _finding(requirement, prospect, build, _mean(row, worlds))
        for requirement, row in zip(requirements, table, strict=True)
    ]
    counted = _counted(raw, prospect, build, extra)
    findings = tuple(_cured(finding, prospect, build, counted) for finding in raw)
    return Judged(findings, counted, _together(findings, table, worlds))


def _likely(requirement: Requirement, prospect: Prospect, world: World, build: Build) -> float:
    holds, unknown = chance_in(requirement, prospect, world.variant, build)
    return min(max(holds + _UNKNOWN_SHARE * unknown, 0.0), 1.0)


def _mean(row: Sequence[float], worlds: Sequence[World]) -> float:
    return sum(world.weight * p for world, p in zip(worlds, row, strict=True))


def _finding(requirement: Requirement, prospect: Prospect, build: Build, chance: float) -> Finding:
    state, chance = state_of(requirement, prospect, build, chance)
    inferred = not prospect.facts_of(requirement.subject) and requirement.subject not in _OF_THE_TEXT
    words = because(requirement, prospect, state, chance, build)
    return Finding(requirement, prospect.end, state, chance, words, inferred=inferred)


def state_of(requirement: Requirement, prospect: Prospect, build: Build, chance: float) -> tuple[State, float]:
    """Meets, fails or unknown, and the chance that decided it.

    A plain statement counts, unless the kind of axle says the opposite; a guess makes nothing known, so the
    rest of the text must bear it out alone.
    """
    known, name = prospect.rules.known, requirement.subject
    if name not in _OF_THE_TEXT:
        if chance > known.low and years_deny(requirement, prospect):
            return State.UNKNOWN, min(chance, known.stated)
        if prospect.plainly(name) and not against_kind(requirement, prospect):
            return _settled(chance >= known.stated, requirement, prospect, build), chance
        if prospect.plainly(name):
            chance = _mean_of(requirement, prospect.doubted(), build)
            if chance >= known.seen and subject_of(name).tool == "looking":
                return State.MEETS, chance
        elif prospect.guessed:
            alone = _mean_of(requirement, prospect.without_hedges(), build)
            if alone <= known.low < chance and prospect.facts_of(name):
                # The seller guesses that it does, the kind says that it does not: nobody knows.
                return State.UNKNOWN, min(chance, known.stated)
            chance = min(chance, alone)
    if chance >= known.high:
        return State.MEETS, chance
    if chance > known.low:
        curable = chance <= known.curable and bool(options_for(requirement, prospect, build))
        return State.FAILS if curable else State.UNKNOWN, chance
    return _settled(False, requirement, prospect, build), chance


def years_deny(requirement: Requirement, prospect: Prospect) -> bool:
    """Whether the stated years go with an axle that does not meet it, while the rest of the text tells of
    another.

    Two plain statements that cannot both be true make nothing known; a change that is owned up to does.
    """
    name, variant = requirement.subject, prospect.by_the_years()
    measured = any(fact.known is Known.MEASURED for fact in prospect.facts_of(name))
    if variant is None or measured or name not in attributes() or name == "years":
        return False
    usual = prospect.silent_on(name).belief(name, variant)
    if usual.unknown > 0.5 or _share_of(usual, requirement, subject_of(name)) > prospect.rules.known.against_kind:
        return False
    return not any(owned_up(fact, prospect.reading, prospect.rules) for fact in prospect.facts_of(name))


def _settled(met: bool, requirement: Requirement, prospect: Prospect, build: Build) -> State:
    """Met or failed; not known where work that is accepted may or may not make a failure good."""
    if met:
        return State.MEETS
    return State.UNKNOWN if perhaps(requirement, prospect, build) else State.FAILS


def _mean_of(requirement: Requirement, prospect: Prospect, build: Build) -> float:
    worlds = prospect.worlds()
    return _mean([_likely(requirement, prospect, world, build) for world in worlds], worlds)


def against_kind(requirement: Requirement, prospect: Prospect) -> bool:
    """Whether, but for the statement, the kind of axle makes the opposite near certain, and no change is
    owned up to.
    """
    name, subject = requirement.subject, subject_of(requirement.subject)
    silent, known = prospect.silent_on(name).overall(name), prospect.rules.known
    seen = subject.tool == "looking"
    limit = known.low if seen else known.against_kind
    kind = _share_of(silent, requirement, subject) / max(1 - silent.unknown, 1e-9)
    said = _share_of(prospect.overall(name), requirement, subject)
    better, worse = kind <= limit and said > kind, kind >= 1 - limit and said < kind
    if silent.unknown > 0.5 or not (better or (worse and not seen)):
        # What anybody sees at a glance and says to his own loss is believed.
        return False
    facts = prospect.facts_of(name)
    return not any(owned_up(fact, prospect.reading, prospect.rules) for fact in facts)


def _share_of(belief: Belief, requirement: Requirement, subject: Attribute) -> float:
    return sum(p * requirement.condition.share(value, subject) for value, p in belief)


def _counted(raw: Sequence[Finding], prospect: Prospect, build: Build, extra: frozenset[str]) -> frozenset[str]:
    """The accepted work that failed musts need: those with one way first, then ways that are counted
    already.
    """
    failing = [f for f in raw if f.requirement.level is Level.MUST and f.state is State.FAILS]
    ways = {f.requirement.subject: options_for(f.requirement, prospect, build) for f in failing}
    counted = set(extra)
    for subject in sorted(ways, key=lambda s: (len(ways[s]), s)):
        counted |= _chosen(ways[subject], prospect, build, counted)
    return frozenset(counted)


def _chosen(ways: Sequence[Option], prospect: Prospect, build: Build, counted: set[str]) -> set[str]:
    done = counted | set(build.work.planned)
    if not ways or any(done >= set(way) for way in ways):
        return set()
    best = min(ways, key=lambda way: (_price(way, prospect, build), way))
    return set(best) - set(build.work.planned)


def _price(way: Option, prospect: Prospect, build: Build) -> float:
    return sum(price_of_work(word, prospect, build)[0].likely for word in way if word not in build.work.planned)


def _cured(finding: Finding, prospect: Prospect, build: Build, counted: frozenset[str]) -> Finding:
    if finding.requirement.level is not Level.MUST or finding.state is State.MEETS:
        return finding
    planned = set(build.work.planned)
    ways = [way for way in options_for(finding.requirement, prospect, build) if counted | planned >= set(way)]
    if not ways:
        return finding
    best = min(ways, key=lambda way: (not set(way) <= planned, _price(way, prospect, build), way))
    return replace(finding, cured_by=", ".join(best), cure_planned=set(best) <= planned)


def _together(findings: Sequence[Finding], table: Sequence[Sequence[float]], worlds: Sequence[World]) -> float:
    """The chance that all musts are met, or made good by counted work, over what the axle may be.

    It is never above that of any one of them, which can be lower where a guess or a contradiction was
    discounted.
    """
    pairs = [(f, row) for f, row in zip(findings, table, strict=True) if _counts(f)]
    total = sum(world.weight * math.prod(row[place] for _, row in pairs) for place, world in enumerate(worlds))
    return min([total, *(finding.chance for finding, _ in pairs)])


def _counts(finding: Finding) -> bool:
    return finding.requirement.level is Level.MUST and not finding.requirement.soft and not finding.cured_by
