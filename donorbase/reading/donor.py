"""Step 9: the donor's miles, how far away it is, its number; how to reach the seller."""

from donorbase.reading.scan import Scan

_KM = 0.621371
_VIN_LENGTH = 17
_VIN_SLIPS = str.maketrans("OQI", "001")
_REJECTS = frozenset({"at", "every", "per", "last", "next", "for", "only drove"})
_ODOMETER_LOW, _ODOMETER_HIGH = 1000, 999_999


def vins(scan: Scan) -> None:
    """Seventeen letters and digits in one run; O, Q and I are mended where the word VIN stands before."""
    i = 0
    while i < len(scan.pieces):
        end, size = i + 1, len(scan.pieces[i].raw)
        while (
            end < len(scan.pieces)
            and scan.pieces[end].glued
            and scan.pieces[end].kind in ("num", "word")
            and size <= _VIN_LENGTH
        ):
            size += len(scan.pieces[end].raw)
            end += 1
        if (size == _VIN_LENGTH and end > i + 1) or (size == _VIN_LENGTH and scan.pieces[i].kind == "num"):
            _vin(scan, i, end)
        i = end


def _vin(scan: Scan, begin: int, end: int) -> None:
    raw = "".join(p.raw for p in scan.pieces[begin:end]).upper()
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
        elif piece.key in ("at",) and scan.key(i + 2) == "dot" and i and scan.at(i + 3).kind == "word":
            scan.mark("contact", True, i - 1, i + 4)
    for i in list(scan.numbers()):
        if not scan.used[i]:
            _phone(scan, i)


def _phone(scan: Scan, i: int) -> None:
    if scan.key(i - 1) in ("$", "us$"):
        return  # $250 555-0154: a price stands before the number
    if not scan.at(i).raw.isdigit():
        if _dotted(scan, i):
            scan.mark("contact", True, i, i + 1 + 2 * (scan.key(i + 1) == "-"))
        return
    digits, end, groups = "", i, 0
    for _ in range(10):
        piece = scan.at(end)
        if piece.kind != "num" or not piece.raw.isdigit() or len(digits) + len(piece.raw) > 11:
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
    called = any(scan.role(k, "label") == "phone" for k in (*range(max(0, i - 4), i), end, end + 1))
    if len(digits) in (7, 10, 11) and (groups > 1 or called or len(digits) == 10 or scan.at(i).words):
        begin = i - (scan.key(i - 1) == "(")
        scan.mark("contact", True, begin, end)


def _phone_part(scan: Scan, digits: str, j: int) -> bool:
    """Whether the next group carries a telephone number on: 3-4, 3-3-4 or 1-3-3-4 digits, or spoken ones."""
    raw = scan.at(j).raw
    if not raw.isdigit():
        return False
    if scan.at(j).words and len(digits) < 10:
        return True
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
        len(whole) == 3 and len(rest) == 3 and scan.key(i + 1) == "."
    )


def zips(scan: Scan) -> None:
    """Five digits after ``zip``, a place word, or a name."""
    for i in list(scan.numbers()):
        piece = scan.at(i)
        if len(piece.raw) != 5 or not piece.raw.isdigit() or scan.key(i - 1) in ("$", "#") or piece.words:
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
        if named or (place and scan.at(before).roles.get("label") != "mileage"):
            scan.mark("zip", piece.raw, i, i + 1)


def miles(scan: Scan) -> None:
    """Odometer readings and distances."""
    for i in list(scan.numbers()):
        if not scan.used[i]:
            _miles(scan, i)


def _miles(scan: Scan, i: int) -> None:
    value, unit, end, thousands = _length(scan, i)
    far = unit in ("mile", "km")
    if (
        not far
        and not _told_miles(scan, i)
        and not (thousands and 18_000 <= value <= 450_000 and _odometer(scan, i, end))
    ):
        return
    away = far and value < 2500 and (scan.role(end, "unit") == "away" or scan.key(end) in ("from", "out"))
    if any(scan.role(k, "cue") == "radius" for k in range(max(0, i - 3), i)):
        scan.use(i, end)
    elif away:
        scan.mark("distance_mi", value * (_KM if unit == "km" else 1), i, end)
    elif scan.key(i - 1) in _REJECTS or scan.role(end, "cue") == "missing-fact":
        scan.use(i, end)
    elif _ODOMETER_LOW <= value <= _ODOMETER_HIGH:
        scan.mark("mileage_mi", round(value * _KM) if unit == "km" else int(value), i, end)
    else:
        scan.use(i, end)


def _length(scan: Scan, i: int) -> tuple[float, str, int, bool]:
    """A number with its unit, where they end, and whether it was written in thousands."""
    value, unit, end = scan.pieces[i].value or 0.0, scan.unit(i), scan.after(i) + 1
    if unit == "thousand":
        unit = scan.role(end, "unit")
        return value * 1000, unit, end + (unit in ("mile", "km")), True
    if scan.key(i + 1) in ("xxx", "xx", "x") and scan.at(i + 1).glued:
        whole, unit = int(scan.pieces[i].raw.replace(",", "").partition(".")[0]), scan.role(i + 2, "unit")
        return whole * 10 ** len(scan.key(i + 1)), unit, i + 2 + (unit in ("mile", "km")), False
    if unit == "km" and len(scan.pieces[i].raw.partition(".")[2]) == 3:
        value *= 1000
    return value, unit, end, False


def _told_miles(scan: Scan, i: int) -> bool:
    """Whether a word before says that the number is miles, and has no number of its own."""
    before = scan.before(i)
    own = scan.at(before - 1).kind == "num" and scan.used[before - 1]
    return scan.role(before, "label") == "mileage" and not own


def _odometer(scan: Scan, i: int, end: int) -> bool:
    if scan.key(i - 1) in ("$", "us$") or scan.role(scan.before(i), "label") in ("price", "ratio"):
        return False
    following = scan.at(end)
    return not (following.roles.get("unit") == "dollar" or any(name == "price_terms" for name, _ in following.facts))
