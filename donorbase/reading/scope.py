"""Step 12: what the words speak of: only fitted, somebody else's, wanted in return, a choice, or in doubt."""

import itertools
from collections.abc import Callable

from donorbase.reading.bare import bare_housing
from donorbase.reading.damage import damage, repairs
from donorbase.reading.denial import absent, deny, gone, lack, lacking, taken
from donorbase.reading.inclusion import included_after, included_before, listed_alone
from donorbase.reading.kept import not_for_sale
from donorbase.reading.mends import mend
from donorbase.reading.mood import (
    loosely,
    not_of_now,
    of_things_sought,
    possible,
    superseded,
    supposed,
    undecided,
    unsaid,
)
from donorbase.reading.possession import not_from_that, of_a_sold_truck, only_thing, somebodys, what_he_has
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sentence import OFFER, Sentence
from donorbase.reading.sides import sides_alone
from donorbase.reading.swaps import swaps
from donorbase.reading.wear import wear

_BEFORE_YEARS = frozenset({"a", "an", "my", "the", "his", "'", "any", "all", "mi", "una", "un", "older",
    "most", "of"})  # fmt: skip


def scopes(scan: Scan) -> None:
    """Drop, turn or doubt the marks that do not plainly speak of what is on offer."""
    _independent(scan)
    not_for_sale(scan)
    swaps(scan)
    wear(scan)
    sides_alone(scan)
    at: dict[int, list[Mark]] = {}
    for mark in scan.marks:
        at.setdefault(mark.begin, []).append(mark)
    for begin, end in scan.sentences:
        sentence = Sentence(scan, at, begin, end)
        _read(sentence)
        listed_alone(sentence)
    traded_for(scan)
    what_he_has(scan)
    not_from_that(scan)
    of_a_sold_truck(scan)
    only_thing(scan)
    damage(scan)
    repairs(scan)
    bare_housing(scan)
    superseded(scan)
    mend(scan)
    loosely(scan)
    undecided(scan)
    not_of_now(scan)
    of_things_sought(scan)
    _choices(scan)
    _limits(scan)
    _swap_named(scan)


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
    ahead = [m for m in s.marks(max(s.begin, i - 4), i) if m.attribute == "years" and m.end == i]
    if ahead and end == i + 1:
        ahead[0].attribute = "fits_years"  # 2005 to 2010 fits
        return
    if s.scan.key(i) in ("fit", "bolt in", "bolts in", "go in", "goes in") and not any(
        m.attribute in ("years", "load_class") for m in s.marks(i, end)
    ):
        return
    asked = "if" in (s.scan.key(i - 1), s.scan.key(i - 2), s.scan.key(i - 3))
    for mark in s.marks(i + 1, end):
        if mark.attribute == "years" and asked:
            mark.dropped = "asked"
        elif mark.attribute == "years":
            mark.attribute = "fits_years"
        elif mark.attribute not in OFFER and mark.attribute not in ("position", "item"):
            mark.flags |= {"fits"}


def meant_for(s: Sentence, i: int) -> None:
    """``for my 2001``, ``for a 05+``; ``for 4.56 and up``."""
    if _aimed_at(s, i):
        return
    k = i + 1
    while k < i + 5 and s.scan.key(k) in _BEFORE_YEARS:
        k += 1
    while any(
        m.attribute
        in ("load_class", "lugs", "bolt_circle_mm", "rear_wheels", "part", "position", "suspension", "knuckle")
        for m in s.at.get(k, ())
    ):
        k = max(m.end for m in s.at[k])
    for mark in (*s.at.get(k, ()), *s.at.get(k - 1, ())):
        if mark.attribute == "years" and mark.live:
            mark.attribute = "fits_years"
            for rest in s.marks(mark.end, s.clause_end(mark.end)):
                if rest.attribute in ("load_class", "rear_wheels") and not wanted_ad(s):
                    rest.flags |= {"fits"}


def _aimed_at(s: Sentence, i: int) -> bool:
    """``for a 4 link``, ``for a disc swap``: what somebody means to make of it is not what it is."""
    end = s.clause_end(i)
    aim = next((k for k in range(i + 2, min(end, i + _AIM)) if s.scan.role(k, "aim")), 0)
    linked = s.scan.key(i + 1) in ("a", "an") and any(m.attribute == "suspension" for m in s.at.get(i + 2, ()))
    if not aim and not linked:
        return False
    for mark in s.marks(i + 1, end):
        if mark.attribute not in OFFER and mark.attribute not in ("position", "item", "years", "fits_years"):
            mark.dropped = "an aim"
    return True


_AIM = 8


def in_return(s: Sentence, i: int) -> None:
    """``trade for a 4.10 one``: what is sought is not what is offered."""
    if wanted_ad(s) or (s.begin == 0 and i <= 2) or s.scan.key(i + 1) in _AWAY:
        return
    for mark in s.marks(i + 1, s.end):
        if mark.attribute not in OFFER:
            mark.dropped = "wanted in return"


def traded_for(scan: Scan) -> None:
    """``swap my 14 bolt rear for a nine inch``, ``cambio eje delantero por eje trasero``: what is sought in return."""
    if scan.wanted:
        return
    for said in [m for m in scan.marks if m.live and (m.attribute, m.value) in _TRADING]:
        end = next((e for b, e in scan.sentences if b <= said.begin < e), said.end)
        word = next((k for k in range(said.end, end) if scan.key(k) in ("for", "por") and _a_thing(scan, k, 5)), end)
        if word - said.end <= 1 or _a_thing(scan, said.end - 1, word - said.end):
            for mark in scan.within(word + 1, end):
                if mark.attribute not in OFFER:
                    mark.dropped = "wanted in return"


_TRADING = frozenset({("offer", "trade"), ("price_terms", "trades-considered")})
_THINGS = frozenset({"item", "position", "part", "cover_bolts", "ring_gear_in"})


def _a_thing(scan: Scan, k: int, reach: int) -> bool:
    """Whether a thing is named within so many pieces behind a place."""
    return any(m.attribute in _THINGS for m in scan.within(k + 1, k + 1 + reach))


_AWAY = frozenset({"it", "them", "this", "these"})
"""``he wants it out``: what is wanted gone is what is sold."""


def hedge(s: Sentence, i: int) -> None:
    """``I think 4.10``: the next thing said is in doubt, and what is told of a piece (``I think a tube is bent``)."""
    if s.scan.at(i + 1).kind == "num" and not s.marks(i + 1, i + 2):
        return  # calipers have maybe 500 miles on them
    ahead = [*s.marks(i + 1, s.clause_end(i))]
    near = [m for m in ahead if m.begin < i + 6][:1]
    if near and near[0].attribute in ("part", "position", "item"):
        near += [m for m in ahead if m.attribute == "defects"][:1]
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
    elif s.scan.key(i) in _ONCE:
        told = s.scan.key(i) in _HAD and s.scan.key(i - 1) not in ("used", "originally")
        for mark in [m for m in s.marks(i + 1, s.clause_end(i)) if m.attribute not in _NEVER_PAST][:1]:
            if not told or _otherwise(s, mark):
                mark.dropped = "as it was"


_HAD = frozenset({"it had", "had"})
_NEVER_PAST = OFFER | {"position", "years", "load_class"}
"""``I had the front cover off``: it is still the front; a donor's year does not change."""
_ONCE = _HAD | {"used to", "used to be", "originally", "previously", "used to have", "i had"}


def _otherwise(s: Sentence, mark: Mark) -> bool:
    """Whether something else is said of the same attribute, or that it changed: ``it had 3.73, I put 4.56 in``."""
    return ("cue", "now") in s.scan.roles or any(
        m.attribute == mark.attribute and m.value != mark.value for m in s.scan.marks
    )


def sold_one(s: Sentence, i: int) -> None:
    """``sold rear``: one of several is gone; the rest is still for sale."""
    here = [m for m in s.at.get(i, ()) if m.attribute == "offer" and m.value == "sold"]
    if not here:
        return
    k = i - 1
    while k > s.begin and s.scan.key(k) in _PULLED:
        k -= 1
    sold = [m for m in s.at.get(k, ()) if m.attribute in ("part", "has") and m.live]
    if i > s.begin and sold:
        here[0].dropped = "sold"
        if k < i - 1:
            lacking(sold[0])  # shafts pulled (sold)
        else:
            gone(s, i)
        return
    after = [m for m in s.at.get(i + 1 + (s.scan.key(i + 1) == "the"), ()) if m.attribute in ("position", "item")]
    opens = i <= s.begin + 2 and after and _another_end(s.scan, after[0])
    if opens or (after and i > 2 and s.scan.key(i - 1) in (",", ".", "i", "already", "(", "just")):
        for mark in (*here, *after):
            mark.dropped = "sold"


def _another_end(scan: Scan, sold: Mark) -> bool:
    """``sold the rear, front still available``: whether the other end is spoken of too."""
    ends = {m.value for m in scan.marks if m.attribute == "position" and m.live}
    return sold.attribute == "position" and len(ends) > 1


_PULLED = frozenset({"(", "-", "pulled", "already", "out", "are", "is", "both"})


def wanted_ad(s: Sentence) -> bool:
    """Whether the writer seeks rather than sells."""
    return s.scan.wanted


_NO_CHOICE = OFFER | {"part", "position", "years", "fits_years", "has", "missing", "defects"}


def _choices(scan: Scan) -> None:
    """``3.73 or 4.10``, ``3.73 to 4.30``: two values of one attribute, one of which it must be, are no fact."""
    live = [m for m in scan.marks if m.live and m.attribute not in _NO_CHOICE]
    ranged = [m for m in live if m.attribute in _RANGED]
    pairs = (*itertools.pairwise(live), *itertools.pairwise(ranged))
    for first, second in pairs:
        if first.attribute == second.attribute and first.value != second.value and second.begin - first.end <= 5:
            if _either(scan, first, second) or _ranged(scan, first, second):
                first.dropped = second.dropped = "choice"
            elif first.attribute == "rear_wheels" and scan.key(first.end) in _AND and second.begin - first.end == 1:
                first.dropped = second.dropped = "choice"  # srw & drw
        elif {first.attribute, second.attribute} == _NAMES and _either(scan, first, second):
            first.dropped = second.dropped = "choice"  # a 14 bolt or 10.5
    _in_stock(scan, live)
    for mark in scan.marks:
        if "choice" in mark.flags or (mark.attribute == "load_class" and _or_another_ton(scan, mark)):
            mark.dropped = mark.dropped or "choice"


_AND = frozenset({"&", "and", "/", "+", "or"})
_NAMES = {"cover_bolts", "ring_gear_in"}
_RANGED = frozenset({"ratio", "bolt_circle_mm"})


def _either(scan: Scan, first: Mark, second: Mark) -> bool:
    between = {scan.key(k) for k in range(first.end, second.begin)}
    near = second.begin - first.end <= 3
    either = between & {"maybe", "possibly", "perhaps"} or (near and between & {"or", "o", "ou"})
    return bool(either) and not between & {"is", "its", "not", "but"}


def _ranged(scan: Scan, first: Mark, second: Mark) -> bool:
    """``3.73 to 4.30``, ``8x6.5 to 8x170``: not of what was changed (``from 3.73 to 4.88``)."""
    joined = second.begin - first.end == 1 and scan.key(first.end) in ("to", "thru", "through")
    changed = any(scan.role(k, "time") == "past" for k in range(first.begin - 3, first.begin))
    return joined and first.attribute in _RANGED and not changed


def _in_stock(scan: Scan, live: list[Mark]) -> None:
    """``8 lug 6 lug 5 lug I have em all``: at least three values in a row are no one axle's."""
    for name in ("lugs", "ratio"):
        said = [m for m in live if m.attribute == name]
        for k in range(len(said) - 2):
            row = said[k : k + 3]
            close = all(n.begin - m.end <= 1 for m, n in itertools.pairwise(row))
            if close and len({m.value for m in row}) == len(row):
                for mark in row:
                    mark.dropped = "choice"


def _or_another_ton(scan: Scan, mark: Mark) -> bool:
    """``a half ton or 3/4``."""
    other = scan.at(mark.end + 1)
    return scan.key(mark.end) == "or" and other.kind == "num" and other.raw in ("3/4", "1/2", "1", "3500", "2500")


_BEYOND = frozenset({
    "up", "down", "numerically", "higher", "lower", "+", "deeper", "newer", "below", "taller", "shorter", "better",
    "bajo", "alto", "bajos", "altos",
})  # fmt: skip
_BEFORE_BEYOND = frozenset({"and", "&", "n", "or", "-", "o", "ou", "mas", "más", "plus", "y"})


def _limits(scan: Scan) -> None:
    """``for 4.56 and up``, ``the 4.10 & down carrier``, ``3.73 or taller``: the limit of a range, not a value."""
    for mark in scan.marks:
        if mark.attribute == "ratio" and mark.live:
            link = mark.end
            while link < mark.end + 3 and scan.key(link) in _BEFORE_BEYOND:
                link += 1
            joined = scan.key(link) == "+" and not scan.at(link).glued and scan.at(link + 1).kind == "word"
            if scan.key(link) in _BEYOND and not joined:
                mark.dropped = "limit"


def _independent(scan: Scan) -> None:
    """``front diff, IFS``: where the wheels are sprung apart, there is no axle, and the word means the differential."""
    if ("cue", "independent") not in scan.roles:
        return
    said = [k for k in range(len(scan.pieces)) if scan.role(k, "cue") == "independent"]
    if all(scan.role(k - 1, "cue") in ("no", "not") for k in said):
        return
    for mark in scan.marks:
        if mark.attribute == "item" and scan.key(mark.begin).rpartition(" ")[2] in _DIFFERENTIALS:
            mark.attribute, mark.value = "part", "differential"


_DIFFERENTIALS = frozenset({"diff", "differential", "diffs"})


def _swap_named(scan: Scan) -> None:
    """``one ton swap leftovers``: what parts were left of, or are meant for."""
    if ("aim", "swap") in scan.roles:
        for mark in scan.marks:
            if mark.attribute == "load_class" and scan.key(mark.end) in _SWAPS:
                mark.flags |= {"aim"}


_SWAPS = frozenset({"swap", "swaps", "conversion", "conversions"})


_RULES: dict[str, Callable[[Sentence, int], None]] = {
    "not": deny, "no": lack, "neither": deny, "gone": gone, "fits": fits, "for": meant_for, "mine": somebodys,
    "return": in_return, "hedge": hedge, "with": included_after, "included": included_before, "was": as_it_was,
    "taken": taken, "unsaid": unsaid, "absent": absent, "possible": possible, "supposed": supposed,
}  # fmt: skip
