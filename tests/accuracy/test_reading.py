"""The reader keeps what it once could: no field of a labelled set falls below its recorded floor.

The labels follow the form told in DEVELOPERS.md; ``floors.json`` holds the share of a field's facts that must be
right (F1 of the field), by set.
"""

import importlib.util
import json
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent
FLOORS = json.loads((HERE / "floors.json").read_text("utf-8"))


def _measuring() -> Any:
    spec = importlib.util.spec_from_file_location("measure_reading", HERE / "measure_reading.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def measured() -> dict[str, dict[str, Any]]:
    tool = _measuring()
    return {name: tool.measure(tool.labels_of(name))[0] for name in FLOORS}


@pytest.mark.parametrize("name", sorted(FLOORS))
@pytest.mark.parametrize("total", ["f1", "exact"])
def test_totals_keep_their_floor(measured: dict[str, dict[str, Any]], name: str, total: str) -> None:
    assert measured[name]["listings"] >= 30
    assert measured[name][total] >= FLOORS[name][total]


@pytest.mark.parametrize("name", sorted(FLOORS))
def test_silence_is_not_made_into_facts(measured: dict[str, dict[str, Any]], name: str) -> None:
    assert measured[name]["silence_to_fact"] <= FLOORS[name]["silence_to_fact"]


@pytest.mark.parametrize(("name", "field"), [(n, f) for n in sorted(FLOORS) for f in FLOORS[n]["fields"]])
def test_field_keeps_its_floor(measured: dict[str, dict[str, Any]], name: str, field: str) -> None:
    seen = measured[name]["fields"][field]
    facts = 2 * seen["right"] + seen["missed"] + seen["wrong"]
    assert facts > 0
    assert 2 * seen["right"] / facts >= FLOORS[name]["fields"][field]


REGRESSIONS = [json.loads(line) for line in (HERE / "regressions.jsonl").read_text("utf-8").splitlines()]


@pytest.mark.parametrize("case", REGRESSIONS, ids=[case["id"] for case in REGRESSIONS])
def test_what_once_failed_stays_right(case: dict[str, Any]) -> None:
    figures, rows = _measuring().measure([case])
    assert figures["facts"] > 0
    assert rows[0][0] == 0, rows[0]
