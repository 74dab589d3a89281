"""Step 5a: how many splines the shafts have, inner and outer."""

from donorbase.reading.scan import Scan
from donorbase.reading.tokens import Piece

SPLINES = range(10, 51)
"""As many splines as a shaft may have."""
_FEWEST_UNSAID = 26
"""``35 outer``: so many that nothing else is counted, where the word spline is left out."""


def spline_pairs(scan: Scan) -> None:
    """``35/30 spline``, ``30/35 spl (outer/inner)``, ``inner/outer splines 35/30``, ``35 in/30 out``."""
    paired = {"out", "o", "/"} & set(scan.keys)
    if ("unit", "spline") not in scan.roles and not paired:
        return
    for i in scan.numbers():
        if scan.used[i] or _in_and_out(scan, i):
            continue
        if not (_is_spline(scan, i) and scan.key(i + 1) in ("/", "-", "over") and _is_spline(scan, i + 2)):
            continue
        announced = scan.role(scan.before(i), "label") == "splines" and scan.key(i - 1) != "/"
        if not announced and scan.role(scan.after(i + 2), "unit") != "spline" and not _plain_pair(scan, i):
            continue
        end = scan.after(i + 2) + 1 if scan.role(scan.after(i + 2), "unit") == "spline" else i + 3
        first, second = int(scan.pieces[i].value or 0), int(scan.pieces[i + 2].value or 0)
        around = (*range(end, end + 4), *(range(max(0, i - 5), i) if announced else ()))
        sides = [scan.role(k, "side") for k in around if scan.role(k, "side")]
        if sides[:1] == ["outer"]:
            first, second = second, first
        scan.mark("inner_splines", first, i, end)
        scan.mark("outer_splines", second, i, end)


_PAIRS = frozenset({("35", "30"), ("35", "35"), ("35", "32"), ("32", "30"), ("30", "27"), ("30", "30")})
"""Inner and outer counts that are met together, written so by those who know what they are."""


def _plain_pair(scan: Scan, i: int) -> bool:
    """``kingpin, 35/30, 4.88``: two counts of splines, though nobody says so."""
    pair = (scan.at(i).raw, scan.at(i + 2).raw) in _PAIRS and scan.key(i + 1) == "/" and scan.at(i + 2).glued
    stopped = (
        scan.at(i - 1).key in (",", "|", ";", ".", "") or scan.at(i - 1).kind == "line" or bool(scan.at(i - 1).facts)
    )
    behind = scan.at(i + 3)
    return pair and stopped and (behind.key in (",", "|", ";", ".") or behind.kind == "line" or bool(behind.facts))


def _stops(piece: Piece) -> bool:
    """Whether a piece parts one statement from the next, or states something itself."""
    return piece.key in (",", "|", ";", ".", "") or piece.kind == "line" or bool(piece.facts)


_IN, _OUT = frozenset({"in", "i", "inner", "inside"}), frozenset({"out", "o", "outer", "outside"})


def _in_and_out(scan: Scan, i: int) -> bool:
    """``30 in/27 out``, ``35 spline in, 30 out``, ``35i/30o``, ``30 out, 35 in``."""
    if not _is_spline(scan, i):
        return False
    at = i + 1 + (scan.unit(i) == "spline" and scan.key(scan.after(i)) != "in")
    if scan.key(at) not in _IN | _OUT:
        return False
    j = at + 1 + (scan.unit(at) == "spline")
    j += scan.key(j) in ("/", ",", "and", "&")
    behind = j + 1 + (scan.unit(j) == "spline" and scan.key(scan.after(j)) != "in")
    turned = scan.key(at) in _OUT
    if not _is_spline(scan, j) or scan.key(behind) not in (_IN if turned else _OUT):
        return False
    lettered = scan.key(at) == "i" or scan.key(behind) == "o"
    if lettered and not (scan.at(at).glued and scan.at(behind).glued):
        return False
    first, second = ("outer_splines", "inner_splines") if turned else ("inner_splines", "outer_splines")
    scan.mark(first, int(scan.at(i).value or 0), i, at + 1)
    scan.mark(second, int(scan.at(j).value or 0), j, behind + 1)
    return True


def _is_spline(scan: Scan, i: int) -> bool:
    return scan.at(i).kind == "num" and (scan.at(i).value or 0) in SPLINES and scan.at(i).raw.isdigit()


def spline_count(scan: Scan, value: int, i: int, end: int) -> None:
    """Mark a number before ``spline``: of the inner or outer shafts where a word beside it says so."""
    if scan.key(end).partition(" ")[0] in ("pinion", "yoke", "input", "slip", "driveshaft"):
        scan.use(i, end)
        return
    behind = _over_plain_words(scan, end)
    side = scan.role(behind, "side")
    before = scan.role(i - 1, "side") or scan.role(scan.before(i), "side")
    if before and not _counted_before(scan, i) and (not side or scan.unit(behind + 1) == "spline"):
        side = before  # inners 30 spline, outers 35 spline
    told = (end, i - 1, _named_before(scan, i), i - 2 if scan.key(i - 1) in ("are", "is") else i - 1)
    part = next((p for k in told if (p := dict(scan.at(k).facts).get("part")) is not None), None)
    side = side or {"outer-shaft": "outer", "inner-shaft": "inner"}.get(str(part), "")
    end -= any(name == "part" for name, _ in scan.at(end - 1).facts)  # spline shafts: they are named besides
    if scan.key(end) in ("in", "inner") and scan.key(end + 1) in ("and", "&", "n", "/") and scan.key(end + 2) == "out":
        scan.mark("inner_splines", value, i, end + 3)
        scan.mark("outer_splines", value, i, end + 3)
        return
    if scan.key(end) in ("in", "out") and any(scan.key(k) in ("in", "out") for k in (*range(end + 1, end + 6), i - 1)):
        side = {"in": "inner", "out": "outer"}[scan.key(end)]
    both = _both_sides(scan, behind) if side else 0
    if both:
        scan.mark("inner_splines", value, i, both, "throughout")
        scan.mark("outer_splines", value, i, both, "throughout")
        return
    either = _or_else(scan, end, SPLINES) or (scan.key(i - 1) == "or" and scan.at(i - 2).kind == "num")
    scan.mark(f"{side}_splines" if side else "splines", value, i, end, *(["choice"] if either else []))


def _named_before(scan: Scan, i: int) -> int:
    """The place of what the count is of: ``outer shafts 30 spline``, ``outer shafts, 30 splines``."""
    apart = scan.key(i - 1) in (",", ":", "-", "=") and not scan.used[i - 3]
    return i - 2 if apart else i - 1


_SHORT = 4
"""``spl.``: so short a word is cut off by its dot; behind a longer one the dot ends a sentence."""
_TO_A_PLACE = frozenset({"on", "at", "the", "by", "to", "for", "everything", "all"})
_SMALL_WORDS = 2


def _over_plain_words(scan: Scan, end: int) -> int:
    """``37 spline chromo outers``, ``35 spl. outers``, ``30 at the outer end``: over the dot of a short word, words of
    place and words that say nothing."""
    k = end + (scan.key(end) == "." and len(scan.key(end - 1)) <= _SHORT)
    words = 0
    while words < _SMALL_WORDS and scan.at(k).kind == "word" and (scan.key(k) in _TO_A_PLACE or _says_nothing(scan, k)):
        words += scan.key(k) not in _TO_A_PLACE
        k += 1
    k += scan.key(k) == "," and scan.role(k + 1, "side") != "" and _both_sides(scan, k + 1) > 0
    return k if scan.role(k, "side") and scan.key(k) != "in" else end


def _says_nothing(scan: Scan, k: int) -> bool:
    return not scan.at(k).roles and not scan.at(k).facts


def _both_sides(scan: Scan, k: int) -> int:
    """Where ``inner and outer`` or ``throughout`` ends, of which a count before it holds; 0 where neither stands."""
    side = scan.role(k, "side")
    if side == "both":
        return k + 1
    other = k + 1 + (scan.key(k + 1) in _AND)
    beyond = scan.at(other + 1).kind == "num"
    return other + 1 if other > k + 1 and scan.role(other, "side") not in ("", side) and not beyond else 0


_AND = frozenset({"and", "&", "/", "+", "y", "et", "e"})


def _or_else(scan: Scan, end: int, values: range) -> bool:
    """``30 splines or 31``: another value of the same kind stands after an ``or``."""
    other = scan.at(end + 1)
    return scan.key(end) == "or" and other.kind == "num" and (other.value or 0) in values


def labelled_splines(scan: Scan, value: int, i: int, before: int) -> bool:
    """``splines: 35``, ``inner 35``, ``spline, counted 35``. ``before`` is the place of the label."""
    label, side = scan.role(before, "label"), scan.role(before, "side")
    behind = _over_plain_words(scan, scan.after(i))
    following = scan.role(behind, "side")
    if following and side and _counted_before(scan, i):
        side = ""  # 35 spline inners 32 outers
    at_the = before != i - 1 and scan.key(before) in ("at the spline", "at the splines")
    if label == "splines" or at_the:
        side = "" if at_the else _side_of_label(scan, before, behind)
    elif (
        side
        and scan.key(before) != "in"
        and (_spline_near(scan, i) or _plural_side(scan, i, before, value) or _in_turn(scan, i, before, value))
    ):
        pass
    elif following and scan.key(i + 1) != "in" and value >= _FEWEST_UNSAID and not scan.unit(i):
        side = following
    else:
        return False
    scan.mark(f"{side}_splines" if side else "splines", value, i, i + 1)
    return True


def _counted_before(scan: Scan, i: int) -> bool:
    """Whether the side named right before a count has a count of its own before it: ``35 spline inners 32 outers``."""
    k = scan.before(i)
    k -= scan.key(k) in _AND
    k -= 1 + (scan.role(k - 1, "unit") == "spline")
    counted = scan.at(k).kind == "num" and bool(scan.used[k]) and scan.at(k).value in SPLINES
    return counted and not scan.role(k - 1, "side")


def _plural_side(scan: Scan, i: int, before: int, value: int) -> bool:
    """``inners: 35``: what else is counted of inners."""
    return scan.key(before) in ("inners", "outers", "stubs") and value >= _FEWEST_UNSAID and not scan.unit(i)


def _in_turn(scan: Scan, i: int, before: int, value: int) -> bool:
    """``inner 35 outer 32``: each side before its count."""
    ahead = scan.role(i + 1, "side") and scan.at(i + 2).kind == "num"
    behind = scan.role(before - 2, "side") and scan.at(before - 1).kind == "num"
    return before == i - 1 and bool(ahead or behind) and value >= _FEWEST_UNSAID and not scan.unit(i)


def _side_of_label(scan: Scan, before: int, after: int) -> str:
    """``inner splines 35``, ``outer spline count: 30``, ``spl 35 inner``: of which shafts a labelled count is."""
    ahead = scan.role(before - 1, "side")
    behind = scan.role(after, "side") if scan.key(after) != "in" and scan.unit(after) != "spline" else ""
    listed = scan.key(before - 2) in ("/", "and", "&", "+")
    return ("" if listed else ahead) or behind


def _spline_near(scan: Scan, i: int) -> bool:
    return any(scan.role(k, "unit") == "spline" for k in range(max(0, i - 6), i + 7))
