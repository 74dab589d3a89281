"""The short forms of the long runs: kills at random moments, and eight who write at once."""

import random
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from donorbase.services.desk import Desk
from donorbase.services.house import House

from .kills import kill_all, killed, ready_desk  # type: ignore[import-not-found]  # tests are no package for mypy
from .works import Tending  # type: ignore[import-not-found]
from .writers import PROCESSES, write_at_once  # type: ignore[import-not-found]

KILLS = 12


@pytest.fixture(scope="module")
def template(databases: Any, tmp_path_factory: pytest.TempPathFactory) -> str:
    place: str = databases.new(tmp_path_factory.mktemp("trust"))
    with closing(House(place)) as house:
        house.catalogue()
    return place


@pytest.fixture(scope="module")
def desk() -> Desk:
    return ready_desk()


@pytest.mark.slow
def test_killed_at_random_moments_it_is_whole_and_holds_what_was_acknowledged(
    databases: Any, template: str, desk: Desk
) -> None:
    counts = kill_all(KILLS, 20261125, lambda folder: databases.copy(template, folder), desk, print)
    assert sum(counts.values()) == KILLS
    assert sum(number > 0 for number in counts.values()) >= 3, counts


class Boasting(Tending):  # type: ignore[misc]
    """Says that work is done which is not."""

    def work(self, house: House, desk: Desk, say: Any) -> None:
        super().work(house, desk, lambda step: say(step + 2))


def test_work_that_was_acknowledged_and_is_not_there_is_found_out(
    databases: Any, template: str, desk: Desk, tmp_path: Path
) -> None:
    place, work = databases.copy(template, tmp_path), Boasting()
    said, at_work = killed(work, House(place), desk, random.Random(4))
    assert at_work
    with closing(House(place)) as house, pytest.raises(AssertionError):
        work.check(house, desk, said)


@pytest.mark.slow
def test_eight_who_write_at_once_lose_nothing_and_are_not_turned_away(databases: Any, tmp_path: Path) -> None:
    told = write_at_once(databases.new(tmp_path), 3)
    assert len(told) == PROCESSES
    assert sum(one.moves for one in told) > 3 * PROCESSES
