"""The search keeps what it once found: neither share of queries falls below its floor.

What is relevant follows from the labels of the listings, which were made apart from the search; the shares are told
in ``measure_search.py``.
"""

import importlib.util
from pathlib import Path
from typing import Any

import pytest

FLOOR = {"looked at": (0.94, 0.91), "held back": (0.87, 0.85)}
"""Mean reciprocal rank and share among the first ten, a little below what was measured on 2026-11-25."""


@pytest.fixture(scope="module")
def tool() -> Any:
    spec = importlib.util.spec_from_file_location("measure_search", Path(__file__).parent / "measure_search.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_search_keeps_its_floor(tool: Any) -> None:
    looked, held = tool.measure()
    assert (len(looked), len(held)) == (35, 15)
    for name, rows in (("looked at", looked), ("held back", held)):
        rank, share = FLOOR[name]
        assert tool.mean(rows, "rr") >= rank, name
        assert tool.mean(rows, "share") >= share, name


def test_the_answers_are_those_of_the_labels(tool: Any) -> None:
    """Each query has an answer, and its ids are what its meaning gives by the labels."""
    known = tool.labels()
    queries = tool.lines_of(tool.QUERIES)
    assert len(queries) == 50
    for query in queries:
        assert query["relevant"] == [one["id"] for one in known if tool.is_meant(query["meaning"], one)]
        assert query["relevant"], query["query"]
