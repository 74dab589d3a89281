"""Values between the rows of a published table."""

from bisect import bisect_left
from collections.abc import Sequence


def between(rows: Sequence[tuple[float, float]], at: float) -> float:
    """The value at ``at`` on straight lines between rising (at, value) rows; past an end, the end's value."""
    index = bisect_left(rows, at, key=lambda row: row[0])
    if index == 0 or index == len(rows):
        return rows[min(index, len(rows) - 1)][1]
    (low, low_value), (high, high_value) = rows[index - 1], rows[index]
    return low_value + (high_value - low_value) * (at - low) / (high - low)
