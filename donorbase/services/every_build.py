"""One listing against every build that is kept: which it suits, best first, and kept for those."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.errors import NotFound
from donorbase.services.builds import find_build
from donorbase.services.desk import Checked, Desk
from donorbase.services.house import House
from donorbase.verdict.verdicts import Call, ListingVerdict


@dataclass(frozen=True, slots=True)
class ForBuild:
    """A listing as judged against a kept build."""

    build: str
    checked: Checked

    @property
    def verdict(self) -> ListingVerdict:
        """What it comes to."""
        return self.checked.verdict

    def as_json(self) -> dict[str, Any]:
        """The build's name and the verdict in short."""
        return {"build": self.build, **self.verdict.as_json()}


def judge_for_each(
    house: House, desk: Desk, text: str, distance_mi: float | None = None, builds: Sequence[str] = ()
) -> tuple[ForBuild, ...]:
    """A listing against builds (none named: every one that is kept), the best verdict first.

    Alike verdicts stand in the order of their chances, then of their likely cost. NotFound where no build is kept.
    """
    names = builds or [kept.name for kept in house.builds()]
    if not names:
        raise NotFound("no build is kept yet", "`donorbase build add FILE.toml` keeps one; `build new` writes one.")
    judged = [ForBuild(n, desk.check(text, find_build(house, n), distance_mi)) for n in names]
    return tuple(sorted(judged, key=_order))


def suited(judged: Sequence[ForBuild]) -> tuple[str, ...]:
    """The builds that a listing may suit: all but those whose verdict is that it does not fit."""
    return tuple(one.build for one in judged if one.verdict.verdict is not Call.NO)


def _order(one: ForBuild) -> tuple[int, float, float, str]:
    total = one.verdict.money.total
    return (one.verdict.verdict.rank, -round(one.verdict.chance, 6), total.likely if total else 0.0, one.build)
