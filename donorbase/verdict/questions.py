"""What to ask the seller: deal-killers first, only what is open and could change the verdict, five at
most.
"""

from collections.abc import Callable, Iterable, Sequence

from donorbase.attributes import attributes
from donorbase.reference.judging import Judging
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Level
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import Asked, Call, Finding, Landed, State

MOST = 5
_INFERRED_SURE = 0.999
"""A must that rests on the kind of axle alone and is less sure than this is worth a question."""
_NO_QUESTION = frozenset({"offer", "price_usd", "donor"})
_SETTLED_BY = {"ratio_sold": "years", "brake_fluid_enough": "caliper_pistons"}
"""What the seller can tell where the requirement itself is nothing that he knows."""
_ANSWERS = 4
"""Answers that are tried out for each question, and how many open findings are tried: the likeliest and the
first.
"""
_LIKELY = 0.02

Decide = Callable[[Prospect], Call]


def questions_of(
    findings: Sequence[Finding],
    hazards: Iterable[tuple[str, str]],
    money: Landed,
    prospect: Prospect,
    verdict: Call,
    decide: Decide,
) -> tuple[Asked, ...]:
    """The open questions; none where nothing is on offer or nothing can help.

    ``hazards`` are (name, question) pairs; ``decide`` gives the verdict of the same axle with other facts.
    The weight of a question is the chance that its answer changes the verdict.
    """
    musts = [f for f in findings if f.requirement.level is Level.MUST]
    if any(f.failed for f in musts):
        return ()
    opened = sorted(
        (f for f in musts if f.open and not _told_already(f, prospect)),
        key=lambda f: (abs(f.chance - 0.5), f.requirement.subject),
    )
    found = [_asked(f, 0.1 + 0.9 * moves(f, prospect, verdict, decide)) for f in opened[:MOST]]
    found += [Asked(name, ask, "", 0.9) for name, ask in hazards if ask]
    found += (
        [Asked("price_usd", attributes()["price_usd"].ask, "", 1 - money.chance_as_told)] if not money.known else []
    )
    found += [_asked(f, (1 - f.chance) / 2) for f in musts if _worth(f)]
    found += [_asked(f, 1 - f.chance) for f in musts if f.requirement.subject == "defects" and f.state is State.MEETS]
    return first(found, prospect.rules)


def _told_already(finding: Finding, prospect: Prospect) -> bool:
    """Whether the seller said already what his answer would be: the gears' generation follows from other doubts."""
    settled_by = _SETTLED_BY.get(finding.requirement.subject)
    return settled_by is not None and prospect.plainly(settled_by)


def moves(finding: Finding, prospect: Prospect, verdict: Call, decide: Decide) -> float:
    """The chance that the answer to an open finding changes the verdict, over the answers that are likely."""
    name = _SETTLED_BY.get(finding.requirement.subject, finding.requirement.subject)
    if name not in attributes() or attributes()[name].scope != "axle":
        return 1 - abs(2 * finding.chance - 1)
    answers = [(value, p) for value, p in prospect.overall(name).weights[:_ANSWERS] if p >= _LIKELY]
    total = sum(p for _, p in answers)
    moved = sum(p for value, p in answers if decide(prospect.told(name, value)) is not verdict)
    return moved / total if total else 0.0


def _worth(finding: Finding) -> bool:
    sure = finding.chance >= _INFERRED_SURE or finding.requirement.subject in _NO_QUESTION
    return finding.inferred and not sure and finding.state is State.MEETS


def _asked(finding: Finding, weight: float) -> Asked:
    subject = subject_of(finding.requirement.subject)
    ask = subject.ask or f"What is its {subject.title}?"
    return Asked(finding.requirement.subject, ask, subject.how, weight)


def first(found: Iterable[Asked], rules: Judging) -> tuple[Asked, ...]:
    """The heaviest five, each question once; those that may move the verdict first, in the order that they
    end a deal.
    """
    best: dict[str, Asked] = {}
    for asked in found:
        kept = best.get(asked.ask)
        best[asked.ask] = asked if kept is None or asked.weight > kept.weight else kept
    order = {name: place for place, name in enumerate(rules.kill_order)}
    heaviest = sorted(best.values(), key=lambda a: (-a.weight, a.ask))[:MOST]
    return tuple(sorted(heaviest, key=lambda a: (a.weight < 0.1, order.get(a.subject, len(order)), -a.weight, a.ask)))
