"""How much of the catalogue the musts of a build let in, and which of them shuts out the rest.

Counted are kinds as they left the factory, and what the work that the owner plans or accepts makes good. What is of
a single axle only (its defects, what is missing, whether it is still for sale) is named and not counted.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.services.kinds import ALWAYS_SO, Kinds, Reach, counted
from donorbase.verdict.computed import requirements_of
from donorbase.verdict.spec import Build, Level, Requirement

_GOOD = (Reach.MEETS, Reach.WITH_WORK)


@dataclass(frozen=True, slots=True)
class Shut:
    """What one must does by itself: counts of variants.

    ``cured`` fail it and are made good by planned or accepted work. ``lets_in`` would meet all musts if only this one
    were dropped; ``may_let_in`` would fail none, but a figure of theirs is not known.
    """

    requirement: Requirement
    shuts_out: int
    not_known: int
    cured: int
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
            "cured": self.cured,
            "lets_in": self.lets_in,
            "may_let_in": self.may_let_in,
        }


@dataclass(frozen=True, slots=True)
class Admitted:
    """One end: how many variants meet every must, how many fail none but are not known in full, of how many.

    ``with_work`` are those of ``meets`` that need planned or accepted work for it; ``uncounted`` the musts that only
    a single axle can answer. ``shut`` has one entry for each must that was counted, the ones that shut out most first.
    ``impossible`` are musts that every variant fails, ``clashing`` pairs that can each be met but by no variant both,
    ``vain`` the wishes that no variant left can meet.
    """

    end: str
    meets: tuple[str, ...]
    not_known: tuple[str, ...]
    of: int
    shut: tuple[Shut, ...]
    impossible: tuple[Requirement, ...]
    clashing: tuple[tuple[Requirement, Requirement], ...]
    vain: tuple[Requirement, ...]
    with_work: tuple[str, ...] = ()
    uncounted: tuple[Requirement, ...] = ()

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
            "with_work": list(self.with_work),
            "not_known": list(self.not_known),
            "musts": [shut.as_json() for shut in self.shut],
            "impossible": [r.subject for r in self.impossible],
            "clashing": [[one.subject, other.subject] for one, other in self.clashing],
            "vain_wishes": [r.subject for r in self.vain],
            "not_counted": [r.subject for r in self.uncounted],
        }


def admitted(build: Build, end: str, catalogue: Catalogue) -> Admitted:
    """What the musts of one end let in and shut out, over every variant of that end that is worth having."""
    kinds = Kinds(build, end, catalogue)
    asked = [*requirements_of(build, end, kinds.rules), *_of_the_pair(build, end)]
    musts = [r for r in asked if r.level is Level.MUST and counted(r, kinds.rules)]
    rows = [[kinds.reach(must, variant) for must in musts] for variant in kinds.variants]
    pairs = list(zip(kinds.variants, rows, strict=True))
    left = [v for v, row in pairs if Reach.FAILS not in row]
    meets = [(v, row) for v, row in pairs if all(reach in _GOOD for reach in row)]
    impossible = [m for i, m in enumerate(musts) if rows and all(row[i] is Reach.FAILS for row in rows)]
    wishes = [r for r in asked if r.level is Level.PREFER and counted(r, kinds.rules)]
    return Admitted(
        end,
        tuple(v.key for v, _ in meets),
        tuple(v.key for v, row in pairs if Reach.FAILS not in row and Reach.NOT_KNOWN in row),
        len(kinds.variants),
        tuple(sorted((_shut(i, m, rows) for i, m in enumerate(musts)), key=lambda s: -s.shuts_out)),
        tuple(impossible),
        tuple(_clashing(musts, rows, impossible)),
        tuple(wish for wish in wishes if left and _vain(wish, left, kinds)),
        tuple(v.key for v, row in meets if Reach.WITH_WORK in row),
        tuple(r for r in asked if _of_one_axle(r) and not counted(r, kinds.rules)),
    )


def _of_the_pair(build: Build, end: str) -> tuple[Requirement, ...]:
    """The requirements of the pair, where there is another end to hold the kind against."""
    other = "rear" if end == "front" else "front"
    return build.of_pair() if other in build.wants or build.has.get(other) else ()


def _of_one_axle(requirement: Requirement) -> bool:
    own = requirement.level is Level.MUST and not requirement.computed
    return own and requirement.subject not in ALWAYS_SO


def _shut(number: int, must: Requirement, rows: Sequence[Sequence[Reach]]) -> Shut:
    column = [row[number] for row in rows]
    others = [[*row[:number], *row[number + 1 :]] for row in rows if row[number] is Reach.FAILS]
    return Shut(
        must,
        column.count(Reach.FAILS),
        column.count(Reach.NOT_KNOWN),
        column.count(Reach.WITH_WORK),
        sum(all(reach in _GOOD for reach in row) for row in others),
        sum(Reach.FAILS not in row and Reach.NOT_KNOWN in row for row in others),
    )


def _clashing(
    musts: Sequence[Requirement], rows: Sequence[Sequence[Reach]], impossible: Sequence[Requirement]
) -> list[tuple[Requirement, Requirement]]:
    possible = [(i, must) for i, must in enumerate(musts) if must not in impossible]
    return [
        (one, other)
        for (i, one), (j, other) in combinations(possible, 2)
        if rows and all(Reach.FAILS in (row[i], row[j]) for row in rows)
    ]


def _vain(wish: Requirement, left: Sequence[Variant], kinds: Kinds) -> bool:
    return all(kinds.reach(wish, variant) is Reach.FAILS for variant in left)
