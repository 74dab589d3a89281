"""A thing on offer in the making, and what makes an axle of it."""

from dataclasses import dataclass, field

from donorbase.reading.scan import Mark

AXLE_FACTS = frozenset({"ratio", "knuckle", "float", "lugs", "cover_bolts", "width_in", "ring_gear_in", "drop",
    "splines", "differential", "bolt_circle_mm", "suspension", "pinion", "tube_in", "inner_splines",
    "outer_splines"})  # fmt: skip
"""What is said of axles rather than of trucks or parts."""
WHEEL_FACTS = frozenset({"kind", "position", "years", "lugs", "bolt_circle_mm", "quantity"})
"""All that is asked of wheels and of other things."""


@dataclass(slots=True, eq=False)
class Draft:
    """A thing on offer in the making; ``begin`` is where it is first named."""

    kind: str
    part: str = ""
    position: str = ""
    begin: int = 0
    spans: tuple[int, ...] = ()
    rows: list[tuple[int, int]] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
