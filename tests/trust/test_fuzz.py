"""The short form of fuzzing: hypothesis chooses the bytes, and what was found before is tried again."""

import time

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from .fuzz import SLOW_S, seeds  # type: ignore[import-not-found]  # tests are no package for mypy
from .targets import TARGETS  # type: ignore[import-not-found]

EXAMPLES = {"reading": 150, "judging": 30, "search": 80, "calc": 150, "build": 400, "imports": 400, "values": 800}
KNOWN = st.binary(max_size=40).map(lambda raw: b"\x01" + raw) | st.binary(max_size=40).map(lambda raw: b"\x03" + raw)
WRITTEN = st.text(max_size=120).map(lambda text: b"\0" + text.encode("utf-8", "surrogatepass"))
ANY = KNOWN | WRITTEN | st.binary(max_size=200)


@pytest.mark.slow
@pytest.mark.parametrize("name", TARGETS)
def test_whatever_comes_in(name: str) -> None:
    @settings(max_examples=EXAMPLES[name], deadline=None, suppress_health_check=list(HealthCheck))
    @given(ANY)
    @example(b"(4:4..744444/44/00/0")  # values: divided by a nought written 00
    @example(b"")
    def whatever(raw: bytes) -> None:
        TARGETS[name](raw)

    whatever()


@pytest.mark.parametrize("name", TARGETS)
def test_what_fuzzing_begins_from(name: str) -> None:
    begun = list(seeds(name))
    assert begun
    for raw in begun[:10]:
        TARGETS[name](raw)


LONG = ["front axle 4.10 ", "a", "4", "~", "$400 obo. ", "8x6.5 ", "&amp;", "\u202e", "(", "no ", "35/30 spline, ",
        "\n", "5 ", "five ", "a.b@", "e\u0301\u0301\u0301\u0301\u0301"]  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("piece", LONG)
def test_a_listing_of_four_thousand_letters_takes_less_than_a_second(piece: str) -> None:
    def took() -> float:
        began = time.process_time()
        TARGETS["reading"](b"\0" + (piece * 4000)[:4000].encode())
        return time.process_time() - began

    assert min(took() for _ in range(2)) < SLOW_S
