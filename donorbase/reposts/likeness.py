"""How alike two adverts are in their words: enough to be one axle's, or not."""

from collections.abc import Set as AbstractSet
from dataclasses import dataclass

ENOUGH = 0.985
"""From there on two adverts that nothing parts are of one axle. Set on synthetic adverts: tests/benchmarks."""
LEAST_RARE = 0.3
"""Of the telling pairs of the poorer one, the share that must stand in both: what is left is template."""
RARE_WEIGHT = 0.2
SWAP_WEIGHT = 0.12
LEAST_SHARED = 3
"""Fewer telling pairs in common prove nothing by themselves."""
LEAST_WORDS = 16
"""Fewer words in common may be two sellers', even all alike: "front axle, 8 lug, 4.10, $500"."""


@dataclass(frozen=True, slots=True)
class Likeness:
    """``words`` and ``rare``: the shares of the words and of the telling pairs that are in both, of the poorer one.

    ``swapped`` is how many numbers stand in one alone while as many others stand in the other alone.
    """

    words: float
    rare: float
    swapped: int
    proven: bool

    @property
    def score(self) -> float:
        """Words first; what is rare adds, a changed figure takes away."""
        return self.words + RARE_WEIGHT * self.rare - SWAP_WEIGHT * self.swapped

    @property
    def enough(self) -> bool:
        """Whether it is enough to be one axle's."""
        return self.proven and self.score >= ENOUGH


def rare_share(one: AbstractSet[int], other: AbstractSet[int]) -> tuple[float, int]:
    """Of the telling pairs of the poorer one the share that both have, and how many that are."""
    shared = len(one & other)
    return shared / max(1, min(len(one), len(other))), shared


def likeness(one: AbstractSet[int], other: AbstractSet[int], rare: float, shared: int) -> Likeness:
    """Two adverts by the numbers of their words, and what ``rare_share`` gave of their telling pairs."""
    both = one & other
    words = len(both) / max(1, min(len(one), len(other)))
    alike = len(both) == len(one) == len(other)
    proven = len(both) >= LEAST_WORDS and (alike or (shared >= LEAST_SHARED and rare >= LEAST_RARE))
    if words + RARE_WEIGHT * rare < ENOUGH:  # as most are: no need to look at the figures
        return Likeness(words, rare, 0, proven)
    swapped = min(_figures(one - both), _figures(other - both))
    return Likeness(words, 1.0 if alike else rare, swapped, proven)


def _figures(words: AbstractSet[int]) -> int:
    return sum(word & 1 for word in words)
