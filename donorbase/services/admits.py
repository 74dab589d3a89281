"""How much of the catalogue the musts of a build let in, and which of them shuts out the rest.

Counted are kinds as they left the factory: a variant of which any fitted value meets a must can meet it; a figure
that is not known neither meets nor fails. What work or an owner may change, and what is of a single axle only
(its defects, its price), is not counted.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from donorbase.attributes import attributes
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.reference.conditions import RATIO_SOLD
from donorbase.reference.judging import Judging, judging
from donorbase.verdict.computed import requirements_of
from donorbase.verdict.spec import Build, Level, Requirement
from donorbase.verdict.subjects import subject_of

Truth = bool | None

_ALWAYS_SO = frozenset({"position", "donor", "parking_brake"})
"""The first two hold of every variant that is counted; of the last the catalogue has words, not a yes or no."""


@dataclass(frozen=True, slots=True)
class Shut:
    """What one must does by itself: counts of variants.

    ``lets_in`` would meet all musts if only this one were dropped; ``may_let_in`` would fail none, but a figure
    of theirs is not known.
    """

    requirement: Requirement
    shuts_out: int
    not_known: int
    lets_in: int
    may_let_in: int

    def as_json(self) -> dict[str, Any]:
        """The must in the form of a build file, and the counts."""
        return {
            "must": self.requirement.subject,
            "asks": self.requirement.condition.plain(),
            "computed": self.requirement.computed,
            "shuts_out": self.shuts_out,
            "not_known": self.not_known,
            "lets_in": self.lets_in,
            "may_let_in": self.may_let_in,
        }


@dataclass(frozen=True, slots=True)
class Admitted:
    """One end: how many variants meet every must, how many fail none but are not known in full, of how many.

    ``shut`` has one entry for each must that was counted, the ones that shut out most first. ``impossible`` are
    musts that every variant fails, ``clashing`` pairs that can each be met but by no variant both, ``vain`` the
    wishes that no variant left can meet.
    """

    end: str
    meets: tuple[str, ...]
    not_known: tuple[str, ...]
    of: int
    shut: tuple[Shut, ...]
    impossible: tuple[Requirement, ...]
    clashing: tuple[tuple[Requirement, Requirement], ...]
    vain: tuple[Requirement, ...]

    @property
    def none_left(self) -> bool:
        """Whether every variant fails some must."""
        return not self.meets and not self.not_known

    def as_json(self) -> dict[str, Any]:
        """Plain data; variants by key."""
        return {
            "end": self.end,
            "of": self.of,
            "meets": list(self.meets),
            "not_known": list(self.not_known),
            "musts": [shut.as_json() for shut in self.shut],
            "impossible": [r.subject for r in self.impossible],
            "clashing": [[one.subject, other.subject] for one, other in self.clashing],
            "vain_wishes": [r.subject for r in self.vain],
        }


def admitted(build: Build, end: str, catalogue: Catalogue) -> Admitted:
    """What the musts of one end let in and shut out, over every variant of that end that is worth having."""
    rules = judging()
    asked = [r for r in requirements_of(build, end, rules) if _of_kind(r, rules)]
    musts = [r for r in asked if r.level is Level.MUST]
    variants = [v for v in catalogue.of_position(end) if v.family.donor_ok]
    truths = [[can_meet(r, v, catalogue) for r in musts] for v in variants]
    left = [v for v, row in zip(variants, truths, strict=True) if False not in row]
    impossible = [m for i, m in enumerate(musts) if variants and all(row[i] is False for row in truths)]
    return Admitted(
        end,
        tuple(v.key for v, row in zip(variants, truths, strict=True) if all(row)),
        tuple(v.key for v, row in zip(variants, truths, strict=True) if False not in row and None in row),
        len(variants),
        tuple(sorted((_shut(i, m, truths) for i, m in enumerate(musts)), key=lambda s: -s.shuts_out)),
        tuple(impossible),
        tuple(_clashing(musts, truths, impossible)),
        tuple(r for r in asked if r.level is Level.PREFER and left and _vain(r, left, catalogue)),
    )


def _of_kind(requirement: Requirement, rules: Judging) -> bool:
    """Whether a requirement speaks of kinds of axle, so that the catalogue can answer it."""
    name, condition = requirement.subject, requirement.condition
    if name == RATIO_SOLD:
        return True
    if name in _ALWAYS_SO or name not in attributes() or attributes()[name].scope != "axle":
        return False
    return not (condition.only_forbids and all(str(word) in rules.unsaid for word in condition.forbids))


def can_meet(requirement: Requirement, variant: Variant, catalogue: Catalogue) -> Truth:
    """Whether a variant can meet a requirement as it left the factory; None where a figure is not known."""
    subject, condition = subject_of(requirement.subject), requirement.condition
    if subject.name == RATIO_SOLD:
        return _can_be_geared(requirement, variant, catalogue)
    if variant.family.position not in subject.ends:
        return False
    values = _values(subject.name, variant)
    return any(condition.share(value, subject) > 0 for value in values) if values else None


def _values(name: str, variant: Variant) -> tuple[Value, ...]:
    if name in ("variant", "family"):
        return (variant.key if name == "variant" else variant.family.key,)
    wider = judging().wider
    return tuple(kind for value in variant.all(name) for kind in (value, *wider.get(str(value), ())))


def _can_be_geared(requirement: Requirement, variant: Variant, catalogue: Catalogue) -> Truth:
    """Whether a set of the ratio is sold; a list of low confidence that lacks it does not say that there is none."""
    gear_set = catalogue.gear_sets.get(str(variant.get("gear_set")))
    if gear_set is None or not gear_set.ratios_sold:
        return None
    listed = any(requirement.condition.share(r, subject_of(RATIO_SOLD)) > 0 for r in gear_set.ratios_sold)
    return listed or (None if gear_set.confidence == "low" else False)


def _shut(number: int, must: Requirement, truths: Sequence[Sequence[Truth]]) -> Shut:
    column = [row[number] for row in truths]
    others = [[*row[:number], *row[number + 1 :]] for row in truths if row[number] is False]
    return Shut(
        must,
        column.count(False),
        column.count(None),
        sum(all(row) for row in others),
        sum(False not in row and None in row for row in others),
    )


def _clashing(
    musts: Sequence[Requirement], truths: Sequence[Sequence[Truth]], impossible: Sequence[Requirement]
) -> list[tuple[Requirement, Requirement]]:
    possible = [(i, must) for i, must in enumerate(musts) if must not in impossible]
    return [
        (one, other)
        for (i, one), (j, other) in combinations(possible, 2)
        if truths and all(row[i] is False or row[j] is False for row in truths)
    ]


def _vain(wish: Requirement, left: Sequence[Variant], catalogue: Catalogue) -> bool:
    return all(can_meet(wish, variant, catalogue) is False for variant in left)
