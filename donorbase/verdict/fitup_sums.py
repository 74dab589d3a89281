"""Figures worked out beside the hold points, from what the build says, the axle is, and somebody measured."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass

from donorbase.engineering.gearing import engine_rpm, quoted_mismatch
from donorbase.engineering.joints import ANGLE_SOURCE, greatest_angle_deg
from donorbase.engineering.steering import bump_steer, caster_budget, caster_left_deg, link_of
from donorbase.errors import BadInput
from donorbase.reference.wording import plain_text, values_text
from donorbase.verdict.applies import Case
from donorbase.verdict.brakes import fluid_enough
from donorbase.verdict.computed import tire_dia_in, wanted_ratio
from donorbase.verdict.notes import width_words
from donorbase.verdict.prospect import Prospect

MEASURES = {
    "drag_link_in": "drag link, joint to joint, inches",
    "drag_link_deg": "its slope at ride height, axle end lower positive",
    "track_bar_in": "track bar, joint to joint, inches",
    "track_bar_deg": "its slope at ride height, axle end lower positive",
    "arm_in": "ball joints' axis to the drag link's end on the knuckle, inches",
    "up_in": "travel up to the bump stop, inches",
    "down_in": "travel down to full droop, inches",
    "caster_deg": "caster as it stands",
    "pinion_deg": "pinion as it stands, nose up positive",
    "want_caster_deg": "caster wanted",
    "want_pinion_deg": "pinion angle wanted",
    "joint_deg": "working angle of the driveshaft's joint at the axle",
}
"""What is measured under the vehicle, by name; units stand in the names."""
POINTS = {
    "drag_frame": "drag link at the pitman arm",
    "drag_axle": "drag link at the knuckle",
    "bar_frame": "track bar at the frame",
    "bar_axle": "track bar at the axle",
}
"""Ends of links, each ACROSS,UP in inches from one corner, seen from the front: they give lengths and slopes."""
USUAL_TRAVEL_IN = 4.0
"""Looked at where no travel was measured: common practice."""


@dataclass(frozen=True, slots=True)
class Measured:
    """Figures by name of ``MEASURES``, and points by name of ``POINTS``."""

    figures: Mapping[str, float]
    points: Mapping[str, tuple[float, float]]

    def all(self, *names: str) -> list[float] | None:
        """These figures in order, None where one of them was not measured."""
        found = [self.figures[name] for name in names if name in self.figures]
        return found if len(found) == len(names) else None

    def link(self, name: str, length: str, slope: str) -> tuple[float, float] | None:
        """Length and slope of a link from its two ends, else as measured; None where neither is told."""
        ends = [self.points.get(f"{name}_{end}") for end in ("frame", "axle")]
        if ends[0] and ends[1]:
            return link_of(ends[0], ends[1])
        told = self.all(length, slope)
        return (told[0], told[1]) if told else None


def sum_for(name: str, case: Case, measured: Measured) -> str:
    """The figure of that name as a sentence; empty where too little is known for it."""
    return _SUMS[name](case, measured)


def _bump_steer(case: Case, measured: Measured) -> str:
    drag = measured.link("drag", "drag_link_in", "drag_link_deg")
    bar = measured.link("bar", "track_bar_in", "track_bar_deg")
    if not drag or not bar:
        return ""
    said = (
        f"drag link {drag[0]:.1f} in at {drag[1]:.1f} degrees, track bar {bar[0]:.1f} in at {bar[1]:.1f}: slopes "
        f"{abs(drag[1] - bar[1]):.1f} degrees apart, lengths {abs(drag[0] - bar[0]):.1f} in"
    )
    arm = measured.figures.get("arm_in")
    if arm is None:
        return f"{said}; with arm_in measured, what that steers is worked out"
    return f"{said}; {'; '.join(_steered(drag, bar, arm, measured))}"


def _steered(drag: tuple[float, float], bar: tuple[float, float], arm_in: float, measured: Measured) -> list[str]:
    up, down = (measured.figures.get(name, USUAL_TRAVEL_IN) for name in ("up_in", "down_in"))
    found = []
    for travel, word in ((up, "up"), (-down, "down")):
        steered = bump_steer(*drag, *bar, travel, arm_in).steer_deg
        found.append(f"{abs(travel):g} in {word} steers {steered:+.2f} degrees")
    return found


def _caster(case: Case, measured: Measured) -> str:
    now = measured.all("caster_deg", "pinion_deg")
    if not now:
        return ""
    wanted = measured.all("want_caster_deg", "want_pinion_deg")
    if not wanted:
        return f"caster and pinion sum to {sum(now):g} degrees, whatever the housing is turned to"
    budget = caster_budget(now[0], now[1], wanted[0], wanted[1])
    left = caster_left_deg(now[0], now[1], wanted[1])
    return (
        f"caster and pinion sum to {budget.constant_deg:g}, wanted are {budget.wanted_deg:g}: turn the knuckles "
        f"{budget.knuckle_rotation_deg:+g} degrees, or have {left:g} of caster with that pinion"
    )


def _wheel(case: Case, measured: Measured) -> str:
    wheel = case.build.vehicle.wheel_dia_in
    best = case.axle.overall("min_wheel_in").best if case.axle else None
    if wheel is None or not isinstance(best, (int, float)):
        return ""
    word = "enough, by the catalogue" if wheel >= best else "too small, by the catalogue"
    return f"your wheels are {wheel:g} in, its brakes ask for {best:g}: {word}; the wheel in your hand decides"


def _brake_fluid(case: Case, measured: Measured) -> str:
    if case.axle is None:
        return ""
    worlds = [(w.weight, fluid_enough(case.axle, w.variant, case.build)) for w in case.axle.worlds()]
    enough = sum(weight * chance[0] for weight, chance in worlds)
    unknown = sum(weight * chance[1] for weight, chance in worlds)
    if enough >= case.axle.rules.known.high:
        return "the master cylinder moves enough for its calipers, by the figures"
    if enough + unknown <= case.axle.rules.known.low:
        return "its calipers want a larger master cylinder than the vehicle has, and the booster to it"
    return "whether the master cylinder moves enough for its calipers is open: count pistons, read the bore"


def _driveshaft(case: Case, measured: Measured) -> str:
    """The greatest working angle by the speed of the shaft, which turns as the pinion does."""
    mph, tire, ratio = case.build.vehicle.cruise_mph, tire_dia_in(case.build), wanted_ratio(case.build)[0]
    if not (mph and tire and ratio):
        return ""
    rpm = engine_rpm(mph, ratio, tire)
    with suppress(BadInput):
        most = greatest_angle_deg(rpm)
        said = f"at {mph:g} mph the shaft turns {rpm:,.0f} a minute: at most {most:.1f} degrees ({ANGLE_SOURCE})"
        seen = measured.figures.get("joint_deg")
        if seen is None:
            return said
        return f"{said}; measured {seen:g}: {'within' if abs(seen) <= most else 'PAST it'}"
    return ""


def _mismatch(case: Case, measured: Measured) -> str:
    there = "rear" if case.end == "front" else "front"
    own, other = _ratio(case.axle, case), case.build.has.get(there, {}).get("ratio")
    if other is None and there in case.build.wants and "regear" in case.work:
        other = wanted_ratio(case.build)[0]
    if own is None or not isinstance(other, (int, float)):
        return ""
    front, rear = (own, float(other)) if case.end == "front" else (float(other), own)
    apart = quoted_mismatch(front, rear)
    return (
        f"{plain_text(front)} against {plain_text(rear)}: {apart.likely_pct:.2f} percent apart ({apart.low_pct:.2f} to "
        f"{apart.high_pct:.2f} by the teeth it can have), {apart.band}"
    )


def _ratio(axle: Prospect | None, case: Case) -> float | None:
    """The ratio that the axle will have: the one that it is geared to, else the one that it was told to have."""
    if "regear" in case.work:
        return wanted_ratio(case.build)[0]
    told = axle.all("ratio") if axle else ()
    return float(told[0]) if len(told) == 1 and isinstance(told[0], (int, float)) else None


def _width(case: Case, measured: Measured) -> str:
    if case.axle is None:
        return ""
    said, passed = width_words(case.axle, case.build)
    return "; ".join([said, *passed]) if said else ""


def _weight(case: Case, measured: Measured) -> str:
    best = case.axle.best_variant() if case.axle else None
    figure = best.figures.get("weight_lb") if best else None
    if figure is None:
        return ""
    basis = f"{figure.basis}, {figure.confidence} confidence"
    return f"the axle weighs about {values_text('weight_lb', figure.values)} ({basis}): hoist, loader or helpers"


_SUMS: Mapping[str, Callable[[Case, Measured], str]] = {
    "bump-steer": _bump_steer,
    "caster": _caster,
    "wheel": _wheel,
    "brake-fluid": _brake_fluid,
    "driveshaft": _driveshaft,
    "mismatch": _mismatch,
    "width": _width,
    "weight": _weight,
}
