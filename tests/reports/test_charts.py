"""Pictures of costs: marks stand where their figures are, on an axis that holds them all. Geometry alone is checked."""

import xml.etree.ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from donorbase.reports.charts import Plotted, chance_against_cost, cost_bars

SVG = "{http://www.w3.org/2000/svg}"
costs = st.tuples(*[st.floats(1, 90_000)] * 3).map(sorted)
offers = st.lists(st.tuples(costs, st.floats(0, 1)), min_size=1, max_size=12).map(
    lambda rows: [Plotted(str(n), chance, *cost) for n, (cost, chance) in enumerate(rows)]
)


def dots(svg: str) -> dict[str, tuple[float, float]]:
    circles = [(float(c.get("cx", 0)), float(c.get("cy", 0))) for c in ET.fromstring(svg).iter(f"{SVG}circle")]
    marks = [w.text or "" for w in ET.fromstring(svg).iter(f"{SVG}text") if w.get("text-anchor") == "start"]
    return dict(zip(marks, circles, strict=True))


@given(offers, st.one_of(st.none(), st.floats(1, 90_000)))
def test_dearer_stands_further_right_and_likelier_higher(some: list[Plotted], limit: float | None) -> None:
    at = dots(chance_against_cost(some, limit))
    for one in some:
        assert 0 <= at[one.mark][0] <= 640
        for other in some:
            if one.likely > other.likely:
                assert at[one.mark][0] >= at[other.mark][0]
            if one.chance > other.chance:
                assert at[one.mark][1] <= at[other.mark][1]


@given(offers, st.one_of(st.none(), st.floats(1, 90_000)))
def test_bars_lie_within_the_picture(some: list[Plotted], limit: float | None) -> None:
    boxes = list(ET.fromstring(cost_bars(some, limit)).iter(f"{SVG}rect"))
    assert len(boxes) == len(some)
    for box in boxes:
        assert 60 <= float(box.get("x", 0)) <= float(box.get("x", 0)) + float(box.get("width", 0)) <= 640


def test_a_mark_stands_at_its_figures() -> None:
    # The axis runs from 60 to 620 for 0 to 400 USD, and from 280 up to 20 for 0 to 100 %.
    x, y = dots(chance_against_cost([Plotted("a", 0.5, 250, 300, 400)]))["a"]
    assert (x, y) == (60 + 560 * 300 / 400, 150.0)
