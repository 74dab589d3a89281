"""``donorbase calc gearing``, ``mismatch`` and ``ratio``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.calc_answer import (
    NUMBER,
    RATIO,
    SPEED,
    TIRE,
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
    from donorbase.engineering.tires import Tire

LOOKED_AT = (3.55, 3.73, 4.10, 4.30, 4.56, 4.88, 5.13, 5.38)
"""Ratios of the table where none are asked for: the common ones of truck axles."""


@click.command(epilog=example("gearing --tires 37x12.50R17 --tires 40 --mph 65 --was-ratio 3.73 --was-tires 31"))
@click.option("--tires", type=TIRE, multiple=True, required=True, help="Tire size or diameter; several for a table.")
@click.option(
    "--ratio", "ratios", type=RATIO, multiple=True, help="Axle ratio, or teeth as 41/10; several for a table."
)
@click.option("--mph", type=SPEED, default="65", show_default=True, help="Road speed.")
@click.option("--gear", type=NUMBER, default="1", show_default=True, help="Ratio of the gear driven in, such as 0.75.")
@click.option("--rpm", type=NUMBER, help="Wanted engine speed at that road speed: gives the ratio for it.")
@click.option("--was-ratio", type=RATIO, help="Ratio that felt right on the old tires ...")
@click.option("--was-tires", type=TIRE, help="... and those tires: gives the ratio for the new ones.")
@click.option("--first", type=NUMBER, help="Lowest gear: adds the crawl ratio.")
@click.option("--low", type=NUMBER, default="1", show_default=True, help="Low range of the transfer case.")
@json_option
@csv_form
def gearing(
    tires: tuple["Tire", ...],
    ratios: tuple[float, ...],
    mph: float,
    gear: float,
    rpm: float | None,
    was_ratio: float | None,
    was_tires: "Tire | None",
    first: float | None,
    low: float,
    as_json: bool,
) -> None:
    """Engine speed by ratio and tire, the ratio that tires or cruising ask for, and the crawl ratio."""
    from donorbase.engineering import gearing as sums

    chosen = ratios or LOOKED_AT
    names = [(tire.size, _diameter(tire)) for tire in tires]
    headers = ["ratio", *(f"rpm on {size}" for size, _ in names)]
    rows = [[f"{r:.2f}", *(figure(sums.engine_rpm(mph, r, d, gear), 0) for _, d in names)] for r in chosen]
    if first is not None:
        headers.append("crawl ratio")
        for row, r in zip(rows, chosen, strict=True):
            row.append(figure(sums.crawl_ratio(first, low, r), 1))
    wanted = _wanted(names, mph, gear, rpm, was_ratio, _diameter(was_tires) if was_tires else None)
    data = {
        "mph": mph,
        "gear": gear,
        "engine_rpm": [
            {"tires": size, "ratio": r, "rpm": sums.engine_rpm(mph, r, d, gear)} for size, d in names for r in chosen
        ],
        "crawl_ratio": [{"ratio": r, "crawl": sums.crawl_ratio(first, low, r)} for r in chosen] if first else [],
        "wanted_ratio": [{"tires": size, "for": why, "ratio": found} for size, why, found in wanted],
    }
    says = [f"Engine speed at {mph:g} mph in a gear of {gear:g}:1."]
    says += [f"{size}: {why} asks for {found:.2f}; nearest usual: {_near(found)}." for size, why, found in wanted]
    assumes = ["the diameter as the size states it; a loaded tire turns 2-4 % faster, a converter slips on top"]
    show(Answer(plain(data), sums.SOURCE, says, [Table(headers, rows)], assumes), as_json)


@click.command(epilog=example("mismatch 4.10 4.11"))
@click.argument("front", type=RATIO)
@click.argument("rear", type=RATIO)
@click.option("--front-tires", type=TIRE, help="Front tires, where they differ ...")
@click.option("--rear-tires", type=TIRE, help="... from the rear ones.")
@json_option
def mismatch(front: float, rear: float, front_tires: "Tire | None", rear_tires: "Tire | None", as_json: bool) -> None:
    """Whether a FRONT and a REAR ratio may turn together, by the tooth pairs that they stand for."""
    from donorbase.engineering import gearing as sums
    from donorbase.engineering.teeth import tooth_pairs
    from donorbase.errors import BadInput

    if (front_tires is None) != (rear_tires is None):
        raise BadInput("tires were given for one end only", "Give --front-tires and --rear-tires, or neither.")
    sizes = (_diameter(front_tires), _diameter(rear_tires)) if front_tires and rear_tires else (1.0, 1.0)
    found = sums.quoted_mismatch(front, rear, *sizes)
    pairs = {"front": [str(p) for p in tooth_pairs(front)], "rear": [str(p) for p in tooth_pairs(rear)]}
    says = [
        f"{found.likely_pct:.2f} % apart: {found.band}.",
        f"Front {front:.2f} can be {' or '.join(pairs['front']) or 'no known pair'}, "
        f"rear {rear:.2f} {' or '.join(pairs['rear']) or 'no known pair'}: "
        f"{found.low_pct:.2f} to {found.high_pct:.2f} %. Count the teeth where that matters.",
    ]
    data = {"front": front, "rear": rear, **plain(found), "band": found.band, "pairs": pairs}
    assumes = ["equal rolling radii unless tires are given; 1 % of a 37 in tire is 0.37 in"]
    show(Answer(data, sums.MISMATCH_SOURCE, says, (), assumes), as_json)


@click.command(epilog=example("ratio --turns 10 --pinion 41 --method both-turn"))
@click.argument("quoted", type=RATIO, required=False)
@click.option("--turns", type=NUMBER, help="Turns of the wheel ...")
@click.option("--pinion", type=NUMBER, help="... and of the pinion, as counted.")
@click.option(
    "--method",
    type=click.Choice(["both-turn", "one-held"]),
    default="both-turn",
    show_default=True,
    help="Both wheels turned together (or a locked differential), or one held fast on an open differential.",
)
@click.option("--error", type=NUMBER, default="1/8", show_default=True, help="How well a turn of the pinion is read.")
@click.option("--tell", type=RATIO, multiple=True, help="Two ratios to tell apart: gives the turns needed.")
@json_option
@csv_form
def ratio(
    quoted: float | None,
    turns: float | None,
    pinion: float | None,
    method: str,
    error: float,
    tell: tuple[float, ...],
    as_json: bool,
) -> None:
    """Tooth pairs that a QUOTED ratio can be, the ratio by turning, and the turns that tell two ratios apart.

    With both wheels free and only one turned the other turns backwards, and the count means nothing: hold
    one.
    """
    from donorbase.errors import BadInput

    if quoted is not None:
        show(_pairs_answer(quoted), as_json)
    elif turns is not None and pinion is not None:
        show(_turning_answer(turns, pinion, method, error), as_json)
    elif len(tell) == 2:
        show(_telling_answer(tell[0], tell[1], method, error), as_json)
    else:
        raise BadInput("there is nothing to reckon", "Give a ratio, --turns with --pinion, or --tell twice.")


def _pairs_answer(quoted: float) -> Answer:
    from donorbase.engineering import teeth

    pairs = teeth.tooth_pairs(quoted)
    rows = [
        [str(p), f"{float(p.ratio):.4f}", p.nominal, "yes" if p.usual else "", "yes" if p.hunting else ""]
        for p in pairs
    ]
    data = {
        "quoted": quoted,
        "pairs": [
            {
                "ring": p.ring,
                "pinion": p.pinion,
                "ratio": round(float(p.ratio), 6),
                "usual": p.usual,
                "hunting": p.hunting,
            }
            for p in pairs
        ],
    }
    says = [] if pairs else [f"No ring of 31-57 and pinion of 6-17 teeth gives {quoted:.2f}: it is misread."]
    tables = [Table(["teeth", "exact", "written", "usual", "hunting"], rows)] if rows else []
    return Answer(data, teeth.SOURCE, says, tables, ["a quoted ratio may be 0.006 off its exact quotient"])


def _turning_answer(turns: float, pinion: float, method: str, error: float) -> Answer:
    from donorbase.engineering import ratio_by_turning as turning

    found = turning.ratio_by_turning(turns, pinion, method, error)
    near = ", ".join(f"{r:.2f}" for r in found.candidates) or "no usual ratio: count and turn again"
    says = [f"Ratio {found.ratio:.3f}, between {found.low:.3f} and {found.high:.3f}: {near}."]
    if len(found.candidates) > 1:
        says.append("Turning does not tell these apart: count the teeth, cover off.")
    assumes = [f"method {method}; the pinion's turns read to ±{error:g}"]
    return Answer(plain(found), turning.SOURCE, says, (), assumes)


def _telling_answer(one: float, other: float, method: str, error: float) -> Answer:
    from donorbase.engineering import ratio_by_turning as turning

    needed = turning.turns_to_tell(one, other, method, error)
    says = [
        f"{needed} turns of the wheel tell {one:.2f} from {other:.2f}."
        if needed
        else f"No number of turns that a person counts tells {one:.2f} from {other:.2f}: count the teeth."
    ]
    return Answer({"turns": needed}, turning.SOURCE, says, (), [f"the pinion's turns read to ±{error:g}"])


def _wanted(
    names: list[tuple[str, float]],
    mph: float,
    gear: float,
    rpm: float | None,
    was_ratio: float | None,
    was_tire_in: float | None,
) -> list[tuple[str, str, float]]:
    """(tires, why, ratio) for each wanted ratio that was asked for."""
    from donorbase.engineering import gearing as sums
    from donorbase.errors import BadInput

    if (was_ratio is None) != (was_tire_in is None):
        raise BadInput("--was-ratio and --was-tires go together", "Give the old ratio and the old tires.")
    found = []
    for size, diameter in names:
        if was_ratio is not None and was_tire_in is not None:
            wanted = sums.wanted_ratio_for_tires(was_ratio, was_tire_in, diameter)
            found.append((size, f"the feel of {was_ratio:.2f} on {was_tire_in:g} in", wanted))
        if rpm is not None:
            found.append((size, f"{rpm:g} rpm", sums.wanted_ratio_for_rpm(mph, rpm, diameter, gear)))
    return found


def _near(wanted: float) -> str:
    from donorbase.engineering.gearing import nearest_ratios
    from donorbase.engineering.teeth import USUAL_PAIRS

    return ", ".join(f"{r:.2f}" for r in nearest_ratios(wanted, [float(p.nominal) for p in USUAL_PAIRS]))


def _diameter(tire: "Tire") -> float:
    """The diameter of a tire in inches; BadInput where its size states none."""
    from donorbase.errors import BadInput

    if tire.diameter_in is None:
        raise BadInput(f"{tire.size} states no diameter", "Measure the tire and give its diameter, such as 31.7in.")
    return tire.diameter_in
