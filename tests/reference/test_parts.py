"""The kinds of parts speak the words of the other files."""

from pathlib import Path

import pytest

from donorbase.errors import BadData
from donorbase.reference.load import load_catalogue
from donorbase.reference.parts import kinds_from, part_kinds
from donorbase.shipped import data_dir


def test_words_of_interchange_and_wear_are_those_of_their_files() -> None:
    catalogue = load_catalogue()
    kinds = part_kinds().values()
    fits = {row.part for row in catalogue.interchange if row.kind == "fit"}
    assert {kind.interchange for kind in kinds} - {""} == fits, "a part that fits something has a kind"
    worn = {word for kind in kinds for word in kind.wear}
    assert len(worn) > 15
    assert worn <= {point.part for point in catalogue.wear}


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("knuckle,steering knuckle,yes", "knuckle,steering knuckle,maybe", "sided 'maybe'"),
        ("rotor,brake rotor", "caliper,brake rotor", "stands twice"),
        ("pinion_splines,,,1,", "pinion_splines,,,1.5,", "whole number"),
        ("pinion_splines,,,1,", "pinion_spines,,,1,", "no attribute"),
        ("brakes=disc", "brakes=disk", "no attribute with one of its values"),
    ],
)
def test_a_broken_row_is_refused_with_its_line(tmp_path: Path, old: str, new: str, fault: str) -> None:
    text = (data_dir() / "parts.csv").read_text("utf-8")
    assert old in text
    (tmp_path / "parts.csv").write_text(text.replace(old, new), "utf-8")
    with pytest.raises(BadData, match=f"parts.csv:[0-9]+: .*{fault}"):
        kinds_from(tmp_path / "parts.csv")
