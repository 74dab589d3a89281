"""``donorbase calc brakes``, ``caster`` and ``steering``."""

from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.calc_answer import (
    ANGLE,
    FORCE,
    LENGTH,
    LENGTH_MM,
    NUMBER,
    TIRE,
    WEIGHT,
    Answer,
    Table,
    example,
    figure,
    json_option,
    plain,
    show,
)
from donorbase.cli.forms import csv_form

if TYPE_CHECKING:
    from donorbase.engineering.brakes import Stop

TRAVELS_IN = (-4.0, -2.0, 2.0, 4.0)


@click.command(epilog=example("brakes --pistons 2 --piston 60mm --bore 1.125in --old-pistons 1 --old-piston 2.94in"))
@click.option("--pistons", type=int, required=True, help="Pistons of one caliper.")
@click.option("--piston", type=LENGTH_MM, required=True, help="Diameter of a piston, in mm unless said.")
@click.option("--fixed", is_flag=True, help="A fixed caliper with pistons on both sides.")
@click.option("--bore", type=LENGTH, required=True, help="Bore of the master cylinder.")
@click.option("--stroke", type=LENGTH, help="Stroke of one circuit of the master cylinder.")
@click.option("--old-pistons", type=int, help="Pistons of a caliper that was there before ...")
@click.option("--old-piston", type=LENGTH_MM, help="... their diameter ...")
@click.option("--old-bore", type=LENGTH, help="... and the bore then, where it was another.")
@click.option(
    "--pedal", type=FORCE, default="100", show_default=True, help="Force of the foot; the yardstick is 500 N."
)
@click.option("--pedal-ratio", type=NUMBER, default="4", show_default=True, help="Lever of the pedal.")
@click.option("--booster", type=FORCE, default="0", show_default=True, help="Force that the booster adds.")
@click.option("--friction", type=NUMBER, default="0.40", show_default=True, help="Pads on rotor, 0.35-0.45 cold.")
@click.option("--rotor-radius", type=LENGTH, help="Hub's centre to the middle of the pad ...")
@click.option("--tires", type=TIRE, help="... and tires: gives the force at the ground.")
@click.option("--weight", type=WEIGHT, help="Loaded truck: gives its deceleration by these two brakes alone.")
@json_option
@csv_form
def brakes(as_json: bool, **given: Any) -> None:
    """Pressure, stroke and stopping force of a pair of disc brakes, with the booster and without it.

    Beside the yardstick of the safety standard for a failed booster, and beside the brakes that were there
    before.
    """
    from donorbase.engineering import brakes as sums
    from donorbase.engineering import cautions

    area = sums.one_side_area(given["pistons"], given["piston"] / 25.4, given["fixed"])
    data: dict[str, Any] = {"one_side_area_in2": area}
    says = [_stroke_words(given, area, data)]
    if given["old_pistons"] and given["old_piston"]:
        says.append(_change_words(given, area, data))
    stops = _stops(given, area)
    table = _stops_table(given, stops, data)
    assumes = [
        "each pad moves {}-{} in, swell of hoses in the upper figure (an assumption)".format(*sums.PAD_GAP_IN),
        "cold, dry, clean pads; both wheels of one axle, the other axle's brakes left out",
    ]
    if not given["stroke"]:
        assumes.append("a circuit's stroke of {}-{} in (from memory)".format(*sums.CIRCUIT_STROKE_IN))
    source = f"{sums.SOURCE}; {sums.LEGAL_SOURCE}" if given["weight"] else sums.SOURCE
    show(Answer(plain(data), source, says, [table], assumes, [cautions.BRAKES]), as_json)


@click.command(epilog=example("caster --caster 2.5 --pinion 10.5 --want-caster 5.75 --want-pinion 10.5"))
@click.option("--caster", "caster_now", type=ANGLE, required=True, help="Caster as it stands.")
@click.option("--pinion", type=ANGLE, required=True, help="Pinion angle as it stands, upward positive.")
@click.option("--want-caster", type=ANGLE, required=True, help="Wanted caster.")
@click.option("--want-pinion", type=ANGLE, required=True, help="Wanted pinion angle.")
@json_option
def caster(caster_now: float, pinion: float, want_caster: float, want_pinion: float, as_json: bool) -> None:
    """Caster against pinion angle of a steering axle, and how far to turn the knuckles to have both."""
    from donorbase.engineering import cautions
    from donorbase.engineering import steering as sums

    budget = sums.caster_budget(caster_now, pinion, want_caster, want_pinion)
    left = sums.caster_left_deg(caster_now, pinion, want_pinion)
    says = [
        f"Caster and pinion sum to {budget.constant_deg:g}, wanted are {budget.wanted_deg:g}: turn the "
        f"knuckles {budget.knuckle_rotation_deg:+g} degrees.",
        f"Left alone, a pinion at {want_pinion:g} leaves {left:g} of caster. If both cannot be had, the "
        f"driveshaft's angle comes first.",
    ]
    data = {**plain(budget), "caster_left_deg": left}
    low, high = sums.CASTER_USUAL_DEG
    assumes = [f"measured at ride height on level ground; {low:g}-{high:g} degrees of caster are usual (from memory)"]
    show(Answer(data, sums.SOURCE, says, (), assumes, [cautions.WELDING, cautions.STEERING]), as_json)


@click.command(epilog=example("steering --drag-link 36in --drag-angle 6 --track-bar 34in --track-angle 4 --arm 7in"))
@click.option("--drag-link", type=LENGTH, required=True, help="Length between the joints.")
@click.option("--drag-angle", type=ANGLE, required=True, help="Slope at ride height, axle end lower positive.")
@click.option("--track-bar", type=LENGTH, required=True, help="Length between the joints.")
@click.option("--track-angle", type=ANGLE, required=True, help="Slope at ride height, axle end lower positive.")
@click.option("--arm", type=LENGTH, required=True, help="Ball joints' axis to the drag link's end on the knuckle.")
@json_option
@csv_form
def steering(
    drag_link: float, drag_angle: float, track_bar: float, track_angle: float, arm: float, as_json: bool
) -> None:
    """How far drag link and track bar steer the truck as the axle rises and falls (bump steer)."""
    from donorbase.engineering import cautions
    from donorbase.engineering import steering as sums

    found = [sums.bump_steer(drag_link, drag_angle, track_bar, track_angle, travel, arm) for travel in TRAVELS_IN]
    headers = ["axle rises in", "drag link shifts in", "track bar shifts in", "wheels steer deg"]
    rows = [
        [
            f"{b.travel_in:+g}",
            figure(b.drag_link_shift_in, 3),
            figure(b.track_bar_shift_in, 3),
            f"{b.steer_deg:+.2f}",
        ]
        for b in found
    ]
    says = ["Equal angles first, then equal lengths: then it does not steer."]
    assumes = ["both links run across the truck and rise together; no flex, no play"]
    answer = Answer(
        {"travel": plain(found)}, sums.LINK_SOURCE, says, [Table(headers, rows)], assumes, [cautions.STEERING]
    )
    show(answer, as_json)


def _stroke_words(given: dict[str, Any], area: float, data: dict[str, Any]) -> str:
    from donorbase.engineering import brakes as sums

    strokes = (given["stroke"], given["stroke"]) if given["stroke"] else sums.CIRCUIT_STROKE_IN
    least, most = (
        sums.stroke(sums.fluid(area, gap, gap), given["bore"]) / stroke
        for gap, stroke in zip(sums.PAD_GAP_IN, reversed(strokes), strict=True)
    )
    data["stroke_share"] = (least, most)
    allowed = sums.NORMAL_STROKE_SHARE
    verdict = "maybe too small: measure it"
    if most <= allowed or least > allowed:
        verdict = "enough" if most <= allowed else "too small"
    return (
        f"A pair of calipers takes {least:.0%} to {most:.0%} of the circuit's stroke, {allowed:.0%} is what "
        f"normal stops may take: by that the master cylinder is {verdict}."
    )


def _change_words(given: dict[str, Any], area: float, data: dict[str, Any]) -> str:
    from donorbase.engineering import brakes as sums

    old_area = sums.one_side_area(given["old_pistons"], given["old_piston"] / 25.4)
    old_bore = given["old_bore"] or given["bore"]
    change, same = (
        sums.change(old_area, area, old_bore, given["bore"]),
        sums.bore_for_same_travel(old_area, area, old_bore),
    )
    data.update(change=plain(change), bore_for_same_travel_in=same)
    return (
        f"Beside the old brakes: pedal travel x {change.pedal_travel:.2f}, pressure x "
        f"{change.pressure:.2f}, clamp x {change.clamp:.2f}; a bore of {same:.2f} in keeps the pedal where "
        f"it was."
    )


def _stops(given: dict[str, Any], area: float) -> list[tuple[str, float, "Stop | None", float]]:
    """(state, push-rod force, stop where rotor and tire are known, pressure) with the booster and without."""
    from donorbase.engineering import brakes as sums

    found = []
    for state, assist in (("with booster", given["booster"]), ("booster dead", 0.0)):
        if state == "with booster" and not assist:
            continue
        rod = given["pedal"] * given["pedal_ratio"] + assist
        tire_in = given["tires"].diameter_in if given["tires"] else None
        stop = None
        if given["rotor_radius"] and tire_in:
            stop = sums.stop(rod, given["bore"], area, given["friction"], given["rotor_radius"], tire_in / 2)
        found.append((state, rod, stop, sums.pressure(given["pedal"], given["pedal_ratio"], given["bore"], assist)))
    return found


def _stops_table(
    given: dict[str, Any], stops: list[tuple[str, float, "Stop | None", float]], data: dict[str, Any]
) -> Table:
    from donorbase.engineering import brakes as sums

    rows, told = [], []
    for state, rod, stop, psi in stops:
        slowing = 2 * stop.ground_lb / given["weight"] if stop and given["weight"] else None
        known = [figure(v, 0) for v in (stop.clamp_lb, stop.torque_lbft, stop.ground_lb)] if stop else ["", "", ""]
        rows.append([state, figure(rod, 0), figure(psi, 0), *known, figure(slowing, 2)])
        told.append(
            {
                "state": state,
                "pushrod_lb": rod,
                "pressure_psi": psi,
                "stop": plain(stop),
                "slowing_g": slowing,
            }
        )
    yardstick = sums.mean_deceleration_g(100, sums.stopping_limit_m(100, assisted=False))
    if given["weight"]:
        rows.append(["asked of new trucks, booster dead", "", "", "", "", "", figure(yardstick)])
    data.update(stops=told, yardstick_booster_dead_g=yardstick)
    headers = ["", "push rod lb", "psi", "clamp lb", "torque lb-ft a wheel", "ground lb a wheel", "slowing g"]
    return Table(headers, rows)
