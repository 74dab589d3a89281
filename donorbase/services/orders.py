"""An order of gears or of a locker, checked before money is spent on it."""

from collections.abc import Hashable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

from donorbase.errors import BadInput
from donorbase.facts import Fact, Value
from donorbase.identity.identification import Identification
from donorbase.identity.questions import questions
from donorbase.reference.lockers import INSERTS, KINDS, Locker, insert_row, lockers_of
from donorbase.services.axle_at_hand import the_axle
from donorbase.services.desk import Desk
from donorbase.services.show import existing_key
from donorbase.verdict.applies import Case
from donorbase.verdict.cautions import cautions_for
from donorbase.verdict.computed import wanted_ratio
from donorbase.verdict.lights import Light
from donorbase.verdict.order import Ordered, look_over_order, named
from donorbase.verdict.order_gears import TEETH_TOPIC, likeliest_set, set_weights, settled
from donorbase.verdict.ordered import CUTS, SPOOLS, Order
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build

_WORTH_TELLING = 0.02
LOCKERS = (*KINDS, *INSERTS)
"""The words for kinds of locker."""


def check_order(
    desk: Desk,
    order: Order,
    *,
    variant: str = "",
    text: str = "",
    saw: Mapping[str, Any] | None = None,
    end: str = "",
    build: Build | None = None,
) -> Ordered:
    """An order against the axle it is for; ``build`` gives the ratio and that of the other end where they are not told.

    NotFound for a mistyped key; BadInput where nothing is ordered or no axle is told.
    """
    axle = the_axle(desk, variant, text, saw, end)
    order = _completed(_checked(order, desk), build, axle.end)
    if not order.wants_gears and not order.locker:
        raise BadInput("nothing is ordered", "Give --ratio 5.13, or --locker air, or both.")
    found = look_over_order(order, axle)
    cautions = _cautions(found, order, axle, build or Build("", (axle.end,)))
    return replace(found, settle=_which_gears(axle), cautions=cautions)


@dataclass(frozen=True, slots=True)
class LockersFor:
    """The kinds of locker on record for an axle, each with the chance of the kind of axle that it is told for.

    ``splines`` are the counts that its shafts may have at the differential; ``case`` says at which ratio its cases
    change, empty where that is not known.
    """

    axle: str
    lockers: tuple[tuple[Locker, float], ...]
    inserts: str
    splines: tuple[tuple[Value, float], ...]
    case: str

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "axle": self.axle,
            "lockers": [asdict(locker) | {"chance": round(chance, 3)} for locker, chance in self.lockers],
            "inserts": self.inserts,
            "splines": [[value, round(chance, 3)] for value, chance in self.splines],
            "case": self.case,
        }


def lockers_for(
    desk: Desk, *, variant: str = "", text: str = "", saw: Mapping[str, Any] | None = None, end: str = ""
) -> LockersFor:
    """The kinds of locker made for an axle, as far as is known which it is."""
    axle = the_axle(desk, variant, text, saw, end)
    chances: dict[Locker, float] = {}
    for world in axle.worlds():
        for locker in lockers_of(world.variant, axle.catalogue) if world.variant else ():
            chances[locker] = chances.get(locker, 0.0) + world.weight
    order = list(KINDS)
    ranked = sorted(chances.items(), key=lambda pair: (order.index(pair[0].kind), -pair[1]))
    row, gear_set = insert_row(axle.catalogue), likeliest_set(axle) if settled(axle) else None
    shafts = axle.overall("inner_splines" if axle.end == "front" else "splines").weights
    likely = tuple((value, chance) for value, chance in shafts if chance >= _WORTH_TELLING)
    case = gear_set.carrier_split if gear_set else ""
    return LockersFor(named(axle), tuple(ranked), row.condition if row else "", likely, case)


def _cautions(found: Ordered, order: Order, axle: Prospect, build: Build) -> tuple[str, ...]:
    """What to mind once the order is in the axle: a spool that is ordered counts as one that is there."""
    locked = (Fact("differential", "spool"),) if order.locker in SPOOLS else ()
    fitted = replace(axle, facts=(*axle.facts, *locked))
    unlike = any(line.topic == TEETH_TOPIC and line.light is Light.STOP for line in found.lines)
    findings = frozenset({"ratio_mismatch_pct"} if unlike else ())
    return cautions_for((Case(axle.end, build, fitted, frozenset(), findings=findings),), "order")


def _checked(order: Order, desk: Desk) -> Order:
    if order.cut and order.cut not in CUTS:
        raise BadInput(f"{order.cut!r} is no cut of gears", f"There are {' and '.join(CUTS)}.")
    if order.locker and order.locker not in LOCKERS:
        raise BadInput(f"{order.locker!r} is no kind of locker", f"There are {', '.join(LOCKERS)}.")
    if not order.set_key:
        return order
    key = existing_key(order.set_key, desk.catalogue)
    if key not in desk.catalogue.gear_sets and key not in desk.catalogue.variants:
        raise BadInput(f"{key} is neither a gear set nor an axle", "`donorbase show AXLE` names that of an axle.")
    # A set out of another axle was used, whether that is said or not.
    return replace(order, set_key=key, used=order.used or key in desk.catalogue.variants)


def _completed(order: Order, build: Build | None, end: str) -> Order:
    """The order with what the build tells: its ratio, and what the other end has or will be geared to."""
    if build is None:
        return order
    wanted = wanted_ratio(build)[0]
    there = "rear" if end == "front" else "front"
    has = build.has.get(there, {}).get("ratio")
    other = float(has) if isinstance(has, (int, float)) else wanted if there in build.wants else None
    alone = bool(order.locker) and not order.wants_gears
    return replace(
        order,
        ratio=order.ratio or (None if alone else wanted),
        other_ratio=order.other_ratio or other,
    )


def _which_gears(axle: Prospect) -> tuple[str, ...]:
    """What to look at so that the generation of the gears is known; nothing where it is."""
    if max(set_weights(axle).values(), default=0.0) >= axle.rules.known.high:
        return ()

    def decide(identification: Identification, facts: tuple[Fact, ...]) -> dict[Hashable, float]:
        weights: dict[Hashable, float] = {}
        for candidate in identification.candidates:
            variant = axle.catalogue.variants.get(candidate.variant or "")
            key = str(variant.get("gear_set") or "") if variant else ""
            weights[key] = weights.get(key, 0.0) + candidate.probability
        return weights

    found = questions(axle.axle_facts(), axle.catalogue, axle.identification, decide=decide, rates=axle.usual)
    return tuple(f"{q.ask} ({q.how})" if q.how else q.ask for q in found[:2])
