"""The verdict rule, in its order.

1. Nothing on offer, a must failed that accepted work does not make good, or the likely landed cost over the
limit: does not fit. 2. A must that is not known and could fail: unclear, unless work that is counted anyway
makes the bad answer good. 3. A stated hazard of unknown size, or marks of fraud: unclear at best. 4. A must
met only through accepted work that was not planned anyway, or through straightening: fits with work. 5. Otherwise:
fits.
"""

from collections.abc import Sequence

from donorbase.reference.judging import Judging
from donorbase.verdict.spec import Level
from donorbase.verdict.verdicts import Call, Finding, Landed, Task

_TO_BE_PROVED = frozenset({"straighten-housing"})
"""Work whose result has to be shown: planned or not, an axle that needs it does not fit as it stands."""


def call(
    findings: Sequence[Finding], money: Landed, hazards: Sequence[str], tasks: Sequence[Task], rules: Judging
) -> Call:
    """The verdict of one axle, or of a pair."""
    musts = [f for f in findings if f.requirement.level is Level.MUST]
    if any(f.failed for f in musts) or (money.over and money.known):
        return Call.NO
    if any(f.open and not f.requirement.soft for f in musts) or price_open(money, rules):
        return Call.UNCLEAR
    if hazards:
        return Call.UNCLEAR
    if any(f.needs_work for f in musts) or any(not task.planned or task.word in _TO_BE_PROVED for task in tasks):
        return Call.WITH_WORK
    return Call.FITS


def price_open(money: Landed, rules: Judging) -> bool:
    """Whether no price is named and the usual ones of the kind may break the limit."""
    return not money.known and money.limit_usd is not None and money.chance_as_told < rules.known.high
