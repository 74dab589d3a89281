"""``donorbase show``."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.proposed import Known

if TYPE_CHECKING:
    from donorbase.reference.catalogue import Family, GearSet, Interchange
    from donorbase.services.compare import Comparison
    from donorbase.services.show import FamilyPage, GearSetPage, LinePage, Page, ShownFigure, VariantPage


@click.command(
    epilog="\b\nExamples:\n    donorbase show front-9.75-balljoint/a-2005-2010-srw\n"
    "    donorbase show front-9.75-balljoint/a-2005-2010-srw front-9.75-balljoint/a-2005-2010-drw"
)
@click.argument("key", type=Known("catalogue"))
@click.argument("other", type=Known("catalogue"), required=False)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--same", is_flag=True, help="Of two, show also what is the same.")
@csv_form
@click.pass_obj
def show(database: str | None, key: str, other: str | None, as_json: bool, same: bool) -> None:
    """Show a family, variant, donor line or gear set: every figure with its basis and confidence.

    With two keys, what differs between them, easiest to see first.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json
    from donorbase.services.compare import compare
    from donorbase.services.show import show as page_of

    house = open_house(database)
    found = compare(key, other, house) if other else page_of(key, house)
    if as_json:
        show_json(found.as_json())
    elif other:
        _show_comparison(found, same)  # type: ignore[arg-type]
    else:
        _show_page(found)  # type: ignore[arg-type]


def _show_page(page: "Page") -> None:
    from donorbase.services.show import FamilyPage, LinePage, VariantPage

    if isinstance(page, VariantPage):
        _show_variant(page)
    elif isinstance(page, FamilyPage):
        _show_family_page(page)
    elif isinstance(page, LinePage):
        _show_line(page)
    else:
        _show_gear_set_page(page)


def _show_variant(page: "VariantPage") -> None:
    from donorbase.cli.output import caution, heading, say

    heading(f"{page.key}: {page.title}")
    _show_family(page.family)
    _show_figures(page.figures)
    say()
    say(f"Not known of it: {', '.join(page.not_known) or 'nothing that can be measured'}.")
    if page.gear_set:
        _show_gear_set(page.gear_set)
    for note in filter(None, (*page.notes, page.brake_note, page.hub_note)):
        say(f"Note: {note}")
    _show_fits("What of it fits others", page.fits)
    _show_fits("What of others fits it", page.takes)
    _show_conversions(page.conversions)
    _show_available(page.available)
    _show_wear(page)
    caution()


def _show_family(family: "Family") -> None:
    from donorbase.cli.output import say

    say(f"{family.name}. {family.housing}. {_tires(family)}")
    if not family.donor_ok:
        say(f"No donor: {family.refuse_reason}.")
    for title, lines in (
        ("Know it by", family.recognise),
        ("Strengths", family.strengths),
        ("Weaknesses", family.weaknesses),
        ("Usual faults", family.faults),
        ("Carrier splits", family.carrier_splits),
    ):
        if lines:
            say(f"{title}: {'; '.join(lines)}.")
    say(f"Family: confidence {family.confidence}; basis: {family.basis}.")


def _tires(family: "Family") -> str:
    if family.tire_guide_in is None:
        return "Tire guide not known."
    return f"Good for tires to about {family.tire_guide_in:g} in."


def _show_figures(figures: "Iterable[ShownFigure]") -> None:
    from donorbase.cli.output import say, show_table
    from donorbase.reference.wording import values_text

    say()
    rows = [(f.title, values_text(f.attribute, f.values), f.confidence, f.basis) for f in figures]
    show_table(rows, ("figure", "value", "confidence", "basis"))


def _show_gear_set(gear_set: "GearSet") -> None:
    from donorbase.cli.output import say

    say()
    ratios = ", ".join(f"{r:.2f}" for r in gear_set.ratios_sold) or "nothing certain known"
    say(f"Gear set {gear_set.key} ({gear_set.cut} cut), ratios sold: {ratios}.")
    for title, text in (
        ("Carrier split", gear_set.carrier_split),
        ("Needs", gear_set.needs),
        ("Note", gear_set.note),
    ):
        if text:
            say(f"{title}: {text}.")
    say(f"Gear set: confidence {gear_set.confidence}; basis: {gear_set.basis}.")


def _show_fits(title: str, rows: "Sequence[Interchange]") -> None:
    table = [(r.part, r.fits, r.source, r.target, r.condition or r.note, f"{r.confidence}; {r.basis}") for r in rows]
    _titled(title, table, ("part", "fits", "from", "onto", "condition", "confidence; basis"))


def _show_conversions(rows: "Sequence[Interchange]") -> None:
    table = [
        (r.part, r.target, r.parts_needed, _span(r.cost_usd), _span(r.labor_h), f"{r.confidence}; {r.basis}")
        for r in rows
    ]
    _titled("What it can be converted to", table, ("what", "to", "parts", "USD", "hours", "confidence; basis"))


def _show_available(rows: "Sequence[Interchange]") -> None:
    table = [(r.part, r.condition, f"{r.confidence}; {r.basis}") for r in rows]
    _titled("What can be bought for it", table, ("what", "which", "confidence; basis"))


def _show_wear(page: "VariantPage") -> None:
    table = [(w.part, w.what_to_measure, f"{w.limit} {w.unit}".strip(), w.meaning_if_out, w.basis) for w in page.wear]
    _titled("What wears, and the limit", table, ("part", "measure", "limit", "if out", "basis"))


def _span(pair: tuple[float, float] | None) -> str:
    return f"{pair[0]:g}-{pair[1]:g}" if pair else ""


def _titled(title: str, rows: Sequence[Sequence[object]], headers: Sequence[str]) -> None:
    from donorbase.cli.output import heading, say, show_table

    if rows:
        say()
        heading(title)
        show_table(rows, headers)


def _show_family_page(page: "FamilyPage") -> None:
    from donorbase.cli.output import heading

    heading(page.family.key)
    _show_family(page.family)
    _show_figures(page.figures)
    _titled("Variants", page.variants, ("key", "what it is"))


def _show_line(page: "LinePage") -> None:
    from donorbase.cli.output import heading, say

    heading(page.line.key)
    for title, text in page.line.sights:
        say(f"{title}: {text}")
    for note in page.notes:
        say(f"{note.kind.replace('_', ' ').capitalize()}: {note.text}")
    say(f"Basis: {page.line.basis}")
    _titled("Axles that come from it", page.variants, ("key", "what it is"))


def _show_gear_set_page(page: "GearSetPage") -> None:
    _show_gear_set(page.gear_set)
    _titled("Axles that have it", page.variants, ("key", "what it is"))


def _show_comparison(found: "Comparison", same: bool) -> None:
    from donorbase.cli.output import say, show_table
    from donorbase.reference.wording import values_text
    from donorbase.services.compare import SAME

    say(f"A: {found.first}: {found.first_title}")
    say(f"B: {found.second}: {found.second_title}")
    rows = [
        (
            row.state,
            row.title,
            values_text(row.attribute, row.first),
            values_text(row.attribute, row.second),
            row.how,
        )
        for row in found.rows
        if same or row.state != SAME
    ]
    show_table(rows, ("", "what", "A", "B", "how to see it"))
