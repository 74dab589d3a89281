"""What a builder should hear beside the verdict, with its sum: it changes no verdict."""

import math

from donorbase.engineering.gearing import quoted_mismatch
from donorbase.engineering.shafts import capacity, engine_bound_lbft, shaft_demand, traction_bound_lbft
from donorbase.engineering.tires import read_tire
from donorbase.engineering.wheels import offset_mm, width_limits, width_over_tires_in
from donorbase.reference.wording import plain_text, value_text
from donorbase.verdict.brakes import fluid_enough
from donorbase.verdict.computed import tire_dia_in, wanted_ratio
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build

_SAME_CIRCLE_MM = 1.0
_LOCK_DEG = 30.0
"""Angle of the joint at a usual full lock: common practice."""
_GRIP = 1.0
"""A sticky tire on rock: from memory."""
_DRIVELINE = 0.85
"""Of the engine's torque, what reaches the axle through box and transfer case: from memory."""


def notes_of(prospect: Prospect, build: Build) -> tuple[str, ...]:
    """The notes for one axle; empty where nothing is known that bears on it."""
    if not build.computed:
        return ()
    found = (note(prospect, build) for note in (_width, _torque, _brakes, _carrier, _other_end, _patterns))
    return tuple(filter(None, found))


def _number(prospect: Prospect, name: str) -> float | None:
    best = prospect.overall(name).best
    return float(best) if isinstance(best, (int, float)) else None


def _width(prospect: Prospect, build: Build) -> str:
    said, passed = width_words(prospect, build)
    return "; ".join([said, *passed]) if passed else ""


def width_words(prospect: Prospect, build: Build) -> tuple[str, tuple[str, ...]]:
    """The width over the tires with its sum, and the limits that it is past; empty where it is not known."""
    vehicle = build.vehicle
    section = read_tire(vehicle.tires).section_width_in if vehicle.tires else None
    if not (section and vehicle.wheel_width_in and vehicle.backspacing_in):
        return "", ()
    faces = _number(prospect, "width_in")
    if not faces:
        return "", ()
    offset = offset_mm(vehicle.backspacing_in, vehicle.wheel_width_in)
    over = width_over_tires_in(faces, section, offset)
    passed = [row for row in width_limits(over) if row.left_in < 0]
    law = f"past {passed[-1].limit_in:g} in: {passed[-1].meaning}; ask your State" if passed else ""
    own = vehicle.track_limit_in
    terms = f"{faces:g} in across the faces, {section:g} in section, {offset:.0f} mm offset"
    mine = f"over your limit of {own:g} in" if own and over > own else ""
    return f"over the tires about {over:.0f} in ({terms})", tuple(filter(None, (mine, law)))


def _torque(prospect: Prospect, build: Build) -> str:
    vehicle, ratio = build.vehicle, wanted_ratio(build)[0]
    load = vehicle.front_load_lb if prospect.end == "front" else vehicle.rear_load_lb
    tire = tire_dia_in(build)
    if not (load and tire and ratio):
        return ""
    splines = _number(prospect, "outer_splines" if prospect.end == "front" else "splines")
    if not splines:
        return ""
    traction = traction_bound_lbft(_GRIP, load, tire / 2)
    parts = (vehicle.engine_torque_lbft, vehicle.first_gear, vehicle.low_range)
    engine = engine_bound_lbft(*parts, ratio, _DRIVELINE) if all(parts) else math.inf  # type: ignore[arg-type]
    asked = shaft_demand(min(engine, traction * 10), traction, ratio, locked=True).shaft_lbft
    carried = capacity(int(splines))
    word = "more than" if asked > carried.high_lbft else "within" if asked < carried.low_lbft else "near"
    joint = ""
    if prospect.end == "front":
        peak = 1 / math.cos(math.radians(_LOCK_DEG))
        joint = f"; at full lock, {_LOCK_DEG:g} degrees, its joint sees up to {peak:.2f} times that"
    return (
        f"one locked shaft can be asked for {asked:,.0f} lb-ft, {word} the {carried.low_lbft:,.0f}-"
        f"{carried.high_lbft:,.0f} that a {splines:g}-spline shaft carries ({carried.basis}){joint}"
    )


def _brakes(prospect: Prospect, build: Build) -> str:
    vehicle = build.vehicle
    known = vehicle.master_cylinder or vehicle.master_cylinder_bore_in
    if (
        prospect.end == "rear"
        or not known
        or any(r.subject == "brake_fluid_enough" for r in build.of_end(prospect.end))
    ):
        return ""
    enough = sum(world.weight * fluid_enough(prospect, world.variant, build)[0] for world in prospect.worlds())
    return "its calipers want a larger master cylinder than the vehicle has" if enough < 0.05 else ""


def _carrier(prospect: Prospect, build: Build) -> str:
    wanted = wanted_ratio(build)[0] if prospect.all("ratio") else None
    gear_set = prospect.gear_set(prospect.best_variant()) if wanted else None
    now = _number(prospect, "ratio") if gear_set else None
    if not (gear_set and wanted and now):
        return ""
    sides = {gear_set.case_side(now), gear_set.case_side(wanted)}
    if sides != {"shallow", "deep"}:
        return ""
    bought = {"new-differential", "new-carrier"} & {*build.work.planned, *build.work.accepted}
    buy = "order the differential for that side" if bought else gear_set.needs
    return (
        f"its {value_text('ratio', now)} carrier is on the other side of the split ({gear_set.carrier_split}) from "
        f"{value_text('ratio', wanted)}: {buy}"
    )


def _other_end(prospect: Prospect, build: Build) -> str:
    other = build.has.get("rear" if prospect.end == "front" else "front", {}).get("ratio")
    if not isinstance(other, (int, float)) or not prospect.all("ratio") or "regear" in build.work.planned:
        return ""
    now = _number(prospect, "ratio")
    if not now:
        return ""
    pct = quoted_mismatch(now, float(other)) if prospect.end == "front" else quoted_mismatch(float(other), now)
    if pct.band == "match":
        return ""
    apart = f"{pct.likely_pct:.1f} percent apart, {pct.band}"
    return f"{plain_text(now)} against {plain_text(other)} at the other end: {apart}"


def _patterns(prospect: Prospect, build: Build) -> str:
    other = build.has.get("rear" if prospect.end == "front" else "front", {}).get("bolt_circle_mm")
    asked = any(r.subject == "bolt_circle_mm" for r in build.of_end(prospect.end))
    if asked or not isinstance(other, (int, float)):
        return ""
    own = _number(prospect, "bolt_circle_mm")
    if own is None or abs(own - other) < _SAME_CIRCLE_MM:
        return ""
    two = f"{plain_text(own, 'mm')} against {plain_text(other, 'mm')}"
    return f"bolt circle {two} at the other end: two patterns, two spare wheels"
