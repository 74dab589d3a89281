"""Step 8: model years, in all the ways that people write them."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.dating import begin_of, behind_an_axle, context, likely, named_date, own_cell, priced
from donorbase.reading.scan import Scan

_OLDEST = 1940
_TO = frozenset({"-", "/", "to", "thru", "through", "a", "al", "à", "until", "till"})
_UP = frozenset({
    "+", "up", "newer", "on", "onward", "onwards", "present", "later", "current", "adelante", "plus", "nup",
    "andup", "higher", "forward", "nuevo", "nuevos", "above",
})  # fmt: skip
_THROUGH = frozenset({"thru", "through", "until", "till", "to", "hasta", "jusqu'à"})
_DOWN = frozenset({"down", "older", "earlier", "back", "below", "under"})
_LINKS = frozenset({"and", "&", "n", "-", "or", "to", "y", "en", "et", "/", "'", "an"})
_CHOICES = frozenset({"or", "o", "ou", "maybe", "possibly"})
_DOUBT = frozenset({
    "it", "might", "may", "could", "be", "a", "an", "the", "maybe", "possibly", "perhaps", "even", "is", "its", "un",
    "une",
    "off", "from", "of", "might be", "may be", "could be", "or maybe",
})  # fmt: skip
_PRE = frozenset({"pre", "before", "earlier", "prior"})
_PART = {"early": (0, 3), "mid": (4, 6), "late": (6, 9), "older": (0, 9)}
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
    for mark in scan.marks:
        if mark.attribute == "years" and scan.key(mark.end) == "ish":
            mark.hedged = True  # 1990ish


def _four(scan: Scan, i: int) -> int | None:
    raw = scan.at(i).raw.removesuffix(".5").removesuffix(" 1/2")
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


def _decade(scan: Scan, i: int) -> None:
    """``late 80s``, ``1990's``, ``mid 85``, ``mid to late 90s``, ``late 70s or early 80s``."""
    begin, part = _part_of(scan, begin_of(scan, i), "-" if scan.key(i - 1) == "-" else "")
    year, raw = _year(scan, i), scan.at(i).raw
    if year is None or "." in raw:
        return
    plural, end = _plural(scan, i)
    other = end + 1
    if plural and scan.key(end) in ("/", "or", "&") and scan.at(other).kind == "num" and scan.key(other + 1) == "s":
        scan.use(i, other + 2)  # 50s/60s
    elif plural and year % 10 == 0 and (len(raw) == 4 or 1950 <= year <= 1990 or part):
        low, high = part or (0, 9)
        last, end = _second_decade(scan, end, year + high)
        scan.mark("years", (year + low, last), begin, end)
    elif plural and len(raw) == 2:
        scan.use(i, end)  # 35s are tires
    elif part and len(raw) == 2 and not scan.unit(i):
        scan.mark("years", (year, year), begin, i + 1)


def _plural(scan: Scan, i: int) -> tuple[bool, int]:
    """Whether a number is a decade's plural, and where it ends."""
    s = i + 1 + (scan.key(i + 1) == "'")
    glued = scan.key(s) == "s" and scan.at(s).glued
    return glued or scan.at(i).plural, s + 1 if glued or not scan.at(i).plural else i + 1


def _part_of(scan: Scan, k: int, joint: str) -> tuple[int, tuple[int, int] | None]:
    """Where the words for a part of a decade before ``k`` begin, and which of its years they are."""
    p = k - 1 - (joint == "-" or scan.key(k - 1) in ("-", "'", "to"))
    part = _PART.get(scan.key(p))
    if part is None:
        return k, None
    first = _PART.get(scan.key(p - 2)) if scan.key(p - 1) in ("to", "-", "/", "or", "and", "&") else None
    return (p - 2, (first[0], part[1])) if first else (p, part)


def _second_decade(scan: Scan, end: int, last: int) -> tuple[int, int]:
    """``... early 80s`` behind ``late 70s``: the last year of both, and where they end."""
    k = end + (scan.key(end) in ("to", "/", "-", "or", "and", "&", ",", "thru", "through"))
    part = _PART.get(scan.key(k))
    j = k + 1 + (scan.key(k + 1) in ("-", "'"))
    year = _year(scan, j)
    if part is None or year is None or year % 10 or not _plural(scan, j)[0] or not 0 < year + part[1] - last < 20:
        return last, end
    return year + part[1], _plural(scan, j)[1]


def _span(scan: Scan, i: int) -> None:
    """``99-04``, ``1999 thru 2004``, ``05 or 06``."""
    first, gap = _year(scan, i), _over_brackets(scan, i + 1)
    link = scan.key(gap)
    if (
        first is None
        or scan.at(i).raw.replace(".5", "").count(".")
        or not (
            link in _TO
            or link in _CHOICES
            or (link in ("and", "&", "y", "et") and scan.key(begin_of(scan, i) - 1) in ("between", "entre"))
        )
    ):
        return
    j = gap + 1
    while link in _CHOICES and j < gap + 6 and scan.key(j) in _DOUBT:
        j += 1
    j += scan.key(j) == "'"
    last = _last(scan, j, first)
    if last is None or last < first or last - first > 40 or scan.unit(j) in _NOT_AFTER:
        return
    two_digits = _four(scan, i) is None
    nought = scan.at(i).raw[0] == "0"
    if two_digits and not (_dated(scan, i, j, link) and (nought or not _spoken_of(scan, i, ("width", "price")))):
        return
    if link in _CHOICES:
        scan.mark("years", (first, last), begin_of(scan, i), j + 1, *(["choice"] if last - first > 2 else []))
        return
    scan.mark("years", (first, last), begin_of(scan, i), j + 1, "span")


def _over_brackets(scan: Scan, k: int) -> int:
    """``1983 (door sticker) or 1984``: over a remark that only an ``or`` follows."""
    if scan.key(k) != "(":
        return k
    end = next((j for j in range(k + 1, k + 5) if scan.key(j) == ")"), k - 1)
    return end + 1 if scan.key(end + 1) in _CHOICES else k


def _spoken_of(scan: Scan, i: int, labels: tuple[str, ...]) -> bool:
    """Whether one of the labels stands a few words before in the same sentence."""
    for k in range(i - 1, max(i - 5, -1), -1):
        if is_sentence_end(scan, k):
            return False
        if scan.role(k, "label") in labels and not any(name == "offer" for name, _ in scan.at(k).facts):
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
    return raw[0] == "0" or int(raw[:2]) >= 57 or context(scan, i) or _open_after(scan, j + 1)


def _open_after(scan: Scan, j: int) -> bool:
    of_a_truck = any(name in ("load_class", "rear_wheels") for name, _ in scan.at(j).facts)
    return of_a_truck or scan.role(j, "item") in ("axle", "vehicle") or scan.role(j, "cue") == "truck"


def _open_end(scan: Scan, i: int) -> None:
    """``2005+``, ``05 and up``, ``pre 99``, ``98 and older``."""
    year = _year(scan, i)
    if year is None or "." in scan.at(i).raw or scan.key(i - 1) in ("$", "us$", "#", "x"):
        return
    if _four(scan, i) is None and scan.key(i - 1) in ("at", "over", "above") and not likely(scan.at(i).raw):
        return  # howls at 45 and up
    begin, k = begin_of(scan, i), i + 1
    before = scan.key(begin - 1 if scan.key(begin - 1) != "-" else begin - 2)
    if before == "than" and scan.key(begin - 2) in ("older", "earlier"):
        scan.mark("years", (None, year - 1), begin - 2, i + 1, "open")
        return
    if before in _PRE:
        scan.mark("years", (None, year - 1), begin - 1, i + 1, "open")
        return
    if before in _THROUGH and scan.role(begin - 2, "cue") in ("fits", "for"):
        scan.mark("years", (None, year), begin - 1, i + 1, "open")
        return
    if before == "up to" or (before == "to" and scan.key(begin - 2) == "up"):
        scan.mark("years", (None, year), begin - 1, i + 1, "open")
        return
    while scan.key(k) in _LINKS and k < i + 4:
        k += 1
    if (
        scan.key(k) in _UP
        and not (scan.key(k) == "+" and (scan.key(k + 1) == "$" or scan.at(k + 1).kind == "num"))
        and (scan.key(k) != "on" or (k > i + 1 and scan.at(k + 1).kind != "num") or _stops(scan, k + 1))
        and not (scan.key(k) == "+" and not scan.at(k).glued and scan.at(k + 1).kind == "word")
        and scan.role(k + 1, "label") != "year"
        and (scan.key(k) != "plus" or k == i + 1)
    ):
        scan.mark("years", (year, None), begin, k + 1, "open")
    elif scan.key(k) in _DOWN and k > i + 1:
        scan.mark("years", (None, year), begin, k + 1, "open")


def _two_thousand(scan: Scan, i: int) -> None:
    """``2k9``, ``2k4-2k7``."""
    first, end = _spelt_2k(scan, i)
    if first is None:
        return
    k = end + (scan.key(end) in _TO)
    last, behind = _spelt_2k(scan, k) if k > end else (None, end)
    if last is None and k > end and scan.at(k).kind == "num" and len(scan.at(k).raw) == 2:
        last, behind = _two(scan, k), k + 1
    if last is not None and first < last:
        scan.mark("years", (first, last), i, behind, "span")
    else:
        scan.mark("years", (first, first), i, end)


def _spelt_2k(scan: Scan, i: int) -> tuple[int | None, int]:
    if scan.at(i).raw == "2" and scan.key(i + 1) == "k" and scan.at(i + 1).glued and scan.at(i + 2).glued:
        raw = scan.at(i + 2).raw
        if raw.isdigit() and len(raw) <= 2:
            return 2000 + int(raw), i + 3
    return None, i


def _single(scan: Scan, i: int) -> None:
    year = _four(scan, i)
    if year is not None:
        if named_date(scan, i):
            scan.use(i, i + 1)
        elif not priced(scan, i) and scan.unit(i) not in _NOT_AFTER:
            own = scan.key(i - 1) == "my" and _between_stops(scan, i)
            scan.mark("years", (year, year), i - 1 if own else begin_of(scan, i), i + 1)
        return
    year = _two(scan, i)
    if (
        year is None
        or (scan.unit(i) in _NOT_AFTER and not ("pinion" in dict(scan.at(i + 1).facts) and behind_an_axle(scan, i)))
        or (scan.key(i + 1) in ("x", "%", "-", "/", ":") and scan.at(i + 2).glued)
        or scan.key(i - 1) in ("$", "x", "#")
        or (scan.key(i - 1) == "/" and scan.at(i).glued and scan.at(i - 2).kind == "num")
    ) and (year is None or scan.key(i + 1) != "-" or scan.at(i + 1).glued):
        return
    if scan.role(i + 1, "side") and scan.key(i + 1) != "in":
        return
    if (context(scan, i) or (own_cell(scan, i) and not _dated_before(scan, i))) and not priced(scan, i):
        scan.mark("years", (year, year), begin_of(scan, i), i + 1)


def _dated_before(scan: Scan, i: int) -> bool:
    """``8 lug rear 2005, 90.``: behind a year, at the end of its sentence, two digits are what is asked."""
    if not is_sentence_end(scan, i + 1):
        return False
    begin = next((k + 1 for k in range(i - 1, -1, -1) if is_sentence_end(scan, k)), 0)
    return any(m.attribute in ("years", "fits_years") for m in scan.marks if begin <= m.begin < i)


def _between_stops(scan: Scan, i: int) -> bool:
    """``, MY 2021,``: short for model year, for nothing of mine is spoken of."""
    return _stops(scan, i - 2) and _stops(scan, i + 1)


def _stops(scan: Scan, i: int) -> bool:
    return is_clause_end(scan, i) or not scan.key(i)
