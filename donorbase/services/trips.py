"""Several candidates and yards in one drive: the shortest round, what to find out at each stop, what to bring."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from donorbase.engineering.distance import road_miles
from donorbase.engineering.route import MOST_STOPS, shortest_round
from donorbase.errors import BadInput
from donorbase.services.candidates import history
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.places import Place, miles_between, place_of
from donorbase.services.rejudging import candidate_verdict
from donorbase.services.yards import BRING, CHECKED_AT_ONCE, asked_how, tools_for, yards


@dataclass(frozen=True, slots=True)
class TripStop:
    """A stop: who or what it is, its place, and what to find out there, what ends the deal first."""

    title: str
    place: Place
    checks: tuple[str, ...]
    tools: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trip:
    """The stops in the order of the shortest round, straight miles of each leg, home again at the end."""

    stops: tuple[TripStop, ...]
    legs_mi: tuple[float, ...]
    bring: tuple[str, ...]

    @property
    def straight_mi(self) -> float:
        """Miles of the whole round, leg by leg in straight lines."""
        return sum(self.legs_mi)

    @property
    def road_mi(self) -> tuple[float, float]:
        """Least and most road miles to reckon with."""
        return road_miles(self.straight_mi)

    def as_json(self) -> dict[str, Any]:
        """Plain data; the last leg leads home."""
        stops = [{"stop": s.title, "place": list(s.place), "checks": list(s.checks)} for s in self.stops]
        legs = [round(leg, 1) for leg in self.legs_mi]
        road = [round(end) for end in self.road_mi]
        return {"stops": stops, "legs_mi": legs, "road_mi": road, "bring": list(self.bring)}


def trip(
    house: House,
    desk: Desk,
    home: str,
    numbers: Sequence[int] = (),
    yard_names: Sequence[str] = (),
    others: Mapping[str, str] | None = None,
) -> Trip:
    """The shortest round from home past candidates by number, yards by name and other places (name: ZIP or degrees).

    BadInput for more than eight stops, for none, and for a stop of which no ZIP is kept.
    """
    stops = [_candidate_stop(house, desk, number) for number in dict.fromkeys(numbers)]
    stops += [_yard_stop(house, name) for name in dict.fromkeys(yard_names)]
    stops += [TripStop(name, place_of(where), (), ()) for name, where in (others or {}).items()]
    if not 1 <= len(stops) <= MOST_STOPS:
        raise BadInput(f"a trip has 1 to {MOST_STOPS} stops, not {len(stops)}", "Name candidates, yards or places.")
    places = [place_of(home), *(stop.place for stop in stops)]
    order, _ = shortest_round([[miles_between(one, other) for other in places] for one in places])
    way = [places[0], *(stops[n - 1].place for n in order), places[0]]
    legs = tuple(miles_between(one, other) for one, other in pairwise(way))
    ordered = tuple(stops[n - 1] for n in order)
    tools = dict.fromkeys(tool for stop in ordered for tool in stop.tools)
    return Trip(ordered, legs, (*BRING, *tools))


def _candidate_stop(house: House, desk: Desk, number: int) -> TripStop:
    kept = history(house, number).candidate
    if kept.zip is None:
        raise BadInput(f"no ZIP is kept of candidate {number}", "Name its place: --stop NAME=ZIP.")
    asked = candidate_verdict(house, desk, number).verdict.questions[:CHECKED_AT_ONCE]
    return TripStop(f"{number}: {kept.title}", place_of(kept.zip), tuple(map(asked_how, asked)), tools_for(asked))


def _yard_stop(house: House, name: str) -> TripStop:
    kept = {one["name"]: one for one in yards(house)}
    if name not in kept:
        raise BadInput(f"no yard {name!r} is kept", f"Kept: {', '.join(kept) or 'none'}.")
    if not kept[name]["zip"]:
        raise BadInput(f"no ZIP is kept of {name}", "Give it: `donorbase yard import --zip`.")
    return TripStop(name, place_of(kept[name]["zip"]), (f"walk it: donorbase yard rows {name!r}",), ())
