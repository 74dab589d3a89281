"""``donorbase part paper``, ``bill`` and ``advert``."""

from datetime import datetime
from typing import Any

import click

from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.occasion import occasion, says_when
from donorbase.cli.proposed import FILE, TAG, Named


@click.command(
    epilog="\b\nExample:\n    donorbase part paper AAC4 seller='A. Example' receipt=1207 bought-on=2026-11-09"
)
@click.argument("tag", type=TAG)
@click.argument("told", type=Named("papers"), nargs=-1, metavar="[NAME=WORDS]...")
@says_when
@json_form
@csv_form
@click.pass_obj
def paper(database: str | None, tag: str, told: tuple[str, ...], on: datetime | None, who: str) -> None:
    """Keep where a part comes from; without any NAME=WORDS show it, and what can be kept.

    It stays in your database, goes into `part export`, and into the bill of sale; adverts have none of it.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.identify import pair_of
    from donorbase.cli.output import done, say, show_table, warn
    from donorbase.services.cards import card_of
    from donorbase.services.papers import PAPERS, keep_papers, papers_lacking

    house = open_house(database)
    odd = keep_papers(house, tag, dict(map(pair_of, told)), occasion(on, who))[1] if told else ()
    card = card_of(house, open_desk(house), tag)
    kept = card.about("paper")
    done({name: kept.get(name) for name in PAPERS})
    show_table([(name, kept.get(name), about) for name, about in PAPERS.items()], ("name", "kept", "what it is"))
    for note in odd:
        say(f"donor-vin: {note}.")
    lacking = papers_lacking(card)
    if lacking:
        say(f"Not on paper yet: {', '.join(lacking)}.")
    warn("no-identity", "privacy")


@click.command(epilog="\b\nExample:\n    donorbase part bill AAC4 --buyer 'B. Example' --price 450 -o bill.txt")
@click.argument("tag", type=TAG)
@click.option("--bought", is_flag=True, help="Of your own purchase: the seller is the one kept by `part paper`.")
@click.option("--seller", help="The seller's full name.")
@click.option("--seller-address", help="Where the seller lives.")
@click.option("--seller-id", help="The number of the seller's licence or identity card.")
@click.option("--buyer", help="The buyer's full name; else the one that the part was sold to.")
@click.option("--buyer-address", help="Where the buyer lives.")
@click.option("--price", metavar="USD", help="The price; else what you paid, or what it was sold for.")
@click.option("--output", "-o", type=FILE, default="-", metavar="FILE", help="Write it there; `-` prints it.")
@click.pass_obj
def bill(database: str | None, /, tag: str, bought: bool, price: str | None, output: str, **given: Any) -> None:
    """Print a bill of sale to sign, for a sale, or with --bought for a purchase. What is not known is a line to fill.

    It asks for what stricter states ask for; check your state's.
    """
    from dataclasses import replace

    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import warn, write_page
    from donorbase.services.papers import bill_for, bill_of_sale
    from donorbase.shelf.money import cents_of

    house = open_house(database)
    desk = open_desk(house)
    sides = replace(bill_for(house, desk, tag, bought), **{n: v for n, v in given.items() if v is not None})
    if price is not None:
        sides = replace(sides, price_cents=cents_of(price))
    write_page(output, bill_of_sale(house, desk, tag, sides))
    warn("no-identity", "privacy", *(() if bought else ("selling",)))


@click.command(epilog="\b\nExample:\n    donorbase part advert AAC4 --price 450")
@click.argument("tag", type=TAG)
@click.option("--price", metavar="USD", help="What you ask; left out, it says: make an offer.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.pass_obj
def advert(database: str | None, tag: str, price: str | None, as_json: bool) -> None:
    """Write an honest advert of a part that you sell: what you measured of it and nothing that you did not.

    `donorbase read` reads the same facts out of it, which is tried before it is shown. Telephone numbers in your words
    on its condition are withheld.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json, tell, warn
    from donorbase.services.adverts import advert_of
    from donorbase.shelf.money import cents_of

    house = open_house(database)
    found = advert_of(house, open_desk(house), tag, None if price is None else cents_of(price))
    if as_json:
        show_json(found.as_json())
        return
    tell(found.text)
    if found.unsaid:
        tell(f"Measured, and left out since no reader would know it: {', '.join(found.unsaid)}.", err=True)
    for fault in found.misread:
        tell(f"Mind: {fault}. Read it over: `donorbase read`.", err=True)
    warn("selling", "privacy")
