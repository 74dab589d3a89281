"""What to ask the seller: deal-killers first, only what is open and could change the verdict, five at most."""

from collections.abc import Iterable, Sequence

from donorbase.attributes import attributes
from donorbase.reference.judging import Judging
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build, Level
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import Asked, Finding, Landed, State

MOST = 5
_INFERRED_SURE = 0.999
"""A must that rests on the kind of axle alone and is less sure than this is worth a question."""
_NO_QUESTION = frozenset({"offer", "price_usd", "donor"})


def questions_of(
    findings: Sequence[Finding], hazards: Iterable[tuple[str, str]], money: Landed, prospect: Prospect, build: Build
) -> tuple[Asked, ...]:
    """The open questions; none where nothing is on offer. ``hazards`` are (name, question) pairs."""
    musts = [f for f in findings if f.requirement.level is Level.MUST]
    if any(f.failed and f.requirement.subject == "offer" for f in musts):
        return ()
    found = [_asked(f, 0.5 + _doubt(f)) for f in musts if f.open]
    found += [Asked(name, ask, "", 0.9) for name, ask in hazards if ask]
    found += [_price(money)] if not money.known else []
    found += [_asked(f, _doubt(f) / 2) for f in musts if _worth(f)]
    found += [_asked(f, 0.02) for f in musts if f.requirement.subject == "defects" and f.state is State.MEETS]
    return first(found, prospect.rules)


def _doubt(finding: Finding) -> float:
    return 0.5 - abs(finding.chance - 0.5)


def _worth(finding: Finding) -> bool:
    sure = finding.chance >= _INFERRED_SURE or finding.requirement.subject in _NO_QUESTION
    return finding.inferred and not sure and finding.state is State.MEETS


def _asked(finding: Finding, weight: float) -> Asked:
    subject = subject_of(finding.requirement.subject)
    ask = subject.ask or f"What is its {subject.title}?"
    return Asked(finding.requirement.subject, ask, subject.how, weight)


def _price(money: Landed) -> Asked:
    return Asked("price_usd", attributes()["price_usd"].ask, "", 0.9 - 0.4 * money.chance)


def first(found: Iterable[Asked], rules: Judging) -> tuple[Asked, ...]:
    """The heaviest five, each question once, in the order in which they end a deal."""
    best: dict[str, Asked] = {}
    for asked in found:
        kept = best.get(asked.ask)
        best[asked.ask] = asked if kept is None or asked.weight > kept.weight else kept
    order = {name: place for place, name in enumerate(rules.kill_order)}
    heaviest = sorted(best.values(), key=lambda a: (-a.weight, a.ask))[:MOST]
    return tuple(sorted(heaviest, key=lambda a: (a.weight < 0.5, order.get(a.subject, len(order)), -a.weight, a.ask)))
