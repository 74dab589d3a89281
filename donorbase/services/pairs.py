"""The best front and rear together out of all that is kept for a build."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from donorbase.engineering.distance import ROAD_FACTOR
from donorbase.errors import BadInput
from donorbase.reference.judging import Judging, judging
from donorbase.services.builds import find_build
from donorbase.services.candidates import Candidate
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.offers import offers
from donorbase.services.owned import owned_axles
from donorbase.services.places import zip_miles
from donorbase.services.shelf import Part
from donorbase.verdict.axle import Weighed
from donorbase.verdict.pairing import Saving, best_pairs
from donorbase.verdict.spec import ENDS, Build
from donorbase.verdict.verdicts import ListingVerdict

_ROADS = sum(ROAD_FACTOR) / len(ROAD_FACTOR)


@dataclass(frozen=True, slots=True)
class Member:
    """Where an axle of a pair comes from: a candidate by its number, or a part of the shelf by its tag."""

    id: int | str
    title: str
    zip: str | None = None
    distance_mi: float | None = None

    @classmethod
    def of_candidate(cls, one: Candidate) -> "Member":
        """A candidate."""
        return cls(one.id, one.title, one.zip, one.distance_mi)

    @classmethod
    def of_part(cls, part: Part) -> "Member":
        """An axle of the shelf, which is there already."""
        return cls(part.tag, f"on the shelf: {part.axle}", distance_mi=0.0)


@dataclass(frozen=True, slots=True)
class FoundPair:
    """A front and a rear, and the verdict of both. ``apart_mi`` is straight, None if unknown."""

    front: Member
    rear: Member
    verdict: ListingVerdict
    apart_mi: float | None

    @property
    def one_offer(self) -> bool:
        """Whether both are in one advert."""
        return self.front.id == self.rear.id

    def as_json(self) -> dict[str, Any]:
        """Plain data: candidates by number, parts by tag, and the verdict in short with what was found of the pair."""
        apart = None if self.apart_mi is None else round(self.apart_mi, 1)
        pair = [finding.as_json() for finding in self.verdict.pair]
        return {
            "front": self.front.id, "rear": self.rear.id, "one_offer": self.one_offer, "apart_mi": apart,
            **self.verdict.as_json(), "pair": pair, "work": [task.as_json() for task in self.verdict.work],
        }  # fmt: skip


def pairs(house: House, desk: Desk, build_name: str, count: int = 10) -> tuple[FoundPair, ...]:
    """The best pairs of candidates that can still be bought and axles of the shelf, best first.

    Those that do not fit are left out.

    BadInput where the build does not want both ends.
    """
    build = find_build(house, build_name)
    if set(build.wants) != set(ENDS):
        raise BadInput(
            f"the build {build_name} wants only a {build.wants[0]}",
            "Name both ends under wants, or see `donorbase shortlist`.",
        )
    owner: dict[int, Member] = {}
    ends: dict[str, list[Weighed]] = {end: [] for end in ENDS}
    for offer in offers(house, desk, build_name):
        for axle in offer.axles:
            ends[axle.prospect.end].append(axle)
            owner[id(axle)] = Member.of_candidate(offer.candidate)
    for owned in owned_axles(house, desk, build_name):
        ends[owned.axle.prospect.end].append(owned.axle)
        owner[id(owned.axle)] = Member.of_part(owned.part)
    found = best_pairs(ends["front"], ends["rear"], build, judging(), count, _saving(build, owner, judging()))
    placed = [(owner[id(ends["front"][p.front])], owner[id(ends["rear"][p.rear])], p.verdict) for p in found]
    return tuple(FoundPair(front, rear, verdict, zip_miles(front.zip, rear.zip)) for front, rear, verdict in placed)


def _saving(build: Build, owner: Mapping[int, Member], rules: Judging) -> Saving:
    """What one drive home - front - rear - home saves against two trips, where both ZIPs are known."""
    own = build.money.travel_usd_per_mi
    rate = rules.price["travel_usd_per_mi"] if own is None else own

    def saved(front: Weighed, rear: Weighed) -> float:
        one, other = owner[id(front)], owner[id(rear)]
        between = zip_miles(one.zip, other.zip)
        if between is None or one.distance_mi is None or other.distance_mi is None:
            return 0.0
        longest = max(one.distance_mi, other.distance_mi)
        # The miles of an advert are those of its page: the way between may be longer than they allow.
        round_trip = max(2 * longest, one.distance_mi + other.distance_mi + between * _ROADS)
        return max(0.0, 2 * (one.distance_mi + other.distance_mi) - round_trip) * rate

    return saved
