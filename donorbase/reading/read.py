"""Text -> Reading: runs the steps, one after another, and can show what each of them did."""

from collections.abc import Callable
from dataclasses import dataclass, field

from donorbase.facts import UNREAD, Fact, Item, Known, Reading
from donorbase.reading.answers import answers, put_right
from donorbase.reading.assign import assign
from donorbase.reading.blocks import Block, blocks
from donorbase.reading.clean import Clean, clean
from donorbase.reading.contracted import is_spelt_out
from donorbase.reading.counts import bolt_circles, counted
from donorbase.reading.donor import contacts, miles, vins, zips
from donorbase.reading.draft import Draft
from donorbase.reading.figures import compose
from donorbase.reading.gears import ratios
from donorbase.reading.heads import Head, find_heads
from donorbase.reading.items import draft_items
from donorbase.reading.lexicon import Lexicon
from donorbase.reading.money import prices
from donorbase.reading.noise import noise
from donorbase.reading.numbering import counted_off
from donorbase.reading.offer import offer_facts, offer_kind
from donorbase.reading.quantity import apart, quantities
from donorbase.reading.questions import questions
from donorbase.reading.said import words_said
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.scope import scopes
from donorbase.reading.settle import Places, settle
from donorbase.reading.sides import hung
from donorbase.reading.sizes import bare_rings, elliptic, labelled_sizes, lone_widths
from donorbase.reading.splines import spline_pairs
from donorbase.reading.tables import columns
from donorbase.reading.tokens import Piece, tokenise
from donorbase.reading.trucks import trucks
from donorbase.reading.unread import unread_troubles
from donorbase.reading.years import years

_NUMBERS: tuple[Callable[[Scan], None], ...] = (
    vins, contacts, bolt_circles, spline_pairs, counted, trucks, ratios, labelled_sizes, elliptic, lone_widths, answers,
    noise, miles, zips, bare_rings, years, prices, put_right,
)  # fmt: skip
"""The order matters: what is surest takes its numbers first."""


@dataclass(slots=True)
class _Work:
    """A listing on its way through the steps."""

    text: str
    lexicon: Lexicon
    this_year: int
    clean: Clean = field(init=False)
    pieces: list[Piece] = field(init=False)
    scan: Scan = field(init=False)
    heads: list[Head] = field(init=False)
    blocks: list[Block] = field(init=False)
    drafts: list[Draft] = field(init=False)
    offer: tuple[Fact, ...] = ()
    items: tuple[Item, ...] = ()
    hazards: tuple[Fact, ...] = ()


def read_listing(text: str, lexicon: Lexicon, this_year: int) -> Reading:
    """What a listing says. Never raises; linear in the text's length.

    ``this_year`` bounds model years and says which century ``06`` means.
    """
    work = _Work(text, lexicon, this_year)
    for _, step, _ in STEPS:
        step(work)
    return Reading(text, work.offer, work.items, work.hazards)


def trace(text: str, lexicon: Lexicon, this_year: int) -> list[tuple[str, list[str]]]:
    """The name of each step of ``read_listing`` with lines that show what it gave."""
    work, shown = _Work(text, lexicon, this_year), []
    for name, step, show in STEPS:
        step(work)
        shown.append((name, show(work)))
    return shown


def _cleaned(work: _Work) -> None:
    work.clean = clean(work.text)


def _parted(work: _Work) -> None:
    work.pieces = counted_off(columns(tokenise(work.clean)))
    if "'s " in work.clean.text or "'S " in work.clean.text:
        work.pieces = is_spelt_out(work.pieces)


def _understood(work: _Work) -> None:
    work.pieces = compose(hung(work.lexicon.mark(work.pieces)))
    work.scan = Scan(work.pieces, work.this_year)


def _numbered(work: _Work) -> None:
    for rule in _NUMBERS:
        rule(work.scan)


def _scoped(work: _Work) -> None:
    words_said(work.scan)
    questions(work.scan)
    if offer_kind(work.scan) == "wanted":
        work.scan.wanted = True
    scopes(work.scan)


def _spoken_of(work: _Work) -> None:
    work.heads = find_heads(work.scan)
    work.blocks = blocks(work.scan, work.heads)


def _itemised(work: _Work) -> None:
    work.drafts = draft_items(work.scan, work.heads)
    assign(work.scan, work.drafts, work.heads, work.blocks)
    quantities(work.scan, work.drafts)
    work.drafts = apart(work.drafts)


def _settled(work: _Work) -> None:
    places = Places(work.scan, work.clean)
    work.items = tuple(settle(draft, places) for draft in work.drafts)
    work.offer = offer_facts(work.scan, places, offer_kind(work.scan), work.drafts)
    signs = tuple(
        Fact(piece.roles["hazard"], True, Known.STATED, (places.span(i, i + 1),))
        for i, piece in enumerate(work.pieces)
        if "hazard" in piece.roles and work.scan.role(i - 1, "cue") not in ("not", "no")
    )
    unread = (Fact(UNREAD, True, Known.STATED, (places.span(i, i + 1),)) for i in unread_troubles(work.scan))
    work.hazards = (*signs, *unread)


def _show_mark(work: _Work, mark: Mark) -> str:
    words = " ".join(p.raw for p in work.pieces[mark.begin : mark.end])
    doubt = f"  ({mark.dropped})" if mark.dropped else "  (hedged)" if mark.hedged else ""
    return f"{mark.attribute} = {mark.value}  <- {words}{doubt}"


def _show_block(work: _Work, block: Block) -> str:
    words = " ".join(p.raw for p in work.pieces[block.begin : block.end] if p.kind != "line")
    return f"{' '.join(sorted(block.ends)) or 'all'}{'' if block.named else ' still'}: {words}"


def _show_facts(work: _Work) -> list[str]:
    lines = [f"offer: {f.attribute} = {f.value}" for f in work.offer]
    for number, item in enumerate(work.items, 1):
        lines += [f"item {number}: {f.attribute} = {f.value}" for f in item.facts]
    return lines + [f"hazard: {f.attribute}" for f in work.hazards]


_Step = tuple[str, Callable[[_Work], None], Callable[[_Work], list[str]]]
STEPS: tuple[_Step, ...] = (
    ("clean", _cleaned, lambda w: w.clean.text.splitlines()),
    ("pieces", _parted, lambda w: [" ".join(p.raw for p in w.pieces if p.kind != "line")]),
    ("words", _understood, lambda w: [repr(p) for p in w.pieces if p.roles or p.facts or p.kind == "num"]),
    ("numbers", _numbered, lambda w: [_show_mark(w, m) for m in w.scan.marks]),
    ("scope", _scoped, lambda w: [_show_mark(w, m) for m in w.scan.marks if m.dropped or m.hedged]),
    ("blocks", _spoken_of, lambda w: [_show_block(w, b) for b in w.blocks]),
    ("items", _itemised, lambda w: [f"{d.position} {d.part or d.kind}".strip() for d in w.drafts]),
    ("facts", _settled, _show_facts),
)
"""The steps in their order: name, what it does, and the lines that show it."""
