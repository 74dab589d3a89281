"""Which part of the shelf goes onto which axle of which build, what a build lacks, and what is left to buy."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.errors import BadInput
from donorbase.facts import Fact
from donorbase.identity.observations import observe
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.parts import WHOLE, PartKind, part_kinds
from donorbase.reference.shelf_words import FREE
from donorbase.reference.wording import value_text
from donorbase.services.builds import find_build
from donorbase.services.house import House
from donorbase.services.ledger import differences
from donorbase.services.remembering import what_stands
from donorbase.services.shelf import Part, find_part, part_of
from donorbase.services.show import existing_key
from donorbase.shelf.fits import Fit, fit_of, variants_of
from donorbase.store import shelf as stored


@dataclass(frozen=True, slots=True)
class Target:
    """An axle that parts are wanted for: a variant or family, and the build it is in, empty where it is in none.

    ``whole`` tells that it came complete, and not as a bare housing.
    """

    axle: str
    build: str = ""
    whole: bool = True

    @property
    def name(self) -> str:
        """The build and the axle in words."""
        return f"{self.build}: {self.axle}" if self.build else self.axle


@dataclass(frozen=True, slots=True)
class Match:
    """A part, an axle, and whether the one goes onto the other."""

    part: Part
    target: Target
    fit: Fit

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told: dict[str, Any] = {
            "tag": self.part.tag,
            "part": self.part.name,
            "state": self.part.state,
            "build": self.target.build,
        }
        told |= {"axle": self.target.axle, "fits": self.fit.state, "side": self.fit.side}
        return told | {"because": list(self.fit.because), "cost_usd": self.fit.cost_usd}


@dataclass(frozen=True, slots=True)
class Need:
    """So many of one kind that an axle lacks, on one side where sides differ.

    ``covered`` are parts of the shelf that fit, ``perhaps`` those of which it is to be looked at; ``left`` is how many
    are to be bought if those that fit are used, at ``each_usd``, told by ``source``.
    """

    kind: PartKind
    side: str | None
    wanted: int
    covered: tuple[str, ...]
    perhaps: tuple[str, ...]
    each_usd: float | None
    source: str

    @property
    def left(self) -> int:
        """How many are left to buy."""
        return self.wanted - len(self.covered)

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told: dict[str, Any] = {
            "kind": self.kind.kind,
            "side": self.side,
            "wanted": self.wanted,
            "covered": list(self.covered),
        }
        told |= {"perhaps": list(self.perhaps), "left": self.left, "each_usd": self.each_usd}
        return told | {"source": self.source}


def targets_of(house: House, axles: Sequence[str] = (), builds: Sequence[str] = ()) -> tuple[Target, ...]:
    """The axles named, then those that are held for the builds (none named: for every build) on the shelf."""
    catalogue = house.catalogue()
    named = [Target(existing_key(axle, catalogue)) for axle in axles]
    for target in named:
        if not variants_of(target.axle, catalogue):
            raise BadInput(f"{target.axle} is no axle", "Name a variant or a family; `donorbase find` lists them.")
    for build in builds:
        house.build(build)
    with house.reading() as connection:
        rows = stored.list_parts(connection, kinds=[WHOLE, "housing"], states=["reserved", "used"])
    held = [part_of(row) for row in rows]
    ours = [part for part in held if part.build and part.axle and (not builds or part.build in builds)]
    kept = ours if builds or not axles else []
    return (*named, *(Target(p.axle or "", p.build or "", p.kind == WHOLE) for p in kept))


def matches(house: House, targets: Sequence[Target], tag: str = "") -> tuple[Match, ...]:
    """One part, or every part that is free or promised to the target's own build, against each target."""
    catalogue = house.catalogue()
    with house.reading() as connection:
        if tag:
            chosen = [find_part(connection, tag)]
        else:
            chosen = [part_of(row) for row in stored.list_parts(connection, states=[FREE, "reserved"])]
        worn = {part.id: _worn(stored.read_readings(connection, part.id)) for part in chosen}
        unlike = {part.id: _unlike(part, what_stands(connection, part, "fact"), catalogue) for part in chosen}
    return tuple(
        Match(
            part,
            target,
            _doubted(fit_of(part.about, part.side, part.axle, target.axle, catalogue, worn[part.id]), unlike[part.id]),
        )
        for part in chosen
        for target in targets
        if tag or (part.kind not in (WHOLE, "housing") and _may_have(part, target))
    )


def _unlike(part: Part, saw: Mapping[str, Any], catalogue: Catalogue) -> list[str]:
    """What was measured on a part otherwise than the catalogue has it of its kind of axle, where that decides a fit."""
    sources = variants_of(part.axle, catalogue)
    told = []
    for fact in observe(saw).facts if saw and sources else ():
        known = [Fact(fact.attribute, value) for variant in sources for value in variant.all(fact.attribute)]
        if fact.attribute in part.about.agree and known and not any(d.agrees for d in differences(known, [fact])):
            told.append(f"{fact.attribute} {value_text(fact.attribute, fact.value)}")
    return told


def _doubted(fit: Fit, unlike: list[str]) -> Fit:
    """A fit that was reckoned by the kind of axle, of a part which measured otherwise."""
    if not unlike or fit.state == "no":
        return fit
    return Fit("not known", fit.side, (f"measured otherwise than its kind of axle: {', '.join(unlike)}", *fit.because))


def _may_have(part: Part, target: Target) -> bool:
    return part.state == FREE or (part.build is not None and part.build == target.build)


def _worn(readings: Iterable[dict[str, Any]]) -> list[str]:
    """What the newest readings find out of its limit."""
    newest = {r["measure"]: r for r in readings if not r["undone"]}
    return [f"{name} {r['amount']:g} {r['unit']}" for name, r in newest.items() if r["judged"] == "out"]


def needs(house: House, build: str, target: Target, lacking: Sequence[str] = ()) -> tuple[Need, ...]:
    """What an axle of a build lacks: the kinds named, or all pieces where it is a bare housing.

    A part of the shelf covers one need only. What is bought is priced by the build's own prices, else by what such
    parts fetch used, which is from memory.
    """
    prices = find_build(house, build).money.part_price_usd
    free = list(matches(house, [target]))
    found = []
    for kind in _kinds_lacking(house, target, lacking):
        for side in ("left", "right") if kind.sided else (None,):
            wanted = 1 if kind.sided else kind.per_axle
            ours = [m for m in free if m.part.kind == kind.kind and m.fit.side == side]
            covered = [m for m in ours if m.fit.state == "yes"][:wanted]
            free = [m for m in free if m not in covered]
            perhaps = tuple(m.part.tag for m in ours if m.fit.state in ("if", "with parts"))
            each = prices.get(kind.kind, kind.share_usd)
            source = "the build's own price" if kind.kind in prices else f"used, {kind.basis.partition(';')[0]}"
            tags = tuple(m.part.tag for m in covered)
            found.append(Need(kind, side, wanted, tags, perhaps, each, source if each is not None else "not known"))
    return tuple(found)


def _kinds_lacking(house: House, target: Target, lacking: Sequence[str]) -> list[PartKind]:
    known = part_kinds()
    wrong = [word for word in lacking if word not in known]
    if wrong:
        raise BadInput(f"there is no kind of part {wrong[0]!r}", "`donorbase part kinds` lists them.")
    if lacking:
        return [known[word] for word in dict.fromkeys(lacking)]
    if target.whole:
        return []
    variants = variants_of(target.axle, house.catalogue())
    may = [kind for kind in known.values() if any(kind.is_on(variant) is not False for variant in variants)]
    told = [kind for kind in may if kind.interchange]
    return [kind for kind in told if kind.kind not in ("wheel", "third-member")]
