"""The differential case that a ring gear bolts to: whether the order's gears sit at the right height on it."""

from donorbase.engineering.teeth import written_ratio
from donorbase.reference.catalogue import GearSet, Variant
from donorbase.reference.lockers import INSERTS
from donorbase.verdict.lights import FAILS, HOLDS, OPEN, Chance, Light, Line, light_of, measured, over_worlds
from donorbase.verdict.order_gears import known_set, likeliest_set, set_basis, settled
from donorbase.verdict.ordered import Order
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.subjects import subject_of

_THICK_SOURCE = "thick ring gears bridge the break: owners' forum and a gear supplier's page (read)"


def case_lines(order: Order, axle: Prospect) -> tuple[Line, ...]:
    """The line of the case's side, and that of a thick ring gear where one is told or could be needed."""
    chance = over_worlds(axle, lambda variant: _sits(order, variant, axle))
    light, gear_set = light_of(chance, axle.rules.known), likeliest_set(axle)
    basis = set_basis(gear_set)
    if gear_set and gear_set.case_limits:
        basis += f"; {_THICK_SOURCE}"
    settle = _settle(order, axle, gear_set) if light is Light.UNCLEAR else _mend(order, gear_set, light)
    return (Line("side of the case", light, _why(order, axle, gear_set), basis, settle),)


def _sits(order: Order, variant: Variant, axle: Prospect) -> Chance:
    """Whether ring and case go together, summed over the ratios that may be in the axle now."""
    gear_set = known_set(variant, axle)
    if gear_set is None or gear_set.confidence == "low":
        return OPEN
    if gear_set.one_case:
        return FAILS if order.thick else HOLDS
    if gear_set.case_limits is None:
        return OPEN
    rings = _spread(order.ratio, variant, axle)
    cases = _spread(order.case_ratio if _another_case(order) else None, variant, axle)
    if _another_case(order) and order.case_ratio is None:
        return OPEN
    if not order.wants_gears and not order.brings_case and order.case_ratio is None:
        return HOLDS  # neither gears nor case are changed
    holds = unknown = 0.0
    for ring, p in rings:
        for case, q in cases:
            sides = [gear_set.case_side(ratio) if ratio else "" for ratio in (ring, case)]
            one = _pair(sides[0], sides[1], order, gear_set)
            holds, unknown = holds + p * q * one[0], unknown + p * q * one[1]
    return holds, unknown


def _another_case(order: Order) -> bool:
    return order.brings_case or order.case_ratio is not None


def _spread(told: float | None, variant: Variant, axle: Prospect) -> list[tuple[float | None, float]]:
    """A ratio that is told, or those that may be in the axle, each with its chance; None for what is not known."""
    if told is not None:
        return [(told, 1.0)]
    if turned := measured(axle, "ratio"):
        return [(float(value), 1 / len(turned)) for value in turned if isinstance(value, (int, float))]
    belief = axle.belief("ratio", variant)
    known: list[tuple[float | None, float]] = [(float(v), p) for v, p in belief if isinstance(v, (int, float))]
    return [*known, (None, belief.unknown)]


def _pair(ring: str, case: str, order: Order, gear_set: GearSet) -> Chance:
    if not ring or not case:
        return OPEN
    if order.thick:
        # A thick ring is a deep ratio made for the case of the shallow ones, and fits no other.
        return HOLDS if (ring, case) == ("deep", "shallow") else FAILS
    if ring == case:
        return HOLDS if order.thick is False or ring == "shallow" or not gear_set.has_thick else _unless_thick(order)
    if ring == "deep" and order.thick is None and gear_set.has_thick:
        return OPEN
    return FAILS


def _unless_thick(order: Order) -> Chance:
    return OPEN if order.wants_gears and order.ratio is not None else HOLDS


def _why(order: Order, axle: Prospect, gear_set: GearSet | None) -> str:
    if gear_set is None:
        return "how its cases are parted is not known, because its gears are not"
    if gear_set.one_case:
        thick = ": no thick ring goes on it" if order.thick else ""
        return f"one case takes every ratio ({gear_set.carrier_split}){thick}"
    if gear_set.case_limits is None:
        return "at which ratio its case changes is not on record"
    ring = f"gears of {written_ratio(order.ratio)}" if order.ratio else "the gears that are in it"
    if order.thick is not None:
        ring += " (thick)" if order.thick else " (of usual thickness)"
    return f"cases change at {gear_set.carrier_split}; {ring} on {_case_words(order, axle)}"


def _case_words(order: Order, axle: Prospect) -> str:
    if order.case_ratio is not None:
        return f"a case for {written_ratio(order.case_ratio)}"
    if order.brings_case:
        return "the locker's case, whose side is not told"
    found = axle.overall("ratio")
    likely = [f"{v:.2f} ({p:.0%})" for v, p in found.weights[:4] if isinstance(v, (int, float)) and p >= 0.05]
    return f"the case that is in it, of {' or '.join(likely) or 'a ratio that is not known'}"


def _settle(order: Order, axle: Prospect, gear_set: GearSet | None) -> str:
    asks = []
    if not settled(axle):
        return "Settle first which gears the axle has."
    if gear_set is None or (not gear_set.one_case and gear_set.case_limits is None):
        return "Ask the seller of the gears at which ratio the case of this axle changes, and with which it was built."
    if order.brings_case and order.case_ratio is None:
        asks.append("Ask for which side of the split the locker is made.")
    elif order.case_ratio is None and not axle.plainly("ratio"):
        asks.append(subject_of("ratio").how + " The gears that are in it tell the case.")
    deep = order.ratio is not None and gear_set.case_side(order.ratio) == "deep"
    if order.thick is None and gear_set.has_thick and deep:
        asks.append("Ask whether the ring gear is of usual thickness or thick: thick goes on the shallow case only.")
    return " ".join(asks) or "Ask the seller of the gears for this axle, year and case."


def _mend(order: Order, gear_set: GearSet | None, light: Light) -> str:
    if light is Light.GO or gear_set is None:
        return ""
    if order.thick:
        return "Order the ring gear of usual thickness, or keep the case of the shallow ratios for the thick one."
    if order.locker in INSERTS:
        return "It stays in the case that is there: thick gears where they are made, or a case for that side."
    return f"A case for that side ({gear_set.carrier_split}), or: {gear_set.needs}." if gear_set.needs else ""
