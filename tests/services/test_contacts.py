"""Numbers and addresses are blanked; prices, years, ratios and bolt circles are none.

Numbers as the North American Numbering Plan writes them; 555-0100 to 555-0199 are set aside by it for fiction.
"""

import pytest

from donorbase.services.contacts import without_contacts


@pytest.mark.parametrize(
    "number",
    ["555-0142", "555.0142", "555 0142", "(212) 555-0142", "(212)555-0142", "212-555-0142", "212.555.0142",
     "+1 212 555 0142", "1-212-555-0142", "2125550142"],
)  # fmt: skip
def test_numbers(number: str) -> None:
    assert without_contacts(f"900 obo {number}.") == "900 obo [number]."


@pytest.mark.parametrize("address", ["joe@example.com", "j.o.e+axles@mail.example.org"])
def test_addresses(address: str) -> None:
    assert without_contacts(f"write {address}, please") == "write [address], please"


@pytest.mark.parametrize(
    "text",
    ["1985-1991, 4.10, 8x170, 35/30 spline, $1,200", "2004-2008 front, 69 in, 3.73", "120 000 km, 12 1/2 in drums",
     "40x13.50R17", "2 @ 500", "8-170MM", "VIN 1FTSW21P36EA12345", "99-04 one ton $900-1100"],
)  # fmt: skip
def test_figures_stay(text: str) -> None:
    assert without_contacts(text) == text
