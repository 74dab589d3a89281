"""Axles that are taken for one another: by the identification itself, after a look; and what tells them apart."""

from dataclasses import dataclass
from typing import Any

from donorbase.attributes import of_scope
from donorbase.errors import BadInput
from donorbase.facts import Fact, Known
from donorbase.identity.identify import identify
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.services.compare import DIFFERS, MAY_DIFFER, CompareRow, compare
from donorbase.services.house import House
from donorbase.services.show import existing_key

A_LOOK_MIN = 1.0
"""Minutes of trouble up to which a thing is seen at arm's length."""
_LEAST = 0.01
_TELLING = 3


@dataclass(frozen=True, slots=True)
class Lookalike:
    """A variant that is taken for the asked one with ``chance`` after a look, and what tells them apart, best first."""

    key: str
    title: str
    chance: float
    telling: tuple[CompareRow, ...]

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        rows = [row.as_json() for row in self.telling]
        return {"variant": self.key, "title": self.title, "chance": round(self.chance, 4), "telling": rows}


def lookalikes(key: str, house: House, limit: int = 6) -> tuple[Lookalike, ...]:
    """The variants that one is taken for when only what is seen at arm's length is known, likeliest first.

    NotFound names the keys near a mistyped one; BadInput for a key that is no variant.
    """
    catalogue = house.catalogue()
    key = existing_key(key, catalogue)
    if key not in catalogue.variants:
        listed = ", ".join(k for k in catalogue.variants if k.startswith(f"{key}/"))
        raise BadInput(
            f"{key} is no single variant",
            f"Name one of its variants: {listed}." if listed else "`donorbase find` lists the axles.",
        )
    found = identify(_at_a_look(catalogue.variants[key]), catalogue)
    others = [c for c in found.candidates if c.variant not in (key, None) and c.probability >= _LEAST]
    return tuple(_lookalike(key, str(c.variant), c.probability, house, catalogue) for c in others[:limit])


def _at_a_look(variant: Variant) -> tuple[Fact, ...]:
    seen = [a.name for a in of_scope("axle") if a.measurable and a.trouble <= A_LOOK_MIN]
    return tuple(Fact(name, value, Known.MEASURED) for name in seen if (value := variant.get(name)) is not None)


def _lookalike(key: str, other: str, chance: float, house: House, catalogue: Catalogue) -> Lookalike:
    rows = compare(key, other, house).rows
    telling = [row for row in rows if row.state == DIFFERS and row.how] or [r for r in rows if r.state == MAY_DIFFER]
    return Lookalike(other, catalogue.variants[other].title, chance, tuple(telling[:_TELLING]))
