"""The hold points that apply to this axle under this vehicle, in the order of the work, each once and with why."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from donorbase.reference.rules import FitUpRules, Point, Thing
from donorbase.verdict.applies import Applies, Case, applies
from donorbase.verdict.fitup_sums import Measured, sum_for
from donorbase.verdict.lights import Light
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import ENDS, Build


@dataclass(frozen=True, slots=True)
class Hold:
    """A hold point that applies.

    ``ends`` are those it is of; ``because`` says what makes it apply, and ``sure`` whether that is known; ``sums`` are
    figures worked out for it.
    """

    point: Point
    ends: tuple[str, ...]
    because: tuple[str, ...]
    sure: bool
    sums: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        point = self.point
        return {
            "key": point.key, "stage": point.stage, "ends": list(self.ends), "do": point.do, "why": point.why,
            "applies_because": list(self.because), "sure": self.sure, "computed": list(self.sums),
            "inspect": point.inspect, "fill": point.fill, "basis": point.basis,
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class FitUp:
    """The hold points of a build, by stage, and the cautions that go with them."""

    build: str
    axles: tuple[str, ...]
    stages: tuple[tuple[str, str], ...]
    holds: tuple[Hold, ...]
    cautions: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "build": self.build, "axles": list(self.axles), "stages": [list(stage) for stage in self.stages],
            "points": [hold.as_json() for hold in self.holds], "cautions": list(self.cautions),
        }  # fmt: skip


def fit_up(build: Build, axles: Mapping[str, Prospect | None], measured: Measured, rules: FitUpRules) -> FitUp:
    """The hold points of the ends in ``axles`` (None: which axle it is was not told).

    Raises BadInput where links were measured that cannot be.
    """
    cases = cases_of(build, axles)
    order = {word: place for place, (word, _) in enumerate(rules.stages)}
    found = [hold for point in rules.points if (hold := _hold(point, cases, measured))]
    holds = tuple(sorted(found, key=lambda hold: order[hold.point.stage]))
    return FitUp(build.name, tuple(_named(end, axle) for end, axle in axles.items()), rules.stages, holds)


def cases_of(build: Build, axles: Mapping[str, Prospect | None]) -> tuple[Case, ...]:
    """A case for each end: work that is planned counts, work that is accepted may."""
    done, maybe = frozenset(build.work.planned), frozenset(build.work.accepted)
    return tuple(Case(end, build, axles[end], done, maybe) for end in ENDS if end in axles)


def _named(end: str, axle: Prospect | None) -> str:
    best = axle.worlds()[0] if axle else None
    if best is None or best.variant is None:
        return f"{end}: not known which"
    return f"{end}: {best.variant.key} ({best.variant.title})" + ("" if best.weight > 0.995 else f", {best.weight:.0%}")


@dataclass(frozen=True, slots=True)
class Take:
    """A thing worth taking along: for which ends, what makes it so, and whether that is known."""

    thing: Thing
    ends: tuple[str, ...]
    because: tuple[str, ...]
    sure: bool

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told = {name: getattr(self.thing, name) for name in ("key", "thing", "why", "basis")}
        return {**told, "ends": list(self.ends), "applies_because": list(self.because), "sure": self.sure}


def take_along(build: Build, axles: Mapping[str, Prospect | None], things: Iterable[Thing]) -> tuple[Take, ...]:
    """What to take from donors of the ends in ``axles`` for this build; what is sure first."""
    cases = cases_of(build, axles)
    found = []
    for thing in things:
        held = _held(thing, cases)
        if held:
            sure = any(a.light is Light.GO for _, a in held)
            found.append(Take(thing, tuple(case.end for case, _ in held), _because(held), sure))
    return tuple(sorted(found, key=lambda take: not take.sure))


def _held(rule: Point | Thing, cases: Iterable[Case]) -> list[tuple[Case, Applies]]:
    """The cases in which a rule applies, or may."""
    asked = [(case, applies(rule.when, case)) for case in cases if not rule.end or case.end == rule.end]
    return [(case, found) for case, found in asked if found.light is not Light.STOP]


def _hold(point: Point, cases: Iterable[Case], measured: Measured) -> Hold | None:
    held = _held(point, cases)
    if not held:
        return None
    sums = [(case.end, sum_for(point.sum, case, measured)) for case, _ in held] if point.sum else []
    return Hold(
        point,
        tuple(case.end for case, _ in held),
        _because(held),
        any(found.light is Light.GO for _, found in held),
        _said(sums),
    )


def _because(held: list[tuple[Case, Applies]]) -> tuple[str, ...]:
    """The reasons, those that are of one end only marked with it."""
    by_reason: dict[str, list[str]] = {}
    for case, found in held:
        for reason in found.because:
            by_reason.setdefault(reason, []).append(case.end)
    return tuple(reason if len(ends) == len(held) else f"{ends[0]}: {reason}" for reason, ends in by_reason.items())


def _said(sums: list[tuple[str, str]]) -> tuple[str, ...]:
    told = [(end, said) for end, said in sums if said]
    if len({said for _, said in told}) == 1:
        return (told[0][1],)
    return tuple(f"{end}: {said}" for end, said in told)
