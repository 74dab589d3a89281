"""What a build leaves open, where it speaks against itself, and how much of the catalogue it lets in."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue
from donorbase.services.admits import Admitted, admitted
from donorbase.verdict.computed import wanted_ratio
from donorbase.verdict.spec import ENDS, Build, Level, Requirement
from donorbase.verdict.subjects import subject_of


@dataclass(frozen=True, slots=True)
class Opening:
    """Something that the build does not say: why it matters, and the line that says it, under its table.

    The figure in ``line`` is an example unless the build itself gives it.
    """

    what: str
    why: str
    table: str
    line: str


@dataclass(frozen=True, slots=True)
class LookedOver:
    """A build as looked over: openings, contradictions as sentences, and each wanted end against the catalogue."""

    openings: tuple[Opening, ...]
    contradictions: tuple[str, ...]
    ends: tuple[Admitted, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "open": [asdict(opening) for opening in self.openings],
            "contradictions": list(self.contradictions),
            "ends": [end.as_json() for end in self.ends],
        }


def look_over(build: Build, catalogue: Catalogue) -> LookedOver:
    """What a build leaves open, contradicts and shuts out; nothing is asked of the outside."""
    ends = tuple(admitted(build, end, catalogue) for end in build.wants)
    return LookedOver(tuple(_openings(build)), tuple(_contradictions(build, ends)), ends)


def _openings(build: Build) -> Iterator[Opening]:
    if "front" in build.wants:
        yield from _front(build)
    for end in build.wants:
        yield from _wheels(build, end)
        yield from _condition(build, end)
    yield from _ratio(build)
    if not build.work.planned and not build.work.accepted:
        why = "every must that an axle fails ends it, also where an afternoon would make it good"
        yield Opening("no work", why, "work", 'accepted = ["buy-missing-parts"]')
    if build.money.landed_limit_usd is None:
        why = "no price is too much: an axle that fits at three times its worth is still called one that fits"
        yield Opening("no limit of money", why, "money", "landed_limit_usd = 1500")
    if build.money.travel_usd_per_mi is None:
        why = "a shipped rate stands in for what a mile costs you"
        yield Opening("cost of a mile", why, "money", "travel_usd_per_mi = 0.45")


def _asks(build: Build, end: str, *names: str) -> bool:
    return any(r.subject in names and r.level is Level.MUST for r in build.of_end(end))


def _front(build: Build) -> Iterator[Opening]:
    vehicle = build.vehicle
    if not vehicle.front_output and not _asks(build, "front", "drop"):
        why = "a front whose differential is on the other side than the transfer case's output would pass"
        yield Opening("side of the transfer case", why, "vehicle", 'front_output = "driver"')
    if vehicle.master_cylinder is None and vehicle.master_cylinder_bore_in is None:
        why = "whether it moves enough fluid for bigger calipers cannot be told"
        yield Opening("master cylinder", why, "vehicle", 'master_cylinder = "original"')


def _wheels(build: Build, end: str) -> Iterator[Opening]:
    there = build.has.get(_other(end), {})
    must = f"{end}.must"
    if not _asks(build, end, "bolt_circle_mm"):
        why = "an axle that your wheels do not bolt to would pass"
        yield Opening(f"bolt circle, {end}", why, must, f"bolt_circle_mm = {there.get('bolt_circle_mm', 165.1)}")
    if not _asks(build, end, "lugs"):
        yield Opening(
            f"wheel studs, {end}", "a hub of five, six or eight studs will do", must, f"lugs = {there.get('lugs', 8)}"
        )
    if not _asks(build, end, "rear_wheels"):
        why = "the hub of a truck with dual rear wheels stands out further and may take no single wheel"
        yield Opening(f"single or dual rear wheels, {end}", why, must, 'rear_wheels = "single"')
    if not _asks(build, end, "min_wheel_in") and not (build.vehicle.wheel_dia_in and build.computed):
        why = "an axle whose brakes do not go inside your wheels would pass"
        yield Opening(f"smallest wheel, {end}", why, must, "min_wheel_in = { at_most = 17 }")


def _condition(build: Build, end: str) -> Iterator[Opening]:
    if not _asks(build, end, "defects"):
        why = "a bent or cracked housing would pass"
        yield Opening(f"defects, {end}", why, f"{end}.must", 'defects = { none_of = ["bent", "cracked"] }')


def _ratio(build: Build) -> Iterator[Opening]:
    named = any(_asks(build, end, "ratio", "ratio_sold") for end in build.wants)
    if not wanted_ratio(build)[0] and not named:
        why = "front and rear must turn alike, and no set may be sold for the axle that you need one for"
        yield Opening("ratio", why, "gearing", "ratio = 4.56")
    if len(build.wants) == 1 and not build.has.get(other := _other(build.wants[0])):
        why = f"a donor cannot be held against the {other} that stays: its wheels and its ratio"
        yield Opening(f"the {other} that is there", why, f"{other}.has", "ratio = 4.56")


def _other(end: str) -> str:
    return next(e for e in ENDS if e != end)


def _contradictions(build: Build, ends: tuple[Admitted, ...]) -> Iterator[str]:
    for end in build.wants:
        yield from _wanted_and_avoided(build, end)
        yield from _against_the_vehicle(build, end)
        yield from _against_the_other_end(build, end)
    for found in ends:
        yield from _against_the_catalogue(found)


def _said(end: str, row: Requirement) -> str:
    return f"{end}: {row.level} {row.subject} {row.condition.words()}"


def _musts(build: Build, end: str) -> Iterator[Requirement]:
    return (r for r in build.of_end(end) if r.level is Level.MUST)


def _wanted_and_avoided(build: Build, end: str) -> Iterator[str]:
    for must in _musts(build, end):
        wanted = must.condition.wanted
        if wanted is None:
            continue
        for row in build.of_end(end):
            same = row.level is Level.AVOID and row.subject == must.subject
            if same and row.condition.share(wanted, subject_of(row.subject)) == 1:
                yield f"{_said(end, must)}, and the same is to be avoided"


def _against_the_vehicle(build: Build, end: str) -> Iterator[str]:
    ratio, vehicle = wanted_ratio(build)[0], build.vehicle
    moved = "move-transfer-case-output" in {*build.work.planned, *build.work.accepted}
    for must in _musts(build, end):
        if end == "front" and must.subject == "drop" and not moved and _fails(must, vehicle.front_output):
            yield f"{_said(end, must)}, and the transfer case's front output is on the {vehicle.front_output} side"
        if must.subject in ("ratio", "ratio_sold") and _fails(must, ratio):
            yield f"{_said(end, must)}, and the ratio that the build asks for is {ratio:.2f}"
        if must.subject == "min_wheel_in" and _larger_than(must, vehicle.wheel_dia_in):
            yield f"{_said(end, must)}, and the wheels are {vehicle.wheel_dia_in:g} in: brakes too big for them pass"


def _fails(must: Requirement, value: Value | None) -> bool:
    return value is not None and must.condition.share(value, subject_of(must.subject)) == 0


def _larger_than(must: Requirement, wheel_dia_in: float | None) -> bool:
    limits = [t.values[-1] for t in must.condition.tests if t.operator in ("at_most", "between", "equal")]
    return wheel_dia_in is not None and any(isinstance(n, int | float) and n > wheel_dia_in for n in limits)


def _against_the_other_end(build: Build, end: str) -> Iterator[str]:
    there = build.has.get(_other(end), {})
    for must in _musts(build, end):
        if must.subject in ("lugs", "bolt_circle_mm", "ratio") and _fails(must, there.get(must.subject)):
            yield f"{_said(end, must)}, and the {_other(end)} that is there has {there[must.subject]:g}"


def _against_the_catalogue(found: Admitted) -> Iterator[str]:
    end = found.end
    for must in found.impossible:
        yield f"{_said(end, must)}: no {end} of the catalogue can meet it"
    for one, other in found.clashing:
        yield f"{_said(end, one)}, and {other.subject} {other.condition.words()}: no {end} can meet both"
    if found.none_left and found.of and not found.impossible and not found.clashing:
        yield f"{end}: each must can be met, but no {end} of the catalogue can meet all of them together"
    for wish in found.vain:
        yield f"{_said(end, wish)}: no {end} that the musts let in can meet it"
