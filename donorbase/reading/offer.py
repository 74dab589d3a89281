"""Step 16: what kind of offer it is, its price and terms, and what is known of the donor and the seller."""

from collections.abc import Iterator
from dataclasses import replace

from donorbase.facts import Fact, Known
from donorbase.reading.asking import asked
from donorbase.reading.clauses import is_clause_end
from donorbase.reading.draft import Draft
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.settle import Places
from donorbase.reading.terms import terms
from donorbase.reference.word_sets import word_set

_OPENERS = frozenset({
    "im", "i'm", "i", "am", "we", "are", "still", "anyone", ":", "[", "(", "*", "-", "hey", "hi", "ad", "please",
    "title", "someone", "guys", "just", "its",
})  # fmt: skip
_MAKE_OFFER = frozenset({"make offer", "make an offer", "make me an offer", "or make offer"})
_SOLD_OPENERS = frozenset({
    "this", "the", "axle", "axles", "it", "these", "one", "item", "both", "update", "edit", ":", "rear axle",
    "front axle", "they", "all",
})  # fmt: skip
_IS_SOLD = frozenset({
    "has been sold", "have been sold", "been sold", "is sold", "are sold", "was sold", "already sold",
    "sold already",
})  # fmt: skip
_AFTER_SOLD = frozenset({"!", ".", "]", "", ",", "pending", "-", "pickup", "thanks", "thx", "to", "pick", ")"})
_ONE_PUT_RIGHT = 2
"""Of more prices, one is put right only in its own sentence, or right before it."""
_BESIDE = 4
_AXLE_PARTS_ONLY_MI = 20_000


def offer_kind(scan: Scan) -> str:
    """``for-sale``, ``wanted``, ``sold`` or ``trade``."""
    said = [m for m in scan.marks if m.attribute == "offer" and m.live]
    first = {m.begin for m in said}
    opened = any(m.value in ("sold", "wanted") for m in said)
    starts = {k for begin, end in scan.sentences for k in _opening(scan, begin, end)} if opened else set()
    sold = [m for m in said if m.value == "sold"]
    if any(_whole_sold(scan, m, starts) for m in sold) or _opens_sold(scan) or _all_gone(scan):
        return "sold"
    selling = any(m.value == "for-sale" and not _asked_for(scan, m) for m in said)
    priced = any(m.attribute == "price" and m.live and m.flags & {"sure", "likely"} for m in scan.marks)
    if any(_others_need(scan, m.begin) for m in said if m.value == "wanted"):
        return "for-sale"
    wanted = [m for m in said if m.value == "wanted" and m.begin in starts and _seeks(scan, m)]
    if wanted and not priced and not selling and _opens_trade(scan):
        return "trade"
    early = wanted and (not priced or wanted[0].begin <= 3 or _only_a_budget(scan))
    if wanted and not selling and early and not _money_wanted(scan, wanted[0]):
        return "wanted"
    if _in_need(scan) and not selling and not priced:
        return "wanted"
    if (scan.key(0) == "want" or _opens_seeking(scan, priced)) and not selling:
        return "wanted"
    trading = [m for m in said if m.value == "trade"]
    if trading and not (selling and priced) and (not priced or trading[0].begin <= 2):
        return "trade"
    if first and not priced and _opens_trade(scan) and not selling:
        return "trade"
    return "trade" if _opens_trade(scan) and not priced else "for-sale"


def _opening(scan: Scan, begin: int, end: int) -> Iterator[int]:
    """The places of a sentence at which a word still opens it."""
    k = begin
    while k < end:
        yield k
        if (
            scan.key(k) not in _OPENERS
            and scan.role(k, "cue") != "correct"
            and not any(n in ("offer",) for n, _ in scan.at(k).facts)
        ):
            return
        k += 1


def _money_wanted(scan: Scan, mark: Mark) -> bool:
    return scan.priced(mark.end, mark.end + 2) is not None


def _whole_sold(scan: Scan, mark: Mark, starts: set[int]) -> bool:
    """Whether the whole is sold, not one thing of several or a part."""
    around = [scan.key(k) for k in (mark.begin - 1, mark.begin - 2)]
    reach = 4 if scan.key(mark.begin - 1) == "(" else 2  # shafts pulled (sold)
    named = ("part", "position", "item", "missing", "has")
    begin = next(b for b, e in scan.sentences if mark.begin < e)
    if any(m.dropped == "denied" and begin <= m.begin < mark.begin for m in scan.marks if m.attribute in named):
        return False  # no fronts, sold those
    if any(m.attribute in named for m in scan.within(mark.begin - reach, mark.begin)):
        last = mark.end >= len(scan.pieces)
        early = mark.begin <= 4 and (scan.key(mark.end) in _AFTER_SOLD or scan.at(mark.end).kind == "line")
        return (last or early) and _only_thing(scan, mark)
    if mark.begin in starts or mark.end >= len(scan.pieces) - 2:
        return True
    return "is" in around or "are" in around or scan.key(mark.begin - 1) in ("*", "[", "(", "-", "now")


def _only_thing(scan: Scan, sold: Mark) -> bool:
    """Whether what stands before a last ``sold`` is an axle, and no other end of a truck is spoken of."""
    before = scan.within(sold.begin - 2, sold.begin)
    ends = {m.value for m in scan.marks if m.attribute == "position" and m.live}
    things = {m.value for m in before if m.attribute == "item"}
    return len(ends) < 2 and things <= {"axle", "housing"} and not any(m.attribute == "part" for m in before)


_WEAK = frozenset({"after a", "need", "i need", "cash for", "will buy", "buying", "will pay", "need one", "seeking"})
_BUDGET = frozenset(
    {"have", "i have", "budget", "up to", "pay", "spend", "max", "ive got", "got", "will pay", "can pay", "saved"}
)
_PUT_AWAY = frozenset({"put", "saved", "max", "budget", "to spend", "cash in hand", "in hand", "to", "or less", "tops"})


_IN_NEED = frozenset({"need another", "need a replacement", "need another one", "need one for", "in need of"})
_ASKING = ("any", "whos got", "who has", "do you have", "got any", "know of", "does", "who")


def _in_need(scan: Scan) -> bool:
    """``my rear grenaded, need another one``; ``any rear axles out there?``."""
    if not _IN_NEED.isdisjoint(scan.keys):
        return True
    begin, end = scan.sentences[0] if scan.sentences else (0, 0)
    asks = scan.key(end) == "?" and scan.key(begin).startswith(_ASKING)
    asks = asks and not any("interest" in scan.key(k) or _others_need(scan, k) for k in range(begin, end))
    return asks and any(m.attribute in ("item", "part", "position") for m in scan.within(begin, end))


def _others_need(scan: Scan, k: int) -> bool:
    """``Anyone need an axle??``, ``who wants a rear``, ``somebody looking for``: he offers what others may seek."""
    subject = k - 1 - (scan.key(k - 1) in ("here", "out", "else", "still", "is", "be"))
    return scan.key(k).startswith(_SEEKING) and scan.key(subject).rpartition(" ")[2] in _OTHERS


_SEEKING = ("need", "want", "lookin", "seek", "searching")
_OTHERS = frozenset({"anyone", "anybody", "who", "someone", "somebody", "anyones", "yall", "you", "u", "whos"})


def _opens_seeking(scan: Scan, priced: bool) -> bool:
    """``Need a rear, 4.10``: the first words seek a thing, and no price is asked."""
    things = any(m.attribute in ("item", "part", "position") for m in scan.within(0, 9))
    return things and scan.key(0).startswith(_NEEDING) and (not priced or _only_a_budget(scan))


_NEEDING = ("need a", "need one", "needing", "need 1", "i need a", "in need")


def _seeks(scan: Scan, mark: Mark) -> bool:
    """Whether a word of seeking names the thing sought: not ``I'm after a bit of help``, ``needs: a bearing``."""
    if _of_the_axle(scan, mark.begin):
        return False
    if scan.key(mark.begin) not in _WEAK:
        return True
    return any(m.attribute in ("item", "part", "position") for m in scan.within(mark.end, mark.end + 8))


def _asked_for(scan: Scan, mark: Mark) -> bool:
    """``does anyone have a front axle for sale?``"""
    begin, end = next(((b, e) for b, e in scan.sentences if b <= mark.begin < e), (0, 0))
    opened = any(
        m.attribute == "offer" and m.value == "wanted" and m.begin <= begin + 2 for m in scan.within(begin, mark.begin)
    )
    return opened and scan.key(end) == "?"


def _only_a_budget(scan: Scan) -> bool:
    """Whether every price said is what the writer can pay (``I have $500 put away``)."""
    prices = [m for m in scan.marks if m.attribute == "price" and m.live and "was" not in m.flags]
    return all(
        any(scan.key(k) in _BUDGET for k in range(max(0, m.begin - 3), m.begin)) or scan.key(m.end) in _PUT_AWAY
        for m in prices
    )


def _of_the_axle(scan: Scan, i: int) -> bool:
    """``Needs: pinion bearing``: nobody seeks anything."""
    return scan.at(i).raw in ("needs", "wants")


def _opens_sold(scan: Scan) -> bool:
    """``This axle has been sold``: the first words say so."""
    k = 0
    while k < 4 and scan.key(k) in _SOLD_OPENERS:
        k += 1
    return scan.key(k) in _IS_SOLD


def _all_gone(scan: Scan) -> bool:
    """``EDIT 3 pm: gone, thanks to all``, ``This is spoken for.``: gone, and nothing that was for sale is named."""
    return ("cue", "gone") in scan.roles and any(_gone_alone(scan, begin, end) for begin, end in scan.sentences)


def _gone_alone(scan: Scan, begin: int, end: int) -> bool:
    subject = word_set("all-of-it")
    for k in range(begin, end):
        piece = scan.at(k)
        if scan.role(k, "cue") == "gone":
            return is_clause_end(scan, k + 1) or scan.key(k + 1) in ("-", "thanks", "thank", "thx", "ty")
        if piece.kind != "num" and piece.key not in subject and scan.role(k, "cue") != "correct":
            return False
    return False


def _opens_trade(scan: Scan) -> bool:
    keys = ("trade", "swap", "trades", "cambio", "cambios", "échange", "echange")
    if scan.key(0) == "will trade" and not any(m.attribute == "price" and m.live for m in scan.marks):
        return True
    return any((scan.at(k).facts and scan.at(k).key in keys) or scan.key(k) == "swap" for k in (0, 1))


def offer_facts(scan: Scan, places: Places, kind: str, drafts: list[Draft]) -> tuple[Fact, ...]:
    """The facts of the offer as a whole."""
    said = next((m for m in scan.marks if m.attribute == "offer" and m.live and m.value == kind), None)
    where = (places.span(said.begin, said.end),) if said else ()
    facts = [Fact("offer", kind, Known.STATED if said else Known.INFERRED, where)]
    price = asked(_but_pairs(scan, drafts), _corrected(scan)) if kind in ("for-sale", "sold") else None
    if price is None and kind == "sold":
        price = next((m for m in scan.marks if m.attribute == "price" and m.live and _had(scan, m)), None)
    price = _of_the_first(scan, drafts, price) if price is not None else None
    if price is not None and kind == "for-sale" and _only_of_the_rest(scan, price):
        price = None
    open_to_offers = any(
        m.attribute == "price_terms"
        and scan.key(m.begin) in _MAKE_OFFER
        and not (price and _right_behind(scan, price, m))
        for m in scan.marks
    )
    if price is not None and open_to_offers and not price.flags & {"sure", "likely"}:
        price = None
    if price is not None:
        facts.append(Fact("price_usd", price.value, Known.STATED, (places.span(price.begin, price.end),)))
    said_terms = terms(scan, places, kind, price)
    free = next((f for f in said_terms if f.value == "free"), None)
    if price is None and free is not None and kind == "for-sale" and _said_free(scan):
        facts.append(Fact("price_usd", 0.0, Known.STATED, free.spans))
    facts += said_terms
    for name in ("mileage_mi", "vin", "distance_mi", "zip", "contact"):
        mark = _first(scan, name, drafts)
        if mark is not None:
            facts.append(
                Fact(
                    name,
                    mark.value,
                    Known.HEDGED if mark.hedged else Known.STATED,
                    (places.span(mark.begin, mark.end),),
                )
            )
    return tuple(facts)


def _but_pairs(scan: Scan, drafts: list[Draft]) -> list[Mark]:
    """The marks without the prices of ``both`` of more than two: ``buy the dually pair, both for 750``."""
    if len(drafts) <= _PAIR or not all(d.rows for d in drafts):
        return scan.marks
    parts = [row for d in drafts if d.kind == "part" for row in d.rows]
    marks = []
    for mark in scan.marks:
        of_two = "whole" in mark.flags and any(scan.role(k, "count") == "2" for k in _beside(mark))
        if of_two and any(b <= mark.begin < e for b, e in parts):  # of the pair that this part is
            marks.append(replace(mark, flags=mark.flags - {"whole"}))
        elif not of_two:
            marks.append(mark)
    return marks


def _beside(price: Mark) -> range:
    return range(max(0, price.begin - _PAIR), price.end + _PAIR)


_PAIR = 2


def _only_of_the_rest(scan: Scan, price: Mark) -> bool:
    """``Free rear axle ... Also have leaf springs, $40``: the price is of what comes besides."""
    begin, _ = next(((b, e) for b, e in scan.sentences if b <= price.begin < e), (0, 0))
    free = any(m.attribute == "price_terms" and m.value == "free" and m.live and m.begin < 2 for m in scan.marks)
    return free and begin > 0 and any(scan.role(k, "cue") == "also" for k in range(begin, price.begin))


def _of_the_first(scan: Scan, drafts: list[Draft], price: Mark) -> Mark:
    """``120 for the knuckles. Axle 420``: of things priced apart, the price of the one that the advert is of first."""
    if len(drafts) < _PAIR or price.flags & {"whole", "now"} or any(d.rows for d in drafts):
        return price
    thing = _priced_thing(scan, price)
    first = min(drafts, key=lambda d: d.begin)
    if thing is None or thing == (first.kind, first.part):
        return price
    if thing not in {(d.kind, d.part) for d in drafts}:
        return price
    others = [m for m in scan.marks if m.attribute == "price" and m.live and not m.flags & {"was", "whole"}]
    own = (m for m in others if m.begin > price.begin and _priced_thing(scan, m) == (first.kind, first.part))
    return next(own, price)


def _priced_thing(scan: Scan, price: Mark) -> tuple[str, str] | None:
    """The kind and part of what is named in a price's sentence: before it, or right behind ``for``."""
    begin, end = next(((b, e) for b, e in scan.sentences if b <= price.begin < e), (0, 0))
    named = [m for m in scan.within(begin, end) if m.attribute in ("item", "part", "has", "position")]
    behind = [m for m in named if price.end <= m.begin <= price.end + _PAIR and scan.key(price.end) == "for"]
    before = [m for m in named if m.begin < price.begin]
    told = (behind or before[-1:])[:1]
    if not told:
        return None
    mark = told[0]
    if mark.attribute in ("item", "position"):
        return (str(mark.value) if mark.attribute == "item" else "axle", "")
    return ("part", str(mark.value))


def _right_behind(scan: Scan, price: Mark, offers: Mark) -> bool:
    """``225 or make me an offer``: the price stands, though another is heard."""
    return 0 <= offers.begin - price.end <= 1 and (scan.key(price.end) in ("or", ",", "/") or offers.begin == price.end)


def _had(scan: Scan, price: Mark) -> bool:
    """``SOLD. Was $650``: the price that a sold thing had."""
    asked_before = {scan.key(k) for k in range(price.begin - 2, price.begin)}
    return "was" in price.flags and not asked_before.isdisjoint({"was", "were", "asked", "was asking", "listed at"})


def _corrected(scan: Scan) -> bool:
    if ("cue", "correct") not in scan.roles:
        return False
    prices = [m for m in scan.marks if m.attribute == "price" and m.live]
    if len(prices) < 2:
        return False
    last = prices[-1].begin
    begin = next((b for b, e in scan.sentences if b <= last < e), 0) if len(prices) > _ONE_PUT_RIGHT else 0
    since = max(prices[0].end, begin - _BESIDE)
    return any(scan.role(k, "cue") == "correct" for k in range(since, prices[-1].begin))


def _first(scan: Scan, name: str, drafts: list[Draft]) -> Mark | None:
    marks = [m for m in scan.marks if m.attribute == name and m.live]
    if name == "mileage_mi" and drafts and all(d.kind == "part" for d in drafts):
        marks = [m for m in marks if m.value >= _AXLE_PARTS_ONLY_MI]
    if name == "mileage_mi" and len(marks) > 1 and _rolled_over(scan, marks[0], marks[-1]):
        return marks[-1]
    return marks[0] if marks else None


def _rolled_over(scan: Scan, first: Mark, last: Mark) -> bool:
    """``says 41,088 but it rolled over so 141,088``."""
    return any(scan.key(k).startswith("rolled") for k in range(first.end, last.begin))


def _said_free(scan: Scan) -> bool:
    """``come get it`` alone may leave out the price."""
    free = [scan.key(m.begin) for m in scan.marks if m.attribute == "price_terms" and m.value == "free" and m.live]
    return any(key.startswith(("free", "grat", "no charge", "regalo")) or key.endswith("free") for key in free)
