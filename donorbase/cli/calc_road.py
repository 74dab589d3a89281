"""``donorbase calc vin``, ``tie-down`` and ``distance``."""

import click

from donorbase.cli.calc_answer import LENGTH, WEIGHT, Answer, Table, example, json_option, plain, show
from donorbase.cli.forms import csv_form


@click.command(epilog=example("vin 1M8GDM9AXKP042788"))
@click.argument("number")
@click.option("--light/--heavy", default=None, help="GVWR up to 10,000 lb, or over: decides the cycle of years.")
@json_option
@csv_form
def vin(number: str, light: bool | None, as_json: bool) -> None:
    """Check digit and model years of a vehicle NUMBER, and what a mistyped one may have been."""
    from datetime import date

    from donorbase.engineering import vin as sums

    found = sums.read_vin(number, latest=date.today().year + 1, light=light)
    years = " or ".join(map(str, found.years)) or "no model year"
    says = [f"{found.vin}: {years}; {found.years_why}."]
    if found.check_holds:
        says.append("The check digit holds. One wrong character in eleven passes, so that proves nothing.")
    elif not found.faults:
        says.append(
            f"The check digit is {found.check_found}, it should be {found.check_expected}: "
            "mistyped, or built for another market."
        )
    says += [f"{fault[:1].upper()}{fault[1:]}." for fault in found.faults]
    rows = [[repair.vin, repair.change] for repair in found.repairs]
    tables = [Table(["may have been", "changed"], rows)] if rows else []
    assumes = ["the check digit binds vehicles of the United States and Canada only"]
    show(Answer(plain(found), sums.SOURCE, says, tables, assumes), as_json)


@click.command("tie-down", epilog=example("tie-down 600 --length 70in --strap 500lb --strap 500lb"))
@click.argument("weight", type=WEIGHT)
@click.option("--length", type=LENGTH, default="70in", show_default=True, help="Length of the load.")
@click.option("--strap", "straps", type=WEIGHT, multiple=True, help="Working load limit of a strap to the load.")
@click.option("--over", type=WEIGHT, multiple=True, help="The same, of a strap over the load to the other side.")
@click.option("--packed", type=LENGTH, nargs=3, help="Length, width and height as packed: freight density and class.")
@json_option
@csv_form
def tie_down(
    weight: float,
    length: float,
    straps: tuple[float, ...],
    over: tuple[float, ...],
    packed: tuple[float, float, float] | None,
    as_json: bool,
) -> None:
    """What straps a load of that WEIGHT asks for, whether yours do, and its freight density."""
    from donorbase.engineering import cautions, load

    used = [load.Strap(limit) for limit in straps] + [load.Strap(limit, over_the_load=True) for limit in over]
    needs = load.tie_down(weight, length, used)
    rows = [
        ["forward, working load", needs.forward_lb], ["rearward", needs.rearward_lb],
        ["sideways", needs.sideways_lb],
        ["downward, if not boxed in", needs.downward_lb], ["all straps together", needs.together_lb],
        ["your straps, as counted", needs.counted_lb], ["least number of straps", needs.least_number],
    ]  # fmt: skip
    says = [f"Not enough: {fault}." for fault in needs.faults] if used else ["Give your straps with --strap or --over."]
    if used and not needs.faults:
        says = ["The straps are enough by number and by sum; their angles and the blocking decide the rest."]
    data, source = plain(needs), load.TIE_DOWN_SOURCE
    if packed:
        density = load.freight_density(weight, *packed)
        says.append(f"Freight: {density:.1f} lb a cubic foot, class {load.freight_class(density)} by density.")
        data.update(density_lb_ft3=round(density, 3), freight_class=load.freight_class(density))
        source = f"{source}; {load.FREIGHT_SOURCE}"
    assumes = ["rules for commercial vehicles, a sound floor for anybody; round tubes roll: chock them; oil plugged"]
    warn = [cautions.TIE_DOWN, cautions.LIFTING]
    show(Answer(data, source, says, [Table(["what", "lb"], rows)], assumes, warn), as_json)


@click.command(
    epilog=example("distance 39.7491,-104.9946 40.7559,-111.8967"),
    # South of the equator a place begins like an option.
    context_settings={"ignore_unknown_options": True},
)
@click.argument("here", metavar="PLACE")
@click.argument("there", metavar="PLACE")
@json_option
def distance(here: str, there: str, as_json: bool) -> None:
    """Straight and road miles between two places, each a ZIP or degrees (latitude,longitude; north and east positive).

    ZIPs are looked up without the internet where donorbase[zip] is installed.
    """
    from donorbase.engineering import distance as sums
    from donorbase.services import places

    miles = places.miles_between(places.place_of(here), places.place_of(there))
    low, high = sums.road_miles(miles)
    says = [f"About {miles:.0f} miles in a straight line, {low:.0f} to {high:.0f} by road."]
    data = {"straight_mi": round(miles, 3), "road_mi": plain((low, high))}
    assumes = ["roads 1.2 to 1.4 times the straight line (from memory)"]
    source = sums.SOURCE if "," in here and "," in there else f"{sums.SOURCE}; {places.SOURCE}"
    show(Answer(data, source, says, (), assumes), as_json)
