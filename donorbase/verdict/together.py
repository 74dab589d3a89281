"""A front and a rear judged as a pair, of one offer or of two: both ends, what they ask of each other, one sum
of money.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache, partial

from donorbase.reference.judging import Judging
from donorbase.verdict.axle import WITH_A_VEHICLE, Weighed
from donorbase.verdict.money import ASKED, closed, sold_apart, work_lines
from donorbase.verdict.pair import Side, judge_pair
from donorbase.verdict.prices import task
from donorbase.verdict.questions import first
from donorbase.verdict.reasons import reasons_of
from donorbase.verdict.rule import call
from donorbase.verdict.spec import Build
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.sums import Cost, HiddenFault, Landed, Line
from donorbase.verdict.verdicts import Asked, Finding, ItemVerdict, ListingVerdict, State, Task

_ONCE = frozenset({ASKED, "tax", "travel", "entry"})
"""Lines that a pair pays once where it is sold at one price and fetched in one trip."""


def side_of(weighed: Weighed) -> Side:
    """An axle as one side of a pair."""
    return Side(weighed.prospect.end, weighed.prospect, weighed.judged.findings)


def judge_together(
    front: Weighed, rear: Weighed, build: Build, items: tuple[ItemVerdict, ...], rules: Judging
) -> ListingVerdict:
    """The verdict of the pair as one offer: one price where it has one, one trip."""
    return _judged((front, rear), build, items, rules, _together((front, rear)))


def judge_apart(front: Weighed, rear: Weighed, build: Build, rules: Judging, saved_usd: float = 0.0) -> ListingVerdict:
    """The verdict of the pair as two offers: two prices and two trips, less what one drive past both saves."""
    lines = [*front.verdict.money.lines, *rear.verdict.money.lines]
    if saved_usd:
        lines.append(Line("one drive to both", Cost(-saved_usd, -saved_usd, -saved_usd), "against two trips"))
    return _judged((front, rear), build, (front.verdict, rear.verdict), rules, lines)


def _judged(
    both: tuple[Weighed, Weighed], build: Build, items: tuple[ItemVerdict, ...], rules: Judging, lines: list[Line]
) -> ListingVerdict:
    front, rear = both
    counted = front.judged.counted | rear.judged.counted
    pair = judge_pair(build, side_of(front), side_of(rear), rules, counted)
    findings = [*front.judged.findings, *rear.judged.findings, *pair]
    extra = pair_tasks(pair, both, build)
    tasks = (*front.tasks, *rear.tasks, *extra)
    money = _summed([*lines, *work_lines(extra, build)], both, build)
    hazards = tuple(dict.fromkeys((*front.verdict.hazards, *rear.verdict.hazards)))
    notes = tuple(dict.fromkeys((*front.verdict.notes, *rear.verdict.notes)))
    return ListingVerdict(
        items=items,
        verdict=call(findings, money, hazards, tasks, rules),
        chance=_chance(both, pair, money),
        reasons=reasons_of(findings, money, hazards),
        asking=cache(partial(_questions, both, pair, rules)),
        work=tasks,
        money=money,
        chosen=tuple(items.index(w.verdict) for w in both),
        pair=tuple(pair),
        notes=notes,
    )


def pair_tasks(pair: Sequence[Finding], both: Sequence[Weighed], build: Build) -> tuple[Task, ...]:
    """Work that only the pair asks for, on the end where it costs less."""
    done = {t.word for w in both for t in w.tasks}
    words = {f.cured_by: f.because for f in pair if f.state is State.FAILS and f.cured_by and f.cured_by not in done}
    found = []
    for word in sorted(words):
        choices = [task(word, words[word], w.prospect, build) for w in both]
        found.append(min(choices, key=lambda t: (t.cost.likely, t.source)))
    return tuple(found)


def _together(both: tuple[Weighed, Weighed]) -> list[Line]:
    """The lines of both ends, those that one offer has once not doubled."""
    apart = all(sold_apart(w.prospect) for w in both)
    lines = list(both[0].verdict.money.lines)
    once = _ONCE | _once_for_a_vehicle(both)
    here = {line.label for line in lines}
    for line in both[1].verdict.money.lines:
        doubled = line.label in here & once and not (apart and line.label in {ASKED, "tax"})
        lines += [] if doubled else [line]
    return lines


def _summed(lines: list[Line], both: tuple[Weighed, Weighed], build: Build) -> Landed:
    known, faults = all(w.verdict.money.known for w in both), [f for w in both for f in _faults_of(w)]
    return closed(lines, build, known=known, faults=faults, paid_per_usd=both[0].verdict.money.paid_per_usd)


def _faults_of(weighed: Weighed) -> list[HiddenFault]:
    """The hidden faults of one end, called by its end."""
    return [replace(fault, name=f"{weighed.prospect.end}: {fault.name}") for fault in weighed.verdict.money.faults]


def _once_for_a_vehicle(both: tuple[Weighed, Weighed]) -> set[str]:
    """Work that is done once where both ends come under one donor."""
    if both[0].prospect.item != both[1].prospect.item:
        return set()
    works = both[0].prospect.catalogue.works
    return {works[word].title for word in WITH_A_VEHICLE if word in works}


def _chance(both: tuple[Weighed, Weighed], pair: Sequence[Finding], money: Landed) -> float:
    chance = money.chance_as_told
    for weighed in both:
        chance *= weighed.judged.chance * (0.5 if weighed.hazards else 1.0)
    for finding in pair:
        chance *= 1.0 if finding.cured_by else finding.chance
    return chance


def _questions(both: tuple[Weighed, Weighed], pair: Sequence[Finding], rules: Judging) -> tuple[Asked, ...]:
    found = [
        Asked(f.requirement.subject, subject_of(f.requirement.subject).ask, "", 0.5 + f.chance * (1 - f.chance))
        for f in pair
        if f.open
    ]
    for weighed in both:
        end = weighed.prospect.end
        found += [Asked(q.subject, f"{end.capitalize()}: {q.ask}", q.how, q.weight) for q in weighed.verdict.questions]
    return first(found, rules)
