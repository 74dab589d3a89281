"""A user's house with a database of its own, made once and copied for every test."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from donorbase.services.house import House


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("house") / "donorbase.sqlite3"
    house = House(path)
    house.catalogue()
    house.close()
    return path


@pytest.fixture
def house(template: Path, tmp_path: Path) -> Iterator[House]:
    """Its database is up to date, its picture is drawn."""
    for file in template.parent.iterdir():
        shutil.copy(file, tmp_path / file.name)
    house = House(tmp_path / template.name)
    yield house
    house.close()


SRW = "front-9.75-balljoint/a-2005-2010-srw"
DRW = "front-9.75-balljoint/a-2005-2010-drw"
EARLY = "front-9.75-balljoint/a-1999-2004-srw"
