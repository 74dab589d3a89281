"""Wear points stand where nothing known of the axle contradicts the words they are for."""

import pytest

from donorbase.reference.load import load_catalogue
from donorbase.reference.wear_match import applies, wear_of

BALL_JOINT = "front-9.75-balljoint/a-2005-2010-srw"
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
FOURTEEN = "rear-10.50-fourteen-bolt/b-1973-2000-srw-drum"

# variant, words of applies_to, whether the point is of it
OF_IT = [
    (BALL_JOINT, "all", True),
    (BALL_JOINT, "all disc brakes", True),
    (BALL_JOINT, "all drums", False),
    (BALL_JOINT, "solid-front ball-joint knuckles", True),
    (BALL_JOINT, "9.75-in kingpin fronts", False),
    (BALL_JOINT, "full-float rear", False),
    (BALL_JOINT, "line-A 1990s three-quarter and one-ton 4x4 fronts", False),
    (BALL_JOINT, "9.75 front of line-C 1994-2002", False),
    (KINGPIN, "9.75-in kingpin fronts", True),
    (KINGPIN, "line-B one-ton kingpin front and its military twin", True),
    (KINGPIN, "line-B half-ton 8.5-in fronts", False),
    (KINGPIN, "2 1/2-ton double-reduction front", False),
    (FOURTEEN, "line-B 13-in rear drums (10.5- and 9.5-in rears)", True),
    (FOURTEEN, "full-float rear", True),
    (FOURTEEN, "C-clip semi-float rears", False),
    (FOURTEEN, "all disc brakes", False),
    ("rear-double-reduction-military/mil-2.5t", "2 1/2-ton", True),
    ("rear-double-reduction-military/mil-5t", "2 1/2-ton", False),
]


@pytest.mark.parametrize(("key", "words", "stands"), OF_IT)
def test_points_of_an_axle(key: str, words: str, stands: bool) -> None:
    catalogue = load_catalogue()
    points = [point for point in catalogue.wear if point.applies_to == words]
    assert points, f"no wear point is for {words!r}"
    assert applies(points[0], catalogue.variants[key]) is stands


def test_no_point_is_lost() -> None:
    catalogue = load_catalogue()
    shown = {point.id for variant in catalogue.variants.values() for point in wear_of(catalogue.wear, variant)}
    assert shown == {point.id for point in catalogue.wear}
