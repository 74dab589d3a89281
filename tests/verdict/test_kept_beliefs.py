"""What is kept of single variants for all listings is what would be worked out anew from the facts."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.facts import Reading
from donorbase.identity.belief import attribute_belief
from donorbase.identity.identification import Candidate, Identification
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.judging import judging
from donorbase.reference.odds import load_rates
from donorbase.verdict.prospect import prospects_of

NAMES = (
    "years", "drop", "lugs", "bolt_circle_mm", "hub_bearing", "splines", "shaft_dia_in", "outer_splines",
    "inner_splines", "suspension", "brakes", "caliper_pistons", "rotor_dia_mm", "rear_wheels", "load_class", "width_in",
    "min_wheel_in", "ratio", "ring_gear_in", "float",
)  # fmt: skip


@pytest.mark.parametrize("more", [{}, {"fits_years": (2005, 2010)}, {"hub_bore_mm": 125.0}, {"rotor_dia_mm": 331.0}])
@pytest.mark.parametrize("left_out", ["years", "bolt_circle_mm", "brakes", "suspension", "rear_wheels"])
def test_kept_beliefs_are_those_of_the_facts(
    left_out: str,
    more: dict[str, Any],
    coil_front: dict[str, Any],
    reading: Callable[..., Reading],
    catalogue: Catalogue,
) -> None:
    said = {name: value for name, value in coil_front.items() if name != left_out} | more
    offer = reading(said)
    (prospect,) = prospects_of(0, offer.items[0], offer, catalogue, judging(), load_rates())
    for world in prospect.worlds():
        key = world.variant.key if world.variant else None
        for name in NAMES:
            only = Identification((Candidate(key, 1.0),))
            anew = attribute_belief(name, prospect.axle_facts(), only, catalogue, prospect.rates)
            kept = prospect.belief(name, world.variant)
            assert dict(kept.weights) == pytest.approx(dict(anew.weights)), (name, key)
            assert kept.unknown == pytest.approx(anew.unknown), (name, key)
