"""Where a part comes from, on paper: seller, receipt, donor, date; and a bill of sale to print and sign."""

import textwrap
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from donorbase.engineering.vin import read_vin
from donorbase.errors import BadInput
from donorbase.services.cards import Card, card_of
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.near import near_keys
from donorbase.services.remembering import remember
from donorbase.services.shelf import Part
from donorbase.services.source_fields import day_of
from donorbase.shelf.money import usd_of

PAPERS: Mapping[str, str] = {
    "seller": "who sold it",
    "seller-address": "where he lives",
    "seller-id": "the number of his licence or identity card, and who gave it out",
    "seller-vehicle": "the plate of the vehicle that it came in",
    "receipt": "the number of the receipt, or where it lies",
    "bought-on": "the day of the purchase",
    "donor-vin": "the number of the vehicle it came out of",
    "donor-title": "the number of that vehicle's title, or of the papers by which it was taken apart",
    "marks": "numbers cast, stamped or tagged on the axle",
}
"""What is kept of where a part comes from. Stricter states ask dealers for such things: Tex. Occ. Code 2302.254 and
A.R.S. 28-4404, the fields from memory; no state's form is followed."""

WIDTH = 78
_BLANK = "_" * 40


@dataclass(frozen=True, slots=True)
class Sides:
    """Who sells and who buys, by name and address; empty is a line to be filled in by hand."""

    seller: str = ""
    seller_address: str = ""
    seller_id: str = ""
    buyer: str = ""
    buyer_address: str = ""
    price_cents: int | None = None
    day: date | None = None


def keep_papers(house: House, tag: str, told: Mapping[str, str], when: Occasion) -> tuple[Part, tuple[str, ...]]:
    """Keep where a part comes from; the part, and what is odd about what was told.

    BadInput where a name is none of ``PAPERS`` or a day is none; nothing is kept then.
    """
    kept = {name: _paper(name, text) for name, text in told.items()}
    notes = _vin_notes(kept["donor-vin"], when.on.year) if "donor-vin" in kept else ()
    return remember(house, tag, "paper", kept, when), notes


def _vin_notes(text: str, this_year: int) -> tuple[str, ...]:
    """What is odd about a vehicle's number, which is kept all the same: older trucks have other numbers."""
    try:
        read = read_vin(text, this_year + 1)
    except BadInput as wrong:
        return (f"{wrong.what}; kept as it is, since trucks before 1981 have other numbers",)
    digit = "" if read.check_holds else f"its check digit should be {read.check_expected}, not {read.check_found}"
    return tuple(filter(None, (digit, *read.faults)))


def _paper(name: str, text: str) -> str:
    if name not in PAPERS:
        near = near_keys(name, PAPERS)
        hint = f"Near it: {', '.join(near)}. " if near else ""
        raise BadInput(f"{name!r} is nothing that is kept on paper", f"{hint}There are: {', '.join(PAPERS)}.")
    if not text.strip():
        raise BadInput(f"nothing is told of {name}", f"Write {name}=WORDS.")
    if name == "bought-on":
        try:
            return day_of(text).isoformat()
        except ValueError as wrong:
            raise BadInput(f"bought-on {text!r} is {wrong}", "Write it like 2026-11-25.") from None
    return text.strip()


def bought_from(card: Card) -> Sides:
    """The two sides of one's own purchase, by the papers kept."""
    paper = card.about("paper")
    day = date.fromisoformat(paper["bought-on"]) if "bought-on" in paper else card.history.events[0].happened_on
    seller, address, number = (paper.get(name, "") for name in ("seller", "seller-address", "seller-id"))
    return Sides(seller, address, number, price_cents=card.part.cost_cents, day=day)


def sold_to(card: Card) -> Sides:
    """The two sides of one's own sale, by what the shelf says."""
    sold = [e for e in card.history.events if not e.undone and e.after.get("state") == "sold"]
    day = sold[-1].happened_on if sold and card.part.state == "sold" else None
    return Sides(buyer=card.part.person or "", price_cents=card.part.price_cents, day=day)


def bill_of_sale(house: House, desk: Desk, tag: str, sides: Sides) -> str:
    """A bill of sale as text to be printed: what is known filled in, the rest as lines to be filled by hand.

    It states what was measured; what was only said of the axle is not in it.
    """
    card = card_of(house, desk, tag)
    paper, part = card.about("paper"), card.part
    price = f"{usd_of(sides.price_cents)} US dollars" if sides.price_cents is not None else ""
    measured = "; ".join(f"{line.attribute} {line.stands}" for line in card.lines if line.measured)
    lines = [
        "BILL OF SALE", "",
        *_field("Date", sides.day.isoformat() if sides.day else ""),
        *_field("Seller, full name", sides.seller),
        *_field("Seller, address", sides.seller_address),
        *_field("Seller, licence or ID number", sides.seller_id),
        *_field("Plate of delivering vehicle", paper.get("seller-vehicle", "") if sides.seller else ""),
        *_field("Buyer, full name", sides.buyer),
        *_field("Buyer, address", sides.buyer_address), "",
        *_field("What is sold", f"one used {part.about.title}{f', {part.side} side' if part.side else ''}"),
        *_field("Tag painted on it", part.tag),
        *_field("Off", _off(part)),
        *_field("Donor vehicle's VIN", paper.get("donor-vin", "")),
        *_field("Donor's title or papers", paper.get("donor-title", "")),
        *_field("Numbers and marks on it", paper.get("marks", "")),
        *_field("Measured on it", measured or "nothing"),
        *_field("Photos", ", ".join(card.history.photos)),
        *_field("Price", price),
        *_field("Receipt of the purchase", paper.get("receipt", "")), "",
        *_CLAUSES, "",
        *_field("Seller, signature and date", ""), "",
        *_field("Buyer, signature and date", ""), "",
    ]  # fmt: skip
    return "\n".join(lines)


_DECLARED = (
    "The seller declares that the thing named above is his to sell, that nobody else has a claim on it, and that no "
    "number on it was removed or altered. It is sold used and as it stands; nothing is promised beyond what is "
    "written here."
)
_NO_ADVICE = (
    "This is a plain form and no legal advice. Check your state's: some ask dealers, dismantlers and those who "
    "sell regularly for more, for a form of their own, or for a licence; some want the paper kept for years."
)
_CLAUSES = (*textwrap.wrap(_DECLARED, WIDTH), "", *textwrap.wrap(_NO_ADVICE, WIDTH))


def _off(part: Part) -> str:
    year = f", donor of {part.year}" if part.year else ""
    return f"{part.axle or 'an axle not known'}{year}{f', {part.miles:,} miles' if part.miles is not None else ''}"


def _field(name: str, words: str) -> list[str]:
    begin = f"{name}: ".ljust(32)
    plain = " ".join(words.split())
    return textwrap.wrap(plain or _BLANK, WIDTH, initial_indent=begin, subsequent_indent=" " * 32)


def papers_lacking(card: Card) -> tuple[str, ...]:
    """What is not on paper of a part, the weightiest first."""
    paper = card.about("paper")
    lacking = [name for name in ("seller", "receipt", "donor-vin", "bought-on") if name not in paper]
    return tuple(lacking if card.history.photos else [*lacking, "a photo"])


def bill_for(house: House, desk: Desk, tag: str, bought: bool) -> Sides:
    """The sides of one's own purchase or sale as far as they are known."""
    card = card_of(house, desk, tag)
    return bought_from(card) if bought else sold_to(card)
