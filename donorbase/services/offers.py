"""The candidates of a build, each of their axles weighed for it: what shortlist and pairs are made of."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from donorbase.facts import Reading
from donorbase.services.builds import find_build
from donorbase.services.candidates import OPEN_STATES, Candidate, candidates
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.rejudging import corrections_by_listing, reading_of
from donorbase.store import candidates as stored
from donorbase.verdict.axle import Weighed
from donorbase.verdict.judge import weigh
from donorbase.verdict.spec import Build


@dataclass(frozen=True, slots=True)
class Offer:
    """A candidate with each of its axles that can be a donor of a wanted end, judged by itself."""

    candidate: Candidate
    axles: tuple[Weighed, ...]


def offers(house: House, desk: Desk, build_name: str, states: Sequence[str] = OPEN_STATES) -> Iterator[Offer]:
    """The candidates of a build in these states, with their corrections, weighed now, by number."""
    build = find_build(house, build_name)
    for one, reading in readings(house, desk, candidates(house, [build_name], states)):
        yield Offer(one, tuple(_weighed(desk, build, reading, one)))


def readings(house: House, desk: Desk, kept: Sequence[Candidate]) -> Iterator[tuple[Candidate, Reading]]:
    """Candidates with the newest text of each as it is read now, with its corrections and the price asked now."""
    put_right = corrections_by_listing(house)
    with house.reading() as connection:
        texts = stored.newest_texts(connection, [one.listing_id for one in kept])
    for one in kept:
        row = {"listing_id": one.listing_id, "text": texts[one.listing_id]["text"], "price_usd": one.price_usd}
        yield one, reading_of(desk, row, put_right)


def _weighed(desk: Desk, build: Build, reading: Reading, one: Candidate) -> list[Weighed]:
    return weigh(build, reading, desk.catalogue, distance_mi=one.distance_mi, rates=desk.rates)
