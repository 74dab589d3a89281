"""Step 5b: what truck it was, told by counts: tons that it is rated for, wheels that stood on a side."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Scan

_TONS = frozenset({"ton", "tons", "tn", "tonner", "tonne", "tonnes", "tonelada", "toneladas", "tonn", "tonnage"})
_CLASSES = {0.5: "half-ton", 0.75: "three-quarter-ton", 1.0: "one-ton"}
_OVER_ONE = frozenset({1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 5.0, 10.0})
_TOOLS = frozenset({
    "jack", "hoist", "press", "winch", "crane", "trailer", "lift", "capacity", "splitter", "chain", "of", "floor",
    "engine",
    "shop", "come", "bottle", "gantry", "forklift", "scrap", "stands", "gross", "gvw", "boat", "a", "hydraulic",
})  # fmt: skip
_WEIGHS = frozenset({"weighs", "weigh", "lifts", "rated", "weight", "about", "over"})
_WHEELS = frozenset({
    "wheel", "wheels", "tire", "tires", "tyre", "tyres", "rim", "rims", "llanta", "llantas", "rueda", "ruedas",
    "roue", "roues",
    "whl", "whls", "rubber",
})  # fmt: skip
_TO_A_SIDE = frozenset({
    "on", "in", "to", "at", "per", "a", "each", "every", "the", "either", "both", "por", "de", "cada", "par",
    "chaque", "for", "out", "back", "rear", "ea", "of", "by",
})  # fmt: skip
_SIDES = frozenset({"side", "sides", "end", "corner", "lado", "côté", "cote", "hub", "extremo"})
_REAR = frozenset(
    {"back", "rear", "in back", "out back", "rears", "back there", "out there", "atrás", "atras", "arrière", "arriere"}
)
_COUNTED = {1: "single", 2: "dual"}
_TWINNED = {
    **dict.fromkeys(("twin", "twins", "twinned", "double", "doubles", "doubled", "doubled up", "dual", "paired",
    "dobles"), "dual"),
    **dict.fromkeys(("single", "singles", "sencilla", "sencillas", "simple", "simples"), "single"),
}  # fmt: skip
_LONGEST_WAY = 5


def trucks(scan: Scan) -> None:
    """Mark the load class wherever tons are counted, and the rear wheels wherever they are counted to a side."""
    for i in scan.numbers():
        if not scan.used[i] and not _tons(scan, i):
            _wheels(scan, i)
    for i, key in enumerate(scan.keys[: len(scan.pieces)]):
        if key in _WHEELS and not scan.used[i]:
            count = scan.role(i - 1, "count")
            if not (count in ("1", "2") and _to_a_side(scan, i, int(count), i - 1)):
                _wheels_are(scan, i)


def _tons(scan: Scan, i: int) -> bool:
    """``1 1/4 ton``, ``2.5t``, ``tons: 1``, ``off a 3/4,``; not ``3 ton jack``, ``weighs 1 ton``."""
    value, k = scan.pieces[i].value or 0.0, scan.after(i)
    load_class = _CLASSES.get(value) or ("over-one-ton" if value in _OVER_ONE else "")
    if not load_class:
        return False
    counted = scan.key(k) in _TONS or (scan.key(k) == "t" and scan.at(k).glued)
    named = scan.key(scan.before(i)) in ("ton", "tons", "tonnage") and scan.key(i - 1) in (":", "=")
    short = scan.pieces[i].raw in ("3/4", "1/2") and _of_a_truck(scan, i)
    if not (counted or named or short) or (counted and (scan.key(k + 1) in _TOOLS or scan.key(i - 1) in _WEIGHS)):
        return False
    scan.mark("load_class", load_class, i, k + 1 if counted else i + 1)
    return True


def _of_a_truck(scan: Scan, i: int) -> bool:
    """Whether a bare fraction stands where only tons can: behind a year or ``off a``, before a stop."""
    ends = is_clause_end(scan, i + 1) or scan.role(i + 1, "cue") == "truck" or not scan.key(i + 1)
    ends = ends or (scan.at(i + 1).kind == "num" and len(scan.at(i + 1).raw) == 4 and not scan.unit(i + 1))
    dated = scan.role(i - 1, "cue") == "truck" or (
        scan.at(i - 1).kind == "num" and len(scan.at(i - 1).raw) in (2, 4) and scan.at(i - 1).raw.isdigit()
    )
    dated = dated or (scan.key(i - 1) == "," and scan.at(i - 2).kind == "num" and len(scan.at(i - 2).raw) in (2, 4))
    source = scan.role(i - 1, "cue") == "source" or (
        scan.key(i - 1) in ("a", "my", "the") and scan.role(i - 2, "cue") == "source"
    )
    return ends and scan.pieces[i].raw == "3/4" and (dated or source)


def _wheels(scan: Scan, i: int) -> None:
    """``two wheels on each side``, ``1 tire per side``, ``four wheels in back``."""
    value, k = scan.pieces[i].value or 0.0, i + 1 + (scan.key(i + 1) in ("rear", "back"))
    if scan.key(k) not in _WHEELS or value not in (1, 2, 4, 6):
        return
    if value in _COUNTED and _to_a_side(scan, k, int(value), i):
        return
    end = _over_the_way(scan, k)
    if value == 4 and scan.key(end) in _REAR and (end > k + 1 or " " in scan.key(end)):
        scan.mark("rear_wheels", "dual", i, end + 1)


def _over_the_way(scan: Scan, k: int) -> int:
    """Where the words that lead from the wheels to their side end."""
    end = k + 1
    while end < k + _LONGEST_WAY and scan.key(end) in _TO_A_SIDE and scan.key(end) not in _REAR:
        end += 1
    return end


def _to_a_side(scan: Scan, k: int, count: int, begin: int) -> bool:
    """Mark so many wheels, named at ``k``, where a side of the vehicle follows."""
    end = _over_the_way(scan, k)
    side = scan.key(end).rpartition(" ")[2] in _SIDES and (end > k + 1 or " " in scan.key(end))
    if side:
        scan.mark("rear_wheels", _COUNTED[count], begin, end + 1)
    return side


def _wheels_are(scan: Scan, i: int) -> None:
    """``wheels of back are twin``, ``wheels: single``."""
    k = i + 1
    while k < i + _LONGEST_WAY and scan.key(k) in ("of", "in", "on", "the", *_REAR, "axle", "rear axle"):
        k += 1
    if scan.key(k) not in ("are", "is", ":", "=", "son", "sont", "were", "was"):
        return
    k += 1 + (scan.key(k + 1) == "the")
    kind = _TWINNED.get(scan.key(k))
    if kind is not None:
        scan.mark("rear_wheels", kind, i, k + 1)
