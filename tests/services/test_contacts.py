"""Numbers and addresses are blanked; prices, years, ratios and bolt circles are none.

Numbers as the North American Numbering Plan writes them; 555-0100 to 555-0199 are set aside by it for fiction.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.services.contacts import blanked, masked, masked_row, without_contacts


@pytest.mark.parametrize(
    "number",
    ["555-0142", "555.0142", "555 0142", "(212) 555-0142", "(212)555-0142", "212-555-0142", "212.555.0142",
     "+1 212 555 0142", "1-212-555-0142", "2125550142", "(212)5550142", "212 5550142", "+44 20 7946 0958",
     "5 5 5 0 1 4 2", "five five five oh one four two", "five-five-five 0142", "five five five zero 142"],
)  # fmt: skip
def test_numbers(number: str) -> None:
    assert without_contacts(f"900 obo {number}.") == "900 obo [number]."


@pytest.mark.parametrize("word", ["call", "text", "phone:", "cell"])
def test_a_bare_number_after_a_word_for_it(word: str) -> None:
    assert without_contacts(f"{word} 5550142 evenings, casting 5550142") == f"{word} [number] evenings, casting 5550142"


@pytest.mark.parametrize(
    "address",
    ["joe@example.com", "j.o.e+axles@mail.example.org", "JOE@EXAMPLE.COM", "joe at example dot com",
     "joe (at) example (dot) com", "joe[at]example.com"],
)  # fmt: skip
def test_addresses(address: str) -> None:
    assert without_contacts(f"write {address}, please") == "write [address], please"


@pytest.mark.parametrize(
    "text",
    ["1985-1991, 4.10, 8x170, 35/30 spline, $1,200", "2004-2008 front, 69 in, 3.73", "120 000 km, 12 1/2 in drums",
     "40x13.50R17", "2 @ 500", "8-170MM", "VIN 1FTSW21P36EA12345", "99-04 one ton $900-1100", "off a 250 2005",
     "three four ten", "one two three", "pick up at farm.com", "https://ads.example/v/2125550142?p=555-0142"],
)  # fmt: skip
def test_figures_stay(text: str) -> None:
    assert without_contacts(text) == text


@given(
    st.lists(st.sampled_from(["555-0142", "joe@example.com", " or ", "900", "x", "\n", "five ", "212 "])).map("".join)
)
def test_masking_moves_no_word(text: str) -> None:
    """Law: a mask is as long as what it hides, hides what is blanked, and changes only letters and figures."""
    hidden = masked(text)
    assert len(hidden) == len(text)
    assert all(new == old or (new == "#" and old.isalnum()) for new, old in zip(hidden, text, strict=True))
    assert (hidden != text) == (without_contacts(text) != text)
    assert masked(hidden) == hidden


def test_data_keep_their_form_and_the_address_of_the_advert() -> None:
    url = "https://ads.example/2125550142"
    told = {"url": url, "n": 5550142, "said": ["call 555-0142", None, {"at": "a@example.com"}]}
    assert blanked(told) == {"url": url, "n": 5550142, "said": ["call [number]", None, {"at": "[address]"}]}
    row = {"id": 1, "url": url, "detail": '{"before": {"note": "555-0142"}}', "toml": "[front] # 555-0142"}
    assert masked_row(row) == {
        "id": 1, "url": url, "detail": '{"before": {"note": "###-####"}}', "toml": "[front] # ###-####",
    }  # fmt: skip
