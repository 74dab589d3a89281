"""``donorbase calc shaft`` and ``joint``."""

from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.calc_answer import (
    ANGLE,
    LENGTH,
    NUMBER,
    RATIO,
    TIRE,
    TORQUE,
    WEIGHT,
    Answer,
    Table,
    example,
    figure,
    json_option,
    plain,
    show,
    span,
)
from donorbase.cli.forms import csv_form

if TYPE_CHECKING:
    from donorbase.engineering.shafts import Demand

COMMON_COUNTS = (27, 28, 30, 31, 32, 33, 35, 37, 40)
"""Of the table where no count is asked for."""

DEMAND_EXAMPLE = (
    "shaft --splines 30 --splines 35 --ratio 4.56 --engine 330 --first 4 --low 2.72 --axle-load 3000 "
    "--tires 35 --locked"
)


@click.command(epilog=example(DEMAND_EXAMPLE))
@click.option("--splines", type=int, multiple=True, help="Spline count; several for a table.")
@click.option("--pitch", type=NUMBER, default="24", show_default=True, help="Diametral pitch: 24 for 24/48.")
@click.option("--caliper", type=LENGTH, help="Diameter over the splines: says which splines it can be.")
@click.option("--neck", type=LENGTH, help="Thinnest diameter of the shaft, where it is under the spline root.")
@click.option(
    "--steel",
    type=click.Choice(["unknown", "hardened", "4340", "300m"]),
    default="unknown",
    show_default=True,
    help="What the shaft is made of.",
)
@click.option("--engine", type=TORQUE, help="Engine torque.")
@click.option("--first", type=NUMBER, default="1", show_default=True, help="Lowest gear.")
@click.option("--low", type=NUMBER, default="1", show_default=True, help="Low range; 1 is high range.")
@click.option("--ratio", type=RATIO, help="Axle ratio.")
@click.option("--share", type=NUMBER, default="0.5", show_default=True, help="Axle's share of the engine's torque.")
@click.option("--axle-load", type=WEIGHT, help="Weight on the axle.")
@click.option("--tires", type=TIRE, help="Tires of the axle.")
@click.option("--grip", type=NUMBER, default="0.9", show_default=True, help="0.7-0.9 dirt or pavement, 1.0 rock.")
@click.option("--locked/--open", default=False, show_default=True, help="Differential.")
@click.option("--angle", type=ANGLE, default="0", help="Steering angle: the joint raises the torque's peaks.")
@json_option
@csv_form
def shaft(splines: tuple[int, ...], caliper: float | None, as_json: bool, **given: Any) -> None:
    """What a splined shaft carries, as a range, beside what engine and tires can ask of it.

    With --caliper it says which splines a diameter can be. The smaller of engine and traction bound governs;
    without --splines the common counts are shown beside what is asked.
    """
    from donorbase.engineering import cautions, shafts
    from donorbase.engineering import splines as spline_sums
    from donorbase.errors import BadInput

    if caliper is not None:
        show(_caliper_answer(splines, caliper), as_json)
        return
    demand = _demand(given)
    if not splines and demand is None:
        raise BadInput("no spline count was given", "Give --splines 35, or --caliper 1.5in to find the count.")
    splines = splines or COMMON_COUNTS
    peak = demand.shaft_lbft / _least_speed(given["angle"]) if demand else None
    rows, carried = [], []
    for teeth in splines:
        found = shafts.capacity(teeth, given["pitch"], given["steel"], given["neck"])
        outside = spline_sums.spline_diameters(teeth, given["pitch"]).major_in
        factor = span(found.low_lbft / peak, found.high_lbft / peak, 2) if peak else ""
        carries = span(found.low_lbft, found.high_lbft)
        rows.append([teeth, figure(outside, 3), figure(found.diameter_in, 3), carries, factor])
        carried.append({"splines": teeth, "outside_in": outside, **plain(found)})
    headers = ["splines", "outside in", "root or neck in", "carries lb-ft", "times what is asked"]
    says = _demand_words(demand, peak, given["angle"])
    data = plain({"shafts": carried, "demand": demand, "peak_lbft": peak})
    assumes = [
        shafts.capacity(splines[0], steel=given["steel"]).basis,
        "the torque of the first lasting twist, not of breakage; a flat 30° spline root",
        *(["free radius of the tire; losses of 15 % in low range, 10 % in high"] if demand else []),
    ]
    source = f"{shafts.SOURCE}; {shafts.DEMAND_SOURCE}" if demand else shafts.SOURCE
    show(Answer(data, source, says, [Table(headers, rows)], assumes, [cautions.SHAFT]), as_json)


@click.command(epilog=example("joint --cap 1.188in --span 3.625in"))
@click.option("--cap", type=LENGTH, help="Diameter of a bearing cap ...")
@click.option("--span", "across", type=LENGTH, help="... and length across two opposite caps.")
@click.option("--clips", type=click.Choice(["outside", "inside"]), help="Where the rings sit that hold the caps.")
@click.option("--other-cap", type=LENGTH, help="Cap of the other yoke, or of the other pair of caps ...")
@click.option("--other-span", type=LENGTH, help="... and its length: says whether an adapter joint is wanted.")
@click.option("--rpm", type=NUMBER, help="Driveshaft speed: gives the greatest working angle.")
@click.option("--angle", type=ANGLE, help="Working angle: gives the swing of speed and torque.")
@json_option
@csv_form
def joint(
    cap: float | None, across: float | None, rpm: float | None, angle: float | None, as_json: bool, **sides: Any
) -> None:
    """U-joint series by caliper, the angle that a driveshaft's speed allows, and what an angle does."""
    from donorbase.engineering import cautions, joints
    from donorbase.errors import BadInput

    if cap is None and rpm is None and angle is None:
        raise BadInput("there is nothing to reckon", "Give --cap, --rpm or --angle.")
    says: list[str] = []
    tables: list[Table] = []
    sources: list[str] = []
    data: dict[str, Any] = {}
    if cap is not None:
        says, tables, data = _series_answer(cap, across, sides)
        sources.append(joints.SERIES_SOURCE)
    if rpm is not None:
        limit = joints.greatest_angle_deg(rpm)
        says.append(f"At {rpm:g} rpm at most {limit:.1f} degrees; 3 is smooth, 0.5 the least, both ends within 1.")
        data["greatest_angle_deg"] = round(limit, 3)
        sources.append(joints.ANGLE_SOURCE)
    if angle is not None:
        least, most = joints.speed_swing(angle)
        says.append(f"At {angle:g} degrees output speed swings from {least:.3f} to {most:.3f}, torque the other way.")
        data["swing"] = plain((least, most))
        sources.append(joints.SOURCE)
    show(Answer(data, "; ".join(sources), says, tables, (), [cautions.STEERING]), as_json)


def _series_answer(
    cap: float, across: float | None, sides: dict[str, Any]
) -> tuple[list[str], list[Table], dict[str, Any]]:
    """What two readings of a joint say, and what joins it to the other side where that was measured."""
    from donorbase.engineering import joints

    found = joints.joint_series(cap, across, clips=sides["clips"])
    says = [] if found else ["No series that we know has such caps: measure again, or take it along to the counter."]
    says += [f"It is open which of these it is. {tell}"] if (tell := joints.tells_apart(found)) else []
    data: dict[str, Any] = {"series": plain(found), "settled": len(found) == 1, "tells_apart": tell}
    if sides["other_cap"] is not None:
        other = joints.joint_series(sides["other_cap"], sides["other_span"])
        says.append(joints.adapter_of(found, other))
        data |= {"other_series": plain(other), "adapter": says[-1]}
    rows = [[s.name, s.cap_in, s.span_in, s.use, s.basis] for s in found]
    return says, [Table(["series", "cap in", "across in", "use", "known"], rows)] if found else [], data


def _caliper_answer(counted: tuple[int, ...], outside_in: float) -> Answer:
    from donorbase.engineering import splines

    found = splines.spline_candidates(outside_in)
    rows = [[c.teeth, f"{c.pitch:g}/{2 * c.pitch:g}", figure(c.major_in, 3), f"{c.share:.0%}"] for c in found]
    says = [] if found else [f"No axle spline that we know measures {outside_in:.3f} in: was the body measured?"]
    readings = {teeth: splines.read_pitch(teeth, outside_in) for teeth in counted}
    says += [f"{teeth} teeth at {outside_in:.3f} in: {reading.advice}." for teeth, reading in readings.items()]
    if len(found) > 1:
        says.append("A caliper alone does not tell these apart: count the teeth as well.")
    tables = [Table(["splines", "pitch", "outside in", "odds"], rows)] if found else []
    assumes = [f"read to ±{splines.CALIPER_SD_IN} in over the crests of a used shaft; all counts equally likely"]
    data = plain({"candidates": found, "pitch": readings})
    return Answer(data, splines.SOURCE, says, tables, assumes)


def _demand(given: dict[str, Any]) -> "Demand | None":
    """What the truck asks of one shaft; None where nothing of it was given, BadInput where a part is."""
    from donorbase.engineering import shafts
    from donorbase.errors import BadInput

    needed = ("engine", "ratio", "axle_load", "tires")
    missing = ["--" + name.replace("_", "-") for name in needed if given[name] is None]
    if len(missing) == len(needed):
        return None
    if missing or given["tires"].diameter_in is None:
        lacking = ", ".join(missing) or "a diameter of the tires"
        raise BadInput(
            f"to say what is asked of a shaft, {lacking} is missing",
            "Give --engine, --ratio, --axle-load and --tires together.",
        )
    loss = shafts.EFFICIENCY_LOW if given["low"] > 1 else shafts.EFFICIENCY_HIGH
    engine = shafts.engine_bound_lbft(
        given["engine"], given["first"], given["low"], given["ratio"], loss, given["share"]
    )
    grip = shafts.traction_bound_lbft(given["grip"], given["axle_load"], given["tires"].diameter_in / 2)
    return shafts.shaft_demand(engine, grip, given["ratio"], given["locked"])


def _demand_words(demand: "Demand | None", peak: float | None, angle: float) -> list[str]:
    if demand is None:
        return []
    words = [
        f"To the axle: engine up to {demand.engine_lbft:.0f} lb-ft, grip up to {demand.traction_lbft:.0f} "
        f"lb-ft; {demand.governs} governs. One shaft: {demand.shaft_lbft:.0f} lb-ft, pinion "
        f"{demand.pinion_lbft:.0f} lb-ft."
    ]
    if angle:
        words.append(f"At {angle:g} degrees of steer the joint raises the peaks to {peak:.0f} lb-ft.")
    return words


def _least_speed(angle: float) -> float:
    from donorbase.engineering.joints import speed_swing

    return speed_swing(angle)[0]
