"""Which work makes good a requirement that is not met, and whether the owner will do it."""

from collections.abc import Iterable

from donorbase.facts import Value
from donorbase.reference.catalogue import Variant
from donorbase.reference.judging import Cure
from donorbase.verdict.condition import Condition
from donorbase.verdict.prospect import Prospect, overlap
from donorbase.verdict.spec import Build, Requirement
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.weigh import absent, any_sold, names_of, sold

Option = tuple[str, ...]
"""Words of work that together make a bad answer good."""


def options_for(requirement: Requirement, prospect: Prospect, build: Build) -> list[Option]:
    """The ways to make it good with work that is planned or accepted; empty where there is none."""
    if requirement.subject == "missing":
        return _for_parts(absent_of(requirement.condition, prospect), prospect, build)
    if requirement.subject == "defects":
        return _for_defects(requirement.condition, prospect, build)
    return [(cure.work, *cure.also) for cure in _willing(prospect, build) if reaches(cure, requirement, prospect)]


def _willing(prospect: Prospect, build: Build) -> Iterable[Cure]:
    willing = {*build.work.planned, *build.work.accepted} - set(build.work.refused)
    return (
        cure
        for cure in prospect.rules.cures
        if cure.end in ("", prospect.end) and willing.issuperset((cure.work, *cure.also))
    )


def reaches(cure: Cure, requirement: Requirement, prospect: Prospect) -> bool:
    """Whether the work brings the axle to what is asked."""
    condition, subject = requirement.condition, subject_of(requirement.subject)
    if cure.subject != requirement.subject:
        return False
    if cure.value is not None and condition.share(cure.value, subject) < 1:
        return False
    if cure.up_to is not None and condition.share(cure.up_to, subject) < 1:
        return False
    if cure.donor and not all(_has(prospect, name, value) for name, value in cure.donor.items()):
        return False
    if cure.only == "forbidden" and not condition.only_forbids:
        return False
    if cure.only == "vehicle" and prospect.kind != "vehicle":
        return False
    if cure.only == "wider" and not _wider(condition, prospect):
        return False
    return _brings(cure.work, requirement, prospect) >= _SURE


def _has(prospect: Prospect, name: str, value: object) -> bool:
    holds, unknown = prospect.overall(name).chance(lambda found: found == value)
    return holds > 0.5 * (1 - unknown) and holds > 0


def _wider(condition: Condition, prospect: Prospect) -> bool:
    now = prospect.overall("width_in").best
    if not isinstance(now, (int, float)):
        return False
    return any(condition.share(now + step / 2, subject_of("width_in")) for step in range(1, 13))


_SURE = 0.9
"""A cure counts where it brings what is asked on this much of what the axle may be."""


def hubs_reach(requirement: Requirement, prospect: Prospect) -> float:
    """The chance that single-wheel hubs of the same family and years carry the wanted circle; 1 for other
    subjects.
    """
    if requirement.subject != "bolt_circle_mm":
        return 1.0
    circle = subject_of("bolt_circle_mm")
    return sum(
        world.weight
        for world in prospect.worlds()
        if world.variant
        and any(requirement.condition.share(c, circle) == 1 for c in _single_circles(world.variant, prospect))
    )


def _single_circles(of: Variant, prospect: Prospect) -> list[Value]:
    """The bolt circles of the single-wheel axles of a variant's family and years."""
    kin = (v for v in prospect.catalogue.variants.values() if v.family.key == of.family.key)
    return [c for v in kin if "single" in v.all("rear_wheels") and _same_years(v, of) for c in v.all("bolt_circle_mm")]


def _same_years(one: Variant, other: Variant) -> bool:
    first, second = one.get("years"), other.get("years")
    return not (isinstance(first, tuple) and isinstance(second, tuple)) or overlap(first, second)


def _brings(work: str, requirement: Requirement, prospect: Prospect) -> float:
    """The chance that the work brings what is asked, over what the axle may be."""
    if work == "single-wheel-hubs":
        return hubs_reach(requirement, prospect)
    if work == "regear" and requirement.subject == "ratio":
        return gears_reach(requirement, prospect)
    return 1.0


def gears_reach(requirement: Requirement, prospect: Prospect) -> float:
    """The chance that a set of a ratio that will do is sold for the axle's ring and pinion."""
    wanted = requirement.condition.wanted
    total = 0.0
    for world in prospect.worlds():
        if isinstance(wanted, (int, float)):
            holds, unknown = sold(float(wanted), prospect, world.variant)
        else:
            holds, unknown = any_sold(requirement.condition, prospect, world.variant)
        total += world.weight * (holds + 0.5 * unknown)
    return total


def perhaps(requirement: Requirement, prospect: Prospect, build: Build) -> bool:
    """Whether work that the owner would do may or may not bring what is asked: the kind of axle must be
    known first.
    """
    low = prospect.rules.known.low
    ways = [c for c in _willing(prospect, build) if c.subject == requirement.subject]
    open_ways = [c for c in ways if low < _brings(c.work, requirement, prospect) < _SURE]
    fitting = [c for c in open_ways if not c.donor or all(_has(prospect, n, v) for n, v in c.donor.items())]
    return bool(fitting) and not any(reaches(c, requirement, prospect) for c in ways)


def absent_of(condition: Condition, prospect: Prospect) -> tuple[str, ...]:
    """The parts that are not there and that the condition wants."""
    return tuple(part for part in absent(prospect) if names_of(part, prospect) & condition.forbids)


def bought_parts(prospect: Prospect, build: Build) -> tuple[str, ...]:
    """The parts of an axle that are not there and that no planned work brings along; a drive shaft is none of them."""
    planned = set(build.work.planned)
    parts = prospect.rules.parts
    return tuple(p for p in absent(prospect) if p in parts and not planned & set(parts[p].replaced_by))


def _for_parts(gone: tuple[str, ...], prospect: Prospect, build: Build) -> list[Option]:
    left = [part for part in gone if part in bought_parts(prospect, build)]
    if not left:
        # Nothing to buy: the planned work brings it.
        return [tuple(sorted({_bringing(part, prospect, build) for part in gone}))] if gone else _buying(build)
    return _buying(build)


def _buying(build: Build) -> list[Option]:
    willing = {*build.work.planned, *build.work.accepted} - set(build.work.refused)
    return [("buy-missing-parts",)] if "buy-missing-parts" in willing else []


def _bringing(part: str, prospect: Prospect, build: Build) -> str:
    return next(work for work in prospect.rules.parts[part].replaced_by if work in build.work.planned)


def _for_defects(condition: Condition, prospect: Prospect, build: Build) -> list[Option]:
    faults = [str(v) for v in prospect.all("defects") if v in condition.forbids]
    ways = [[c.work for c in _willing(prospect, build) if c.subject == "defects" and c.value == f] for f in faults]
    if not faults or not all(ways):
        return []
    planned = set(build.work.planned)
    return [tuple(sorted({min(way, key=lambda w: (w not in planned, w)) for way in ways}))]
