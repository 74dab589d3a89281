"""What one wants to order: a ring and pinion, a locker, or both; what is not told is None or empty."""

from dataclasses import dataclass

from donorbase.reference.lockers import INSERTS

CUTS = ("standard", "reverse")
SPOOLS = frozenset({"spool", "mini-spool"})
"""What ties both wheels together for good."""


@dataclass(frozen=True, slots=True)
class Order:
    """An order as its buyer knows it.

    ``set_key`` is the gear set it is sold as, or the axle (variant) that a used set comes out of; ``made_for`` the
    model years it is sold for. ``case_ratio`` is a ratio of the side that the differential case is made for, where
    another case than the one in the axle is bought. ``thick`` tells of a ring gear made for the case of the shallow
    ratios. ``other_ratio`` is that of the other end.
    """

    ratio: float | None = None
    set_key: str = ""
    made_for: tuple[int, int | None] | None = None
    cut: str = ""
    thick: bool | None = None
    used: bool = False
    ring_number: str = ""
    pinion_number: str = ""
    other_ratio: float | None = None
    case_ratio: float | None = None
    locker: str = ""
    locker_splines: int | None = None

    @property
    def wants_gears(self) -> bool:
        """Whether a ring and pinion is ordered, and not a locker alone."""
        return self.ratio is not None or bool(self.set_key)

    @property
    def brings_case(self) -> bool:
        """Whether the locker comes in a case of its own, in place of the one in the axle."""
        return bool(self.locker) and self.locker not in INSERTS
