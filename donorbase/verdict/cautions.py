"""Which cautions apply to a case: by what the axle is, the work that counts, and the requirements that are open."""

from collections.abc import Iterable

from donorbase.reference.rules import cautions
from donorbase.verdict.applies import Case, applies
from donorbase.verdict.lights import Light
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Finding, ListingVerdict, State


def cautions_for(cases: Iterable[Case], place: str) -> tuple[str, ...]:
    """What to say in that place (``check``, ``order``, ``fitup``), each once, in the order of the data.

    A caution whose ground is not known is left out of a verdict, which says elsewhere what is open; where something
    is about to be done it is said.
    """
    said = {Light.GO} if place == "check" else {Light.GO, Light.UNCLEAR}
    cases = tuple(cases)
    return tuple(
        caution.says
        for caution in cautions().values()
        if place in caution.shown and caution.when and any(applies(caution.when, case).light in said for case in cases)
    )


def cautions_on(verdict: ListingVerdict, prospects: Iterable[Prospect], build: Build) -> tuple[str, ...]:
    """The cautions that stand beside a verdict.

    Work that is planned anyway was thought of, so that only what this offer adds to it counts.
    """
    added = frozenset(task.word for task in verdict.work if not task.planned)
    chosen = {(verdict.items[number].item, verdict.items[number].end) for number in verdict.chosen}
    pair = _open(verdict.pair)
    return cautions_for(
        (
            Case(p.end, build, p, added, findings=pair | _open(_findings(verdict, p)))
            for p in prospects
            if (p.item, p.end) in chosen
        ),
        "check",
    )


def _findings(verdict: ListingVerdict, prospect: Prospect) -> Iterable[Finding]:
    return (
        finding
        for item in verdict.items
        if (item.item, item.end) == (prospect.item, prospect.end)
        for finding in item.findings
    )


def _open(findings: Iterable[Finding]) -> frozenset[str]:
    """Requirements that fail, or are not known."""
    return frozenset(f.requirement.subject for f in findings if f.state is not State.MEETS)
