"""Mending pasted text keeps the way back to the original."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from donorbase.reading.clean import clean

MENDED = [
    ("8x6½", "8x6 1/2"), ("donâ€™t", "don't"), ("2006 â€“ 8 lug", "2006 - 8 lug"), ("8x6Â½â€", '8x6 1/2"'),
    ("R&amp;P", "R&P"), ("&quot;", '"'),
    ("R&amp;amp;P", "R&P"), ("８×１７０", "8x170"), ("“9” rear", '"9" rear'), ("a\u200bb", "ab"), ("a\u00a0b",
    "a b"), ("3&frac12;", "3 1/2"), ("étrier", "étrier"),
    ("a\x00b", "a b"), ("plain", "plain"), ("Ã©trier", "étrier"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "plain"), MENDED)
def test_mended(text: str, plain: str) -> None:
    assert clean(text).text == plain


@given(st.text())
def test_offsets_lead_back_into_the_text(text: str) -> None:
    """Law: every character of the plain text comes from a place of the original, in order."""
    plain = clean(text)
    last = 0
    for i in range(len(plain.text)):
        begin, end = plain.original(i, i + 1)
        assert 0 <= begin < end <= len(text)
        assert begin >= last
        last = begin


@example("Å€")
@given(st.text(alphabet=st.characters(codec="cp1252")) | st.text(alphabet="ab &;#x12½â€™“×８"))
def test_cleaning_twice_is_cleaning_once(text: str) -> None:
    once = clean(text).text
    assert clean(once).text == once
