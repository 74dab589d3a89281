"""Money: read to the cent, shared to the cent."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from donorbase.errors import BadInput, NotFound
from donorbase.shelf.money import cents_of, shares, usd_of
from donorbase.shelf.pieces import pieces_of

WEIGHTS = st.lists(st.integers(0, 10**7), min_size=1, max_size=40).filter(any)
CENTS = st.integers(0, 10**8)


@given(CENTS, WEIGHTS)
def test_shares_add_up_to_the_cent_and_none_is_off_by_a_cent(total: int, weights: list[int]) -> None:
    """The quota rule of largest remainders (Hamilton's method): each share is the exact one rounded down or up."""
    found = shares(total, weights)
    assert sum(found) == total
    for share, weight in zip(found, weights, strict=True):
        exact = Fraction(total * weight, sum(weights))
        assert abs(share - exact) < 1
        assert share == 0 or weight > 0
    assert all(
        a >= b - 1
        for a, wa in zip(found, weights, strict=True)
        for b, wb in zip(found, weights, strict=True)
        if wa >= wb
    )


def test_shares_by_hand() -> None:
    """650.00 among 120, 60, 60 and 25: 294.3396, 147.1698 twice, 61.3208; the two cents go to .98 and .98."""
    assert shares(65_000, [120, 60, 60, 25]) == (29_434, 14_717, 14_717, 6_132)
    assert shares(1, [1, 1, 1]) == (1, 0, 0)


@given(CENTS)
def test_money_is_read_back(cents: int) -> None:
    text = usd_of(cents)
    assert text is not None
    assert cents_of(text) == cents_of(f" ${text} ") == cents


@pytest.mark.parametrize("wrong", ["", "1.005", "-1", "1e400", "NaN", "Infinity", "12 dollars", "0x10", "١٢", "9" * 30])
def test_what_is_no_money(wrong: str) -> None:
    with pytest.raises(BadInput):
        cents_of(wrong)


def test_pieces_of_each_end() -> None:
    front = pieces_of((), ("steering-arm",), "front")
    names = [(piece.kind.kind, piece.side) for piece in front]
    assert ("knuckle", "left") in names
    assert ("knuckle", "right") in names
    assert names.count(("rotor", None)) == 2
    assert not {"steering-arm", "axle-shaft", "wheel"} & {kind for kind, _ in names}
    assert "axle-shaft" in {piece.kind.kind for piece in pieces_of((), (), "rear")}
    (named,) = pieces_of(["knuckle:left=61.50"], (), "")
    assert (named.side, named.worth_cents) == ("left", 6150)


@pytest.mark.parametrize(
    ("asked", "error"),
    [
        (["knuckel"], NotFound),
        (["knuckle:up"], BadInput),
        (["rotor=cheap"], BadInput),
        (["rotor=0"], BadInput),
        ([], BadInput),
    ],
)
def test_pieces_that_cannot_be(asked: list[str], error: type[Exception]) -> None:
    with pytest.raises(error):
        pieces_of(asked, (), "")
