"""Step 9: the donor's miles, how far away it is, its number; how to reach the seller."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.dating import priced_elsewhere
from donorbase.reading.scan import Scan

_KM = 0.621371
_VIN_LENGTH = 17
_VIN_SLIPS = str.maketrans("OQI", "001")
_RECORDS = frozenset({"id", "#", "post id", "posting id", "listing", "ad", "serial", "part", "pn", "stock", "order"})
"""What a long number that is no telephone number belongs to."""
_REJECTS = frozenset(
    {"at", "every", "per", "last", "next", "for", "only drove", "under", "over", "than", "sub", "did", "used"}
)
_ODOMETER_LOW, _ODOMETER_HIGH = 1000, 999_999


def vins(scan: Scan) -> None:
    """Seventeen letters and digits in one run; O, Q and I are mended where the word VIN stands before."""
    i = 0
    while i < len(scan.pieces):
        end, size = i + 1, _length_of(scan, i)
        while (
            end < len(scan.pieces)
            and scan.pieces[end].glued
            and scan.pieces[end].kind in ("num", "word")
            and size <= _VIN_LENGTH
        ):
            size += _length_of(scan, end)
            end += 1
        if (size == _VIN_LENGTH and end > i + 1) or (size == _VIN_LENGTH and scan.pieces[i].kind == "num"):
            _vin(scan, i, end)
        i = end


def _length_of(scan: Scan, i: int) -> int:
    """How many signs a piece takes in the text; one of two words (``1 T`` for one ton) may have none between them."""
    return scan.pieces[i].end - scan.pieces[i].begin


def _vin(scan: Scan, begin: int, end: int) -> None:
    raw = "".join(p.raw.replace(" ", "") for p in scan.pieces[begin:end]).upper()
    if len(raw) != _VIN_LENGTH:
        return
    if not raw.isalnum() or not raw.isascii() or sum(c.isdigit() for c in raw) < 5:
        return
    named = any(scan.key(k).startswith("vin") for k in range(max(0, begin - 4), begin))
    wrong = sum(c in "OQI" for c in raw)
    if wrong and not named:
        return
    scan.mark("vin", raw.translate(_VIN_SLIPS), begin, end)


def contacts(scan: Scan) -> None:
    """Telephone numbers in digits or words, and e-mail addresses."""
    for i, piece in enumerate(scan.pieces):
        if piece.key == "@" and 0 < i < len(scan.pieces) - 3:
            glued = all(scan.at(k).glued for k in range(i, i + 4))
            if glued and scan.key(i + 2) == "." and scan.at(i + 3).kind == "word":
                scan.mark("contact", True, i - 1, i + 4)
        elif piece.key == "at" and 0 < i < len(scan.pieces) - 3:
            j = i + 1 + (scan.key(i + 1) == ")")
            dotted = scan.key(j + 1) == "dot" or (scan.key(j + 1) == "." and scan.at(j + 2).glued and j > i + 1)
            if dotted and scan.at(j + 2).kind == "word":
                scan.mark("contact", True, i - 1, j + 3)
    for i in scan.numbers():
        if not scan.used[i]:
            _phone(scan, i)


def _phone(scan: Scan, i: int) -> None:
    if scan.key(i - 1) in ("$", "us$"):
        return  # $250 555-0154: a price stands before the number
    if not scan.at(i).raw.isdigit():
        if _dotted(scan, i):
            scan.mark("contact", True, i, i + 1 + (scan.key(i + 1)[:1] == ".") + 2 * (scan.key(i + 1) == "-"))
        return
    digits, end, groups = "", i, 0
    for _ in range(10):
        piece = scan.at(end)
        if piece.kind != "num" or not piece.raw.isdigit() or piece.plural or len(digits) + len(piece.raw) > 11:
            break
        digits += piece.raw
        groups += 1
        end += 1
        following = end
        while following < end + 2 and _separates(scan, following, piece.words):
            following += 1
        if scan.at(following).kind != "num" or not _phone_part(scan, digits, following):
            break
        end = following
    if len(digits) == 10 and scan.role(scan.before(i), "label") == "price":
        return  # asking 900 555-0132: a price, and a number without an area code
    if len(digits) in (7, 10, 11):
        _called(scan, i, end, digits, groups)


def _called(scan: Scan, i: int, end: int, digits: str, groups: int) -> None:
    """Note a run of as many digits as a telephone number has, where it is written or announced like one."""
    called = any(scan.role(k, "label") == "phone" for k in (*range(max(0, i - 4), i), end, end + 1))
    first = i
    while scan.key(first - 1) == "-" and scan.at(first).glued and scan.at(first - 2).kind == "num":
        first -= 2
    near = range(max(0, first - 3), i)
    if not called and any(scan.key(k) in _RECORDS or scan.role(k, "label") == "serial" for k in near):
        scan.use(i, end)
        return
    alone = is_clause_end(scan, end) or end >= len(scan.pieces)
    if groups > 1 or called or len(digits) == 10 or scan.at(i).words or (alone and not scan.at(i).glued):
        begin = i - (scan.key(i - 1) == "(")
        scan.mark("contact", True, begin, end)


def _single_digits(scan: Scan, j: int) -> bool:
    """``555 0 1 4 4``: digit by digit."""
    return len(scan.at(j).raw) == 1 and len(scan.at(j - 1).raw) == 1 and scan.at(j - 1).kind == "num"


def _phone_part(scan: Scan, digits: str, j: int) -> bool:
    """Whether the next group carries a telephone number on: 3-4, 3-3-4 or 1-3-3-4 digits, or spoken ones."""
    raw = scan.at(j).raw
    if not raw.isdigit():
        return False
    spoken = scan.at(j).words or any(scan.at(k).words for k in (j - 1, j - 2))
    if (spoken or _single_digits(scan, j)) and len(digits) < 10:
        return True
    if scan.key(j - 1) == "(" and len(raw) != len("555"):
        return False  # T-25 250 (2010): only an area code stands in brackets
    groups = {1: (3,), 3: (3, 4), 6: (4,), 7: (4,)}
    spaced = scan.at(j - 1).kind == "num"
    if (
        spaced
        and len(digits) == 3
        and len(raw) == 4
        and not digits.startswith("555")
        and not any(scan.role(k, "label") == "phone" for k in range(max(0, j - 5), j))
    ):
        return False
    return len(raw) in groups.get(len(digits), ()) and not (
        len(digits) == 3 and len(raw) == 4 and scan.key(j - 1) == ","
    )


def _separates(scan: Scan, k: int, words: bool) -> bool:
    key = scan.key(k)
    if key in (".", "/"):
        return scan.at(k).glued and scan.at(k + 1).glued
    return key in ("-", ")", "(") or (key == "," and words)


def _dotted(scan: Scan, i: int) -> bool:
    """``555.0117`` and ``303.555.0117``."""
    whole, point, rest = scan.at(i).raw.partition(".")
    return (bool(point) and len(whole) == 3 and len(rest) == 4 and whole == "555") or (
        len(whole) == 3 and len(rest) == 3 and (scan.key(i + 1) == "." or len(scan.key(i + 1)) == _DOT_AND_FOUR)
    )


def zips(scan: Scan) -> None:
    """Five digits after ``zip``, a place word, or a name."""
    for i in scan.numbers():
        piece = scan.at(i)
        if len(piece.raw) != 5 or not piece.raw.isdigit() or scan.key(i - 1) in ("$", "#") or piece.words:
            continue
        if scan.key(i - 1) in _RECORDS or scan.key(i + 1) in ("$", "obo"):
            continue
        if (
            scan.unit(i)
            or scan.role(i - 1, "label") in ("serial", "mileage", "price")
            or (piece.glued and i and scan.at(i - 1).kind != "sym")
        ):
            continue
        before = scan.before(i)
        named = scan.role(before, "label") == "zip" or any(
            scan.role(k, "label") == "zip" for k in range(max(0, i - 5), i)
        )
        place = scan.at(i - 1).kind == "word" and not scan.at(i - 1).facts and not scan.at(i - 1).roles
        place = place or (
            scan.key(i - 1) in (",", "(", ".") and scan.at(i - 2).kind == "word" and not scan.at(i - 2).facts
        )
        place = (
            place or scan.key(i - 1) in ("in", "|", "from", "near", "around") or i == 0 or scan.at(i - 1).kind == "line"
        )
        sentence = is_clause_end(scan, i - 1) and (is_clause_end(scan, i + 1) or i + 1 >= len(scan.pieces))
        plus_four = scan.key(i + 1) == "-" and scan.at(i + 1).glued and len(scan.at(i + 2).raw) == 4
        place = place or plus_four or (sentence and int(piece.raw) % 100 != 0)
        if named or (place and scan.at(before).roles.get("label") != "mileage"):
            scan.mark("zip", piece.raw, i, i + 1)


def miles(scan: Scan) -> None:
    """Odometer readings and distances."""
    for i in scan.numbers():
        if not scan.used[i] and scan.key(i - 1) not in ("$", "us$"):  # $425 ODO 141022: the word is of what follows
            _miles(scan, i)


def _miles(scan: Scan, i: int) -> None:
    value, unit, end, thousands = _length(scan, i)
    if not unit and _told_km(scan, i):
        unit, value = "km", value * 1000 if len(scan.pieces[i].raw.partition(".")[2]) == 3 else value
    if unit == "mile" and _IN_THOUSANDS[0] <= value <= _IN_THOUSANDS[1] and scan.key(end - 1) in _DIALS:
        value *= 1000  # 188 on the clock
    if not unit and not thousands and value % 1 == 0 and _bare_thousands(scan, i, value):
        value *= 1000
    far = unit in ("mile", "km")
    if far and scan.key(i - 1) == "-" and scan.at(i - 2).kind == "num" and scan.at(i - 2).glued is False:
        scan.use(i - 2, end)  # 120-130k miles
        return
    if (
        not far
        and not _told_miles(scan, i)
        and not ((thousands or _as_driven(scan, i)) and 18_000 <= value <= 450_000 and _odometer(scan, i, end))
    ):
        return
    away = far and value < _FARTHEST and _from_the_reader(scan, i, end)
    if any(scan.role(k, "cue") == "radius" for k in range(max(0, i - 3), i)):
        scan.use(i, end)
    elif away:
        scan.mark("distance_mi", value * (_KM if unit == "km" else 1), i, end)
    elif (scan.key(i - 1) in _REJECTS and not _retired(scan, i)) or scan.role(end, "cue") == "missing-fact":
        scan.use(i, end)
    elif _ODOMETER_LOW <= value <= _ODOMETER_HIGH or (far and _hardly_driven(scan, i)):
        scan.mark("mileage_mi", round(value * _KM) if unit == "km" else int(value), i, end)
    else:
        scan.use(i, end)


_DOT_AND_FOUR = 5
_FARTHEST = 2500
_TAKE_OFF = frozenset({"take off", "takeoff", "take offs", "delivery miles", "brand new", "new take off"})


def _from_the_reader(scan: Scan, i: int, end: int) -> bool:
    """``40 mi away``, ``12 miles frm you``; not ``30 miles from you if you live in ...``."""
    words = [scan.key(k) for k in range(end + 1, end + 6)]
    if "live" in words and any(word.startswith("if") for word in words):
        return False
    if scan.key(end) in ("from", "frm"):
        return scan.key(end + 1) in _THE_READER or end + 1 >= len(scan.pieces) or is_clause_end(scan, end + 1)
    cell = scan.key(i - 1) == "|" and (scan.key(end) == "|" or end >= len(scan.pieces) or scan.at(end).kind == "line")
    away = scan.role(end, "unit") == "away" and scan.key(end).partition(" ")[0] in _FROM_HERE
    return away or scan.key(end) == "out" or cell


_FROM_HERE = frozenset({"away", "from", "up", "down", "de"})
"""``8 miles north of town`` is no distance from the reader."""
_THE_READER = frozenset(
    {"you", "u", "ur", "where", "there", "yous", "me", "here", "your", "ya", "yall", "your place", "yours", "us"}
)


def _hardly_driven(scan: Scan, i: int) -> bool:
    """``take off, 312 miles``: the few miles of a new truck."""
    return not _TAKE_OFF.isdisjoint(scan.keys)


def _length(scan: Scan, i: int) -> tuple[float, str, int, bool]:
    """A number with its unit, where they end, and whether it was written in thousands."""
    value, unit, end = scan.pieces[i].value or 0.0, scan.unit(i), scan.after(i) + 1
    if scan.key(i + 1) == "ish" and scan.role(i + 2, "unit") in ("thousand", "mile", "km"):
        unit, end = scan.role(i + 2, "unit"), i + 3  # 140ish thousand
    if unit == "thousand" and scan.key(end - 1) == "k" and not scan.at(end - 1).glued and scan.at(end).glued:
        unit = ""  # 92 K1500
    if unit == "thousand":
        unit = scan.role(end, "unit")
        return value * 1000, unit, end + (unit in ("mile", "km")), True
    hidden = i + 1 + (scan.key(i + 1) == "," and scan.key(i + 2) == "xxx")
    if scan.key(hidden) in ("xxx", "xx", "x") and scan.at(hidden).glued:
        digits = scan.pieces[i].raw.replace(",", "").partition(".")[0]  # 61,0xx
        whole, unit = int(digits) if digits.isdigit() else 0, scan.role(hidden + 1, "unit")
        written = whole * 10 ** len(scan.key(hidden))
        return written, unit, hidden + 1 + (unit in ("mile", "km")), scan.key(hidden) == "xxx"
    if unit == "km" and len(scan.pieces[i].raw.partition(".")[2]) == 3:
        value *= 1000
    return value, unit, end, False


_RETIRED = frozenset({
    "pulled", "scrap", "scrapped", "wrecked", "parked", "retired", "service", "out of service", "totaled", "totalled",
    "died", "removed", "taken out", "came out", "crushed", "rolled", "wreck", "out", "took", "pulled from",
})  # fmt: skip
_DIALS = frozenset({"on the clock", "on the odometer", "on the odo", "on the dash", "on odometer", "on odo"})
_IN_THOUSANDS = (60, 450)


def _retired(scan: Scan, i: int) -> bool:
    """``scrapped at 96k``, ``now at 131k``: the donor's miles when it went out of use or as it is, not of a repair."""
    if scan.key(i - 1) != "at":
        return False
    if scan.key(i - 2) in ("now", "currently", "sitting", "sits"):
        return True
    for k in range(i - 2, max(i - 9, -1), -1):
        if is_clause_end(scan, k):
            return False
        if scan.key(k) in _RETIRED:
            return True
    return False


def _bare_thousands(scan: Scan, i: int, value: float) -> bool:
    """``mileage 117``: nobody tells a truck's miles one by one."""
    return _IN_THOUSANDS[0] <= value <= _IN_THOUSANDS[1] and _told_miles(scan, i) and "," not in scan.pieces[i].raw


def _as_driven(scan: Scan, i: int) -> bool:
    """``had 118,000 on it``, ``298,000 and change``, ``pulled it at 171,400``: miles, though nobody says so."""
    key, following = scan.key(i + 1), scan.key(i + 2)
    on_it = key in ("on it", "on the truck", "on truck") or (key == "on" and following in ("it", "her", "truck", "the"))
    return on_it or (key == "and" and following == "change") or _retired(scan, i) or _in_its_cell(scan, i)


def _in_its_cell(scan: Scan, i: int) -> bool:
    """``| 131,207 |``: in a row of cells, with a price of its own elsewhere, so many of anything are miles."""
    return "," in scan.at(i).raw and scan.key(i - 1) == "|" == scan.key(i + 1) and priced_elsewhere(scan)


def _told_km(scan: Scan, i: int) -> bool:
    """``km on it 288,000``, ``kilometer 255.000``: the unit stands before the number."""
    before = scan.before(i)
    before -= scan.key(before) in ("on it", "on")
    return scan.role(before, "unit") == "km" and scan.at(before - 1).kind != "num"


def _told_miles(scan: Scan, i: int) -> bool:
    """Whether a word before says that the number is miles, and has no number of its own."""
    before = scan.before(i)
    own = scan.used[before] or (scan.at(before - 1).kind == "num" and scan.used[before - 1])
    return scan.role(before, "label") == "mileage" and not own


def _odometer(scan: Scan, i: int, end: int) -> bool:
    label = "" if scan.key(i - 1) in ("only", "just") else scan.role(scan.before(i), "label")
    ranged = scan.key(i - 1) == "-" and scan.at(i - 2).kind == "num"
    if scan.key(i - 1) in ("$", "us$") or label in ("price", "ratio") or ranged:
        return False
    following = scan.at(end)
    return not (following.roles.get("unit") == "dollar" or any(name == "price_terms" for name, _ in following.facts))
