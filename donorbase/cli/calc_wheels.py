"""``donorbase calc tires``, ``wheel`` and ``bolt-circle``."""

from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.calc_answer import (
    LENGTH,
    LENGTH_MM,
    OFFSET_MM,
    PATTERN,
    TIRE,
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
    from donorbase.engineering.tires import Tire

BACKSPACINGS_IN = (3.0, 3.5, 3.75, 4.0, 4.5, 5.0, 5.5, 6.0)


@click.command(epilog=example("tires 285/70R17 37x12.50R17 40x13.50R17"))
@click.argument("sizes", type=TIRE, nargs=-1, required=True)
@json_option
@csv_form
def tires(sizes: tuple["Tire", ...], as_json: bool) -> None:
    """What tire SIZES say: diameter, width, turns a mile; beside each other and the first of them."""
    from donorbase.engineering import tires as sums

    found = [_tire_facts(tire, sizes[0]) for tire in sizes]
    rows = [
        [
            tire.size,
            tire.kind,
            figure(tire.diameter_in),
            span(tire.new_low_in, tire.new_high_in, 1) if tire.new_low_in and tire.new_high_in else "",
            figure(tire.section_width_in, 1),
            figure(facts["turns_per_mile_free"], 0),
            figure(facts["turns_per_mile_loaded"], 0),
            figure(facts["apart_pct"], 1),
        ]
        for tire, facts in zip(sizes, found, strict=True)
    ]
    headers = ["size", "kind", "diameter in", "new in", "width in", "turns/mi free", "loaded", "% over first"]
    assumes = [
        f"loaded: rolling diameter {sums.ROLLING_SHARE:g} of the free one (0.96-0.98, common practice); "
        "a roll-out beats it",
        *sorted({tire.basis for tire in sizes}),
    ]
    show(Answer({"tires": plain(found)}, sums.SOURCE, (), [Table(headers, rows)], assumes), as_json)


def _tire_facts(tire: "Tire", first: "Tire") -> dict[str, Any]:
    """What follows from a size, and how far it is from the first one in percent."""
    from donorbase.engineering import tires as sums

    facts: dict[str, Any] = plain(tire)
    facts.update(turns_per_mile_free=None, turns_per_mile_loaded=None, apart_pct=None)
    facts["load_kg"] = sums.load_index_kg(tire.load_index) if tire.load_index else None
    if tire.diameter_in:
        facts["turns_per_mile_free"] = sums.turns_per_mile(tire.diameter_in)
        facts["turns_per_mile_loaded"] = sums.turns_per_mile(tire.diameter_in, sums.ROLLING_SHARE)
    if tire.diameter_in and first.diameter_in:
        facts["apart_pct"] = 100 * (tire.diameter_in / first.diameter_in - 1)
    return facts


@click.command(epilog=example("wheel --rim 9.5in --backspacing 3.75in --tires 40x13.50R17 --face-to-face 69.5in"))
@click.option("--rim", type=LENGTH, help="Rim width between the bead seats.")
@click.option("--backspacing", type=LENGTH, help="Mounting face to inner edge ...")
@click.option("--offset", type=OFFSET_MM, help="... or offset in mm, negative where the wheel stands out.")
@click.option("--tires", type=TIRE, help="Tire size, for its section width.")
@click.option("--face-to-face", type=LENGTH, help="Axle width, wheel mounting face to wheel mounting face.")
@click.option("--rotor", type=LENGTH_MM, help="Rotor diameter: the wheel that it needs.")
@click.option("--reach", type=LENGTH, help="Hub's centre to the caliper's farthest point: the barrel that it needs.")
@json_option
@csv_form
def wheel(as_json: bool, **given: Any) -> None:
    """Offset or backspacing, width over the tires beside 80, 96 and 102 in, and room for the brakes.

    With --rim, --tires and --face-to-face alone it shows a table over backspacings to choose from.
    """
    from donorbase.engineering import cautions, wheels
    from donorbase.errors import BadInput

    says: list[str] = []
    tables: list[Table] = []
    data: dict[str, Any] = {}
    offset = _offset(given, says, data)
    if given["tires"] and given["face_to_face"] and offset is not None:
        tables.append(_width_table(given, offset, says, data))
    elif given["tires"] and given["face_to_face"] and given["rim"]:
        tables.append(_choice_table(given, says, data))
    _room_for_brakes(given, says, data)
    if not says:
        raise BadInput("there is nothing to reckon", "Give --rim with --backspacing or --offset, --rotor or --reach.")
    assumes = [f"flanges of {wheels.FLANGE_IN} in a side, so backspacing is good to ±1/16 in"]
    if given["tires"]:
        assumes.append("the tire's section as its size states it, central on the rim")
    source = f"{wheels.SOURCE}; {wheels.WIDTH_SOURCE}" if tables else wheels.SOURCE
    show(Answer(data, source, says, tables, assumes, [cautions.LAW]), as_json)


@click.command(epilog=example("bolt-circle --lugs 8 --length 170mm --measure opposite --edges"))
@click.argument("pattern", type=PATTERN, required=False)
@click.option("--lugs", type=int, help="Wheel studs on one hub.")
@click.option("--length", type=LENGTH_MM, help="What was measured between two studs.")
@click.option(
    "--measure",
    type=click.Choice(["opposite", "neighbor", "second", "to-middle"]),
    default="opposite",
    show_default=True,
    help="Which studs; to-middle is one of five to the middle of the two across.",
)
@click.option("--tool", type=click.Choice(["tape", "caliper"]), default="tape", show_default=True)
@click.option("--edges", is_flag=True, help="Measured from the outside of one stud to the inside of the other.")
@json_option
@csv_form
def bolt_circle(
    pattern: tuple[int, float] | None,
    lugs: int | None,
    length: float | None,
    measure: str,
    tool: str,
    edges: bool,
    as_json: bool,
) -> None:
    """The bolt circle from whatever was measured, or what to measure on a PATTERN such as 8x6.5.

    It says "cannot tell" where the measurement does not part two patterns, and what to measure instead.
    """
    from donorbase.errors import BadInput

    if pattern is not None:
        show(_pattern_answer(*pattern), as_json)
    elif lugs is not None and length is not None:
        show(_circle_answer(lugs, length, measure, tool, edges), as_json)
    else:
        raise BadInput("there is nothing to reckon", "Give a pattern such as 8x6.5, or --lugs with --length.")


def _offset(given: dict[str, Any], says: list[str], data: dict[str, Any]) -> float | None:
    """The offset in mm where rim and either way of giving it are known; says the other way."""
    from donorbase.engineering import wheels
    from donorbase.errors import BadInput

    rim, backspacing, offset = given["rim"], given["backspacing"], given["offset"]
    if backspacing is not None and offset is not None:
        raise BadInput("--backspacing and --offset say the same thing", "Give one of them.")
    if rim is None and backspacing is not None:
        raise BadInput("backspacing says nothing without the rim's width", "Give --rim, such as 9.5in.")
    if backspacing is not None:
        offset = wheels.offset_mm(backspacing, rim)
    if offset is None:
        return None
    data["offset_mm"] = round(offset, 3)
    says.append(f"Offset {offset:+.1f} mm.")
    if rim is not None:
        data["backspacing_in"] = round(wheels.backspacing_in(offset, rim), 4)
        says[-1] = f"Rim {rim:g} in: offset {offset:+.1f} mm, backspacing {data['backspacing_in']:.2f} in."
    return float(offset)


def _section_in(tire: "Tire") -> float:
    from donorbase.errors import BadInput

    if tire.section_width_in is None:
        raise BadInput(f"{tire.size} states no width", "Give the whole size, such as 40x13.50R17.")
    return tire.section_width_in


def _width_table(given: dict[str, Any], offset: float, says: list[str], data: dict[str, Any]) -> Table:
    """The width over the tires beside the widths that the law speaks of."""
    from donorbase.engineering import wheels

    width = wheels.width_over_tires_in(given["face_to_face"], _section_in(given["tires"]), offset)
    says.append(f"{width:.1f} in from the outside of one tire to the outside of the other.")
    limits = wheels.width_limits(width)
    data.update(width_over_tires_in=round(width, 3), limits=plain(limits))
    rows = [[f"{lim.limit_in:g}", f"{lim.left_in:+.1f}", lim.meaning] for lim in limits]
    return Table(["width in", "left in", "what it is"], rows)


def _choice_table(given: dict[str, Any], says: list[str], data: dict[str, Any]) -> Table:
    """Width over the tires for a range of backspacings."""
    from donorbase.engineering import wheels

    section = _section_in(given["tires"])
    limits = [limit for limit, _ in wheels.WIDTH_LIMITS_IN]
    rows, choices = [], []
    for backspacing in BACKSPACINGS_IN:
        offset = wheels.offset_mm(backspacing, given["rim"])
        width = wheels.width_over_tires_in(given["face_to_face"], section, offset)
        left = [f"{limit - width:+.1f}" for limit in limits]
        rows.append([figure(backspacing), f"{offset:+.0f}", figure(width, 1), *left])
        choices.append({"backspacing_in": backspacing, "offset_mm": offset, "width_over_tires_in": width})
    says.append(f"Width over the tires on a {given['rim']:g} in rim, by backspacing.")
    data["choices"] = plain(choices)
    return Table(["backspacing in", "offset mm", "width in", *(f"to {limit:g} in" for limit in limits)], rows)


def _room_for_brakes(given: dict[str, Any], says: list[str], data: dict[str, Any]) -> None:
    from donorbase.engineering import wheels

    if given["rotor"]:
        low, high = wheels.wheel_for_rotor_in(given["rotor"])
        says.append(f"A {given['rotor']:.0f} mm rotor: a {low:.1f} in wheel may do, {high:.1f} in is safe: try it on.")
        data["wheel_for_rotor_in"] = plain((low, high))
    if given["reach"]:
        data["barrel_in"] = wheels.barrel_needed_in(given["reach"])
        says.append(f"The barrel must measure {data['barrel_in']:.2f} in inside where the caliper stands.")


def _pattern_answer(lugs: int, circle: float) -> Answer:
    from donorbase.engineering import bolt_circle as sums
    from donorbase.errors import BadInput
    from donorbase.reference.units import mm_to_in

    rows, lengths = [], {}
    for measure in sums.MEASURES:
        try:
            length = circle / sums.circle_factor(lugs, measure)
        except BadInput:
            continue
        lengths[measure] = round(length, 3)
        rows.append([measure, figure(length, 1), figure(mm_to_in(length), 3)])
    data = {"lugs": lugs, "circle_mm": circle, "lengths_mm": lengths}
    says = [f"{sums.pattern_name(lugs, circle)}: measure from the outside of one stud to the inside of the other."]
    return Answer(data, sums.SOURCE, says, [Table(["studs", "mm", "in"], rows)])


def _circle_answer(lugs: int, length: float, measure: str, tool: str, edges: bool) -> Answer:
    from donorbase.engineering import bolt_circle as sums

    found = sums.read_circle(lugs, length, measure, tool, edges)
    rows = [[str(p), f"{p.share:.0%}"] for p in found.patterns]
    advice = f"{found.advice[:1].upper()}{found.advice[1:]}."
    says = [f"Circle {found.circle_mm:.1f} ± {2 * found.sd_mm:.1f} mm. {advice}"]
    tables = [Table(["pattern", "odds"], rows)] if rows else []
    assumes = [f"{tool}, {'edges ±0.3 mm' if edges else 'as read'}; known patterns equally likely beforehand"]
    return Answer(plain(found), sums.SOURCE, says, tables, assumes)
