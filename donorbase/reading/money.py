"""Step 10: prices: which numbers are money, which of them is asked, and on what terms."""

from donorbase.reading.beside_price import SIGNS, said_beside, said_of_all, summed, term_place
from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Scan

_PLACEHOLDERS = frozenset({1, 12, 123, 1234, 12345, 123456, 1111, 11111, 111111, 99999, 999999, 9999999, 1234567})
_BOUNDARY = frozenset({".", ",", ";", "!", "|", "-", ")", "/", "(", "?", "~~", "->", "+", "w/", "plus", ""})
_TODAY = frozenset({"today", "tonight", "now", "cash", "loaded", "here", "takes", "buys", "gets"})
_LEADS_TO = frozenset({"so", "for", "at", "say", "like", "and", "or"})
_OPENS_A_PRICE = frozenset({"now", "want", "wants", "first", "only", "number"})
_HANDED_OVER = frozenset({"shipped", "picked", "delivered", "loaded", "ob0", "postpaid"})
"""``190 shipped``, ``160 picked up``."""
_AFTER_MILES = frozenset({"on", "since", "ago", "rating", "rated", "gvw", "winch", "trailer", "of", "after", "before"})
"""``14k on new ball joints``: miles or pounds, no dollars."""
_LEAST_LISTED = 20
_SPOKEN_HUNDREDS = 10
_ITS_AT_LEAST = 100
"""``It is 300``: less than that is an age, a year or a count."""
_LEAST_BARE = 50
_LEAST_WHOLE = 300
_PRICE_VERBS = frozenset({
    "take", "figure", "figuring", "thinking", "see", "need", "expect", "expecting", "get", "accept", "name",
    "after", "so", "tomorrow", "say", "lets say", "hope for", "id take", "i need", "need to get",
})  # fmt: skip
"""``I'd take 450 for it``, ``figure 450``, ``so 400``."""
_GOES_ON = frozenset({
    "and", "or", "if", "even", "cash", "flat", "total", "race", "as", "because", "but", "since", "so", "plus", "w/",
    "with", "until", "till", "must", "local", "pick up", "pickup", "range", "or best offer", "make offer", "ready",
})  # fmt: skip
"""``600 and it is yours``: what goes on behind a price that opens a sentence."""
_MULTIPLE = {"thousand": 1000, "grand": 1000, "hundred": 100}


def prices(scan: Scan) -> None:
    """Mark every number that is money as ``price``, flagged by what stands around it."""
    struck = _struck(scan)
    for i in scan.numbers():
        if not scan.used[i]:
            _price(scan, i, struck)
    _in_words(scan)
    _listed(scan)
    _like_the_first(scan)


def _struck(scan: Scan) -> set[int]:
    """The stretches between ``~~`` signs: crossed out."""
    signs = [i for i, p in enumerate(scan.pieces) if p.key == "~~"]
    pairs = zip(signs[::2], signs[1::2], strict=False)
    return {k for a, b in pairs if b - a <= 12 for k in range(a, b)}


def _price(scan: Scan, i: int, struck: set[int]) -> None:
    piece, unit = scan.pieces[i], scan.unit(i) if not _in_hand(scan, i + 1) else ""
    signed = scan.key(i - 1) in SIGNS or (scan.key(i - 1) in ("s",) and scan.key(i - 2) == "us")
    value, end = _amount(scan, i)
    after_sign = (
        scan.key(end) in SIGNS and not (scan.at(end + 1).kind == "num" and scan.at(end + 1).glued)
    ) or scan.role(end, "unit") == "dollar"
    end += after_sign
    crossed = i in struck
    strength = _strength(scan, i, end, signed or after_sign, unit, value)
    if value < _SPOKEN_HUNDREDS and "/" in piece.raw and unit != "grand":
        value *= 100  # he wants five and a quarter
        strength = strength if strength == "sure" and not signed else ""
    if _from_to(scan, i):
        strength = "sure"
    if signed and scan.key(end) == "-" and scan.at(end + 1).kind == "num" and scan.at(end + 1).glued and value < 10:
        strength = ""  # $4-500: somewhere between
    if strength and (value > 1 or signed) and (signed or not _a_ratio_again(scan, i, value)):
        flags = {strength, *said_beside(scan, i, end)}
        if crossed:
            flags.add("was")
        if signed and any(m.attribute == "price" and m.end == i - 1 for m in scan.marks[-1:]):
            flags.add("now")  # $750 $600: the sign of crossing out got lost
        if value in _PLACEHOLDERS or value > 100_000:
            flags.add("placeholder")
        scan.mark("price", round(value, 2), i - (signed and scan.key(i - 1) in SIGNS), end, *flags)


def _a_ratio_again(scan: Scan, i: int, value: float) -> bool:
    """``35 and 10 so three fifty``: the ratio of the teeth that were counted, said in words."""
    near = (m for m in scan.marks if "counted" in m.flags and 0 < i - m.end < _RESTATED)
    return scan.at(i).words and any(round(m.value * 100) == value for m in near)


_RESTATED = 8


def _amount(scan: Scan, i: int) -> tuple[float, int]:
    """What a number means as money, and where it ends: ``2 grand``, ``12 hundred 50``, ``hundred and eighty``."""
    piece, unit, end = scan.pieces[i], scan.unit(i), i + 1
    value = piece.value or 0.0
    if unit in _MULTIPLE and scan.at(scan.after(i)) and not piece.raw.startswith("0"):
        value, end = value * _MULTIPLE[unit], scan.after(i) + 1
        if scan.at(end).kind == "num" and unit == "hundred" and (scan.at(end).value or 999) < 100:
            value, end = value + (scan.at(end).value or 0), end + 1
    if value < 100 and scan.key(i - 1) == "and" and scan.role(i - 2, "unit") == "hundred" and not scan.used[i - 2]:
        value += 100
    return value, end


def _from_to(scan: Scan, i: int) -> bool:
    """``dropped from 1000 to 850``: the second number."""
    first = i - 2 - (scan.key(i - 1) in SIGNS)
    before = first - 1 - (scan.key(first - 1) in SIGNS)
    linked = scan.key(first + 1) == "to" and scan.at(first).kind == "num" and scan.key(before) in ("from", "down from")
    told = [scan.at(k).roles for k in range(max(0, before - 3), max(0, before))]
    dropped = scan.key(before - 1).endswith("dropped")
    return linked and (dropped or any(r.get("label") == "price" or r.get("cue") in ("now", "was") for r in told))


def _strength(scan: Scan, i: int, end: int, signed: bool, unit: str, value: float) -> str:
    """How sure it is that a number is money: ``sure``, ``likely``, ``weak``, ``poor`` or not at all."""
    if signed:
        return "sure"
    if _no_money(scan, i, end, unit):
        return ""
    if unit in ("grand", "hundred"):
        return "sure"
    raw = scan.pieces[i].raw
    if value < _SPOKEN_HUNDREDS and "/" in raw and _half_hundreds(scan, i, end):
        return "sure"
    money_like = _money_like(raw)
    if money_like and value >= 5 and _called_a_price(scan, i, end, value):
        return "sure"
    before = scan.before(i)
    if money_like and value >= _LEAST_LISTED and _under_a_price(scan, i):
        return "sure"
    led = before - (scan.key(before) == "for")  # take both for 1400
    whole = said_of_all(scan, end) or scan.role(led, "cue") == "whole" or summed(scan, before)
    whole = whole or (scan.key(before) in ("whole", "whole truck") and value >= _LEAST_WHOLE)
    if (whole and value >= 20 and money_like) or (unit == "thousand" and value < 18_000):
        return "likely"
    if raw.startswith("0") or not money_like or value < 10 or ("." in raw and value < 20):
        return ""
    return _standing_alone(scan, i, end) or ("weak" if raw.endswith((".00", ".99", ".95")) and value >= 20 else "")


def _half_hundreds(scan: Scan, i: int, end: int) -> bool:
    """``asking five and a quarter``, ``six and a quarter takes it``: so many hundreds."""
    taken = scan.at(i).words and scan.key(end).partition(" ")[0] in ("takes", "gets", "buys") and "it" in scan.key(end)
    taken = taken or (scan.key(end) in ("takes", "gets", "buys") and scan.key(end + 1) in ("it", "them", "both"))
    return taken or scan.role(scan.before(i), "label") == "price"


def _no_money(scan: Scan, i: int, end: int, unit: str) -> bool:
    """Whether a unit, a part number or a year makes an unsigned number anything but money."""
    if unit and unit not in (*_MULTIPLE, "dollar", "away"):
        return True
    if unit == "thousand" and scan.key(end).partition(" ")[0] in _AFTER_MILES:
        return True
    if scan.at(i).glued and scan.key(i - 1) == "-" and scan.at(i - 1).glued:
        return True
    if _in_a_code(scan, i):
        return True
    return _like_a_year(scan, i) and scan.key(scan.before(i)) in _OPENS_A_PRICE


def _in_a_code(scan: Scan, i: int) -> bool:
    """``10/14``, ``73-79``: stuck to another number by a stroke or a hyphen."""
    behind = scan.key(i + 1) in ("-", "/") and scan.at(i + 1).glued and scan.at(i + 2).glued
    before = scan.key(i - 1) == "/" and scan.at(i).glued and scan.at(i - 1).glued and scan.at(i - 2).kind == "num"
    return before or (behind and scan.at(i + 2).kind == "num")


def _like_a_year(scan: Scan, i: int) -> bool:
    raw = scan.at(i).raw
    return len(raw) == 4 and raw.isdigit() and 1940 <= int(raw) <= scan.this_year + 1


def _under_a_price(scan: Scan, i: int) -> bool:
    """``price for rear: 350``, ``Q: how much for both then? A: 1200``: the label opens the line or the question."""
    k = i - 1
    if scan.key(k) == ":" and len(scan.key(k - 1)) <= 2 and scan.at(k - 2).kind == "line":
        k -= 3  # A: at the head of a line
    elif scan.key(k) != ":":
        return False
    for j in range(k, max(k - _LABEL_LENGTH, -1), -1):
        if scan.key(j) in _HOW_MUCH:
            return (
                scan.at(j - 1).kind in ("line", "")
                or is_clause_end(scan, j - 1)
                or scan.key(j - 1) in ("so", "and", "ok", ":")
            )
        if j < k and (is_clause_end(scan, j) or scan.at(j).kind == "num"):
            return False
    return False


_HOW_MUCH = frozenset({"price", "prices", "price for", "how much", "asking", "asking price", "cost"})
_LABEL_LENGTH = 8


def _called_a_price(scan: Scan, i: int, end: int, value: float) -> bool:
    before = scan.before(i)
    before -= scan.key(before) == "?"  # lowest? 400
    if scan.role(before, "label") == "price":
        return not (_like_a_year(scan, i) and value % 25 and scan.key(end) == ",")  # his price: 2012, 3.42 open
    led = i - 1 - (scan.key(i - 1) in ("at", "on", "@", "around", "about", "near"))
    terms = any(name == "price_terms" for name, _ in (*scan.at(term_place(scan, end)).facts, *scan.at(led).facts))
    label = scan.role(end, "label") == "price" and scan.key(end) not in _OPENS_A_PRICE
    return value >= 10 and (terms or label or scan.key(end) in _HANDED_OVER)


def _standing_alone(scan: Scan, i: int, end: int) -> str:
    """Whether a bare number stands where prices stand: between stops, or last after a known word."""
    ends = scan.key(end) in _BOUNDARY or scan.key(end) in _TODAY or scan.at(end).kind == "line"
    ends = ends or _in_hand(scan, end)
    opens = scan.key(i - 1) in _BOUNDARY or scan.at(i - 1).kind == "line" or _speaks(scan, i)
    if ends and opens:
        return "weak"
    value = scan.at(i).value or 0
    goes_on = scan.key(end) in _GOES_ON or scan.key(end).startswith("plus")
    if opens and goes_on and value >= _LEAST_BARE:
        return "poor"
    if opens and scan.key(end) in ("is", "was") and value >= _ITS_AT_LEAST and value % 5 == 0:
        return "poor"
    if opens and scan.key(end) == "for" and value >= _LEAST_BARE and _names_a_thing(scan, end + 1):
        return "weak"
    for_it = scan.key(end) in ("for", "out of") and scan.key(end + 1) in ("it", "them", "this", "all", "these")
    refused = any(n in scan.key(i - 2) for n in ("not", "wont", "cant", "dont", "didnt"))
    named = scan.key(i - 1) in _PRICE_VERBS and value >= _LEAST_BARE and value % 5 == 0
    if named and not refused and (ends or for_it or scan.key(end) in ("out of it", "for it", "for them")):
        return "sure"
    if _between_things(scan, i, end):
        return "poor"
    before = scan.at(i - 1)
    if ends and (before.facts or before.roles or before.key in _LEADS_TO):
        return "poor"
    its = before.key in ("its", "thats", "give me", "bring", "bring me", "pay", "mine is", "mines", "still") or (
        before.key == "is" and scan.key(i - 2) in ("it", "that", "this")
    )
    return "poor" if ends and its and (scan.at(i).value or 0) >= _ITS_AT_LEAST else ""


def _between_things(scan: Scan, i: int, end: int) -> bool:
    """``front 900 rear 500 if you pull``: behind a thing on offer, and before another or a condition."""
    value = scan.at(i).value or 0
    round_sum = value >= _ITS_AT_LEAST and value % 5 == 0 and not _like_a_year(scan, i)
    follows = scan.key(end) in ("if", "you") or _names_a_thing(scan, end)
    return round_sum and follows and _names_a_thing(scan, i - 1)


def _in_hand(scan: Scan, k: int) -> bool:
    """``725 in hand and it's yours``."""
    return scan.key(k) == "in hand" or (scan.key(k) == "in" and scan.key(k + 1) == "hand")


def _names_a_thing(scan: Scan, k: int) -> bool:
    """``600 for the axle``, beside the prices of other things."""
    k += scan.key(k) in ("the", "a", "just")
    return scan.role(k, "item") in ("axle", "housing") or any(name == "position" for name, _ in scan.at(k).facts)


def _speaks(scan: Scan, i: int) -> bool:
    """``A: 850 now``: the answer of a chat."""
    return scan.key(i - 1) == ":" and len(scan.key(i - 2)) <= 2 and scan.at(i - 3).kind in ("line", "")


def _money_like(raw: str) -> bool:
    whole, point, cents = raw.partition(".")
    return (not point or (len(cents) == 2 and cents in ("00", "50", "99", "95", "25", "75"))) and len(
        whole.replace(",", "")
    ) <= 5


def _listed(scan: Scan) -> None:
    """``450 and 600.``, ``275 / 25 / 75``: a price for each of several things; the first counts."""
    for mark in [m for m in scan.marks if m.attribute == "price" and "was" not in m.flags]:
        link, i = mark.begin - 1, mark.begin - 2
        while scan.key(link) in ("and", "&", "/", ",") and i >= 0 and _listed_price(scan, i):
            scan.mark("price", round(scan.at(i).value or 0.0, 2), i, i + 1, *mark.flags)
            link, i = i - 1, i - 2


def _like_the_first(scan: Scan) -> None:
    """``rear axle 350. front axle 4.10 600. cab 300.``: where one thing has its price last, so have the others."""
    first = next((m for m in scan.marks if m.attribute == "price" and is_clause_end(scan, m.end)), None)
    if first is None or not _ends_a_thing(scan, first.begin):
        return
    for i in scan.numbers():
        value = scan.at(i).value or 0
        plain = value >= _LEAST_LISTED and value % 5 == 0 and _money_like(scan.at(i).raw) and not _like_a_year(scan, i)
        last = is_clause_end(scan, i + 1) and not scan.used[i] and not scan.unit(i)
        if plain and last and i > first.end and _ends_a_thing(scan, i):
            scan.mark("price", value, i, i + 1, "poor")


def _ends_a_thing(scan: Scan, i: int) -> bool:
    """Whether a number ends a short sentence that opens with a thing, or with a word that nobody knows."""
    k = i
    while k > 0 and i - k < _LINE and not is_clause_end(scan, k - 1):
        k -= 1
    opening = scan.at(k)
    if k == i or not is_clause_end(scan, k - 1) or scan.key(k - 1) in (",", "("):
        return False
    unknown = opening.kind == "word" and not opening.facts and not opening.roles and i - k == 1
    return unknown or "item" in opening.roles or any(n in ("position", "part") for n, _ in opening.facts)


_LINE = 12


def _listed_price(scan: Scan, i: int) -> bool:
    piece, opened = scan.at(i), scan.key(i - 1) in _BOUNDARY | {"and", "&", "at"} or scan.at(i - 1).kind == "line"
    plain = piece.kind == "num" and not scan.used[i] and _money_like(piece.raw) and len(piece.raw) >= 2
    return plain and opened and (piece.value or 0) >= _LEAST_LISTED and not _like_a_year(scan, i)


def _in_words(scan: Scan) -> None:
    """``a grand``, ``a hundred bucks``, ``half a grand``, ``a grand and a half``."""
    if all(("unit", unit) not in scan.roles for unit in _MULTIPLE):
        return
    for i, piece in enumerate(scan.pieces):
        unit = piece.roles.get("unit")
        if unit not in _MULTIPLE or scan.used[i] or piece.key in ("k", "mil"):
            continue
        counted = scan.key(i - 1) in ("a", "couple", "one", "un") or scan.at(i - 1).raw.endswith(" a")
        alone = unit == "grand" and (is_clause_end(scan, i - 1) or i == 0)
        alone = alone or (is_clause_end(scan, i + 1) and scan.role(scan.before(i), "label") == "price")
        if counted or alone:
            end = i + 1 + 3 * _and_a_half(scan, i + 1)
            flags = said_beside(scan, i - counted, end)
            scan.mark("price", float(_times(scan, i) * _MULTIPLE[unit]), i - counted, end, "sure", *flags)


def _times(scan: Scan, i: int) -> float:
    times = 2.0 if scan.key(i - 1) == "couple" else 0.5 if scan.key(i - 2).startswith("half") else 1.0
    return times + 0.5 * _and_a_half(scan, i + 1)


def _and_a_half(scan: Scan, i: int) -> bool:
    return (scan.key(i), scan.key(i + 1), scan.key(i + 2)) == ("and", "a", "half")
