"""The report of a build: shortlist, pairs, money, what is open with whom, and what the shelf covers, as of a day."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from donorbase.services.builds import find_build
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.matching import Match, Need, matches, needs, targets_of
from donorbase.services.pairs import FoundPair, pairs
from donorbase.services.rejudging import Progress, unwatched
from donorbase.services.shelf_money import BuildMoney, money_of
from donorbase.services.shortlist import Listed, Shortlist, shortlist
from donorbase.verdict.spec import ENDS

MOST_PAIRS = 5


@dataclass(frozen=True, slots=True)
class Report:
    """All that is kept for a build on one day. ``pairs`` is empty where the build wants one end alone."""

    build: str
    title: str
    made_on: date
    limit_usd: float | None
    shortlist: Shortlist
    pairs: tuple[FoundPair, ...]
    money: BuildMoney
    needs: tuple[tuple[str, tuple[Need, ...]], ...]
    fitting: tuple[Match, ...]

    @property
    def waiting(self) -> tuple[Listed, ...]:
        """The candidates with something still to be asked or answered."""
        return tuple(one for one in self.shortlist.listed if one.asks)

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "build": self.build, "title": self.title, "made_on": self.made_on.isoformat(),
            "limit_usd": self.limit_usd, **self.shortlist.as_json(),
            "pairs": [pair.as_json() for pair in self.pairs], "money": self.money.as_json(),
            "needs": [{"axle": axle, "needs": [need.as_json() for need in found]} for axle, found in self.needs],
            "fitting_parts": [match.as_json() for match in self.fitting],
        }  # fmt: skip


def report_of(
    house: House, desk: Desk, build_name: str, today: date, count: int = 20, progress: Progress = unwatched
) -> Report:
    """The report of a kept build; what is due is judged anew first. NotFound where no such build is kept."""
    name = house.build(build_name).name
    build = find_build(house, name)
    listed = shortlist(house, desk, name, today, count, progress)
    both = set(build.wants) == set(ENDS)
    targets = targets_of(house, (), [name])
    return Report(
        build=name,
        title=build.name,
        made_on=today,
        limit_usd=build.money.landed_limit_usd,
        shortlist=listed,
        pairs=pairs(house, desk, name, MOST_PAIRS) if both else (),
        money=money_of(house, [name])[0],
        needs=tuple((target.axle, needs(house, name, target)) for target in targets),
        fitting=tuple(match for match in matches(house, targets) if match.fit.state != "no"),
    )
