"""The shortest round past a few places: exact, by dynamic programming over sets of places (Held and Karp 1962).

Source: M. Held and R. M. Karp, "A Dynamic Programming Approach to Sequencing Problems", Journal of the Society for
Industrial and Applied Mathematics 10 (1962) 196-210.
"""

from collections.abc import Sequence
from itertools import combinations

from donorbase.errors import BadInput

MOST_STOPS = 8

Miles = Sequence[Sequence[float]]
"""Miles from each place to each, the first being home; they may differ by direction."""


def shortest_round(miles: Miles) -> tuple[tuple[int, ...], float]:
    """The order of the places 1, 2, ... on the shortest way from place 0 past all and back, and its miles.

    Raises BadInput for more than MOST_STOPS stops, for none, and for a table that is not square.
    """
    stops = range(1, len(miles))
    if not 1 <= len(stops) <= MOST_STOPS or any(len(row) != len(miles) for row in miles):
        raise BadInput(f"a round has 1 to {MOST_STOPS} stops, not {len(stops)}", "Make two trips of it.")
    # best[(set, last)]: the shortest way from home through that set, ending at last, and the order of it.
    best: dict[tuple[frozenset[int], int], tuple[float, tuple[int, ...]]]
    best = {(frozenset((s,)), s): (miles[0][s], (s,)) for s in stops}
    for size in range(2, len(stops) + 1):
        for chosen in map(frozenset, combinations(stops, size)):
            for last in chosen:
                before = chosen - {last}
                way, order = min((best[before, s][0] + miles[s][last], best[before, s][1]) for s in before)
                best[chosen, last] = way, (*order, last)
    every = frozenset(stops)
    total, order = min((best[every, s][0] + miles[s][0], best[every, s][1]) for s in stops)
    return order, total
