"""Recyclers' grades as explainers of the Automotive Recyclers Association's rule print them."""

import pytest

from donorbase.engineering.grade import recyclers_grade
from donorbase.errors import BadInput


@pytest.mark.parametrize(
    ("miles", "age", "grade"),
    [
        (60_000, 1, "A"),
        (60_001, 3, "B"),
        (142_000, 15, "A"),
        (150_000, 10, "A"),
        (150_001, 10, "B"),
        (200_000, 20, "A"),
        (200_001, 30, "C"),
        (90_000, None, "B"),
        (None, 10, "X"),
    ],
)
def test_grades(miles: float | None, age: float | None, grade: str) -> None:
    assert recyclers_grade(miles, age) == grade


def test_no_such_miles() -> None:
    with pytest.raises(BadInput):
        recyclers_grade(-1, 3)
