"""Cautions stand where the work that an axle asks for calls for them, and nowhere else."""

from collections.abc import Callable
from typing import Any

from donorbase.engineering.cautions import BRAKES, WELDING
from donorbase.verdict.build import parse_build
from donorbase.verdict.cautions import cautions_for
from donorbase.verdict.verdicts import NOTHING, ListingVerdict, Task

Judge = Callable[..., ListingVerdict]
Plain = dict[str, Any]


def work(word: str, *, planned: bool = False) -> Task:
    return Task(word, word, "", planned, NOTHING, None, "")


def test_each_caution_stands_once() -> None:
    assert cautions_for([work("disc-conversion"), work("master-cylinder"), work("change-width")]) == (BRAKES, WELDING)


def test_planned_work_was_thought_of() -> None:
    assert cautions_for([work("disc-conversion", planned=True)]) == ()


def test_an_axle_that_fits_as_it_stands_asks_for_none(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    assert cautions_for(verdict(parse_build(plain_front), coil_front).work) == ()
