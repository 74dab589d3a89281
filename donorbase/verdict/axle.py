"""One axle judged for one end: findings, work, money, hazards, questions and the verdict."""

from dataclasses import dataclass
from functools import cache, partial

from donorbase.facts import Fact
from donorbase.identity.identification import Identification
from donorbase.identity.questions import Decision
from donorbase.reference.judging import Hazard
from donorbase.verdict.because import kind_words
from donorbase.verdict.computed import requirements_of
from donorbase.verdict.cures import bought_parts
from donorbase.verdict.findings import Judged, judge_requirements
from donorbase.verdict.money import asking_price, landed
from donorbase.verdict.notes import notes_of
from donorbase.verdict.prices import task
from donorbase.verdict.prospect import Prospect, speaks_of_the_axle
from donorbase.verdict.questions import questions_of
from donorbase.verdict.rule import call
from donorbase.verdict.signs import mentions
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Call, Finding, ItemVerdict, Task

WITH_A_VEHICLE = ("tow-home", "sell-leftovers", "scrap-hulk")
"""Work that a whole donor brings with it, once for both of its axles."""
_PULLING = "pull-from-vehicle"
_CUT = "narrowed-unknown"
"""The mark of a housing that was cut by a hand nobody knows."""
_AFTER_A_HAZARD = 0.5
"""What a stated hazard of unknown size leaves of the chance: common practice."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """A prospect with its verdict and what the pair needs of it."""

    prospect: Prospect
    judged: Judged
    tasks: tuple[Task, ...]
    parts: tuple[str, ...]
    hazards: tuple[tuple[str, Hazard], ...]
    verdict: ItemVerdict


def weigh_axle(prospect: Prospect, build: Build, distance_mi: float | None) -> Weighed:
    """The verdict of one axle, all of it."""
    requirements = requirements_of(build, prospect.end, prospect.rules)
    judged = judge_requirements(requirements, prospect, build, _extra(prospect, build))
    tasks = _tasks(judged, prospect, build)
    parts = () if "buy-missing-parts" in build.work.planned else bought_parts(prospect, build)
    money = landed(prospect, build, tasks, parts, distance_mi)
    hazards = hazards_of(prospect)
    asks = [(name, hazard.ask) for name, hazard in hazards]
    final = call(judged.findings, money, [name for name, _ in hazards], tasks, prospect.rules)

    def decide(told: Prospect) -> Call:
        return call_of(told, build, distance_mi)

    verdict = ItemVerdict(
        item=prospect.item,
        end=prospect.end,
        identification=prospect.identification,
        verdict=final,
        chance=judged.chance * money.chance_as_told * (_AFTER_A_HAZARD if hazards else 1.0),
        findings=judged.findings,
        asking=cache(partial(questions_of, judged.findings, asks, money, prospect, final, decide)),
        work=tasks,
        money=money,
        notes=notes_of(prospect, build),
        taken_for=_taken_for(prospect),
        hazards=tuple(hazard.says for _, hazard in hazards),
        prospect=prospect,
    )
    return Weighed(prospect, judged, tasks, parts, hazards, verdict)


def _taken_for(prospect: Prospect) -> str:
    best = prospect.identification.best
    if best.variant is None:
        return "probably none of the axles on record"
    return f"probably the {kind_words(prospect.catalogue.variants[best.variant])}, {best.probability:.0%}"


def call_of(prospect: Prospect, build: Build, distance_mi: float | None) -> Call:
    """The verdict alone, without the questions that lead to it."""
    judged = judge_requirements(
        requirements_of(build, prospect.end, prospect.rules), prospect, build, _extra(prospect, build)
    )
    tasks = _tasks(judged, prospect, build)
    money = landed(prospect, build, tasks, bought_parts(prospect, build), distance_mi)
    return call(judged.findings, money, [name for name, _ in hazards_of(prospect)], tasks, prospect.rules)


def _extra(prospect: Prospect, build: Build) -> frozenset[str]:
    """Work that the thing needs whatever is asked: its missing parts bought, its hulk brought home and rid
    of.

    Parts that are gone must be bought even where nobody thought of it; only a refusal ends that.
    """
    decided = set(build.work.planned) | set(build.work.refused)
    needed = {"buy-missing-parts"} - decided if bought_parts(prospect, build) else set()
    if prospect.kind == "vehicle" and not mentions(prospect.reading.text, prospect.rules.signs["yard"]):
        needed |= set(WITH_A_VEHICLE) & set(build.work.accepted) - decided
    if prospect.kind == "axle" and mentions(prospect.reading.text, prospect.rules.finish.still_in):
        needed |= {_PULLING} & set(build.work.accepted) - decided
    return frozenset(needed)


def _tasks(judged: Judged, prospect: Prospect, build: Build) -> tuple[Task, ...]:
    reasons = _reasons(judged.findings)
    words = sorted(judged.counted | {w for w in reasons if w in build.work.planned})
    return tuple(task(word, reasons.get(word, _OTHER.get(word, "")), prospect, build) for word in words)


_OTHER = {
    "buy-missing-parts": "parts are missing",
    _PULLING: "it is still in its donor",
    "tow-home": "the donor comes whole",
    "sell-leftovers": "the donor comes whole",
    "scrap-hulk": "the donor comes whole",
}


def _reasons(findings: tuple[Finding, ...]) -> dict[str, str]:
    found: dict[str, list[str]] = {}
    for finding in findings:
        for word in filter(None, finding.cured_by.split(", ")):
            found.setdefault(word, []).append(finding.because)
    return {word: "; ".join(dict.fromkeys(said)) for word, said in found.items()}


def hazards_of(prospect: Prospect) -> tuple[tuple[str, Hazard], ...]:
    """The marks that keep a verdict at unclear: hazards of unknown size, and marks of fraud where they are
    enough.
    """
    found = [(name, hazard) for name, hazard in _marked(prospect) if hazard.kind == "hazard"]
    frauds = [(name, hazard) for name, hazard in _marked(prospect) if hazard.kind == "fraud"]
    strong = any(hazard.strong for _, hazard in frauds)
    if strong or len(frauds) + _far_below(prospect) >= 2:
        found += frauds
    return tuple(found)


def _marked(prospect: Prospect) -> list[tuple[str, Hazard]]:
    """The marks of the text, that of a cut housing only where it is said of this thing."""
    found = [pair for pair in prospect.marks() if pair[0] != _CUT]
    hazard = prospect.rules.hazards[_CUT]
    if mentions(prospect.reading.text, hazard.unless):
        return found
    if "shortened" in prospect.all("defects") or _cut_unread(prospect):
        found.append((_CUT, hazard))
    return found


def _cut_unread(prospect: Prospect) -> bool:
    """Whether the text speaks of a cut housing that was read as a defect of no thing on offer."""
    read = any("shortened" in item.all("defects") for item in prospect.reading.items)
    named = [name for name, _ in prospect.marks()]
    return not read and _CUT in named


def _far_below(prospect: Prospect) -> bool:
    best, price = prospect.best_variant(), asking_price(prospect)
    span = best.get("price_range_usd") if best else None
    if price is None or not isinstance(span, tuple):
        return False
    return price < float(span[0]) * float(prospect.rules.price["far_below"])


def decision(prospect: Prospect, build: Build, distance_mi: float | None) -> Decision:
    """What would be decided about this axle on other facts, for ``identity.questions(..., decide=...)``."""
    others = tuple(f for f in prospect.facts if not speaks_of_the_axle(f))

    def decide(identification: Identification, facts: tuple[Fact, ...]) -> str:
        return str(call_of(prospect.with_facts((*facts, *others)), build, distance_mi))

    return decide
