"""Several offers for one build, each brought to the same finished state, with what they cost side by side."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.services.desk import Desk
from donorbase.verdict.finished import Finished, finished
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import ListingVerdict


@dataclass(frozen=True, slots=True)
class Offer:
    """A listing under a name, and how far away it is (one way, miles)."""

    name: str
    text: str
    distance_mi: float | None = None


@dataclass(frozen=True, slots=True)
class Brought:
    """An offer as judged, and brought to the finished state."""

    name: str
    verdict: ListingVerdict
    finished: Finished

    @property
    def kind(self) -> str:
        """What is on offer: axle, housing, vehicle, or nothing that can be used."""
        kinds = {p.kind for n in self.verdict.chosen if (p := self.verdict.items[n].prospect)}
        return " and ".join(sorted(kinds)) or "nothing to use"

    def as_json(self) -> dict[str, Any]:
        """Plain data: the verdict, the sum line by line, hours, and the planned work that is spared."""
        money = self.finished.money
        lines = [{"label": n.label, "cost_usd": n.cost.as_json(), "source": n.source} for n in money.lines]
        return {
            "name": self.name,
            "kind": self.kind,
            "verdict": str(self.verdict.verdict),
            "reasons": list(self.verdict.reasons),
            "reachable": self.finished.reachable,
            "cost_usd": money.total.as_json() if money.total else None,
            "landed": money.as_json(),
            "lines": lines,
            "labor_h": list(self.finished.hours),
            "spared": list(self.finished.spared),
        }


def side_by_side(desk: Desk, build: Build, offers: Sequence[Offer]) -> tuple[Brought, ...]:
    """Each offer finished: those that can be first, by their likely sum; those without a sum after them."""
    brought = []
    for offer in offers:
        verdict = desk.check(offer.text, build, offer.distance_mi).verdict
        brought.append(Brought(offer.name, verdict, finished(build, verdict)))
    return tuple(sorted(brought, key=_order))


def _order(one: Brought) -> tuple[bool, bool, float, str]:
    total = one.finished.money.total
    return not one.finished.reachable, total is None, total.likely if total else 0.0, one.name
