"""A user's house with a database of its own, made once and copied for every test."""

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from donorbase.services.house import House


@pytest.fixture(scope="session")
def template(databases: Any, tmp_path_factory: pytest.TempPathFactory) -> str:
    place: str = databases.new(tmp_path_factory.mktemp("house"))
    house = House(place)
    house.catalogue()
    house.close()
    return place


@pytest.fixture
def house(databases: Any, template: str, tmp_path: Path) -> Iterator[House]:
    """Its database is up to date, its picture is drawn where it has one."""
    house = House(databases.copy(template, tmp_path))
    yield house
    house.close()
    databases.drop(house.place)


@pytest.fixture(scope="session")
def lived_template(databases: Any, template: str, tmp_path_factory: pytest.TempPathFactory) -> str:
    place: str = databases.copy(template, tmp_path_factory.mktemp("lived"))
    from .lived_in import live_in  # type: ignore[import-not-found]  # tests are no package for mypy

    with closing(House(place)) as house:
        live_in(house)
    return place


@pytest.fixture
def lived(databases: Any, lived_template: str, tmp_path: Path) -> Iterator[House]:
    with closing(House(databases.copy(lived_template, tmp_path))) as house:
        yield house
    databases.drop(house.place)


SRW = "front-9.75-balljoint/a-2005-2010-srw"
DRW = "front-9.75-balljoint/a-2005-2010-drw"
EARLY = "front-9.75-balljoint/a-1999-2004-srw"
