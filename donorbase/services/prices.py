"""What comparable axles were asked or went for, out of what the user himself has kept; no market is invented."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from donorbase.engineering.comparables import Comparable, Price, compare_prices
from donorbase.facts import Item, Reading
from donorbase.identity.axles import axles_of
from donorbase.services.candidates import Candidate, candidates
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.offers import readings

ASKED, PAID = "asked", "went for"
_ENOUGH = 0.5
"""Probability of the likeliest kind from which a price counts as one of its family."""


@dataclass(frozen=True, slots=True)
class FamilyPrices:
    """Prices of one family, complete or with parts missing or damaged, that were asked or that were paid."""

    family: str
    condition: str
    what: str
    found: Comparable

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {"family": self.family, "condition": self.condition, "what": self.what, **asdict(self.found)}


def family_prices(house: House, desk: Desk, today: date) -> tuple[FamilyPrices, ...]:
    """By family and condition, what was asked and what was paid; those with most prices first.

    Each listing counts once, with its newest price; one with several axles counts where each has its own price.
    """
    seen: dict[tuple[str, str, str], list[Price]] = defaultdict(list)
    for one, reading in readings(house, desk, _each_listing_once(house)):
        for family, condition, usd in _priced(reading, one, desk):
            what = PAID if one.state == "bought" else ASKED
            age = float((today - one.last_seen_on).days)
            seen[family, condition, what].append(Price(usd, age, one.distance_mi))
    found = [FamilyPrices(*key, compare_prices(prices)) for key, prices in seen.items()]
    return tuple(sorted(found, key=lambda f: (-f.found.number, f.family, f.condition, f.what)))


def _each_listing_once(house: House) -> list[Candidate]:
    """The candidates, one for each listing: the one that was bought where there is one."""
    every = sorted(candidates(house), key=lambda one: (one.state != "bought", one.id))
    return list({one.listing_id: one for one in reversed(every)}.values())


def _priced(reading: Reading, one: Candidate, desk: Desk) -> Iterator[tuple[str, str, float]]:
    """(family, condition, USD) of each axle that has a price of its own, or is the only thing on offer."""
    offered = [item for item in reading.items if str(item.get("kind") or "axle") in ("axle", "housing")]
    for item in offered:
        own = item.get("price_usd") if len(offered) > 1 else item.get("price_usd") or one.price_usd
        family = _family(item, desk)
        if family and isinstance(own, (int, float)):
            whole = not item.all("missing") and not item.all("defects") and item.get("kind") != "housing"
            yield family, "complete" if whole else "parts missing or damaged", float(own)


def _family(item: Item, desk: Desk) -> str | None:
    facts = axles_of(item)
    if len(facts) != 1:
        return None
    best: dict[str, float] = defaultdict(float)
    for candidate in desk.identify_facts(facts[0]).identification.candidates:
        if candidate.variant is not None:
            best[desk.catalogue.variants[candidate.variant].family.key] += candidate.probability
    family = max(best, key=lambda key: best[key], default=None)
    return family if family and best[family] >= _ENOUGH else None
