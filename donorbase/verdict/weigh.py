"""The chance that one requirement is met in one world: ``(holds, unknown)``; the rest fails."""

import math
from collections.abc import Callable

from donorbase.attributes import Attribute
from donorbase.engineering.wheels import wheel_for_rotor_in
from donorbase.facts import Known, Value
from donorbase.reference.catalogue import Variant
from donorbase.verdict.brakes import fluid_enough
from donorbase.verdict.condition import RATIO_MATCH, Condition
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.ruined import ruined_parts
from donorbase.verdict.signs import mentions, says, wheels_run
from donorbase.verdict.spec import Build, Requirement
from donorbase.verdict.subjects import subject_of

Chance = tuple[float, float]
OPEN: Chance = (0.0, 1.0)


def chance_in(requirement: Requirement, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    """Whether the axle meets the requirement if it is that variant (None: none of the catalogue's)."""
    special = _SPECIAL.get(requirement.subject)
    if special:
        return special(requirement.condition, prospect, variant, build)
    return _attribute(requirement.condition, subject_of(requirement.subject), prospect, variant)


def _attribute(condition: Condition, subject: Attribute, prospect: Prospect, variant: Variant | None) -> Chance:
    stated = prospect.all(subject.name)
    if len(set(stated)) > 1 and subject.many and not prospect.contradicted(subject.name):
        return (
            condition.share_of_set(_narrowed(stated, prospect), subject) * (1 - subject.seller_error),
            0.0,
        )
    belief = prospect.belief(subject.name, variant)
    holds = sum(p * _share(condition, value, subject, prospect) for value, p in belief)
    if condition.only_forbids and not stated:
        holds += belief.unknown * (1 - sum(prospect.rules.unsaid.get(str(v), 1.0) for v in condition.forbids))
        return (max(holds, 0.0), 0.0)
    return (holds, belief.unknown)


def _share(condition: Condition, value: Value, subject: Attribute, prospect: Prospect) -> float:
    """How far a value meets the condition; a word that leaves the kind open meets it as often as its kinds
    do.
    """
    kinds = prospect.rules.wider.get(str(value))
    if kinds is None:
        return condition.share(value, subject)
    return max(condition.share(value, subject), sum(condition.share(k, subject) for k in kinds) / len(kinds))


def _narrowed(values: tuple[Value, ...], prospect: Prospect) -> tuple[Value, ...]:
    wider = prospect.rules.wider
    return tuple(v for v in values if not set(wider.get(str(v), ())) & set(values))


def _offer(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    offer = prospect.reading.get("offer") or "for-sale"
    return (condition.share(offer, subject_of("offer")), 0.0)


def _kind(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    return (condition.share(prospect.kind, subject_of("kind")), 0.0)


def _price(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    price = next(iter(prospect.all("price_usd")), prospect.reading.get("price_usd"))
    return OPEN if price is None else (condition.share(price, subject_of("price_usd")), 0.0)


def absent(prospect: Prospect) -> tuple[str, ...]:
    """The parts that are not there: those said to be missing or ruined, and those that a bare housing comes without."""
    there = {part for word in prospect.all("has") for part in meant(str(word), prospect)}
    bare = _bare(prospect) if prospect.kind == "housing" else ()
    said = [part for word in prospect.all("missing") for part in meant(str(word), prospect)]
    for word in ruined_parts(prospect.reading, prospect.end, prospect.rules):
        # Of a front's shafts nobody says which one it is: the dearer of the two is counted once.
        said += [part for part in meant(word, prospect)[-1:] if part not in said]
    return tuple(dict.fromkeys([*said, *(part for part in bare if part not in there)]))


_DISCS = frozenset({"caliper", "rotor"})
_IN_THE_THIRD = frozenset({"differential", "carrier", "ring-and-pinion"})


def _bare(prospect: Prospect) -> tuple[str, ...]:
    """The parts that a bare housing comes without: of drum brakes the drums, of a semi-float no hubs, for the shaft's
    flange is the hub; a third member that is gone has taken the gears with it.
    """
    gone: frozenset[str] = _DISCS if "drum" in prospect.all("brakes") else frozenset()
    gone |= {"hub"} if "semi" in prospect.all("float") else frozenset()
    gone |= _IN_THE_THIRD if "third-member" in prospect.all("missing") else frozenset()
    parts = tuple(part for part in prospect.rules.housing.get(prospect.end, ()) if part not in gone)
    return (*parts, "brake-drum") if gone >= _DISCS else parts


def meant(word: str, prospect: Prospect) -> tuple[str, ...]:
    """The parts that a word for one means on this end: "shafts" of a front are the inner and the outer ones."""
    return prospect.rules.part_means.get(prospect.end, {}).get(word, (word,))


def names_of(part: str, prospect: Prospect) -> frozenset[str]:
    """Every word that a build file may call a part of this end by."""
    means = prospect.rules.part_means.get(prospect.end, {})
    return frozenset({part, *(word for word, parts in means.items() if part in parts)})


def _missing(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    gone = tuple(name for part in absent(prospect) for name in sorted(names_of(part, prospect)))
    share = condition.share_of_set(gone, subject_of("missing"))
    unsaid = [part for part in condition.forbids if part not in prospect.all("has")]
    silent = (1 - prospect.rules.unsaid["missing"]) ** len(unsaid)
    return (share * silent if share else _hedged("missing", condition, prospect), 0.0)


_IF_HEDGED = 0.4
"""Chance that a fault which the seller only suspects is none: common practice."""
_IF_STRUCK = 0.6
"""Chance that the axle of a donor which was struck or rolled is straight: common practice."""


def _hedged(name: str, condition: Condition, prospect: Prospect) -> float:
    """The chance of being spared where every forbidden thing is named with a hedge or a contradiction; else
    0.
    """
    named = [f for f in prospect.facts_of(name) if condition.share(f.value, subject_of(name)) == 0]
    unsure = {Known.HEDGED, Known.CONTRADICTED}
    return _IF_HEDGED if named and all(f.known in unsure for f in named) else 0.0


def _defects(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    share = condition.share_of_set(prospect.all("defects"), subject_of("defects"))
    if not condition.only_forbids:
        words = {str(v) for test in condition.tests for v in test.values}
        spared = math.prod(1 - prospect.rules.unsaid.get(word, 0.0) for word in words)
        return (share or 1 - spared, 0.0)
    left = share or _hedged("defects", condition, prospect)
    for word in condition.forbids:
        left *= 1 - prospect.rules.unsaid.get(str(word), 0.01)
    return (left * _IF_STRUCK if struck(prospect) and "bent" in condition.forbids else left, 0.0)


def struck(prospect: Prospect) -> bool:
    """Whether the text says that the donor was hit or rolled."""
    return any(hazard.kind == "hit" for _, hazard in prospect.marks())


def sold(ratio: float, prospect: Prospect, variant: Variant | None) -> Chance:
    """Whether a set of that ratio is made for the variant's generation of ring and pinion."""
    gear_set = prospect.gear_set(variant)
    if gear_set is None or not gear_set.ratios_sold:
        return OPEN
    if any(abs(ratio - listed) <= RATIO_MATCH * listed for listed in gear_set.ratios_sold):
        return (1.0, 0.0)
    known = prospect.rules.known
    if gear_set.confidence == "low":
        return (known.unlisted_low, 0.0)
    shallow = gear_set.deepest is not None and ratio < gear_set.deepest
    return (known.unlisted_shallow if shallow else 0.01, 0.0)


def _ratio_sold(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    wanted = condition.wanted
    if not isinstance(wanted, (int, float)):
        return any_sold(condition, prospect, variant)
    found = prospect.all("ratio")
    if prospect.plainly("ratio") and any(condition.share(ratio, subject_of("ratio")) for ratio in found):
        return (1.0, 0.0)
    return sold(float(wanted), prospect, variant)


def any_sold(condition: Condition, prospect: Prospect, variant: Variant | None) -> Chance:
    """Whether some ratio that meets the condition is sold for the variant's ring and pinion."""
    gear_set = prospect.gear_set(variant)
    if gear_set is None or not gear_set.ratios_sold:
        return OPEN
    return (float(any(condition.share(r, subject_of("ratio")) for r in gear_set.ratios_sold)), 0.0)


def _brake_fluid(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    wanted = condition.wanted is not False
    holds, unknown = fluid_enough(prospect, variant, build)
    return (holds if wanted else 1 - holds - unknown, unknown)


def _donor(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    if prospect.end == "front" and independent(prospect):
        return (0.02, 0.0)
    return (0.9, 0.1) if variant is None else (float(variant.family.donor_ok), 0.0)


def independent(prospect: Prospect) -> bool:
    """Whether the text tells of an independent front end, and not of what a solid axle is to replace."""
    text, signs = prospect.reading.text, prospect.rules.signs
    return says(text, signs["independent"]) and not mentions(text, signs["solid"])


def _parking_brake(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    text = variant.get("parking_brake") if variant else None
    if not isinstance(text, str):
        return OPEN
    has = not text.startswith(("none", "drum on the transmission", "on the transfer"))
    return (float(has is (condition.wanted is not False)), 0.0)


def _min_wheel(condition: Condition, prospect: Prospect, variant: Variant | None, build: Build) -> Chance:
    subject = subject_of("min_wheel_in")
    ran = wheels_run(prospect.reading.text)
    if ran is not None and condition.share(ran, subject) == 1:
        # Brakes over which a wheel has run are cleared by it; how small a wheel would do is another matter.
        return (1 - subject_of("min_wheel_in").seller_error, 0.0)
    belief = prospect.belief("min_wheel_in", variant)
    holds, unknown = belief.chance(lambda value: condition.share(value, subject) == 1)
    rotor = prospect.belief("rotor_dia_mm", variant).best
    if unknown < 1 or not isinstance(rotor, (int, float)):
        return (holds, unknown)
    least, safe = wheel_for_rotor_in(float(rotor))
    return (0.9, 0.1) if condition.share(safe, subject) == 1 else (0.0, float(condition.share(least, subject) == 1))


_SPECIAL: dict[str, Callable[[Condition, Prospect, Variant | None, Build], Chance]] = {
    "offer": _offer,
    "kind": _kind,
    "price_usd": _price,
    "missing": _missing,
    "defects": _defects,
    "ratio_sold": _ratio_sold,
    "brake_fluid_enough": _brake_fluid,
    "parking_brake": _parking_brake,
    "donor": _donor,
    "min_wheel_in": _min_wheel,
}
