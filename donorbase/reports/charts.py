"""Pictures of costs and chances: ranges as bars, chance against landed cost; the words beside them say it too."""

from collections.abc import Sequence
from dataclasses import dataclass

from donorbase.reports.sketch import Sketch

_WIDTH, _LEFT, _RIGHT = 640, 60, 20


@dataclass(frozen=True, slots=True)
class Plotted:
    """One offer on a picture: its mark, its chance 0 to 1, low, likely and high landed cost in USD."""

    mark: str
    chance: float
    low: float
    likely: float
    high: float


def cost_bars(offers: Sequence[Plotted], limit_usd: float | None = None) -> str:
    """Landed cost of each offer from low to high with a stroke at the likely, and the limit as a dashed line."""
    height = 44 + 30 * len(offers)
    sketch = Sketch(_WIDTH, height, "Landed cost", "from low to high, a stroke at the likely")
    most = _round_up(max([limit_usd or 0.0, *(one.high for one in offers)]))
    for step in range(5):
        x = _along(most * step / 4, most)
        sketch.line(x, 14, x, height - 24, faint=True)
        sketch.words(x, height - 8, f"{most * step / 4:,.0f}", size=12)
    for row, one in enumerate(offers):
        y = 18 + 30 * row
        sketch.words(_LEFT - 12, y + 14, one.mark, size=14, anchor="end")
        low, likely, high = (_along(value, most) for value in (one.low, one.likely, one.high))
        sketch.box(low, y, max(high - low, 2), 18)
        sketch.line(likely, y - 3, likely, y + 21, heavy=True)
    if limit_usd is not None:
        sketch.line(_along(limit_usd, most), 6, _along(limit_usd, most), height - 24, dashed=True)
        sketch.words(_along(limit_usd, most) - 5, 12, "limit", size=12, anchor="end")
    return sketch.svg()


def chance_against_cost(offers: Sequence[Plotted], limit_usd: float | None = None) -> str:
    """Each offer's mark at its chance (up) and likely landed cost (across): up and to the left is better."""
    sketch = Sketch(_WIDTH, 330, "Chance against landed cost", "up and to the left is better")
    most = _round_up(max([limit_usd or 0.0, *(one.likely for one in offers)]))
    for step in range(5):
        x, y = _along(most * step / 4, most), _up(step / 4)
        sketch.line(x, 20, x, 280, faint=True)
        sketch.line(_LEFT, y, _WIDTH - _RIGHT, y, faint=True)
        sketch.words(x, 300, f"{most * step / 4:,.0f}", size=12)
        sketch.words(_LEFT - 8, y + 4, f"{step * 25}%", size=12, anchor="end")
    sketch.words(_WIDTH / 2, 322, "likely landed cost, USD", size=13)
    if limit_usd is not None:
        sketch.line(_along(limit_usd, most), 20, _along(limit_usd, most), 280, dashed=True)
    written: list[tuple[float, float]] = []
    for one in sorted(offers, key=lambda one: (one.likely, one.mark)):
        x, y = _along(one.likely, most), _up(one.chance)
        sketch.circle(x, y, 5, filled=True)
        beside = y + 5
        while any(abs(x - other_x) < 36 and abs(beside - other_y) < 14 for other_x, other_y in written):
            beside += 14
        written.append((x, beside))
        sketch.words(x + 9, beside, one.mark, size=14, anchor="start")
    return sketch.svg()


def _along(usd: float, most: float) -> float:
    return _LEFT + (_WIDTH - _LEFT - _RIGHT) * usd / most


def _up(chance: float) -> float:
    return 280 - 260 * chance


def _round_up(usd: float) -> float:
    """The next sum whose quarter is 1, 2 or 5 of a power of ten: 400, 800, 2,000, 4,000, 8,000, 20,000 ..."""
    unit = 100.0
    while True:
        for step in (1.0, 2.0, 5.0):
            if 4 * step * unit >= usd:
                return 4 * step * unit
        unit *= 10.0
