"""Whether the vehicle's master cylinder can feed the donor's calipers."""

from donorbase.engineering.brakes import CIRCUIT_STROKE_IN
from donorbase.engineering.brakes import fluid_enough as feeds
from donorbase.facts import Value
from donorbase.reference.catalogue import Variant
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build, Vehicle

ORIGINAL_PISTONS = 1
"""What the original cylinder of a lighter vehicle feeds; two-piston calipers want a larger one: common
practice.
"""


def fluid_enough(prospect: Prospect, variant: Variant | None, build: Build) -> tuple[float, float]:
    """``(enough, unknown)``: by the bore where it is known, else by ``enlarged`` or ``original``."""
    vehicle = build.vehicle
    if vehicle.master_cylinder_bore_in is None and vehicle.master_cylinder == "enlarged":
        return (1.0, 0.0)
    pistons = prospect.belief("caliper_pistons", variant)
    piston_mm = prospect.belief("caliper_piston_mm", variant).best
    enough = sum(p * _feeds(count, piston_mm, vehicle) for count, p in pistons)
    drums, _ = prospect.belief("brakes", variant).chance(lambda kind: kind == "drum")
    # A drum moves no more fluid than the original cylinder was made for.
    return (enough + pistons.unknown * drums, pistons.unknown * (1 - drums))


def _feeds(count: Value, piston_mm: Value | None, vehicle: Vehicle) -> float:
    if not isinstance(count, (int, float)):
        return 0.5
    if vehicle.master_cylinder_bore_in is None:
        unsaid = vehicle.master_cylinder is None and count > ORIGINAL_PISTONS
        return 0.5 if unsaid else float(count <= ORIGINAL_PISTONS)
    stroke = vehicle.master_cylinder_stroke_in
    dia = float(piston_mm) if isinstance(piston_mm, (int, float)) else None
    circuit = (stroke, stroke) if stroke else CIRCUIT_STROKE_IN
    enough = feeds(int(count), dia, vehicle.master_cylinder_bore_in, circuit)
    return 0.5 if enough is None else float(enough)
