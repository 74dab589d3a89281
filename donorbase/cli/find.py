"""``donorbase find``: its options are the attributes themselves."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.forms import CSV, asked, csv_form
from donorbase.cli.proposed import Condition, Known

if TYPE_CHECKING:
    from donorbase.services.find import FindResult, Found

RATIO_SOLD = "ratio-sold"


class FindCommand(click.Command):
    """Takes an option for each attribute of an axle; they are looked up when the command runs."""

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """The attributes' options, then the command's own."""
        from donorbase.attributes import of_scope

        asked = [
            click.Option(
                [f"--{a.name.replace('_', '-')}", f"q_{a.name}"],
                type=Condition(a.values),
                metavar="COND",
                help=_help(a),
            )
            for a in of_scope("axle")
        ]
        sold = click.Option([f"--{RATIO_SOLD}", "q_ratio_sold"], metavar="COND", help="a set of this ratio is sold")
        return [*asked, sold, *super().get_params(ctx)]


def _help(attribute: Any) -> str:
    return f"{attribute.title}: {', '.join(attribute.values)}" if attribute.values else attribute.title


@click.command(
    cls=FindCommand,
    epilog="\b\nExample:\n"
    "    donorbase find --position front --years 2005-2016 --outer-splines 35+ --lugs 8 --ratio-sold 5.13",
)
@click.option("--sort", type=Known("attributes"), metavar="NAME", help="Sort by an attribute.")
@click.option("--descending", is_flag=True, help="Sort from high to low.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def find(
    database: str | None,
    /,
    sort: str | None,
    descending: bool,
    as_json: bool,
    **conditions: str | None,
) -> None:
    """Find axles of the catalogue by any attributes together.

    A condition is a value, several parted by commas, N-M, N+, <=N or >=N; lengths may carry in or mm. Axles of
    which an asked attribute is not known are shown apart, never among those that meet it.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json
    from donorbase.services.find import find as search

    query = {name.removeprefix("q_"): text for name, text in conditions.items() if text is not None}
    if not query:
        raise click.UsageError("Ask for something, such as --position front --lugs 8.")
    found = search(query, open_house(database), sort or "", descending)
    if as_json:
        show_json(found.as_json())
    elif asked() == CSV:
        _show_csv(found)
    else:
        _show(found)


def _show_csv(found: "FindResult") -> None:
    from donorbase.cli.output import show_csv

    rows = [[*row, "yes"] for row in _rows(found, found.meets)]
    rows += [
        [*row, "not known: " + ", ".join(f.not_known)]
        for f, row in zip(found.not_known, _rows(found, found.not_known), strict=True)
    ]
    show_csv(rows, ["axle", *found.columns, "meets"])


def _rows(found: "FindResult", axles: "Sequence[Found]") -> list[list[str]]:
    return [[axle.variant.key, *(_cell(axle, name) for name in found.columns)] for axle in axles]


def _cell(axle: "Found", name: str) -> str:
    from donorbase.reference.wording import value_text

    if name == RATIO_SOLD.replace("-", "_"):
        return ", ".join(f"{ratio:.2f}" for ratio in axle.ratios_sold)
    return ", ".join(value_text(name, value) for value in axle.variant.all(name))


def _show(found: "FindResult") -> None:
    from donorbase.attributes import attributes
    from donorbase.cli.output import heading, say, show_table

    headers = [
        "axle",
        *(attributes()[n].title if n in attributes() else n.replace("_", " ") for n in found.columns),
    ]
    if found.meets:
        show_table(_rows(found, found.meets), headers)
    else:
        say("No axle of the catalogue is known to meet all of that.")
    for axle in (*found.meets, *found.not_known):
        if not axle.variant.family.donor_ok:
            say(f"{axle.variant.key} is no donor: {axle.variant.family.refuse_reason}")
    if found.not_known:
        say()
        heading("Not known to fail, not known to meet")
        rows = [(f.variant.key, ", ".join(f.not_known)) for f in found.not_known]
        show_table(rows, ("axle", "not known of it"))
