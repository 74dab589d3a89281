"""Requirements that follow from the vehicle and from the house, each with the sum it comes from."""

from collections.abc import Iterator, Sequence

from donorbase.engineering.gearing import nearest_ratios, wanted_ratio_for_rpm
from donorbase.engineering.tires import read_tire
from donorbase.reference.judging import Judging
from donorbase.verdict.condition import Condition, Test
from donorbase.verdict.spec import Build, Level, Requirement

_USUAL_RATIOS = (3.07, 3.31, 3.54, 3.73, 3.92, 4.10, 4.30, 4.56, 4.88, 5.13, 5.38)
"""Ratios that are commonly sold: common practice."""


def requirements_of(build: Build, end: str, rules: Judging) -> tuple[Requirement, ...]:
    """All requirements of one end: the owner's own, what every donor must be, and what the vehicle asks.

    The owner's own word on a subject stands in for the computed one.
    """
    own = build.of_end(end)
    said = {r.subject for r in own if r.level is Level.MUST}
    named = {r.subject for r in own}
    always = [*(r for r in _always(end) if r.subject not in said), *_parts_needed(rules, build, own)]
    vehicle = (r for r in _vehicle(build, end, said) if r.subject not in named) if build.computed else ()
    return (*always, *own, *vehicle)


def _equal(subject: str, value: str | float | bool, why: str, *, soft: bool = False) -> Requirement:
    return Requirement(subject, Condition((Test("equal", (value,)),)), Level.MUST, why, soft)


def _always(end: str) -> Iterator[Requirement]:
    yield _equal("offer", "for-sale", "nothing else can be bought")
    yield _equal("kind", "axle", "an assembled axle is wanted where the build says nothing else")
    yield _equal("position", end, f"the build wants a {end}")
    yield _equal("donor", True, "only a solid axle goes under another vehicle")


def _parts_needed(rules: Judging, build: Build, own: Sequence[Requirement]) -> Iterator[Requirement]:
    """The parts that must be there: what the owner names stands, and a refusal to buy any holds for the rest too."""
    named = [r.condition.forbids for r in own if r.subject == "missing" and r.level is Level.MUST]
    refused = "buy-missing-parts" in build.work.refused
    if named and not refused:
        return
    asked = frozenset().union(*named)
    needed = tuple(sorted(name for name, part in rules.parts.items() if (part.vital or refused) and name not in asked))
    why = "buying parts is refused" if refused else "without these it is no axle"
    yield Requirement("missing", Condition((Test("none_of", needed),)), Level.MUST, why, soft=True)


def _vehicle(build: Build, end: str, said: set[str]) -> Iterator[Requirement]:
    output = build.vehicle.front_output
    if end == "front" and output:
        yield _equal("drop", output, f"the transfer case's front output is on the {output} side")
    ratio, why = wanted_ratio(build)
    if ratio and not {"ratio", "ratio_sold"} & said and "regear" in build.work.planned:
        yield _equal("ratio_sold", ratio, f"a regear to {ratio:.2f} is planned{why}", soft=True)
    wheel = build.vehicle.wheel_dia_in
    if wheel:
        condition = Condition((Test("at_most", (wheel,)),))
        yield Requirement("min_wheel_in", condition, Level.MUST, f"the wheels are {wheel:g} in", soft=True)


def wanted_ratio(build: Build) -> tuple[float | None, str]:
    """The ratio that the build asks for, and the sum where it is computed from tires and cruising speed."""
    if build.ratio:
        return build.ratio, ""
    vehicle, tire = build.vehicle, tire_dia_in(build)
    if not (tire and vehicle.cruise_mph and vehicle.cruise_rpm):
        return None, ""
    gear = vehicle.top_gear or 1.0
    exact = wanted_ratio_for_rpm(vehicle.cruise_mph, vehicle.cruise_rpm, tire, gear)
    nearest = nearest_ratios(exact, _USUAL_RATIOS, 1)[0]
    return nearest, (
        f": {vehicle.cruise_rpm:g} rpm at {vehicle.cruise_mph:g} mph on {tire:g}-in tires in a {gear:g} gear "
        f"is {exact:.2f}, the nearest sold {nearest:.2f}"
    )


def tire_dia_in(build: Build) -> float | None:
    """The tires' diameter in inches, as given or from their size; None where neither is known."""
    if build.vehicle.tire_dia_in:
        return build.vehicle.tire_dia_in
    return read_tire(build.vehicle.tires).diameter_in if build.vehicle.tires else None
