"""``donorbase calc``: the sums of the trade, each with the source of its formula and what it assumes."""

import click

from donorbase.cli.lazy import LazyGroup

SUMS = {
    "gearing": (
        "donorbase.cli.calc_drive:gearing",
        "Engine speed by ratio and tire; the ratio that tires ask for.",
    ),
    "mismatch": ("donorbase.cli.calc_drive:mismatch", "Whether front and rear ratios may turn together."),
    "ratio": ("donorbase.cli.calc_drive:ratio", "Tooth pairs of a ratio; the ratio by turning the pinion."),
    "shaft": (
        "donorbase.cli.calc_shafts:shaft",
        "What a splined shaft carries, and what the truck asks of it.",
    ),
    "joint": ("donorbase.cli.calc_shafts:joint", "U-joint series by caliper; angle by speed."),
    "tires": ("donorbase.cli.calc_wheels:tires", "What tire sizes say: diameter, width, turns a mile."),
    "wheel": (
        "donorbase.cli.calc_wheels:wheel",
        "Offset, backspacing, width over the tires, room for brakes.",
    ),
    "bolt-circle": ("donorbase.cli.calc_wheels:bolt_circle", "The bolt circle from whatever was measured."),
    "brakes": ("donorbase.cli.calc_chassis:brakes", "Pressure, stroke and stopping force of disc brakes."),
    "caster": ("donorbase.cli.calc_chassis:caster", "Caster against pinion angle; how far to turn knuckles."),
    "steering": ("donorbase.cli.calc_chassis:steering", "How far drag link and track bar steer the truck."),
    "vin": ("donorbase.cli.calc_road:vin", "Check digit, model years and likely slips of a vehicle number."),
    "tie-down": ("donorbase.cli.calc_road:tie_down", "Straps for a load; freight density and class."),
    "wait": ("donorbase.cli.calc_money:wait", "Buy now or wait for a lower price: what it comes to."),
    "distance": ("donorbase.cli.calc_road:distance", "Straight and road miles between two places."),
}


@click.command(cls=LazyGroup, lazy=SUMS, epilog="\b\nExample:\n    donorbase calc gearing --tires 40x13.50R17 --mph 65")
def calc() -> None:
    """Sums of the trade: gearing, tires, shafts, brakes, wheels, ratios and more.

    Write quantities as people do: 3/4in, 170mm, 5 ft 3 in, 40x13.50R17, 8x6.5, 65 mph, 330 lb-ft. Every sum
    names the source of its formula and what it assumes; a measurement overrules any of them.
    """
