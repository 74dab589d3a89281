"""Step 8b: whether digits are a model year at all: the words around them decide."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Scan
from donorbase.reading.tokens import Piece

_SURELY_A_YEAR = 67
"""Two digits that open a line and are as many as that count hardly anything else."""
_STOPS = frozenset({",", "|", ";"})
_ARTICLES = frozenset({
    "a", "an", "the", "my", "my old", "my new", "old", "that", "this", "his", "un", "una", "une", "some", "'",
    "early", "mid", "late", "wrecked", "rolled", "our", "clean", "about", "low", "mile", "complete", "of",
    "grandpas", "dads", "running", ":", "=", "is", "modelo", "año", "ano", "camioneta", "pickup", "truck",
    "troca", "del", "la", "le", "del año", "rusted", "rusty", "totaled", "burnt", "burned", "out", "either",
    "i think", "donor",
})  # fmt: skip


def begin_of(scan: Scan, i: int) -> int:
    """Where a year begins: an apostrophe before its digits belongs to it, and so does ``MY`` stuck to them."""
    return i - 1 if scan.key(i - 1) == "'" or (scan.key(i - 1) == "my" and scan.at(i).glued) else i


def likely(raw: str) -> bool:
    """Whether two digits are those of a truck that may be driven, and count hardly anything else."""
    return len(raw) == 2 and raw.isdigit() and (raw[0] == "0" or int(raw) >= _SURELY_A_YEAR)


def own_cell(scan: Scan, i: int) -> bool:
    """``..., 87, ...``, ``| 05 |``: two digits between two stops that are hardly a price and count nothing."""
    raw = scan.at(i).raw
    if not likely(raw):
        return False
    if scan.key(i - 1) == "(" and scan.key(i + 1) == ")":
        return True
    if scan.key(i - 1) == "/" == scan.key(i + 1) and not scan.at(i - 1).glued and not scan.at(i + 1).glued:
        return True
    full = scan.key(i - 1) == "." or (scan.key(i - 1) == ":" and scan.role(i - 2, "label") not in ("price", "phone"))
    full = full and raw[0] != "0"
    hedged = scan.role(i + 1, "cue") == "hedge"
    closed = scan.key(i + 1) in (*_STOPS, ".") or scan.at(i + 1).kind == "line" or hedged
    opened = scan.key(i - 1) in _STOPS or scan.at(i - 1).kind == "line" or full
    return closed and opened and 0 < i < len(scan.pieces) - 2


def named_date(scan: Scan, i: int) -> bool:
    """Whether a year is the day of something else: ``since 2019``, ``new bearings 2022``, ``2024 tires``."""
    before = scan.role(i - 1, "label")
    return (
        scan.key(i - 1) in ("in", "en", "since", "around")
        or (scan.key(i - 1) == "of" and not _of_truck(scan, i - 2) and scan.key(i - 2) not in ("set", "pair", "lot"))
        or before in ("time", "date")
        or (scan.key(i - 1) == "/" and scan.at(i).glued)
        or scan.role(i + 1, "label") == "tire"
        or _of_a_repair(scan, i)
    )


def _of_truck(scan: Scan, k: int) -> bool:
    """Whether a truck, or what tells a truck, stands there."""
    piece = scan.at(k)
    names = {name for name, _ in piece.facts}
    return piece.roles.get("cue") == "truck" or piece.roles.get("item") == "vehicle" or bool(names & _OF_TRUCKS)


_REPAIRED = frozenset({
    "parked", "bought", "purchased", "painted", "repainted", "sat", "stored", "inspected", "regeared", "welded", "ran",
    "last ran", "last drove", "last driven", "quit", "died", "resealed", "titled", "registered", "expired", "pintado",
    "new", "rebuilt", "replaced", "redone", "refreshed", "installed", "repacked", "serviced", "restored", "nuevos",
    "nuevas", "reparado",
})  # fmt: skip


def _of_a_repair(scan: Scan, i: int) -> bool:
    """``new springs & bearings 2024.``: a repair is told, and neither a truck nor an axle stands between."""
    if not is_clause_end(scan, i + 1) and i + 1 < len(scan.pieces):
        return False
    for k in range(i - 1, max(i - 7, -1), -1):
        if is_clause_end(scan, k) or scan.role(k, "item") in ("axle", "vehicle") or scan.role(k, "cue") in _OF_A_TRUCK:
            return False
        if scan.key(k) in _REPAIRED:
            return True
    return False


_OF_A_TRUCK = frozenset({"source", "truck", "fits", "for"})


def priced(scan: Scan, i: int) -> bool:
    """Whether a word or sign beside a number makes it money."""
    following, before = scan.at(i + 1), scan.before(i)
    priced = (
        scan.key(i - 1) in ("$", "us$")
        or scan.role(before, "label") == "price"
        or scan.key(i + 1) == "cash"
        or (scan.key(i + 1) == "$" and not (scan.at(i + 2).kind == "num" and scan.at(i + 2).glued))
    )
    terms = any(n == "price_terms" for n, _ in following.facts)
    terms = terms and not (scan.at(i + 2).kind == "num" and len(scan.at(i).raw) == 4)  # 1980 OBO 150
    told = (scan.key(i - 2), scan.key(i - 1)) == ("make", "it") or terms
    return priced or told or "," in scan.at(i).raw


def context(scan: Scan, i: int) -> bool:
    """Whether the words around two digits make them a year."""
    begin = begin_of(scan, i)
    if begin < i:
        return scan.key(begin) == "my" or not named_date(scan, begin)
    if _called_model(scan, i):
        return True
    stuck = scan.at(i).glued and scan.at(i - 1).kind in ("num", "word") and i > 0
    if _measured(scan, i) or stuck:
        return False
    following = scan.at(i + 1)
    names = {name for name, _ in following.facts}
    if following.roles.get("cue") in ("truck", "exact") or names & _OF_TRUCKS:
        return True
    if _among_figures(scan, i):
        return True
    return _introduced(scan, i) or behind_an_axle(scan, i) or _with_a_nought(scan, i) or _heads_its_line(scan, i)


def _introduced(scan: Scan, i: int) -> bool:
    """``off an 06``, ``donor: 06``, ``yr 06``, ``my 06``: the words before speak of a truck or a year."""
    before, walked = i - 1, set()
    while (
        scan.key(before) in _ARTICLES
        or any(name in _OF_TRUCKS for name, _ in scan.at(before).facts)
        or scan.role(before, "cue") == "truck"
    ):
        walked.add(scan.key(before))
        before -= 1
    cue = scan.role(before, "cue")
    if cue in ("source", "fits") or "year" in (scan.role(before, "label"), scan.role(i - 1, "label")):
        return True
    if cue == "for" and (before < i - 2 or (likely(scan.at(i).raw) and scan.at(i).raw not in _FAMILIES)):
        return True
    own = cue == "mine" and scan.key(before) in ("my", "mi", "mon", "our")
    return own or scan.role(before, "item") == "vehicle" or _stated(scan, before, walked, scan.at(i))


def _with_a_nought(scan: Scan, i: int) -> bool:
    """``06``: hardly anything else begins with a nought."""
    if scan.at(i).raw[0] != "0" or scan.at(i).glued or scan.key(i + 1) in (":", "am", "pm"):
        return False
    return not (scan.key(i - 1) in _OF_TIME or named_date(scan, i))


def _heads_its_line(scan: Scan, i: int) -> bool:
    """``87 rear axle``, ``99, 3.73``: first in its line or cell, before a thing or what tells one."""
    raw, following = scan.at(i).raw, scan.at(i + 1)
    return _leads(scan, i) and bool(
        following.facts
        or following.roles.get("item")
        or following.roles.get("unit") == "noise"
        or (likely(raw) and any(scan.role(k, "cue") == "truck" for k in (i + 2, i + 3)))
        or (following.kind == "num" and not following.glued)
        or (following.key == "," and len(raw) == 2 and int(raw) >= _SURELY_A_YEAR)
    )


_OF_TRUCKS = frozenset({"load_class", "rear_wheels"})
_OF_TIME = frozenset({"in", "since", "after", "before", "until", "till", "by", "en", "depuis", "desde", "around"})
_SAID_OF = frozenset({"its", "is", "was", "it", "be", "are", "thats", "es", "est", "c'est", "cest"})
_FAMILIES = frozenset({"70", "80"})
"""Numbers by which axles are called."""


def _called_model(scan: Scan, i: int) -> bool:
    """``98 model``, ``94ish``, ``85 vintage``."""
    raw, following = scan.at(i).raw, scan.at(i + 1)
    if following.key == "ish" and following.glued:
        return likely(raw)
    return following.key in ("model", "models", "vintage") or (
        following.roles.get("label") == "year" and "unit" not in following.roles
    )


def _stated(scan: Scan, before: int, walked: set[str], digits: Piece) -> bool:
    """``its a 78``, ``donor 11``, ``del 98``: the words right before speak of what it is or of its donor."""
    raw = digits.raw
    if "donor" in walked or ("del" in walked and likely(raw)):
        return True
    if not likely(raw) or raw in _FAMILIES:
        return False
    # the 77: nobody has told of 77 things before; with a nought it is a truck wherever it stands
    told = "the" in walked and int(raw) % 10
    return bool(told) or (bool(walked & {"a", "an", "un", "une"}) and (scan.key(before) in _SAID_OF or digits.words))


def behind_an_axle(scan: Scan, i: int) -> bool:
    """``rear axle 97 disc 4.10``, ``1 ton 97:``: between the name of a thing and what else is said of it."""
    if not likely(scan.at(i).raw) or scan.at(i - 1).kind != "word":
        return False
    following = scan.at(i + 1)
    if _of_truck(scan, i - 1) and (is_clause_end(scan, i + 1) or following.key == ":"):
        return True
    names = {name for name, _ in following.facts}
    if scan.role(i - 1, "item") == "axle":
        if following.kind == "num" and not following.glued and scan.used[i + 1]:
            return True  # rear end 97 4.10: what follows has been read as something else
        if following.key == "," and (int(scan.at(i).raw) % 5 or priced_elsewhere(scan)):
            names = {name for name, _ in scan.at(i + 2).facts} - {"position"}
        return bool(names) and not names & {"price_terms", "offer", "part", "has"}
    return False


def _among_figures(scan: Scan, i: int) -> bool:
    """``6x5.5 97 3.73``: between figures of an axle that have been read."""
    figures = scan.used[i - 1] and scan.used[i + 1] and scan.at(i - 1).kind == scan.at(i + 1).kind == "num"
    plain = likely(scan.at(i).raw) and not scan.at(i).glued and not scan.at(i + 1).glued
    return i > 0 and bool(figures) and plain and (int(scan.at(i).raw) % 5 != 0 or priced_elsewhere(scan))


def priced_elsewhere(scan: Scan) -> bool:
    """Whether the text has a price by its sign or word, so that two bare digits are hardly another."""
    return "$" in scan.keys or ("unit", "dollar") in scan.roles or ("label", "price") in scan.roles


def _measured(scan: Scan, i: int) -> bool:
    """Whether the sentence spoke of a width right before: ``width, anything from 66 to 70``."""
    for k in range(i - 1, max(i - 6, -1), -1):
        if scan.key(k) == "." or scan.at(k).kind == "line":
            return False
        if scan.role(k, "label") == "width" and not (scan.at(k - 1).kind == "num" and scan.used[k - 1]):
            return True
    return False


def _leads(scan: Scan, i: int) -> bool:
    """Whether nothing but a shelf mark stands before it in its line or cell."""
    k = i - 1
    if scan.key(k) == ")" and scan.key(k - 2) == "(":
        return True
    while k >= 0 and (scan.used[k] or scan.key(k) in ("-", "•", "*", "#")) and scan.at(k).kind != "line":
        k -= 1
    if k >= 0 and scan.at(k).kind == "word" and len(scan.key(k)) <= 2 and k < i - 1:
        k -= 1
    sure = scan.at(i).raw[:2].isdigit() and (scan.at(i).raw[0] == "0" or int(scan.at(i).raw[:2]) >= 67)
    return k < 0 or scan.at(k).kind == "line" or scan.key(k) in ("|", ";") or (sure and scan.key(k) in (".", ":"))
