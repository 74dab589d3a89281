"""Step 10c: what the words beside a price say of it: of all, of each, asked now or no more, for something else."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Scan

SIGNS = frozenset({"$", "us$", "€", "£", "usd"})
_EXTRAS = frozenset({
    "core", "core charge", "core deposit", "deposit", "delivery", "freight", "shipping", "handling", "fee", "fees",
    "load", "premium", "buyers premium", "loading fee", "entry", "tax", "crate fee", "to ship", "to deliver",
    "for delivery",
})  # fmt: skip
"""What a price beside the asking price can be for."""
_ON_TOP = frozenset({"extra", "not", "is", "additional", "on", "separate", "available", "not included", "is extra"})
_MOST_AT_ONCE = 12
"""``600 for the 5``: so many things at one price."""


def term_place(scan: Scan, end: int) -> int:
    """Where price terms stand: right after, or after a stroke (``425/obo``)."""
    return end + 1 if scan.key(end) in ("/", "-", "(", ",") else end


def said_of_all(scan: Scan, end: int) -> bool:
    """``900 for both``, ``500 4 both``, ``700 and you take all of it``."""
    following = scan.role(end, "cue")
    if following == "whole" and (
        scan.key(end + 1) == "$"
        or (scan.key(end + 1) == "for" and (scan.key(end + 2) in SIGNS or scan.at(end + 2).kind == "num"))
    ):
        return False
    if following == "whole":
        return True
    if scan.key(end) in ("for", "takes", "gets", "/", "buys") and scan.role(end + 1, "cue") == "whole":
        return scan.key(end + 2) not in SIGNS and scan.at(end + 2).kind != "num"
    if scan.key(end) == "4" and scan.role(end + 1, "cue") == "whole":
        return True  # 500 4 both
    several = scan.at(end + 2)
    counted = several.raw.isdigit() and (several.value or 99) <= _MOST_AT_ONCE
    if scan.key(end) == "for" and scan.key(end + 1) in ("the", "all") and counted:
        return True
    alone = scan.at(end + 1).raw.isdigit() and 1 < (scan.at(end + 1).value or 0) <= _MOST_AT_ONCE
    if scan.key(end) == "for" and alone and (is_clause_end(scan, end + 2) or end + 2 >= len(scan.pieces)):
        return True  # 900 ea or 1600 for two
    if scan.key(end) == "all":
        return is_clause_end(scan, end + 1) or end + 1 >= len(scan.pieces)
    k = end
    while k < end + 6 and scan.key(k) in _AND_TAKE:
        k += 1
    return k > end and scan.role(k, "cue") == "whole" and scan.key(k) not in ("pair", "set", "pr")


_AND_TAKE = frozenset({
    "and", "get", "gets", "take", "takes", "you", "your", "youll", "it", "i", "with", "buy", "buys", "haul",
    "hauls", "will", "if", "to", "out", "of", "for", "load", "want",
})  # fmt: skip
"""``$700 and you take all of it``."""


def said_beside(scan: Scan, i: int, end: int) -> set[str]:
    """What the words beside a price say of it: asked no more, asked now, of the whole, of each."""
    i -= scan.key(i - 1) in SIGNS
    before = scan.before(i)
    flags = _said_before(scan, before, i)
    whole_after = said_of_all(scan, end) or (scan.key(end) in ("-", "(") and said_of_all(scan, end + 1))
    told = before - (scan.key(before) == "for")
    loose = ("cue", "also") in scan.roles and any(scan.role(k, "cue") == "also" for k in range(before - 5, before + 1))
    if not loose and (whole_after or summed(scan, before) or scan.role(told, "cue") == "whole"):
        flags.add("whole")
    if scan.key(i - 1) == "or" or scan.key(before) == "or":
        flags.add("or")
    extra = scan.key(end) in _EXTRAS and scan.key(end + 1) not in _ON_TOP  # $2,200 shipping extra
    if extra or scan.key(i - 1) == "+" or scan.key(end) == "->":
        flags.add("was")
    if scan.key(i - 1) == "+":
        flags.add("plus")
    if _spent(scan, end):
        flags.add("was")
    if scan.key(end) in ("today", "now") or _concluded(scan, i, end):
        flags.add("now")
    if scan.key(end) in ("then", "back then", "at the time") or _not_the_price(scan, i, end):
        flags.add("was")
    if scan.key(i - 1) == "not" or (scan.key(end) == "?" and scan.key(i - 1) not in SIGNS):
        flags.add("was")  # named, not asked
    if any(value == "each" for _, value in scan.at(term_place(scan, end)).facts):
        flags.add("each")
    return flags


def _not_the_price(scan: Scan, i: int, end: int) -> bool:
    """``$20 a month``, ``or 700 in trade``, ``between 500 and 600``."""
    rate = scan.key(end) in ("a", "per", "/") and scan.key(end + 1) in _RATES
    in_trade = scan.key(end) in ("trade", "in trade") and scan.key(i - 1) == "or"
    return rate or in_trade or (scan.key(i - 1) == "and" and scan.key(i - 3) == "between")


_RATES = frozenset({"month", "mo", "week", "wk", "day", "hour", "hr", "mile", "night", "year"})


def _concluded(scan: Scan, i: int, end: int) -> bool:
    """``she wants 500, I want it gone, so 400``."""
    return scan.key(i - 1) == "so" and (is_clause_end(scan, end) or end >= len(scan.pieces))


def summed(scan: Scan, before: int) -> bool:
    """``shafts 80, gears 100, all 150``."""
    before -= scan.key(before) == "for"  # all for 420
    return scan.key(before) == "all" and scan.key(before - 1) in (",", ".", ";", "or", "/", "-", "and")


def _spent(scan: Scan, end: int) -> bool:
    """``$900 in it before labor``, ``2,000 in parts``, ``$400 worth of gears``."""
    if scan.key(end).partition(" ")[0] in ("in", "into"):
        key = scan.key(end).partition(" ")[2] or scan.key(end + 1).partition(" ")[0]
        return key in _SPENT_ON
    if scan.key(end) == "of" and scan.key(end + 1) in ("new", "parts", "work"):
        return True
    return scan.key(end).startswith("worth") and scan.key(end + 1) == "of"


_SPENT_ON = frozenset({
    "it", "them", "this", "parts", "materials", "labor", "labour", "receipts", "just parts", "mods", "new",
    "upgrades", "work", "gears", "brakes", "bearings",
})  # fmt: skip


def _said_before(scan: Scan, before: int, i: int) -> set[str]:
    """``was`` (paid, listed, a fee ...) or ``now``, whichever stands nearest before in the same breath."""
    flags: set[str] = set()
    for k in range(max(before - 2, 0), i):
        cue = scan.role(k, "cue")
        of_another = scan.at(k - 1).kind == "num" and scan.key(k + 1) in (",", ";", ".")
        if cue in ("was", "now") and not of_another and not (scan.key(k) in _EXTRAS and k < before):
            flags = {cue}
        if scan.key(k) in (".", "!", "?", ";") or scan.at(k).kind in ("line", "num"):
            flags = set()
    return flags
