"""The reasons of a verdict, what decided it first."""

from collections.abc import Sequence

from donorbase.verdict.because import UNSAID
from donorbase.verdict.money import ASKED
from donorbase.verdict.spec import Level
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import Finding, Landed, Line, State

_MOST = 6
"""Reasons in the short form, about: money and what is met come after what decides."""
_LEAD = 4


def reasons_of(findings: Sequence[Finding], money: Landed, hazards: Sequence[str]) -> tuple[str, ...]:
    """Sentences: musts that fail, hazards, musts that are not known, work, money, musts that are met, the
    rest.
    """
    musts = [f for f in findings if f.requirement.level is Level.MUST and not _of_course(f)]
    failed = [_sentence(f) for f in musts if f.failed]
    if gates := [_sentence(f) for f in musts if f.failed and f.requirement.subject in _GATES]:
        return tuple(dict.fromkeys(gates))
    unknown = [f for f in musts if f.open and not f.requirement.soft]
    work = [_with_work(f) for f in musts if f.cured_by and f.state is not State.MEETS]
    met = [f for f in musts if f.state is State.MEETS and not _silent(f)]
    lost = [_preference(f) for f in findings if _lost(f)]
    deciding = [*failed, *hazards, *_shortened(unknown, _LEAD - len(failed) - len(hazards)), *work]
    rest = [
        *_money(money, alone=not failed),
        _met("as stated", met, inferred=False),
        _met("by its kind", met, inferred=True),
        *lost,
    ]
    told = list(dict.fromkeys(filter(None, deciding)))
    room = max(_MOST - len(told), 1)
    return tuple(dict.fromkeys([*told, *[line for line in rest if line][:room]]))


def _shortened(unknown: Sequence[Finding], most: int) -> list[str]:
    """The first of them in a sentence each; of what is over, the subjects alone in one line."""
    kept = max(most, 1)
    if len(unknown) <= kept:
        return [_sentence(f) for f in unknown]
    over = (f"{f.end} {subject_of(f.requirement.subject).title}" for f in unknown[kept - 1 :])
    return [*map(_sentence, unknown[: kept - 1]), f"not known either: {', '.join(over)}"]


def _met(how: str, met: Sequence[Finding], *, inferred: bool) -> str:
    """One line for all that is met in the same way: its subjects with what is asked."""
    named = [
        f"{subject_of(f.requirement.subject).title} {f.requirement.condition.words(unit=_unit_of(f))}"
        for f in met
        if f.inferred is inferred and not f.requirement.computed
    ]
    return f"met {how}: {', '.join(dict.fromkeys(named))}" if named else ""


def _unit_of(finding: Finding) -> str:
    return subject_of(finding.requirement.subject).unit


_GATES = frozenset({"offer", "kind", "position"})
"""Where one of these fails, nothing else matters."""
_PLAIN = _GATES | {"donor", "missing", "min_wheel_in"}


def _of_course(finding: Finding) -> bool:
    """What goes without saying while it is met: that it is for sale, an axle, of the wanted end, and a solid
    one.
    """
    return finding.requirement.subject in _PLAIN and finding.state is State.MEETS


def _silent(finding: Finding) -> bool:
    """Whether it is met by silence alone, which is no reason to give."""
    return UNSAID in finding.because or "not known for its kind" in finding.because


def _sentence(finding: Finding) -> str:
    title = subject_of(finding.requirement.subject).title
    joint = " " if finding.because.startswith(f"{title}:") else ": "
    return f"{finding.end}{joint}{finding.because}"


def _with_work(finding: Finding) -> str:
    words = finding.cured_by.replace("-", " ")
    planned = "planned anyway" if finding.cure_planned else "accepted"
    return f"{_sentence(finding)}: {words} makes it good, {planned}"


def _lost(finding: Finding) -> bool:
    level = finding.requirement.level
    if level is Level.PREFER:
        return finding.state is State.FAILS
    return level is Level.AVOID and finding.state is State.MEETS


def _preference(finding: Finding) -> str:
    lost = (
        "only a preference lost" if finding.requirement.level is Level.PREFER else "the build would rather avoid that"
    )
    return f"{_sentence(finding).partition('; the build asks')[0]}; {lost}"


def _money(money: Landed, *, alone: bool) -> list[str]:
    """The sum in one line; ``alone``: nothing but money ends it, so that the price tells at which it would do."""
    if money.total is None:
        return ["no price is named"]
    total, limit = money.total, money.limit_usd
    named = (f"{_label(line, money)} {line.cost.likely:,.0f}" for line in money.lines if line.cost.likely)
    sum_words = " + ".join(named)
    band = "" if total.low == total.high else f" ({total.low:,.0f} to {total.high:,.0f})"
    said = f"landed about {total.likely:,.0f}{band}: {sum_words}"
    if limit is None:
        return [said]
    if not money.over:
        return [f"{said}; within {limit:,.0f}"]
    even = money.break_even_usd
    turn = f"; it would do at {even:,.0f}" if alone and even is not None and even > 0 else ""
    return [f"{said}; over the limit of {limit:,.0f}{turn}"]


def _label(line: Line, money: Landed) -> str:
    return line.label if money.known or line.label != ASKED else "a usual price, as none is named,"
