"""The looks: their order, and that a faulty file is refused with all that is wrong in it."""

from pathlib import Path

import pytest

from donorbase.errors import BadData
from donorbase.reference.inspection import WEIGHTS, looks, looks_from


def test_what_is_gravest_comes_first() -> None:
    weights = [list(WEIGHTS).index(look.weight) for look in looks()]
    assert weights == sorted(weights)
    assert looks()[0].key == "steady"
    assert len(looks()) >= 30


def test_every_fault_is_told(tmp_path: Path) -> None:
    path = tmp_path / "inspection.toml"
    path.write_text(
        '[[look]]\nkey = "a"\nlook = "x"\nhow = "y"\nmeans = "z"\nweight = "maybe"\nof = ["colour"]\n'
        'drawing = "cat"\nbasis = "common practice"\n[[look]]\nkey = "a"\nlook = "x"\n',
        "utf-8",
    )
    with pytest.raises(BadData) as refused:
        looks_from(path)
    told = "\n".join(refused.value.faults)
    for wrong in ("'maybe' is none of", "'colour' is no attribute", "'cat' is none of", "'a' stands twice", "how"):
        assert wrong in told
