"""Step 8a: numbers that only look like figures of an axle: used up, said nothing."""

from donorbase.reading.dating import behind_an_axle
from donorbase.reading.scan import Scan
from donorbase.reading.sizes import SERIES

_NOISE_LABELS = frozenset({"wall", "od"})
_OF_OTHER_THINGS = frozenset({"other-width", "wall"})
_LONGEST_MM = 5000
_FARTHEST_LABEL = 6
_SERIAL_SIGNS = frozenset({"#", ":", ".", "no", "-"})
_SHORT_WORDS_OF_YEARS = frozenset({"pre", "mid"})


def noise(scan: Scan) -> None:
    """Use up sizes, weights, forces, times and shelf marks."""
    for i in scan.numbers():
        if scan.used[i]:
            continue
        if behind_an_axle(scan, i) and scan.at(i + 1).facts:
            continue  # front axle 78 hp: a year before a high pinion
        if scan.unit(i) in ("noise", "percent") or scan.key(i + 1) in ("%", "°"):
            scan.use(i, scan.after(i) + 1 if scan.role(scan.after(i), "label") != "tire" else i + 1)
        elif _by(scan, i) or _serial(scan, i) or _of_another_thing(scan, i):
            scan.use(i, i + 1)


def _of_another_thing(scan: Scan, i: int) -> bool:
    """``.5 wall``, ``42 in long``, ``perch width 42``, ``300 mm``."""
    after, unit = scan.role(i + 1, "label"), scan.unit(i)
    if after in _OF_OTHER_THINGS or scan.role(scan.before(i), "label") == "other-width":
        return True
    if unit == "inch" and scan.role(scan.after(i) + 1, "label") == "wall":
        return True
    if unit in ("mm", "cm") and (scan.pieces[i].value or 0) < _LONGEST_MM:
        return True
    return scan.pieces[i].raw.startswith(".") and after in _NOISE_LABELS


def _by(scan: Scan, i: int) -> bool:
    """Part of ``35x12.50R20``, ``36x84``, ``9/16-18``."""
    crossed = scan.key(i + 1) == "x" and scan.at(i + 2).kind == "num"
    crossed = crossed or (scan.key(i - 1) == "x" and scan.at(i - 2).kind == "num")
    rim = scan.key(i + 1) == "r" and scan.at(i + 1).glued and scan.at(i + 2).kind == "num" and scan.at(i + 2).glued
    rim = rim or (scan.key(i - 1) == "r" and scan.at(i - 1).glued and scan.at(i).glued and scan.at(i - 2).kind == "num")
    return crossed or rim


def _serial(scan: Scan, i: int) -> bool:
    """``LOT 217``, ``STK# 10-4471``, ``R12-04``, ``A-07``: a mark on a shelf."""
    if scan.unit(i) in ("mile", "km"):
        return False
    before = i - 1
    while scan.key(before) in _SERIAL_SIGNS or (
        scan.at(before).kind == "num" and scan.at(i).glued and scan.key(i - 1) == "-"
    ):
        before -= 1
        if i - before > _FARTHEST_LABEL:
            return False
    if scan.key(i - 1) == "#" or scan.role(before, "label") == "serial":
        return True
    return _behind_a_letter(scan, i) or _behind_a_hyphen(scan, i) or _series(scan, i)


def _behind_a_letter(scan: Scan, i: int) -> bool:
    """``R12``."""
    letter = scan.at(i - 1)
    lettered = scan.at(i).glued and letter.kind == "word" and len(letter.key) == 1 and not letter.glued
    return lettered and letter.key not in ("x", "w", "$")


def _behind_a_hyphen(scan: Scan, i: int) -> bool:
    """``A-07``, and ``-04`` behind a number that is used up."""
    if scan.key(i - 1) != "-" or not scan.at(i - 1).glued or not scan.at(i).glued:
        return False
    first = scan.at(i - 2)
    if first.kind == "num":
        return bool(scan.used[i - 2]) and first.glued
    short = first.kind == "word" and len(first.key) <= 3 and first.key not in _SHORT_WORDS_OF_YEARS
    return short and not first.facts and first.roles.get("label") != "year"


def _series(scan: Scan, i: int) -> bool:
    """``1350``: a size of joints, unless it is called a price."""
    if scan.at(i).raw not in SERIES or "$" in (scan.key(i - 1), scan.key(i + 1)) or scan.unit(i) == "dollar":
        return False
    return not any(name == "price_terms" for name, _ in scan.at(i + 1).facts)
