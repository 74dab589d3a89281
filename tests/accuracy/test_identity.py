"""Is what is given 80 % right 80 times in a hundred? Identification against simulated sellers and measurers.

The makers of the axles (``simulated_axles``) share no table with the identification, and their rates of
error differ from the model's by up to a factor of two. ``report_identity.py`` does the same on many more and
writes the report.
"""

import pathlib
import sys

import pytest

sys.path.insert(0, str(pathlib.Path(__file__).parent))
from identity_tally import Tally, share, tally, tally_of_none

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def mixed() -> Tally:
    return tally(1000, seed=11, worlds=4)


def test_what_is_given_a_probability_comes_true_that_often(mixed: Tally) -> None:
    # 0.03 is held on the report's many; a sample of this size wanders by 0.015.
    assert mixed.calibration_error() <= 0.045


def test_the_right_axle_is_found_where_the_observations_suffice(mixed: Tally) -> None:
    assert len(mixed.enough) > 100
    assert share(mixed.enough) >= 0.97


def test_an_axle_that_the_catalogue_lacks_is_called_none_of_these() -> None:
    found = tally_of_none(300, seed=5)
    assert len(found.none_enough) > 40
    assert share(found.none_enough) >= 0.9
