"""An order of gears or of a locker, checked before money is spent on it."""

from collections.abc import Hashable, Mapping
from dataclasses import replace
from typing import Any

from donorbase.errors import BadInput
from donorbase.facts import Fact
from donorbase.identity.identification import Identification
from donorbase.identity.questions import questions
from donorbase.reference.lockers import INSERTS, KINDS
from donorbase.services.axle_at_hand import the_axle
from donorbase.services.desk import Desk
from donorbase.services.show import existing_key
from donorbase.verdict.computed import wanted_ratio
from donorbase.verdict.order import Ordered, look_over_order
from donorbase.verdict.order_gears import set_weights
from donorbase.verdict.ordered import CUTS, Order
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build

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
    return replace(look_over_order(order, axle), settle=_which_gears(axle))


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
