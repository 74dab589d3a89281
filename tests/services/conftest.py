"""A user's house with a database of its own, made once and copied for every test."""

from collections.abc import Iterator
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


SRW = "front-9.75-balljoint/a-2005-2010-srw"
DRW = "front-9.75-balljoint/a-2005-2010-drw"
EARLY = "front-9.75-balljoint/a-1999-2004-srw"
