"""What an axle weighs, who or what can lift it, and what its freight sheet says."""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import ceil
from typing import Any

from donorbase.errors import BadInput
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.services.house import House
from donorbase.services.show import existing_key
from donorbase.shipped import data_dir

Range = tuple[float, float]
STATES = ("complete", "stripped", "bare")


@dataclass(frozen=True, slots=True)
class Weight:
    """What one axle weighs in lb, low and high; ``of_kind`` says that the figure is that of axles like it."""

    key: str
    title: str
    state: str
    weight_lb: Range
    of_kind: bool
    basis: str

    @property
    def people(self) -> int:
        """How many it takes so that nobody holds more than one person should: the high end counts."""
        return ceil(self.weight_lb[1] / float(haul_figures()["person"]["limit_lb"]))

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "axle": self.key, "title": self.title, "state": self.state, "weight_lb": list(self.weight_lb),
            "of_its_kind": self.of_kind, "people": self.people, "basis": self.basis,
        }  # fmt: skip


@cache
def haul_figures() -> dict[str, Any]:
    """``data/haul.toml``: shares of weight by state of strip, wheels, what one person lifts, freight."""
    return tomllib.loads((data_dir() / "haul.toml").read_text("utf-8"))


def weights(house: House, keys: Sequence[str], state: str = "complete", *, wheels: bool = False) -> tuple[Weight, ...]:
    """What each axle weighs, by the key of a variant or family.

    Where no weight is on record for it, that of axles of its end and strength counts; BadInput where there are none.
    """
    catalogue = house.catalogue()
    return tuple(_weight(existing_key(key, catalogue), catalogue, state, wheels=wheels) for key in keys)


def _weight(key: str, catalogue: Catalogue, state: str, *, wheels: bool) -> Weight:
    own = [v for v in catalogue.variants.values() if key in (v.key, v.family.key)]
    if not own:
        raise BadInput(f"{key} is no axle", "Name a variant or a family: `donorbase find` lists them.")
    found, of_kind = _on_record(own), False
    if not found:
        like = (own[0].family.position, own[0].family.torque_class)
        found = _on_record(
            [v for v in catalogue.variants.values() if (v.family.position, v.family.torque_class) == like]
        )
        of_kind = True
    if not found:
        raise BadInput(
            f"nothing is on record of what {key} weighs", "Weigh it, and give the figure to `calc tie-down`."
        )
    figures = haul_figures()
    part, pair = figures["state"][state], figures["wheels"]["pair_lb"] if wheels else (0, 0)
    low = min(f[0] for f in found) * part["share"][0] + pair[0]
    high = max(f[1] for f in found) * part["share"][1] + pair[1]
    basis = "; ".join(
        dict.fromkeys([f"weights of {'axles like it' if of_kind else 'its kind'}, from memory", part["basis"]])
    )
    title = own[0].title if key == own[0].key else own[0].family.name
    return Weight(key, title, state, (round(low), round(high)), of_kind, basis)


def _on_record(variants: Sequence[Variant]) -> list[Range]:
    values = [value for v in variants for value in v.all("weight_lb")]
    return [(float(v[0] or 0), float(v[1] or 0)) for v in values if isinstance(v, tuple)]
