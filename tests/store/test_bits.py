"""Sets as bits do what sets of numbers do, counted, compared and ordered one by one."""

from hypothesis import given
from hypothesis import strategies as st

from donorbase.store.bits import (
    PIECE,
    at_most,
    counted,
    digits,
    exactly,
    greatest,
    joined,
    numbers_of,
    packed,
    set_of,
    unpacked,
    written,
)

NUMBERS = st.sets(st.integers(0, 3 * PIECE), max_size=300)
PRICES = st.dictionaries(st.integers(0, 200), st.integers(0, 5000), min_size=1, max_size=60)


def sliced(prices: dict[int, int]) -> list[int]:
    return [set_of(one for one, price in prices.items() if place in digits(price)) for place in range(13)]


@given(NUMBERS)
def test_a_set_is_the_numbers_that_it_was_made_of(numbers: set[int]) -> None:
    assert numbers_of(set_of(numbers)) == sorted(numbers)


@given(st.sets(st.integers(0, PIECE - 1), max_size=300))
def test_a_piece_comes_back_as_it_was(numbers: set[int]) -> None:
    assert numbers_of(unpacked(packed(set_of(numbers)))) == sorted(numbers)


@given(NUMBERS)
def test_pieces_are_joined_in_their_places(numbers: set[int]) -> None:
    parts = [(p, packed(set_of(n - p * PIECE for n in numbers if n // PIECE == p))) for p in range(4)]
    assert joined(parts) == set_of(numbers)


@given(PRICES, st.integers(-1, 9000))
def test_at_most_is_what_is_no_more(prices: dict[int, int], bound: int) -> None:
    wanted = [one for one, price in sorted(prices.items()) if price <= bound]
    assert numbers_of(at_most(sliced(prices), set_of(prices), bound)) == wanted


@given(PRICES, st.integers(1, 80), st.booleans())
def test_the_greatest_are_those_of_the_sorted_prices(prices: dict[int, int], count: int, least: bool) -> None:
    ahead, alike = greatest(sliced(prices), set_of(prices), count, least=least)
    order = sorted(prices.values(), reverse=not least)[:count]
    got = [prices[one] for one in numbers_of(ahead)]
    rest = {prices[one] for one in numbers_of(alike)}
    if len(prices) > count:
        assert len(rest) == 1
        assert len(got) < count
        assert sorted(got + [*rest] * (count - len(got)), reverse=not least) == order
    else:
        assert numbers_of(ahead | alike) == sorted(prices)


@given(st.lists(st.sets(st.integers(0, 40)), max_size=9), st.integers(0, 9))
def test_counted_is_in_how_many_sets_a_number_is(sets: list[set[int]], count: int) -> None:
    held = counted(map(set_of, sets))
    every = set(range(41))
    assert set(numbers_of(exactly(held, count, set_of(every)))) == {
        one for one in every if sum(one in each for each in sets) == count
    }


@given(PRICES)
def test_written_gives_the_numbers_back(prices: dict[int, int]) -> None:
    assert written(sliced(prices), prices) == prices
