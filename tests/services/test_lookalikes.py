"""What an axle is taken for after a look, and what tells the two apart."""

from collections.abc import Iterator
from typing import Any

import pytest

from donorbase.errors import BadInput
from donorbase.services.house import House
from donorbase.services.lookalikes import lookalikes

TARGET = "front-9.75-balljoint/a-2005-2010-srw"


@pytest.fixture(scope="module")
def house(databases: Any, template: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    house = House(databases.copy(template, tmp_path_factory.mktemp("db")))
    yield house
    house.close()


def test_the_next_generation_is_told_by_the_year_alone(house: House) -> None:
    """Common practice: the coil fronts of 2005-2010 and 2011-2016 look alike; paper tells them apart."""
    found = {one.key: one for one in lookalikes(TARGET, house)}
    later = found["front-9.75-balljoint/a-2011-2016-srw"]
    assert later.chance > 0.05
    assert [row.attribute for row in later.telling] == ["years"]


def test_telling_marks_stand_easiest_first_and_say_how(house: House) -> None:
    found = lookalikes(TARGET, house)
    assert found
    for one in found:
        troubles = [row.trouble_min for row in one.telling]
        assert troubles == sorted(troubles)
        assert all(row.how for row in one.telling)


def test_chances_fall_and_the_axle_itself_is_not_listed(house: House) -> None:
    found = lookalikes(TARGET, house)
    assert [one.chance for one in found] == sorted((one.chance for one in found), reverse=True)
    assert TARGET not in [one.key for one in found]


def test_a_family_is_no_single_variant(house: House) -> None:
    with pytest.raises(BadInput, match="no single variant"):
        lookalikes("front-9.75-balljoint", house)
