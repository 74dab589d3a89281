"""A thing on offer in the making, and what makes an axle of it."""

from dataclasses import dataclass, field

from donorbase.reading.scan import Mark

AXLE_FACTS = frozenset({"ratio", "knuckle", "float", "lugs", "cover_bolts", "width_in", "ring_gear_in", "drop",
    "splines", "differential", "bolt_circle_mm", "suspension", "pinion", "tube_in", "inner_splines",
    "outer_splines"})  # fmt: skip
"""What is said of axles rather than of trucks or parts."""
WHEEL_FACTS = frozenset({"kind", "position", "years", "lugs", "bolt_circle_mm", "quantity"})
"""All that is asked of wheels and of other things."""

GEARED = frozenset({"carrier", "differential", "ring-and-pinion", "third-member"})
_WHEELED = frozenset({
    "hub", "rotor", "brake-drum", "unit-bearing", "knuckle", "locking-hub", "spindle", "axle-shaft", "outer-shaft",
    "caliper-bracket", "third-member",
})  # fmt: skip
"""Parts that carry the wheel, or are told apart by it."""
_OF_PARTS: dict[str, frozenset[str]] = {
    "ratio": GEARED, "differential": GEARED, "pinion": GEARED, "drop": frozenset(), "width_in": frozenset(),
    "tube_in": frozenset({"axle-tube", "spring-perch"}), "caliper_pistons": frozenset({"caliper"}),
    "float": frozenset({"axle-shaft", "hub", "brake-drum", "rotor", "spindle", "caliper-bracket"}),
    "suspension": frozenset({"track-bar"}),
    "knuckle": frozenset({"knuckle", "spindle", "outer-shaft", "inner-shaft", "hub", "locking-hub", "caliper"}),
    "lugs": _WHEELED, "bolt_circle_mm": _WHEELED,
}  # fmt: skip


def part_may_have(part: str, attribute: str) -> bool:
    """Whether a part can have what is told; if not, it is told of the axle that the part comes from or goes on."""
    return attribute not in _OF_PARTS or part in _OF_PARTS[attribute]


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
