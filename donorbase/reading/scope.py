"""Step 12: what the words speak of: only fitted, somebody else's, wanted in return, a choice, or in doubt."""

import itertools
from collections.abc import Callable

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.denial import deny, gone, lack
from donorbase.reading.inclusion import included_after, included_before
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sentence import OFFER, Sentence

_HANDS = frozenset({"my", "mi", "mis", "mon", "ma", "our", "mine", "his", "her", "their", "ours"})
_SOFT = frozenset({"i have", "ive got", "i've", "i got a", "i found a", "he has", "we run", "going to",
    "going with", "to run", "i put", "i drive", "already have", "i already have",
                   "ordered", "neighbor", "buddy", "brother in law", "i bought", "bought a", "i run",
                   "next build", "building a", "was going to use", "mine has"})  # fmt: skip
_BEFORE_YEARS = frozenset({"a", "an", "my", "the", "his", "'", "any", "all", "mi", "una", "un", "older",
    "most", "of"})  # fmt: skip


def scopes(scan: Scan) -> None:
    """Drop, turn or doubt the marks that do not plainly speak of what is on offer."""
    at: dict[int, list[Mark]] = {}
    for mark in scan.marks:
        at.setdefault(mark.begin, []).append(mark)
    for begin, end in scan.sentences:
        _read(Sentence(scan, at, begin, end))
    _answered_no(scan, at)
    _of_other_things(scan)
    _choices(scan)
    _limits(scan)


def _read(s: Sentence) -> None:
    """Apply every rule at every cue of a sentence."""
    pieces, used = s.scan.pieces, s.scan.used
    for i in range(s.begin, s.end):
        piece = pieces[i]
        if piece.roles and not used[i]:
            rule = _RULES.get(piece.roles.get("cue", ""))
            if rule is not None:
                rule(s, i)
        if piece.facts and ("offer", "sold") in piece.facts:
            sold_one(s, i)


def fits(s: Sentence, i: int) -> None:
    """``fits 99-04 3/4 tons``: years are what it fits, and the rest is not its own."""
    end = s.clause_end(i)
    if s.scan.key(i) in ("fit", "bolt in", "bolts in", "go in", "goes in") and not any(
        m.attribute in ("years", "load_class") for m in s.marks(i, end)
    ):
        return
    for mark in s.marks(i + 1, end):
        if mark.attribute == "years":
            mark.attribute = "fits_years"
        elif mark.attribute not in OFFER and mark.attribute not in ("position", "item"):
            mark.flags |= {"fits"}


def meant_for(s: Sentence, i: int) -> None:
    """``for my 2001``, ``for a 05+``; ``for 4.56 and up``."""
    k = i + 1
    while k < i + 5 and s.scan.key(k) in _BEFORE_YEARS:
        k += 1
    while any(
        m.attribute in ("load_class", "lugs", "bolt_circle_mm", "rear_wheels", "part", "position")
        for m in s.at.get(k, ())
    ):
        k = max(m.end for m in s.at[k])
    for mark in (*s.at.get(k, ()), *s.at.get(k - 1, ())):
        if mark.attribute == "years" and mark.live:
            mark.attribute = "fits_years"
            for rest in s.marks(mark.end, s.clause_end(mark.end)):
                if rest.attribute in ("load_class", "rear_wheels") and not wanted_ad(s):
                    rest.flags |= {"fits"}


def somebodys(s: Sentence, i: int) -> None:
    """``my other truck has``, ``I have 5.13s going in``: what is said of another thing."""
    key = s.scan.key(i)
    if s.scan.key(i - 1) in _HANDS and s.scan.role(i - 2, "cue") == "source":
        return
    if key.partition(" ")[0] in _HANDS:
        _his_own(s, i)
        return
    if key in _SOFT and (has_head(s, s.begin, s.end) or s.begin == 0):
        return
    for mark in s.marks(s.clause_begin(i), s.clause_end(i)):
        if mark.attribute not in OFFER - {"mileage_mi"} and mark.attribute != "fits_years":
            mark.dropped = "another's"


def _his_own(s: Sentence, i: int) -> None:
    before = s.scan.role(i - 1, "cue") or s.scan.role(i - 2, "cue") * (s.scan.key(i - 1) in ("of", "in", "under"))
    vehicle = any(s.scan.role(k, "item") == "vehicle" for k in range(max(s.begin, i - 3), i))
    if before in ("source", "for", "fits") or vehicle or s.scan.role(i - 1, "offer"):
        return
    if s.scan.key(i - 1) in ("trade", "swap", "trading", "will trade", "would trade"):
        return
    if any(m.attribute == "offer" for k in range(max(s.begin, i - 3), i) for m in s.at.get(k, ())):
        return
    end = s.clause_end(i)
    head = has_head(s, i + 1, min(end, i + 6))
    if head and s.scan.key(i) in ("my", "mi", "our") and s.scan.key(i + 1) not in ("other", "new", "truck", "old"):
        return
    origin = next((k for k in range(i + 1, end) if s.scan.role(k, "cue") == "source"), end)
    for mark in s.marks(i + 1, origin):
        if mark.attribute not in OFFER and mark.attribute != "fits_years":
            mark.dropped = "another's"


def in_return(s: Sentence, i: int) -> None:
    """``trade for a 4.10 one``: what is sought is not what is offered."""
    if wanted_ad(s) or (s.begin == 0 and i <= 2):
        return
    for mark in s.marks(i + 1, s.end):
        if mark.attribute not in OFFER:
            mark.dropped = "wanted in return"


def hedge(s: Sentence, i: int) -> None:
    """``I think 4.10``: the next thing said is in doubt."""
    near = [*s.marks(i + 1, min(i + 6, s.clause_end(i)))][:1]
    near = near or [*s.marks(max(s.clause_begin(i), i - 3), i)][-1:]
    for mark in near:
        mark.hedged = True


def as_it_was(s: Sentence, i: int) -> None:
    """``used to be``: not what it is now."""
    if s.scan.key(i) == "was":
        now = next((k for k in range(i + 1, min(i + 7, s.end)) if s.scan.key(k) == "now"), i)
        for mark in s.marks(i + 1, now):
            if mark.attribute not in OFFER:
                mark.dropped = "as it was"
    elif s.scan.key(i) in ("used to be", "originally", "previously", "used to have", "it had", "i had", "had"):
        for mark in [m for m in s.marks(i + 1, s.clause_end(i)) if m.attribute not in OFFER][:1]:
            mark.dropped = "as it was"


def sold_one(s: Sentence, i: int) -> None:
    """``sold rear``: one of several is gone; the rest is still for sale."""
    here = [m for m in s.at.get(i, ()) if m.attribute == "offer" and m.value == "sold"]
    if not here:
        return
    if i > s.begin and any(m.attribute == "part" for m in s.at.get(i - 1, ())):
        here[0].dropped = "sold"
        gone(s, i)
        return
    after = [m for m in s.at.get(i + 1 + (s.scan.key(i + 1) == "the"), ()) if m.attribute in ("position", "item")]
    if after and i > 2 and s.scan.key(i - 1) in (",", ".", "i", "already", "(", "just"):
        for mark in (*here, *after):
            mark.dropped = "sold"


def has_head(s: Sentence, begin: int, end: int) -> bool:
    """Whether a thing is named between two places."""
    named = (m.attribute in ("position", "part") for k in range(begin, end) for m in s.at.get(k, ()))
    return any(named) or any(s.scan.role(k, "item") in ("axle", "housing") for k in range(begin, end))


def wanted_ad(s: Sentence) -> bool:
    """Whether the writer seeks rather than sells."""
    return s.scan.wanted


def _answered_no(scan: Scan, at: dict[int, list[Mark]]) -> None:
    """``kingpins no, ball joints yes``; ``lsd? no``; over the line break of a chat as well."""
    for i, piece in enumerate(scan.pieces):
        if piece.key not in ("no", "nope", "nah"):
            continue
        k = i - 1
        asked = False
        while k >= 0 and (
            scan.at(k).kind == "line" or scan.key(k) in (":", "?", ",") or (asked is False and _speaker(scan, k))
        ):
            asked = asked or scan.key(k) == "?"
            k -= 1
        if k == i - 1 and not (is_clause_end(scan, i + 1) or i + 1 >= len(scan.pieces)):
            continue
        if k != i - 1 and not asked:
            continue
        for mark in (m for j in (k, k - 1, k - 2) for m in at.get(j, ()) if m.end == k + 1):
            if mark.attribute not in OFFER and mark.live:
                mark.dropped = "denied"


def _speaker(scan: Scan, k: int) -> bool:
    return scan.key(k + 1) == ":" and scan.at(k).kind == "word" and not scan.at(k).facts


def _choices(scan: Scan) -> None:
    """``3.73 or 4.10``: two values of one attribute, one of which it must be, are no fact."""
    live = [
        m
        for m in scan.marks
        if m.live
        and m.attribute not in OFFER
        and m.attribute not in ("part", "position", "years", "fits_years", "has", "missing", "defects")
    ]
    for first, second in itertools.pairwise(live):
        if first.attribute == second.attribute and first.value != second.value and second.begin - first.end <= 5:
            between = {scan.key(k) for k in range(first.end, second.begin)}
            near = second.begin - first.end <= 3
            either = between & {"maybe", "possibly", "perhaps"} or (near and between & {"or", "o", "ou"})
            if either and not between & {"is", "its", "not", "but"}:
                first.dropped = second.dropped = "choice"
    for mark in scan.marks:
        if "choice" in mark.flags:
            mark.dropped = mark.dropped or "choice"


_LOOSE = frozenset({
    "tie-rod", "drag-link", "track-bar", "rotor", "brake-drum", "diff-cover", "yoke", "driveshaft", "caliper",
    "caliper-bracket", "master-cylinder", "booster",
})  # fmt: skip
"""Parts whose damage is none of the axle they come with."""
_OF_A_THING = frozenset({"bent", "cracked", "rusty"})
_LINKING = frozenset({"is", "are", "was", "a", "got", "bit", "little", "slightly", "has", "all", "looks"})


def _of_other_things(scan: Scan) -> None:
    """``tie rod bent``, ``the frame is bent``: what is said of something else than the axle."""
    for mark in scan.marks:
        if mark.attribute != "defects" or mark.value not in _OF_A_THING or not mark.live:
            continue
        k = mark.begin - 1
        while k >= 0 and scan.key(k) in _LINKING:
            k -= 1
        piece = scan.at(k)
        loose = any(name == "part" and value in _LOOSE for name, value in piece.facts)
        if k >= 0 and (loose or piece.roles.get("item") == "other"):
            mark.dropped = "another's"


def _limits(scan: Scan) -> None:
    """``for 4.56 and up``, ``the 4.10 & down carrier``: the limit of a range, not a value."""
    for mark in scan.marks:
        if mark.attribute == "ratio" and mark.live:
            link = mark.end
            while link < mark.end + 3 and scan.key(link) in ("and", "&", "n", "or", "-"):
                link += 1
            if scan.key(link) in ("up", "down", "numerically", "higher", "lower", "+", "deeper", "newer", "below"):
                mark.dropped = "limit"


_RULES: dict[str, Callable[[Sentence, int], None]] = {
    "not": deny, "no": lack, "neither": deny, "gone": gone, "fits": fits, "for": meant_for, "mine": somebodys,
    "return": in_return, "hedge": hedge, "with": included_after, "included": included_before, "was": as_it_was,
}  # fmt: skip
