"""The library's face works by itself, without a database."""

import json
from pathlib import Path

from donorbase import api

SCENARIOS = Path(__file__).parent / "accuracy" / "scenarios" / "open.jsonl"


def test_read_identify_judge() -> None:
    row = json.loads(SCENARIOS.read_text("utf-8").splitlines()[0])
    reading = api.read(row["listing"], this_year=2026)
    assert reading.items
    found = api.identify({"lugs": 8, "bolt_circle_mm": 170.0, "suspension": "coil", "outer_splines": 35})
    assert str(found.identification.best.variant).startswith("front-9.75-balljoint/a-")
    checked = api.judge(row["build"], row["listing"], distance_mi=row["distance_mi"], this_year=2026)
    assert str(checked.verdict.verdict) == row["verdict"]
