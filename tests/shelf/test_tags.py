"""Tags: told apart in paint, and never one for another."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.errors import BadInput
from donorbase.shelf.tags import SIGNS, number_of, tag_of

ALIKE = ("0OQD", "1IL7", "2Z", "5S", "8B", "6G9", "UV", "MW")
"""Signs that paint, rust or turning upside down make alike, as paint and label makers warn; common practice."""
NUMBERS = st.integers(1, 17**3 + 5_000)


def test_no_two_signs_look_alike() -> None:
    assert len(set(SIGNS)) == len(SIGNS) == 17
    for group in ALIKE:
        assert sum(sign in SIGNS for sign in group) <= 1, group


@given(NUMBERS)
def test_a_tag_is_read_back(number: int) -> None:
    assert number_of(tag_of(number)) == number
    assert number_of(f" {tag_of(number).lower()} ") == number
    assert len(tag_of(number)) == (4 if number < 17**3 else 5)


@given(NUMBERS, st.data())
def test_a_tag_with_one_sign_misread_is_no_tag(number: int, data: st.DataObject) -> None:
    """As for ISBN-10, ISO 2108:1992: a prime modulus and unlike weights find every single error."""
    tag = tag_of(number)
    place = data.draw(st.integers(0, len(tag) - 1))
    for sign in set(SIGNS) - {tag[place]}:
        with pytest.raises(BadInput):
            number_of(tag[:place] + sign + tag[place + 1 :])


@given(NUMBERS)
def test_a_tag_with_two_signs_changed_over_is_no_tag(number: int) -> None:
    tag = tag_of(number)
    for one, other in combinations(range(len(tag)), 2):
        if tag[one] != tag[other]:
            signs = list(tag)
            signs[one], signs[other] = signs[other], signs[one]
            with pytest.raises(BadInput):
                number_of("".join(signs))


@pytest.mark.parametrize("wrong", ["", "AAC", "AAO7", "shaft", "A" * 40, "ÄAC4"])
def test_what_is_no_tag_is_refused(wrong: str) -> None:
    with pytest.raises(BadInput):
        number_of(wrong)
