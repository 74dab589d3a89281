"""Step 16b: on what terms the price stands: firm, or best offer, each, free, trades considered."""

from donorbase.facts import Fact, Known
from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.settle import Places


def terms(scan: Scan, places: Places, kind: str, price: Mark | None) -> list[Fact]:
    """The price terms that hold for the price that is asked."""
    spans: dict[str, Mark] = {}
    for mark in scan.marks:
        if mark.attribute != "price_terms" or not mark.live:
            continue
        if _holds(scan, mark, kind, price):
            spans.setdefault(str(mark.value), mark)
    if price is not None and _called_lowest(scan, price):
        spans.setdefault("firm", price)
    swap = next((m for m in scan.marks if m.attribute == "offer" and m.live and m.value == "trade"), None)
    if kind == "for-sale" and swap is not None and price is not None:
        spans.setdefault("trades-considered", swap)
    if price is not None and kind != "wanted":
        spans.pop("free", None)
    return [Fact("price_terms", value, Known.STATED, (places.span(m.begin, m.end),)) for value, m in spans.items()]


def _holds(scan: Scan, mark: Mark, kind: str, price: Mark | None) -> bool:
    """Whether a term is said of the price asked."""
    if _refused(scan, mark) or _of_another_price(scan, mark, price):
        return False
    match mark.value:
        case "trades-considered":
            return kind not in ("trade", "wanted")
        case "each":
            return _each(scan, mark, price)
        case "firm":
            return _of_the_price(scan, mark, price)
        case "free":
            return _given_away(scan, mark)
        case "or-best-offer":
            return kind != "for-sale" or price is not None
    return True


def _called_lowest(scan: Scan, price: Mark) -> bool:
    """``lowest? it's 400``."""
    asked_at = [k for k in range(max(0, price.begin - 7), price.begin) if scan.key(k) == "lowest"]
    return bool(asked_at) and scan.key(asked_at[-1] + 1) == "?"


def _of_another_price(scan: Scan, mark: Mark, price: Mark | None) -> bool:
    """``2500 firm, kidding, 600``: a term right behind a price that is taken back goes with it."""
    before = [m for m in scan.marks if m.attribute == "price" and m.end == mark.begin]
    between = range(mark.end, price.begin if price else 0)
    taken_back = any(scan.role(k, "cue") == "correct" for k in between)
    return bool(before) and price is not None and price not in before and taken_back


def _refused(scan: Scan, mark: Mark) -> bool:
    """``trades? no``."""
    behind = mark.end + (scan.key(mark.end) in ("?", ":", "="))
    return behind > mark.end and scan.key(behind) in _NO


_NO = frozenset({"no", "nope", "nah", "none", "not", "negative", "n", "never"})
_BEFORE_FIRM = frozenset({
    "price", "is", "its", "are", "and", "very", "cash", "at", "thats", "am", "im", "pretty", "usd", "dollars",
    "prices", "be", "$", "each", "both", "pair", "set", "all", "asking", "stays", "ea", "the", "standing",
    "totally", "quite", "bucks",
})  # fmt: skip


def _of_the_price(scan: Scan, mark: Mark, price: Mark | None) -> bool:
    """Whether ``firm`` is told of the price: not ``bearings firm``."""
    if scan.key(mark.begin) != "firm":
        return True
    k = mark.begin - 1
    opened = k < 0 or is_clause_end(scan, k) or scan.key(k) in _BEFORE_FIRM or scan.at(k).kind == "num"
    beside = price is not None and -1 <= mark.begin - price.end <= 3
    named = scan.key(mark.end) in ("on", "at", "price", "pricing") or bool(scan.at(k).facts and not scan.at(k).roles)
    return opened or beside or named


_FREE_BEFORE = frozenset({"is", "its", "for", "all", "are", "them", "it", "and", "totally", "completely", "theyre"})
_FREE_AFTER = frozenset({"to", "if", "for", "come", "you", "must", "with", "local", "today", "but", "-", "pickup"})


def _given_away(scan: Scan, mark: Mark) -> bool:
    """Whether ``free`` is the price: not ``turns free``, ``free shipping``, ``rust free``, ``free of leaks``."""
    if scan.key(mark.begin) != "free":
        return True
    begin, end = mark.begin, mark.end
    opened = begin == 0 or is_clause_end(scan, begin - 1) or scan.key(begin - 1) in _FREE_BEFORE
    closed = is_clause_end(scan, end) or end >= len(scan.pieces) or scan.key(end) in _FREE_AFTER
    named = scan.role(end, "item") == "axle" or any(n == "position" for n, _ in scan.at(end).facts)
    return opened and (closed or named or scan.at(end).kind == "num")


def _each(scan: Scan, mark: Mark, price: Mark | None) -> bool:
    """Whether ``each`` belongs to the price that is asked."""
    if price is None or "whole" in price.flags:
        return False
    return 0 <= mark.begin - price.end <= 2 or (0 <= price.begin - mark.end <= 1)
