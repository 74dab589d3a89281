"""The shortlist of a build: its candidates by verdict, chance and cost, and what is still open with whom."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from donorbase.engineering.waiting import even_chance
from donorbase.services.candidates import OPEN_STATES, Candidate, Event, candidates, history
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.offers import Offer, offers
from donorbase.services.rejudging import Judgements, Progress, candidate_verdict, judge_due, read_anew, unwatched
from donorbase.verdict.pairing import rank_of
from donorbase.verdict.spec import Level
from donorbase.verdict.verdicts import Call

_SAVED = 0.1
"""Part of the price that one may hope to save by waiting, for the sum shown: an example, no forecast."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A candidate on the shortlist. ``asks`` are the questions still open, those that settle most first.

    ``since`` is the day of its present state, ``days_on_market`` from the first sighting; ``prices_usd`` are those
    asked, oldest first.
    """

    candidate: Candidate
    since: date
    days_on_market: int
    prices_usd: tuple[float, ...]
    asks: tuple[str, ...]
    told: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return self.candidate.as_json() | {
            "since": self.since.isoformat(), "days_on_market": self.days_on_market, "prices_usd": list(self.prices_usd),
            "asks": list(self.asks), "notes": list(self.told),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class NextBest:
    """What it would cost to lose the first of the list: the second, and how much dearer it comes landed, in USD.

    ``even_chance`` is the chance of its being gone at which waiting for ``saving_usd`` less and buying now come to the
    same; None where the next best is not dearer.
    """

    candidate_id: int
    dearer_usd: float
    saving_usd: float
    even_chance: float | None

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        even = None if self.even_chance is None else round(self.even_chance, 3)
        told = {"dearer_usd": round(self.dearer_usd), "saving_usd": round(self.saving_usd)}
        return {"candidate": self.candidate_id, **told, "even_chance_gone": even}


@dataclass(frozen=True, slots=True)
class Shortlist:
    """The best candidates of a build, best first, of how many; and the verdicts that changed since they were judged."""

    listed: tuple[Listed, ...]
    of: int
    judgements: Judgements

    @property
    def next_best(self) -> NextBest | None:
        """Of the first two, where both have a sum and the first a price."""
        if len(self.listed) < 2:
            return None
        first, second = (one.candidate for one in self.listed[:2])
        if not first.landed_usd or not second.landed_usd or not first.price_usd:
            return None
        dearer, saving = second.landed_usd[1] - first.landed_usd[1], _SAVED * first.price_usd
        return NextBest(second.id, dearer, saving, even_chance(saving, dearer))

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "of": self.of,
            "next_best": self.next_best.as_json() if self.next_best else None,
            "changed": [change.as_json() for change in self.judgements.changed],
            "shortlist": [one.as_json() for one in self.listed],
        }


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A must which, dropped or made a wish, would let in candidates that fail nothing else, by their numbers."""

    subject: str
    lets_in: tuple[int, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {"must": self.subject, "lets_in": len(self.lets_in), "candidates": list(self.lets_in)}


def shortlist(
    house: House, desk: Desk, build: str, today: date, count: int = 10, progress: Progress = unwatched
) -> Shortlist:
    """The shortlist as of ``today``: what is due is read and judged anew first, and kept so."""
    name = house.build(build).name
    read_anew(house, desk)
    judged = judge_due(house, desk, (name,), progress=progress)
    open_ones = sorted(candidates(house, (name,), OPEN_STATES), key=_order)
    best = [one for one in open_ones if one.verdict != Call.NO][:count]
    return Shortlist(tuple(_listed(house, desk, one, today) for one in best), len(open_ones), judged)


def _order(one: Candidate) -> tuple[Any, ...]:
    verdict = Call(one.verdict or Call.NO).rank
    return (*rank_of(verdict, one.chance or 0.0, one.landed_usd[1] if one.landed_usd else 0.0), one.id)


def _listed(house: House, desk: Desk, one: Candidate, today: date) -> Listed:
    kept = history(house, one.id)
    moves = [e for e in kept.events if e.state_to == one.state and not e.undone]
    prices = tuple(dict.fromkeys(usd for _, usd in kept.prices))
    asks = tuple(asked.ask for asked in candidate_verdict(house, desk, one.id).verdict.questions)
    told = tuple(e.note for e in kept.events if e.kind == "note" and not e.undone)
    return Listed(one, _since(moves, one), (today - one.first_seen_on).days, prices, asks, told)


def _since(moves: Sequence[Event], one: Candidate) -> date:
    return moves[-1].happened_on if moves else one.first_seen_on


def relaxed(house: House, desk: Desk, build: str) -> tuple[Relaxed, ...]:
    """Which single must keeps out most candidates that fail nothing else, the one that lets in most first.

    The limit of money counts as a must: ``landed_limit_usd``.
    """
    only: dict[str, list[int]] = {}
    for offer in offers(house, desk, house.build(build).name):
        for subject in _lone_failures(offer):
            only.setdefault(subject, []).append(offer.candidate.id)
    counted = Counter({subject: len(ids) for subject, ids in only.items()})
    return tuple(Relaxed(subject, tuple(only[subject])) for subject, _ in counted.most_common())


def _lone_failures(offer: Offer) -> set[str]:
    """The musts of which one alone keeps an axle of the offer out; none where the offer may do as it is."""
    found = set()
    for axle in offer.axles:
        if axle.verdict.verdict is not Call.NO:
            return set()
        musts = [f for f in axle.verdict.findings if f.requirement.level is Level.MUST]
        failed = {f"{f.end}.{f.requirement.subject}" for f in musts if f.failed}
        if axle.verdict.money.over and axle.verdict.money.known:
            failed.add("landed_limit_usd")
        if len(failed) == 1:
            found |= failed
    return found
