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

if TYPE_CHECKING:
    from donorbase.engineering.tires import Tire


@click.command(epilog=example("tires 285/70R17 37x12.50R17 40x13.50R17"))
@click.argument("sizes", type=TIRE, nargs=-1, required=True)
@json_option
def tires(sizes: tuple["Tire", ...], as_json: bool) -> None:
    """What tire SIZES say: diameter, width, turns a mile; beside each other and the first of them."""
    from donorbase.engineering import tires as sums

    first = sizes[0].diameter_in
    rows, found = [], []
    for tire in sizes:
        turns = (
            {share: sums.turns_per_mile(tire.diameter_in, share) for share in (1.0, sums.ROLLING_SHARE)}
            if tire.diameter_in
            else {}
        )
        apart = 100 * (tire.diameter_in / first - 1) if tire.diameter_in and first else None
        new = span(tire.new_low_in, tire.new_high_in, 1) if tire.new_low_in and tire.new_high_in else ""
        kg = sums.load_index_kg(tire.load_index) if tire.load_index else None
        numbers = (
            figure(tire.section_width_in, 1),
            figure(turns.get(1.0), 0),
            figure(turns.get(sums.ROLLING_SHARE), 0),
        )
        rows.append([tire.size, tire.kind, figure(tire.diameter_in), new, *numbers, figure(apart, 1)])
        found.append({**plain(tire), "turns_per_mile_free": turns.get(1.0), "load_kg": kg,
                      "turns_per_mile_loaded": turns.get(sums.ROLLING_SHARE), "apart_pct": apart})  # fmt: skip
    headers = ["size", "kind", "diameter in", "new in", "width in", "turns/mi free", "loaded", "% over first"]
    assumes = [
        "loaded: rolling diameter 0.97 of the free one (0.96-0.98, common practice); best is a roll-out"
    ]
    assumes += sorted({tire.basis for tire in sizes})
    show(Answer({"tires": plain(found)}, sums.SOURCE, (), [Table(headers, rows)], assumes), as_json)


@click.command(
    epilog=example("wheel --rim 9.5in --backspacing 3.75in --tires 40x13.50R17 --face-to-face 69.5in")
)
@click.option("--rim", type=LENGTH, help="Rim width between the bead seats.")
@click.option("--backspacing", type=LENGTH, help="Mounting face to inner edge ...")
@click.option("--offset", type=OFFSET_MM, help="... or offset in mm, negative where the wheel stands out.")
@click.option("--tires", type=TIRE, help="Tire size, for its section width.")
@click.option("--face-to-face", type=LENGTH, help="Axle width, wheel mounting face to wheel mounting face.")
@click.option("--rotor", type=LENGTH_MM, help="Rotor diameter: the wheel that it needs.")
@click.option(
    "--reach", type=LENGTH, help="Hub's centre to the caliper's farthest point: the barrel that it needs."
)
@json_option
def wheel(as_json: bool, **given: Any) -> None:
    """Offset or backspacing, width over the tires beside 80, 96 and 102 in, and room for the brakes."""
    from donorbase.engineering import cautions, wheels
    from donorbase.errors import BadInput

    says: list[str] = []
    tables: list[Table] = []
    data: dict[str, Any] = {}
    offset = _offset(given, says, data)
    if offset is not None and given["tires"] and given["face_to_face"]:
        tables.append(_width_table(given, offset, says, data))
    if given["rotor"]:
        low, high = wheels.wheel_for_rotor_in(given["rotor"])
        says.append(
            f"A {given['rotor']:.0f} mm rotor may do with a {low:.1f} in wheel, {high:.1f} in is safe: try it on."
        )
        data["wheel_for_rotor_in"] = plain((low, high))
    if given["reach"]:
        data["barrel_in"] = wheels.barrel_needed_in(given["reach"])
        says.append(f"The barrel must measure {data['barrel_in']:.2f} in inside where the caliper stands.")
    if not says:
        raise BadInput(
            "there is nothing to reckon", "Give --rim with --backspacing or --offset, --rotor or --reach."
        )
    assumes = [
        f"flanges of {wheels.FLANGE_IN} in a side, so backspacing is good to ±{wheels.FLANGE_SPREAD_IN} in"
    ]
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
    help="Which studs: opposite, neighbors, every second, or (five studs) one to the middle of the two across.",
)
@click.option("--tool", type=click.Choice(["tape", "caliper"]), default="tape", show_default=True)
@click.option(
    "--edges", is_flag=True, help="Measured from the outside of one stud to the inside of the other."
)
@json_option
def bolt_circle(  # noqa: PLR0913 -- one argument an option
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


def _width_table(given: dict[str, Any], offset: float, says: list[str], data: dict[str, Any]) -> Table:
    from donorbase.engineering import wheels
    from donorbase.errors import BadInput

    section = given["tires"].section_width_in
    if section is None:
        raise BadInput(f"{given['tires'].size} states no width", "Give the whole size, such as 40x13.50R17.")
    width = wheels.width_over_tires_in(given["face_to_face"], section, offset)
    says.append(f"{width:.1f} in from the outside of one tire to the outside of the other.")
    limits = wheels.width_limits(width)
    data.update(width_over_tires_in=round(width, 3), limits=plain(limits))
    rows = [[f"{lim.limit_in:g}", f"{lim.left_in:+.1f}", lim.meaning] for lim in limits]
    return Table(["width in", "left in", "what it is"], rows)


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
    says = [
        f"{sums.pattern_name(lugs, circle)}: measure from the outside of one stud to the inside of the other."
    ]
    return Answer(data, sums.SOURCE, says, [Table(["studs", "mm", "in"], rows)])


def _circle_answer(lugs: int, length: float, measure: str, tool: str, edges: bool) -> Answer:
    from donorbase.engineering import bolt_circle as sums

    found = sums.read_circle(lugs, length, measure, tool, edges)
    rows = [[str(p), f"{p.share:.0%}"] for p in found.patterns]
    says = [
        f"Circle {found.circle_mm:.1f} ± {2 * found.sd_mm:.1f} mm. {found.advice[:1].upper()}{found.advice[1:]}."
    ]
    tables = [Table(["pattern", "odds"], rows)] if rows else []
    assumes = [
        f"{tool}, {'edges of studs ±0.3 mm' if edges else 'as read'}; known patterns equally likely beforehand"
    ]
    return Answer(plain(found), sums.SOURCE, says, tables, assumes)
