"""What to look at on an axle before it is paid for: what it should be there, what the build asks, what decides."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import attribute
from donorbase.facts import Value
from donorbase.reference.inspection import WEIGHTS, Look
from donorbase.reference.wording import value_text
from donorbase.verdict.applies import Case, applies
from donorbase.verdict.lights import Light
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Requirement
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import Finding

_NAMED = 0.1
"""A value less likely than this is not named beside the others."""
_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Should:
    """What an attribute should be on this axle: values with their chances, the likeliest first; none: not on record.

    ``asks`` is what the build asks of it, in words, nothing where it asks nothing.
    """

    attribute: str
    title: str
    values: tuple[tuple[Value, float], ...]
    asks: str = ""

    @property
    def words(self) -> str:
        """As a person writes it: ``170 mm``, ``30 (80 %) or 35 (20 %)``."""
        if not self.values:
            return "not on record"
        if len(self.values) == 1 and self.values[0][1] > 0.9:
            return value_text(self.attribute, self.values[0][0])
        return " or ".join(f"{value_text(self.attribute, v)} ({p:.0%})" for v, p in self.values)


@dataclass(frozen=True, slots=True)
class Inspection:
    """A look that this axle is worth. ``decides``: the verdict hangs on it; ``sure``: known to apply."""

    look: Look
    should: tuple[Should, ...]
    decides: bool
    sure: bool

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told = {n: getattr(self.look, n) for n in ("key", "look", "how", "means", "weight", "bring", "basis")}
        should = [
            {"attribute": s.attribute, "values": [[v, round(p, 3)] for v, p in s.values], "asks": s.asks}
            for s in self.should
        ]
        return {**told, "bring": list(self.look.bring), "should": should, "decides": self.decides, "sure": self.sure}


def inspect(
    looks: Iterable[Look], case: Case, findings: Iterable[Finding], deciding: Iterable[str]
) -> list[Inspection]:
    """The looks that apply to an axle of its case, what ends the deal first, and of that what decides first.

    ``deciding`` are the attributes on which the verdict hangs.
    """
    asks = {
        f.requirement.subject: f.requirement.condition.words(unit=subject_of(f.requirement.subject).unit)
        for f in findings
    }
    decided, found = frozenset(deciding), []
    for look in looks:
        applied = applies(look.when, case)
        if applied.light is Light.STOP or (look.end and look.end != case.end):
            continue
        names = [name for name in look.of if case.end in attribute(name).ends]
        should = tuple(_should(name, case.axle, asks.get(name, "")) for name in names)
        found.append(Inspection(look, should, bool(decided & set(names)), applied.light is Light.GO))
    return sorted(found, key=lambda one: (list(WEIGHTS).index(one.look.weight), not one.decides))


def _asked(requirement: Requirement) -> str:
    return requirement.condition.words(unit=subject_of(requirement.subject).unit)


def _should(name: str, axle: Prospect | None, asks: str) -> Should:
    title = attribute(name).title
    if axle is None:
        return Should(name, title, (), asks)
    named = [(value, p) for value, p in axle.overall(name) if p >= _NAMED][:_MOST_NAMED]
    return Should(name, title, tuple(named), asks)
