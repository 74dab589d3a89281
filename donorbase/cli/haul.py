"""``donorbase haul``."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.calc_answer import LENGTH, WEIGHT
from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import AXLE

if TYPE_CHECKING:
    from donorbase.engineering.load import TieDown
    from donorbase.services.hauling import Weight


@click.command(
    epilog="\b\nExample:\n    donorbase haul front-9.25-unit-bearing --state stripped --strap 500lb --strap 500lb"
)
@click.argument("keys", type=AXLE, nargs=-1, required=True, metavar="AXLE...")
@click.option("--state", type=click.Choice(("complete", "stripped", "bare")), default="complete", show_default=True)
@click.option("--wheels", is_flag=True, help="With a pair of wheels and tires each.")
@click.option("--strap", "straps", type=WEIGHT, multiple=True, help="Working load limit of a strap to the load.")
@click.option("--over", type=WEIGHT, multiple=True, help="The same, of a strap over the load to the other side.")
@click.option("--payload", type=WEIGHT, help="What the truck or trailer may carry, by its label.")
@click.option("--aboard", type=WEIGHT, multiple=True, help="People, tools and loads that are aboard already.")
@click.option("--packed", type=LENGTH, nargs=3, help="Length, width and height on the pallet: a freight sheet.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def haul(
    database: str | None,
    keys: tuple[str, ...],
    state: str,
    wheels: bool,
    straps: tuple[float, ...],
    over: tuple[float, ...],
    payload: float | None,
    aboard: tuple[float, ...],
    packed: tuple[float, float, float] | None,
    as_json: bool,
) -> None:
    """What axles weigh, who or what lifts them, whether straps and payload suffice, and a freight sheet.

    AXLE is a variant or a family. The high end of the weight counts wherever something must hold.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json
    from donorbase.engineering import load
    from donorbase.services.hauling import weights

    found = weights(open_house(database), keys, state, wheels=wheels)
    high = sum(one.weight_lb[1] for one in found)
    used = [load.Strap(limit) for limit in straps] + [load.Strap(limit, over_the_load=True) for limit in over]
    needs = load.tie_down(high, 70, used)
    left = None if payload is None else load.payload_left_lb(payload, (*aboard, high))
    density = load.freight_density(high, *packed) if packed else None
    if as_json:
        freight = {"density_lb_ft3": round(density, 2), "class": load.freight_class(density)} if density else None
        told = {"together_lb": needs.together_lb, "faults": list(needs.faults)}
        show_json(
            {"axles": [one.as_json() for one in found], "straps": told, "payload_left_lb": left, "freight": freight}
        )
        return
    _show_weights(found)
    _show_straps(needs, given=bool(used))
    _show_payload(left)
    if density:
        _show_freight(density, load.freight_class(density))
    _show_cautions()


def _show_weights(found: "tuple[Weight, ...]") -> None:
    from donorbase.cli.output import say, show_table
    from donorbase.services.hauling import haul_figures

    rows = [(one.title, one.state, f"{one.weight_lb[0]:.0f} to {one.weight_lb[1]:.0f}", one.people) for one in found]
    show_table(rows, ("axle", "state", "weight, lb", "people to lift it"))
    for one in found:
        if one.of_kind:
            say(f"No weight is on record of {one.key}: that of axles of its end and strength is given.")
    person = haul_figures()["person"]
    say(f"A person should lift no more than {person['limit_lb']} lb, held close ({person['basis']}): use a hoist,")
    say("a loader or rollers. All weights are from memory: weigh it where a rating comes near.")


def _show_straps(needs: "TieDown", *, given: bool) -> None:
    from donorbase.cli.output import say

    say()
    say(
        f"Straps, for the high end: working load {needs.forward_lb:.0f} lb forward, {needs.rearward_lb:.0f} rearward, "
        f"{needs.sideways_lb:.0f} sideways, {needs.together_lb:.0f} together."
    )
    for fault in needs.faults if given else ():
        say(f"Not enough: {fault}.")
    if given and not needs.faults:
        say("Yours are enough by number and by sum; their angles and the blocking decide the rest.")


def _show_payload(left: float | None) -> None:
    from donorbase.cli.output import say

    if left is not None:
        say(f"Payload left: {left:.0f} lb." if left >= 0 else f"Too heavy by {-left:.0f} lb: take less, or two trips.")


def _show_freight(density: float, freight_class: str) -> None:
    from donorbase.cli.output import heading, say
    from donorbase.services.hauling import haul_figures

    say()
    heading("Freight sheet")
    say(f"{density:.1f} lb a cubic foot, class {freight_class} by density; the carrier's own rules may say otherwise.")
    for line in haul_figures()["freight"]["before"]:
        say(f"[ ] {line}")


def _show_cautions() -> None:
    from donorbase.cli.output import caution, say
    from donorbase.engineering import cautions

    say()
    for line in (cautions.LIFTING, cautions.TIE_DOWN):
        say(line)
    caution()
