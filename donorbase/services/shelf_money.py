"""What each build cost so far in parts, what is set aside for it, and what is still to come."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.services.builds import find_build
from donorbase.services.candidates import candidates
from donorbase.services.house import House
from donorbase.services.matching import needs, targets_of
from donorbase.services.shelf import Part, parts
from donorbase.shelf.money import usd_of


@dataclass(frozen=True, slots=True)
class Sales:
    """Parts sold: how many, what they brought and had cost in whole cents; ``unknown`` counts those of no told cost."""

    count: int
    brought_cents: int
    cost_cents: int
    unknown: int

    def as_json(self) -> dict[str, Any]:
        """Plain data; money in dollars as text."""
        money = {"brought_usd": usd_of(self.brought_cents), "had_cost_usd": usd_of(self.cost_cents)}
        return {"count": self.count, **money, "cost_unknown": self.unknown}


@dataclass(frozen=True, slots=True)
class BuildMoney:
    """Money of a build in whole cents: parts fitted, parts set aside, axles bought that are not on the shelf yet.

    ``unknown`` counts parts and axles of those whose cost nobody told: they are in no sum. ``to_come_cents`` is what
    its bare housings lack and the shelf does not cover, ``unpriced`` how many of that have no price. ``sales`` are the
    parts sold of axles that were bought for it, which are in none of the sums.
    """

    build: str
    fitted_cents: int
    set_aside_cents: int
    bought_cents: int
    unknown: int
    to_come_cents: int
    unpriced: int
    limit_cents: int | None
    sales: Sales

    @property
    def spent_cents(self) -> int:
        """All that is paid."""
        return self.fitted_cents + self.set_aside_cents + self.bought_cents

    def as_json(self) -> dict[str, Any]:
        """Plain data; money in dollars as text."""
        names = ("fitted", "set_aside", "bought", "spent", "to_come", "limit")
        money = {f"{name}_usd": usd_of(getattr(self, f"{name}_cents")) for name in names}
        return {
            "build": self.build,
            **money,
            "unknown": self.unknown,
            "unpriced": self.unpriced,
            "sold": self.sales.as_json(),
        }


def money_of(house: House, builds: Sequence[str] = ()) -> tuple[BuildMoney, ...]:
    """The money of the builds, by name (none named: of all); NotFound where there is none of a name."""
    names = [house.build(name).name for name in builds] or [kept.name for kept in house.builds()]
    return tuple(_of_build(house, name) for name in names)


def sales_of_no_build(house: House) -> Sales:
    """The parts sold of axles that were bought for no build that is kept."""
    its = {one.id for one in candidates(house, [kept.name for kept in house.builds()])}
    return _sales([part for part in parts(house) if part.candidate_id not in its])


def _sales(some: Sequence[Part]) -> Sales:
    sold = [part for part in some if part.state == "sold"]
    brought = sum(part.price_cents or 0 for part in sold)
    return Sales(len(sold), brought, _sum(sold), [part.cost_cents for part in sold].count(None))


def _of_build(house: House, build: str) -> BuildMoney:
    ours = parts(house, states=["used", "reserved"], build=build)
    kept = parts(house)
    kept_as = {part.candidate_id for part in kept} - {None}
    bought = [one for one in candidates(house, [build], ["bought"]) if one.id not in kept_as]
    its = {one.id for one in candidates(house, [build])}
    limit = find_build(house, build).money.landed_limit_usd
    lacking = [need for target in targets_of(house, (), [build]) for need in needs(house, build, target) if need.left]
    costs = [part.cost_cents for part in ours] + [_cents(one.price_usd) for one in bought]
    return BuildMoney(
        build=build,
        fitted_cents=_sum([part for part in ours if part.state == "used"]),
        set_aside_cents=_sum([part for part in ours if part.state == "reserved"]),
        bought_cents=sum(_cents(one.price_usd) or 0 for one in bought),
        unknown=costs.count(None),
        to_come_cents=sum(need.left * (_cents(need.each_usd) or 0) for need in lacking),
        unpriced=sum(need.left for need in lacking if need.each_usd is None),
        limit_cents=_cents(limit),
        sales=_sales([part for part in kept if part.candidate_id in its]),
    )


def _sum(some: Sequence[Part]) -> int:
    return sum(part.cost_cents or 0 for part in some)


def _cents(usd: float | None) -> int | None:
    return None if usd is None else round(usd * 100)
