"""Step 6: ratios, in all the ways that people write them, and tooth counts."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.dating import priced_elsewhere
from donorbase.reading.scan import Scan

# Ratios that were sold (common practice). Digits without a point are only taken for one of these.
SOLD = frozenset({
    2.28, 2.41, 2.47, 2.56, 2.73, 2.75, 2.76, 2.93, 2.94, 3.00, 3.07, 3.08, 3.15, 3.21, 3.23, 3.25, 3.27, 3.31,
    3.36, 3.42, 3.45,
    3.50, 3.54, 3.55, 3.58, 3.64, 3.70, 3.73, 3.89, 3.90, 3.91, 3.92, 4.00, 4.09, 4.10, 4.11, 4.22, 4.27, 4.30,
    4.33, 4.44, 4.56,
    4.57, 4.62, 4.63, 4.70, 4.75, 4.78, 4.86, 4.88, 4.89, 5.12, 5.13, 5.14, 5.29, 5.38, 5.43, 5.57, 5.71, 5.83,
    5.86, 5.87, 5.89, 6.14,
    6.17, 6.20, 6.50, 6.72, 7.17, 7.20,
})  # fmt: skip
_RING_TEETH, _PINION_TEETH = range(28, 75), range(6, 17)
_LOW, _HIGH = 2.2, 8.0
_ANNOUNCES = frozenset({"ratio", "tag"})


def ratios(scan: Scan) -> None:
    """Every ratio that its writing or its neighbours make sure."""
    coded = "l" in scan.keys
    pinion = " pinion" in " ".join(["", *scan.keys])
    for rule in (
        _tooth_labels,
        _named_teeth,
        _tooth_pairs,
        _tag_codes,
        _to_one,
        _colon,
        _spaced,
        _parted,
        _plural,
        _announced,
        _plain,
    ):
        if (rule is _tag_codes and not coded) or (rule is _named_teeth and not pinion):
            continue
        for i in scan.numbers():
            if not scan.used[i]:
                rule(scan, i)


def _found(scan: Scan, value: float, begin: int, end: int) -> None:
    end += scan.key(end) in ("s", "'s") and scan.at(end).glued
    before = scan.before(begin)
    changed = scan.role(before, "cue") == "changed" or any(scan.key(k) == "now" for k in range(before + 1, begin))
    flags = ["now"] if changed and not _first_person(scan, begin) else []
    scan.mark("ratio", round(value, 3), begin, end, *flags, *(["choice"] if _twofold(scan, begin, end) else []))


def _first_person(scan: Scan, i: int) -> bool:
    """``when I regeared to 4.88``: the ratio may be another axle's."""
    return any(scan.key(k) in ("i", "we", "im", "ive", "mine") for k in range(max(0, i - 5), i))


def _twofold(scan: Scan, begin: int, end: int) -> bool:
    """``5.57/7.75``, ``between 3.55 and 3.73``: two ratios joined, of a two-speed axle or of one of two."""
    joint = ("/",) if scan.key(begin - 1) != "between" else ("and", "&")
    after = scan.at(end + 1).raw if scan.key(end) in joint else ""
    before = scan.at(begin - 2).raw if scan.key(begin - 1) in (*joint, "and") and _spanned(scan, begin) else ""
    return any(
        raw != scan.at(begin).raw and len(raw) == 4 and raw[1:2] == "." and float(raw) >= _LOW
        for raw in (after, before)
    )


def _spanned(scan: Scan, begin: int) -> bool:
    return scan.key(begin - 1) != "and" or scan.key(begin - 3) == "between"


def announced(scan: Scan, i: int, end: int) -> bool:
    """Whether a word right before or after says that the number is a ratio."""
    following = end + (scan.key(end) in ("s", "'s", ":", "axle"))
    if scan.role(following, "label") in _ANNOUNCES or dict(scan.at(following).facts).get("part") == "ring-and-pinion":
        return True
    before = scan.before(i)
    return scan.role(before, "label") in _ANNOUNCES and not (
        before == i - 1 and scan.at(before - 1).kind == "num" and scan.used[before - 1]
    )


def _tooth_labels(scan: Scan, i: int) -> None:
    """``Pinion teeth 11, ring teeth 41``; ``41 tooth ring, 11 tooth pinion``."""
    if ("label", "ring-teeth") not in scan.roles or ("label", "pinion-teeth") not in scan.roles:
        return
    teeth = {"ring-teeth": None, "pinion-teeth": None}
    for k in range(i - 1, min(i + 6, len(scan.pieces))):
        label = scan.role(k, "label")
        if label in teeth and scan.at(k + 1).kind == "num":
            teeth[label] = k + 1  # type: ignore[assignment]
    ring, pinion = teeth["ring-teeth"], teeth["pinion-teeth"]
    if ring is not None and pinion is not None:
        _quotient(scan, ring, pinion, min(ring, pinion), max(ring, pinion) + 1)


def _quotient(scan: Scan, ring: int, pinion: int, begin: int, end: int) -> bool:
    over, under = scan.at(ring).value, scan.at(pinion).value
    if over not in _RING_TEETH or under not in _PINION_TEETH:
        return False
    if not scan.at(ring).raw.isdigit() or scan.at(pinion).raw.startswith("0"):
        return False
    value = round(over / under, 2)  # type: ignore[operator]
    if not _LOW <= value <= _HIGH:
        return False
    scan.mark("ratio", value, begin, end, "counted")
    return True


def _named_teeth(scan: Scan, i: int) -> None:
    """``37 on the ring and 9 on the pinion``, ``ring 41 pinion 10``: each count beside the name of its gear."""
    if scan.at(i).value not in _RING_TEETH or not _beside(scan, i, "ring") or scan.unit(i) == "inch":
        return
    for j in (*range(i + 1, i + 9), *range(max(0, i - 8), i)):
        if scan.at(j).kind == "num" and scan.at(j).value in _PINION_TEETH and _beside(scan, j, "pinion"):
            _quotient(scan, i, j, min(i, j), max(i, j) + 1)
            return


def _beside(scan: Scan, i: int, gear: str) -> bool:
    """Whether a count stands right before or after the name of a gear."""
    k = i + 1
    while k < i + 4 and scan.key(k) in ("on", "the", "t", "tooth", "teeth", "-", "in"):
        k += 1
    return scan.key(k).startswith(gear) or scan.key(scan.before(i)).startswith(gear)


_TEETH = frozenset({"tooth", "teeth", "t", "ring", "ring gear", "gear", "crown", "on the ring", "dientes", "dents"})
_TOOTH_LINKS = frozenset({"/", "-", "over", "and", ":", "to", "x", "by", "&", "n", "y", ","})


def _tooth_pairs(scan: Scan, i: int) -> None:
    """``41/10``, ``41-10``, ``41 over 10``, ``41 tooth ring, 10 tooth pinion``, where gears or teeth are spoken of."""
    gap = i + 1
    while gap < i + 5 and (scan.key(gap) in _TEETH or (scan.key(gap) == "-" and scan.key(gap + 1) in _TEETH)):
        gap += 1
    said, link = gap > i + 1, scan.key(gap)
    second = gap + (link in _TOOTH_LINKS)
    tagged = scan.role(scan.before(i), "label") == "tag"
    if (second == gap and not said and not tagged) or scan.at(second).kind != "num" or (link == "," and not said):
        return
    near = range(max(0, i - 8), min(len(scan.pieces), second + 7))
    told = any(scan.role(k, "label") in ("ratio", "tag", "ring-teeth", "pinion-teeth") for k in near)
    told = told or link == "over" or (said and any(scan.key(k).startswith("pinion") for k in range(second, second + 4)))
    if told and not _quotient(scan, i, second, i, second + 1):
        _quotient(scan, second, i, i, second + 1)


def _tag_codes(scan: Scan, i: int) -> None:
    """``3L73`` on a ratio tag: 3.73 with a limited slip."""
    if scan.key(i + 1) == "l" and scan.at(i + 1).glued and scan.at(i + 2).glued and scan.at(i + 2).raw.isdigit():
        value = _joined(scan, i, i + 2)
        if value in SOLD:
            scan.mark("ratio", value, i, i + 3)
            scan.mark("differential", "limited-slip", i, i + 3)


def _joined(scan: Scan, first: int, second: int) -> float | None:
    a, b = scan.at(first).raw, scan.at(second).raw
    if len(a) == 1 and len(b) == 2 and a.isdigit() and b.isdigit():
        return float(f"{a}.{b}")
    return None


def _to_one(scan: Scan, i: int) -> None:
    """``3.73:1``, ``4.625 to 1``."""
    value = scan.pieces[i].value or 0
    to_one = scan.key(i + 1) in (":", "to") and scan.at(i + 2).raw in ("1", "1.0", "1.00")
    if to_one and _LOW <= value <= _HIGH and not scan.pieces[i].raw.isdigit():
        scan.mark("ratio", value, i, i + 3)


_POINTS = frozenset({":", ".", ","})


def _spaced(scan: Scan, i: int) -> None:
    """``3 : 73``, ``3 . 42``: a point with a gap on both sides."""
    apart = scan.key(i + 1) in _POINTS and not scan.at(i + 1).glued and not scan.at(i + 2).glued
    value = _joined(scan, i, i + 2) if apart else None
    if value in SOLD and scan.role(i + 3, "unit") == "" and scan.key(i - 1) not in ("$", "x"):
        _found(scan, value, i, i + 3)


def _colon(scan: Scan, i: int) -> None:
    """``4:10``, unless it is the time of day."""
    value = _joined(scan, i, i + 2) if scan.key(i + 1) in (":", ";") and scan.at(i + 2).glued else None
    if value is None or not _LOW <= value <= _HIGH:
        return
    timely = (
        scan.unit(i + 2) == "noise" or scan.role(i - 1, "label") in ("time", "date", "phone") or scan.key(i - 1) == "-"
    )
    timely = timely or scan.key(i + 3) == "-" or scan.key(i - 1) in ("at", "around", "@")
    if (value in SOLD and not timely) or announced(scan, i, i + 3):
        _found(scan, value, i, i + 3)


def _parted(scan: Scan, i: int) -> None:
    """``4 10 gears``, ``4-10s``, ``4/10 gears``, ``five 13s``; without such a word where both sides tell an axle."""
    joint = scan.key(i + 1) if scan.key(i + 1) in ("-", "/") and scan.at(i + 1).glued else ""
    second = i + 1 + bool(joint)
    value = _joined(scan, i, second)
    if value is None or value not in SOLD:
        return
    s = second + 1 + (scan.key(second + 1) == "'")
    plural = scan.at(second).plural or (scan.key(s) == "s" and scan.at(s).glued)
    if scan.pieces[i].words and not plural:
        return
    tagged = any(scan.role(k, "label") == "tag" for k in range(i - 3, second + 7)) and joint != "/"
    told = tagged or announced(scan, i, second + 1) or (_geared_diff(scan, second + 1) and not joint)
    told = told or (not joint and not scan.at(second).glued and _among_facts(scan, i, second))
    if (plural and joint != "/") or (told and scan.role(scan.after(second), "unit") in ("", "noise")):
        _found(scan, value, i, second + 1)


_PLAIN_RATIOS = frozenset({
    3.07, 3.08, 3.21, 3.23, 3.31, 3.42, 3.54, 3.55, 3.73, 4.10, 4.11, 4.27, 4.30, 4.56, 4.88, 5.13, 5.38,
})  # fmt: skip
"""Ratios whose digits are hardly a price, a model or a count."""


def _among_facts(scan: Scan, i: int, last: int) -> bool:
    """``kp 410 dd``, ``drums 3 55 8 lug``, ``, 3 73, manual hubs``: nothing but what tells an axle stands beside."""
    value = _joined(scan, i, last) if last > i else _digits(scan, i)
    alone = is_clause_end(scan, i - 1) and is_clause_end(scan, last + 1) and last > i
    beside = _tells(scan, i - 1, before=True) and _tells(scan, last + 1, before=False)
    return value in _PLAIN_RATIOS and (alone or beside)


_MONEY = frozenset({"price", "phone", "time", "date", "serial", "mileage", "zip"})


def _tells(scan: Scan, k: int, *, before: bool) -> bool:
    """Whether a piece tells something of an axle, or is a stop."""
    piece = scan.at(k)
    if before and (piece.roles.get("label") in _MONEY or piece.roles.get("cue") or piece.key in ("$", "#", "-")):
        return False
    if piece.key in (".", ",", "|", ";", "") or piece.kind == "line":
        around = scan.at(k - 1) if before else scan.at(k + 1)
        return (
            piece.key not in ("", ",") and around.roles.get("label") not in _MONEY and bool(around.facts or not before)
        )
    if piece.kind == "num":
        return not before and scan.unit(k) in ("lug", "spline", "bolt") and piece.value != scan.at(k - 1).value
    names = {name for name, _ in piece.facts}
    return bool(names - {"price_terms", "offer", "position", "load_class", "rear_wheels", "part"})


def _geared_diff(scan: Scan, i: int) -> bool:
    return any(name == "differential" for name, _ in scan.at(i).facts)


def _digits(scan: Scan, i: int) -> float | None:
    raw = scan.pieces[i].raw
    if len(raw) == 3 and raw.isdigit() and int(raw) / 100 in SOLD:
        return int(raw) / 100
    return None


def _plural(scan: Scan, i: int) -> None:
    """``410s``, ``4.56's``, ``three seventy threes``."""
    piece, value = scan.pieces[i], _digits(scan, i)
    if value is None and "." in piece.raw and _LOW <= (piece.value or 0) <= _HIGH and len(piece.raw) == 4:
        value = piece.value
    if value is None:
        return
    s = scan.key(i + 1) == "s" and scan.at(i + 1).glued
    apostrophe = scan.key(i + 1) == "'" and scan.key(i + 2) == "s"
    if piece.plural or s or apostrophe:
        scan.mark("ratio", value, i, i + 1 + s + 2 * apostrophe)


_NO_RATIO_UNITS = frozenset({"dollar", "mile", "spline", "lug", "inch", "mm", "noise", "km", "bolt"})


def _announced(scan: Scan, i: int) -> None:
    """``410 gears``, ``geared 456``, ``ratio 4.1``, ``373 posi``, ``gears three sixty``, ``ratio 3,909``."""
    piece = scan.pieces[i]
    if scan.key(i - 1) in ("$", "us$") or scan.unit(i) in _NO_RATIO_UNITS:
        return
    value = _digits(scan, i)
    if value is None and ("." in piece.raw or "," in piece.raw):
        value = piece.value if (piece.value or 0) < _THOUSAND else (piece.value or 0) / _THOUSAND
        value = value if value and _LOW <= value <= _HIGH else None
    spoken = piece.words and len(piece.raw) == 3 and _LOW <= (piece.value or 0) / 100 <= _HIGH
    if value is None and spoken and announced(scan, i, i + 1):
        value = (piece.value or 0) / 100
    if value is None:
        return
    told = announced(scan, i, i + 1) or (_geared_diff(scan, i + 1) and not _priced(scan, i)) or _by_tag(scan, i)
    told = told or (piece.words and value in _PLAIN_RATIOS and _with_a_diff(scan, i + 1))
    told = told or (piece.raw.isdigit() and (_among_facts(scan, i, i) or _names_its_axle(scan, i, value)))
    alone = piece.words and len(piece.raw) == 3 and round(value * 100) % 50 != 0  # ``six fifty`` is money
    alone = alone and (priced_elsewhere(scan) or not any(m.attribute == "ratio" for m in scan.marks))
    if told or (alone and _stands_alone(scan, i)):
        _found(scan, value, i, i + 1)


def _with_a_diff(scan: Scan, k: int) -> bool:
    """``a four-ten with the posi``."""
    with_it = scan.key(k) in ("with", "w/", "and")
    return with_it and _geared_diff(scan, k + 1 + (scan.key(k + 1) in ("the", "a", "an")))


def _names_its_axle(scan: Scan, i: int, value: float) -> bool:
    """``this 373 rear``, ``the 410 axle``."""
    named = scan.role(i + 1, "item") == "axle" or any(name == "position" for name, _ in scan.at(i + 1).facts)
    return named and value in _PLAIN_RATIOS and scan.key(i - 1) in ("this", "the", "a", "my", "that")


_THOUSAND = 1000


def _by_tag(scan: Scan, i: int) -> bool:
    """``says 373 on the tag``."""
    return scan.key(i + 1) in ("on", "by", "per") and scan.role(i + 2 + (scan.key(i + 2) == "the"), "label") == "tag"


def _stands_alone(scan: Scan, i: int) -> bool:
    ends = is_clause_end(scan, i + 1) or i + 1 >= len(scan.pieces)
    return ends and (i == 0 or is_clause_end(scan, i - 1))


def _priced(scan: Scan, i: int) -> bool:
    return scan.role(i - 1, "label") == "price" or any(n == "price_terms" for n, _ in scan.at(i + 1).facts)


_SIZE_UNITS = frozenset({
    "inch", "mm", "cm", "dollar", "noise", "mile", "km", "thousand", "grand", "foot", "lug", "spline", "bolt",
})  # fmt: skip
_SIZE_LABELS = frozenset({"wall", "od", "tube", "shaft-dia", "width", "circle", "other-width"})
_ROUND_THINGS = frozenset({"tube", "od", "wall"})
_SMALLEST_RING = 7.0
"""Inches: what is smaller and stands beside ``ring`` is a ratio (``4.10 ring``)."""
_NO_RATIO_BEFORE = frozenset({"$", "x", "€", "£", "#"})


def _plain(scan: Scan, i: int) -> None:
    """A bare number with two or three decimals in the range of ratios."""
    raw, value = scan.pieces[i].raw, scan.pieces[i].value or 0.0
    decimals = raw.replace(",", ".").partition(".")[2]
    sold = round(value, 2) in SOLD
    if len(decimals) not in (2, 3) or not _LOW <= value <= 7.3 or (len(decimals) == 3 and not sold):
        return
    if scan.key(i - 1) in _NO_RATIO_BEFORE or scan.key(i + 1) in ("x", "%"):
        return
    if not sold and "/" in (scan.key(i - 1), scan.key(i + 1)):
        return
    inches = scan.key(i + 1) == "in" and sold and not is_clause_end(scan, i + 2)
    if (scan.unit(i) in _SIZE_UNITS and not inches) or _per_piece(scan, i):
        return
    if not _measures(scan, i, sold):
        _found(scan, value, i, i + 1)


def _per_piece(scan: Scan, i: int) -> bool:
    """``4.10 an hour``, ``4.56 a gallon``, ``diesel is 3.73``: what something costs."""
    rate = scan.key(i + 1) in ("a", "an", "per", "/") and scan.role(i + 2, "unit") in ("noise", "mile", "foot")
    before = scan.before(i)
    return rate or (before < i - 1 and scan.key(before) in ("gas", "diesel", "fuel"))


def _measures(scan: Scan, i: int, sold: bool) -> bool:
    """Whether a word beside the number makes it a size: of anything, or for a ratio that is sold of a tube."""
    before, after = scan.role(scan.before(i), "label"), scan.role(i + 1, "label")
    if "ring" in (before, after) and (scan.at(i).value or 0) >= _SMALLEST_RING:
        return True
    if sold:
        if scan.unit(i) == "inch" and scan.role(i + 2, "label") in _ROUND_THINGS:
            return True
        return before in _ROUND_THINGS or (after in _ROUND_THINGS and scan.key(i + 1) != "thick")
    return before in _SIZE_LABELS or after in _SIZE_LABELS
