"""Step 8: model years, in all the ways that people write them."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.scan import Scan

_OLDEST = 1940
_SURELY_A_YEAR = 67
"""Two digits that open a line and are as many as that count hardly anything else."""
_TO = frozenset({"-", "/", "to", "thru", "through", "a", "al", "à", "until", "till"})
_UP = frozenset({
    "+", "up", "newer", "on", "onward", "onwards", "present", "later", "current", "adelante", "plus", "nup",
    "andup", "higher",
})  # fmt: skip
_DOWN = frozenset({"down", "older", "earlier", "back", "below", "under"})
_LINKS = frozenset({"and", "&", "n", "-", "or", "to", "y", "en", "et", "/", "'", "an"})
_PRE = frozenset({"pre", "before", "earlier", "prior"})
_PART = {"early": (0, 3), "mid": (4, 6), "late": (6, 9), "older": (0, 9)}
_STOPS = frozenset({",", "|"})
_ARTICLES = frozenset({
    "a", "an", "the", "my", "my old", "my new", "old", "that", "this", "his", "un", "una", "une", "some", "'",
    "early", "mid", "late", "wrecked", "rolled", "our", "clean", "about", "low", "mile", "complete", "of",
    "grandpas", "dads", "running", ":", "=", "is", "modelo", "año", "ano", "camioneta", "pickup", "truck",
    "troca", "del", "la", "le", "del año", "rusted", "rusty", "totaled", "burnt", "burned", "out", "either",
    "i think", "donor",
})  # fmt: skip
_NOT_AFTER = frozenset({
    "inch", "mm", "lug", "spline", "bolt", "mile", "km", "thousand", "grand", "dollar", "noise", "foot",
    "piston", "hundred", "percent",
})  # fmt: skip


def years(scan: Scan) -> None:
    """Every span of model years, marked ``years`` as (first, last); ``open`` flags those with an open end."""
    for rule in (_decade, _span, _open_end, _two_thousand, _single):
        for i in scan.numbers():
            if not scan.used[i]:
                rule(scan, i)


def _four(scan: Scan, i: int) -> int | None:
    raw = scan.at(i).raw.removesuffix(".5")
    if len(raw) == 4 and raw.isdigit() and _OLDEST <= int(raw) <= scan.this_year + 1:
        return int(raw)
    return None


def _two(scan: Scan, i: int) -> int | None:
    raw = scan.at(i).raw
    head, _, half = raw.partition(" ")
    if half and half != "1/2":
        return None
    if head.endswith(".5") and len(head) == 4:
        head = head[:2]
    if len(head) != 2 or not head.isdigit():
        return None
    year = int(head)
    if year <= (scan.this_year + 1) % 100:
        return 2000 + year
    return 1900 + year if year >= _OLDEST % 100 else None


def _year(scan: Scan, i: int) -> int | None:
    return _four(scan, i) or _two(scan, i) if scan.at(i).kind == "num" else None


def _begin(scan: Scan, i: int) -> int:
    return i - 1 if scan.key(i - 1) == "'" else i


def _decade(scan: Scan, i: int) -> None:
    """``late 80s``, ``1990's``, ``mid 85``."""
    part = _PART.get(scan.key(_begin(scan, i) - 1)) or _PART.get(
        scan.key(_begin(scan, i) - 2) if scan.key(i - 1) in ("-", "'", "to") else ""
    )
    s = i + 1 + (scan.key(i + 1) == "'")
    plural = (scan.key(s) == "s" and scan.at(s).glued) or scan.at(i).plural
    year, raw = _year(scan, i), scan.at(i).raw
    if year is None or "." in raw:
        return
    begin = _begin(scan, i) - (part is not None)
    other = s + 2
    if plural and scan.key(s + 1) in ("/", "or", "&") and scan.at(other).kind == "num" and scan.key(other + 1) == "s":
        scan.use(i, other + 2)  # 50s/60s
    elif plural and year % 10 == 0 and (len(raw) == 4 or 1950 <= year <= 1990 or part):
        low, high = part or (0, 9)
        scan.mark("years", (year + low, year + high), begin, s + 1)
    elif plural and len(raw) == 2:
        scan.use(i, s + 1)  # 35s are tires
    elif part and len(raw) == 2 and not scan.unit(i):
        scan.mark("years", (year, year), begin, i + 1)


def _span(scan: Scan, i: int) -> None:
    """``99-04``, ``1999 thru 2004``, ``05 or 06``."""
    first, gap = _year(scan, i), i + 1
    link = scan.key(gap)
    if (
        first is None
        or scan.at(i).raw.replace(".5", "").count(".")
        or not (link in _TO or link == "or" or (link == "and" and scan.key(_begin(scan, i) - 1) == "between"))
    ):
        return
    j = gap + 1 + (scan.key(gap + 1) == "'")
    last = _last(scan, j, first)
    if last is None or last < first or last - first > 40 or scan.unit(j) in _NOT_AFTER:
        return
    two_digits = _four(scan, i) is None
    if two_digits and (not _dated(scan, i, j, link) or _spoken_of(scan, i, ("width", "price"))):
        return
    if link == "or":
        scan.mark("years", (first, last), _begin(scan, i), j + 1, *(["choice"] if last - first > 2 else []))
        return
    scan.mark("years", (first, last), _begin(scan, i), j + 1, "span")


def _spoken_of(scan: Scan, i: int, labels: tuple[str, ...]) -> bool:
    """Whether one of the labels stands a few words before in the same sentence."""
    for k in range(i - 1, max(i - 5, -1), -1):
        if is_sentence_end(scan, k):
            return False
        if scan.role(k, "label") in labels:
            return True
    return False


def _last(scan: Scan, j: int, first: int) -> int | None:
    last = _year(scan, j)
    raw = scan.at(j).raw
    if last is None and len(raw) == 1 and raw.isdigit() and scan.at(j).kind == "num":
        return first - first % 10 + int(raw)
    return last if "." not in raw else None


def _dated(scan: Scan, i: int, j: int, link: str) -> bool:
    if (scan.at(i).glued and scan.at(i - 1).kind in ("num", "word")) or scan.key(i - 1) in ("$", "#", "x"):
        return False
    raw = scan.at(i).raw
    if (
        scan.role(i - 1 - (scan.key(i - 1) in (".", ":")), "label") in ("date", "time", "serial")
        and scan.key(i - 1) not in ("since",)
        and link == "/"
    ):
        return False
    return raw[0] == "0" or int(raw[:2]) >= 57 or _context(scan, i) or _open_after(scan, j + 1)


def _open_after(scan: Scan, j: int) -> bool:
    of_a_truck = any(name in ("load_class", "rear_wheels") for name, _ in scan.at(j).facts)
    return of_a_truck or scan.role(j, "item") in ("axle", "vehicle") or scan.role(j, "cue") == "truck"


def _open_end(scan: Scan, i: int) -> None:
    """``2005+``, ``05 and up``, ``pre 99``, ``98 and older``."""
    year = _year(scan, i)
    if year is None or "." in scan.at(i).raw or scan.key(i - 1) in ("$", "us$", "#", "x"):
        return
    begin, k = _begin(scan, i), i + 1
    before = scan.key(begin - 1 if scan.key(begin - 1) != "-" else begin - 2)
    if before == "than" and scan.key(begin - 2) in ("older", "earlier"):
        scan.mark("years", (None, year - 1), begin - 2, i + 1, "open")
        return
    if before in _PRE:
        scan.mark("years", (None, year - 1), begin - 1, i + 1, "open")
        return
    if before == "up to" or (before == "to" and scan.key(begin - 2) == "up"):
        scan.mark("years", (None, year), begin - 1, i + 1, "open")
        return
    while scan.key(k) in _LINKS and k < i + 4:
        k += 1
    if (
        scan.key(k) in _UP
        and not (scan.key(k) == "+" and (scan.key(k + 1) == "$" or scan.at(k + 1).kind == "num"))
        and (scan.key(k) != "on" or (k > i + 1 and scan.at(k + 1).kind != "num"))
        and (scan.key(k) != "plus" or k == i + 1)
    ):
        scan.mark("years", (year, None), begin, k + 1, "open")
    elif scan.key(k) in _DOWN and k > i + 1:
        scan.mark("years", (None, year), begin, k + 1, "open")


def _two_thousand(scan: Scan, i: int) -> None:
    """``2k9``."""
    if scan.at(i).raw == "2" and scan.key(i + 1) == "k" and scan.at(i + 1).glued and scan.at(i + 2).glued:
        raw = scan.at(i + 2).raw
        if raw.isdigit() and len(raw) <= 2:
            scan.mark("years", (2000 + int(raw), 2000 + int(raw)), i, i + 3)


def _single(scan: Scan, i: int) -> None:
    year = _four(scan, i)
    if year is not None:
        if _named_date(scan, i):
            scan.use(i, i + 1)
        elif not _priced(scan, i) and scan.unit(i) not in _NOT_AFTER:
            scan.mark("years", (year, year), _begin(scan, i), i + 1)
        return
    year = _two(scan, i)
    if (
        year is None
        or scan.unit(i) in _NOT_AFTER
        or (scan.key(i + 1) in ("x", "%", "-", "/", ":") and scan.at(i + 2).glued)
        or scan.key(i - 1) in ("$", "x", "#")
        or (scan.key(i - 1) == "/" and scan.at(i).glued and scan.at(i - 2).kind == "num")
    ) and (year is None or scan.key(i + 1) != "-" or scan.at(i + 1).glued):
        return
    if scan.role(i + 1, "side") and scan.key(i + 1) != "in":
        return
    if (_context(scan, i) or _own_cell(scan, i)) and not _priced(scan, i):
        scan.mark("years", (year, year), _begin(scan, i), i + 1)


def _own_cell(scan: Scan, i: int) -> bool:
    """``..., 87, ...``, ``| 05 |``: two digits between two stops that are hardly a price and count nothing."""
    raw = scan.at(i).raw
    if len(raw) != 2 or not raw.isdigit() or not (raw[0] == "0" or int(raw) >= 67) or scan.at(i).words:
        return False
    full = scan.key(i - 1) == "." or (scan.key(i - 1) == ":" and scan.role(i - 2, "label") not in ("price", "phone"))
    full = full and raw[0] != "0"
    hedged = scan.role(i + 1, "cue") == "hedge"
    closed = scan.key(i + 1) in _STOPS or scan.at(i + 1).kind == "line" or hedged or (full and scan.key(i + 1) == ".")
    opened = scan.key(i - 1) in _STOPS or scan.at(i - 1).kind == "line" or full
    return closed and opened and 0 < i < len(scan.pieces) - 2


def _named_date(scan: Scan, i: int) -> bool:
    """Whether a year is the day of something else: ``since 2019``, ``new bearings 2022``, ``2024 tires``."""
    before = scan.role(i - 1, "label")
    return (
        scan.key(i - 1) in ("in", "of", "en", "since", "around")
        or before in ("time", "date")
        or (scan.key(i - 1) == "/" and scan.at(i).glued)
        or scan.role(i + 1, "label") == "tire"
        or _of_a_repair(scan, i)
    )


_REPAIRED = frozenset({
    "new", "rebuilt", "replaced", "redone", "refreshed", "installed", "repacked", "serviced", "restored", "resealed",
    "nuevos", "nuevas", "reparado",
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


def _priced(scan: Scan, i: int) -> bool:
    following, before = scan.at(i + 1), scan.before(i)
    priced = (
        scan.key(i - 1) in ("$", "us$") or scan.role(before, "label") == "price" or scan.key(i + 1) in ("$", "cash")
    )
    return priced or any(name == "price_terms" for name, _ in following.facts) or "," in scan.at(i).raw


def _context(scan: Scan, i: int) -> bool:
    """Whether the words around two digits make them a year."""
    begin = _begin(scan, i)
    if begin < i:
        return not _named_date(scan, begin)
    raw, following = scan.at(i).raw, scan.at(i + 1)
    if _measured(scan, i):
        return False
    if scan.at(i).glued and scan.at(i - 1).kind in ("num", "word") and i > 0:
        return False
    names = {name for name, _ in following.facts}
    if following.roles.get("cue") in ("truck", "exact") or names & {"load_class", "rear_wheels"}:
        return True
    before = begin - 1
    if scan.role(before, "label") == "year":
        return True
    while (
        scan.key(before) in _ARTICLES
        or any(name in ("load_class", "rear_wheels") for name, _ in scan.at(before).facts)
        or scan.role(before, "cue") == "truck"
    ):
        before -= 1
    cue = scan.role(before, "cue")
    if (
        cue in ("source", "fits")
        or (cue == "for" and (before < begin - 1 or raw[0] == "0"))
        or scan.role(before, "label") == "year"
    ):
        return True
    if (cue in ("mine",) and scan.key(before) in ("my", "mi", "mon", "our")) or scan.role(before, "item") == "vehicle":
        return True
    if raw[0] == "0" and not scan.at(i).glued and scan.key(i - 1) != "in" and scan.key(i + 1) not in (":", "am", "pm"):
        return True
    return _leads(scan, i) and bool(
        names
        or following.roles.get("item")
        or following.roles.get("unit") == "noise"
        or (following.kind == "num" and not following.glued)
        or (following.key == "," and len(raw) == 2 and int(raw) >= _SURELY_A_YEAR)
    )


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
