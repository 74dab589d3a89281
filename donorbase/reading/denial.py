"""Step 12a: what is denied, lacking or gone."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.lists import after_a_label, modifies, opens_a_list, option_at_a_price
from donorbase.reading.mends import TELLING_ON, interjected
from donorbase.reading.scan import Mark
from donorbase.reading.sentence import LINKS, OFFER, Sentence

_BREAKS = frozenset(
    {"but", "just", "only", "however", "though", "although", "so", "because", "since", "which", "while", "still"}
)
_SIDES = frozenset({
    "driver side", "drivers side", "passenger side", "passengers side", "pass side", "ds", "lh", "rh", "left",
    "right", "driver", "passenger", "long side", "short side", "left side", "right side",
})  # fmt: skip


def deny(s: Sentence, i: int) -> None:
    """``not a dually``: what the denial reaches is turned or dropped."""
    if s.scan.key(i + 1) == "only" or (
        s.scan.key(i) == "nothing" and s.scan.key(i + 1) in ("wrong", "fancy", "special")
    ):
        return
    if s.scan.key(i) == "nothing" and is_clause_end(s.scan, i + 1):
        _deny_behind(s, i)
        return
    offered = next((m for m in s.marks(i + 1, i + 3) if m.attribute == "offer" and m.value == "for-sale"), None)
    if offered is not None:
        offered.dropped = "denied"
        if any(s.scan.role(k, "cue") == "truck" for k in range(s.begin, i)):
            for mark in s.marks(s.begin, i):  # my other truck (a 2004, 4.10s) is not for sale
                mark.dropped = mark.dropped if mark.attribute in OFFER else "not on offer"
            return
        gone(s, i)
        return
    if _elliptic(s, i):
        return
    end = _reach(s, i, False) if s.scan.role(i, "cue") != "neither" else s.end
    if s.scan.key(i) in ("dont", "do not") and s.scan.key(i + 1) == "want":
        end = s.end
    having = not _HAVING.isdisjoint((s.scan.key(i + 1), s.scan.key(i + 2)))
    having = having or (s.scan.role(i, "cue") == "neither" and s.scan.key(i + 1) in _NOR)
    for mark in s.marks(i + 1, end):
        if _no_denial(s, i, mark):
            mark.dropped = "denied"
        (lacking if having else denied)(mark)


def _deny_behind(s: Sentence, i: int) -> None:
    """``Bent nothing.``: what stands right before is denied."""
    for mark in s.marks(i - 1, i):
        if mark.attribute == "defects" and mark.end == i:
            denied(mark)


_HAVING = frozenset({"has", "have", "got", "come with", "comes with", "include", "includes", "including", "with"})
"""``neither has calipers``: what is denied behind these is missing."""
_NOR = frozenset({"is", "are", "do", "does", "will"})
"""``Spindle is not included, neither is the hub``."""
_WIRES = frozenset({"abs wire", "abs wires", "abs sensor", "abs sensors"})


def _no_denial(s: Sentence, i: int, mark: Mark) -> bool:
    """``no ABS wires`` does not say that there is no ABS, nor ``never had the cover off`` that there is no cover."""
    wires = mark.attribute == "abs" and s.scan.key(mark.begin) in _WIRES
    return wires or (s.scan.key(mark.end) in ("off", "apart") and s.scan.key(i) == "never had")


def _behind_a_label(s: Sentence, i: int) -> bool:
    """``missing: both shafts, cover``: everything listed behind the sign is missing."""
    label = i + 1 + (s.scan.key(i + 1) == ".")
    if s.scan.key(i).endswith(":"):
        label = i
    elif not opens_a_list(s, label) or (label > i + 1 and not is_clause_end(s.scan, i - 1)):
        return False
    for mark in after_a_label(s, label + 1):
        lacking(mark)
    return True


def lack(s: Sentence, i: int) -> None:
    """``no calipers, rotors or hubs``: the parts listed after it are missing."""
    if _teeth(s, i) or _puts_right(s, i) or interjected(s.scan, i) or option_at_a_price(s, i):
        return
    if _behind_a_label(s, i) or _answers(s, i):
        return
    end = _reach(s, i, True)
    found = [m for m in s.marks(i + 1, end) if m.attribute not in OFFER and not _counted_beyond(s, i, m)]
    keeps = s.scan.key(i).partition(" the")[0].endswith(_KEEPING)
    if not found and (keeps or s.scan.key(i) in ("missing", "missin", "falta", "faltan", "manque")):
        gone(s, i)
        return
    for mark in found:
        if keeps and _an_end_itself(s, mark, mark.end):
            mark.dropped = "gone"
        if _no_denial(s, i, mark):
            mark.dropped = "denied"
        elif mark.attribute != "item" or mark.begin == i + 1 or s.scan.key(mark.begin - 1) in LINKS:
            lacking(mark)
    if s.scan.key(end) == "(" and s.scan.key(end - 1) in ("brakes", "brake parts", "disc brakes"):
        for mark in after_a_label(s, end + 1):  # no brakes (calipers, rotors)
            lacking(mark)


_KEEPING = ("keeping", "kept")
_LIGHT = frozenset(
    {"is", "was", "are", "were", "already", "axle", "axles", "one", "itself", "now", "i", "just", "has", "s"}
)


def _an_end_itself(s: Sentence, mark: Mark, i: int) -> bool:
    """Whether ``rear`` means the axle (``the rear is gone``), and is no word of a noun (``rear springs are gone``)."""
    if mark.attribute != "position" or not all(s.scan.key(k) in _LIGHT for k in range(mark.end, i)):
        return False
    following = s.scan.at(i)
    return i >= s.end or is_clause_end(s.scan, i) or "cue" in following.roles or following.key in _LEADS_ON


_LEADS_ON = frozenset({"and", "as", "until", "till", "but", "because", "so", "since", "in", "on"})


def _answers(s: Sentence, i: int) -> bool:
    """``3.73? no 4.30``: the figure right behind the word is the answer."""
    here = [m for m in s.at.get(i + 1, ()) if m.attribute in _COUNTS]
    asked = [m for m in s.scan.marks if m.dropped == "asked" and i - _ASKED <= m.begin < i]
    return any(m.attribute == a.attribute and m.value != a.value for m in here for a in asked)


_ASKED = 12
_COUNTS = frozenset({"lugs", "bolt_circle_mm", "ratio", "cover_bolts", "years", "ring_gear_in", "width_in"})


def _counted_beyond(s: Sentence, i: int, mark: Mark) -> bool:
    """``no leeks 8 lug``: a figure is denied right behind the word, or not at all."""
    return mark.attribute in _COUNTS and mark.begin > i + 1


def _puts_right(s: Sentence, i: int) -> bool:
    """``drum... no, rear disc``: another value of the same kind follows, and the one before it was a slip."""
    dots = s.scan.key(i - 1) == "." and s.scan.key(i - 2) == "."
    taken_back = s.scan.key(i + 1) == "," or s.scan.key(i + 1) in TELLING_ON or dots
    still_denied = any(s.scan.role(k, "cue") == "not" for k in range(i + 1, i + 4))
    if s.scan.key(i) != "no" or not taken_back or still_denied:
        return False
    before = [m for m in s.scan.within(max(0, i - _NEAR), i) if m.attribute not in OFFER and m.end <= i]
    for mark in s.marks(i + 1, i + 2 + _NEAR):
        slips = [m for m in before if _told(m)[0] == _told(mark)[0] and _told(m)[1] != _told(mark)[1]]
        if slips and _told(mark)[0] not in ("part", "item", "position"):
            for slip in before:
                if slip.begin == slips[-1].begin:
                    slip.dropped = "put right"
            return True
    return dots and s.scan.key(i + 1) in (",", *TELLING_ON)


_NEAR = 8
_BRAKE_PARTS = {"rotor": "disc", "caliper": "disc", "brake-drum": "drum"}


def _told(mark: Mark) -> tuple[str, object]:
    """What a mark tells of the axle: a rotor tells of its brakes."""
    kind = _BRAKE_PARTS.get(str(mark.value)) if mark.attribute in ("part", "has") else None
    return ("brakes", kind) if kind else (mark.attribute, mark.value)


def gone(s: Sentence, i: int) -> None:
    """``calipers are gone``: the parts named before it are missing; ``it is missing a hub``: those behind it."""
    begin = s.clause_begin(i)
    if _lacks_what_follows(s, begin, i):
        lack(s, i)
    elif not _teeth(s, i) and not (is_clause_end(s.scan, i - 1) and _behind_a_label(s, i)):
        _gone(s, begin, i)


def _gone(s: Sentence, begin: int, i: int) -> None:
    # Calipers that are gone had their pistons.
    found = [m for m in s.marks(begin, i) if m.attribute not in OFFER and m.attribute != "caliper_pistons"]
    if not found and s.scan.key(begin - 1) == "(":
        begin = s.clause_begin(begin - 1)
        found = [m for m in s.marks(begin, i) if m.attribute == "part"]
    found = _gone_itself(s, begin, i, found)
    begin_list = begin
    while s.scan.key(begin_list - 1) == "," and _only_part(s, begin_list) and begin_list - 1 > s.begin:
        previous = s.clause_begin(begin_list - 1)
        if not _only_part(s, previous):
            break
        begin_list = previous
    _but_included(s, i)
    named = [m for m in found if m.attribute in ("item", "part")]
    if named and (named[-1].attribute, named[-1].value) == ("item", "other") and i - named[-1].end <= 1:
        named[-1].dropped = "gone"  # pulled it before the frame went to scrap
        return
    for mark in [*s.marks(begin_list, begin), *found]:
        if mark.attribute == "part" and _a_place(s, mark.begin):
            continue
        if mark.attribute in ("position", "item-head") and any(m.attribute == "part" for m in found):
            continue
        if _an_end_itself(s, mark, i):
            mark.dropped = "gone"
        lacking(mark)
        if (mark.attribute, mark.value) == ("item", "housing"):
            mark.dropped = "gone"


def _lacks_what_follows(s: Sentence, begin: int, i: int) -> bool:
    """``it is missing a hub``, ``the rear is missing both drums``: the axle stands before it, the part behind."""
    if not s.scan.key(i).endswith(" missing") or any(m.attribute in ("part", "has") for m in s.marks(begin, i)):
        return False
    return any(m.attribute in ("part", "has") for m in s.marks(i + 1, s.clause_end(i)))


def _gone_itself(s: Sentence, begin: int, i: int, found: list[Mark]) -> list[Mark]:
    """Without what only has something that is gone (``track bar with its bushing gone``), or is ``as removed``."""
    having = next((k for k in range(i - 1, begin, -1) if s.scan.key(k) in ("with", "w/")), -1)
    removed = s.scan.key(i).endswith("removed")
    return [m for m in found if m.begin > having and not (removed and m.attribute in ("position", "item"))]


def _a_place(s: Sentence, k: int) -> bool:
    """``the shaft snapped at the yoke and is gone``: a part that says where."""
    before = k - 1 - (s.scan.key(k - 1) in ("the", "its", "a"))
    return s.scan.key(before) in ("at", "near", "behind", "by", "inside")


def taken(s: Sentence, i: int) -> None:
    """``I pulled the calipers for my truck``, ``I took the spool out``: what is named after it is not there."""
    end = s.clause_end(i)
    for mark in s.marks(i + 1, min(end, i + _TAKEN_FROM)):
        if mark.attribute == "differential" and s.scan.key(mark.end) in ("out", "off"):
            mark.dropped = "denied"
    found = [m for m in s.marks(i + 1, min(end, i + _TAKEN_FROM)) if m.attribute in ("part", "has")]
    if not found:
        return
    after = {s.scan.key(k).partition(" ")[0] for k in range(found[0].end, end)}
    kept = _FOR_GOOD.intersection(s.scan.key(i).split(" "))
    if found[0].value == "diff-cover" and s.scan.key(found[0].end) == "off":
        return  # I took the cover off and counted
    if kept or ("for" in after and after & _FOR_HIMSELF) or after & {"off"} or _out_of_it(s, found[0].end):
        for mark in found:
            lacking(mark)


def _out_of_it(s: Sentence, k: int) -> bool:
    return s.scan.key(k) == "out" and s.scan.key(k + 1) == "of"


def absent(s: Sentence, i: int) -> None:
    """``the limited slip is in the rear, which I don't have``: what stands before it is not on offer."""
    begin = s.clause_begin(i)
    begin = s.clause_begin(begin - 1) if begin == i and i - 1 > s.begin else begin
    for mark in s.marks(begin, i):
        if mark.attribute not in OFFER:
            mark.dropped = "not on offer"


_TAKEN_FROM = 6
_FOR_GOOD = frozenset({"sold", "kept", "robbed", "stole", "scavenged", "swiped", "keeping"})
_FOR_HIMSELF = frozenset({"my", "another", "mine", "his", "other", "our", "myself"})


def _elliptic(s: Sentence, i: int) -> bool:
    """``Rotors don't.``, ``rotors not``: a list of parts that do not come along."""
    if not (is_clause_end(s.scan, i + 1) or i + 1 >= s.end) or s.scan.key(i) not in _ELLIPTIC:
        return False
    begin = s.clause_begin(i)
    found = [m for m in s.marks(begin, i) if m.attribute in ("part", "has")]
    if not found or not all(k in s.at or s.scan.key(k) in LINKS or modifies(s, k) for k in range(begin, i)):
        return False
    for mark in s.marks(begin, i):
        lacking(mark)
    return True


_ELLIPTIC = frozenset({
    "not", "dont", "do not", "does not", "doesnt", "wont", "will not", "arent", "are not", "isnt", "is not",
})  # fmt: skip


def _reach(s: Sentence, i: int, parts_only: bool) -> int:
    """How far a denial at ``i`` reaches: over one thing and those listed with it."""
    k, seen, linked = i + 1, False, False
    while k < s.end:
        key = s.scan.key(k)
        here = s.at.get(k, ())
        if key in _BREAKS or _ends_a_denial(s, i, k, seen):
            break
        if (key == "," or (key == "/" and is_clause_end(s.scan, k))) and not (seen and _lists_on(s, k + 1, parts_only)):
            break
        if here and any(m.attribute not in OFFER for m in here):
            if seen and not linked and not (parts_only and any(m.attribute == "part" for m in here)):
                break
            seen, linked = True, False
            k = max(m.end for m in here)
            continue
        if key in LINKS:
            linked = True
        elif key not in _SIDES and not (linked and parts_only and modifies(s, k)) and (seen or k > i + 5):
            break
        k += 1
    return k


def _ends_a_denial(s: Sentence, i: int, k: int, seen: bool) -> bool:
    key, cue = s.scan.key(k), s.scan.role(k, "cue")
    if cue == "with" and k == i + 1 and key in _HAVING:
        return False  # hasn't got a leak
    if cue in ("not", "no", "with", "correct") or (seen and cue in ("included", "only", "source")):
        return True
    return key in ("(", ")", "|", "-") or (key == ":" and k > i + 1)


def _lists_on(s: Sentence, k: int, parts_only: bool) -> bool:
    while s.scan.key(k) in LINKS - {","}:
        k += 1
    if not parts_only:
        return s.scan.key(k - 1) in ("nor", "or") or _damage_or(s, k)
    while modifies(s, k) and k < s.end:
        k += 1
    here = s.at.get(k, ())
    if not any(m.attribute in ("part", "has") for m in here):
        return False
    ends = k + 1
    return s.scan.key(ends) in LINKS or is_clause_end(s.scan, ends) or ends >= s.end


def _damage_or(s: Sentence, k: int) -> bool:
    """``not bent, cracked or welded``: the ``or`` at the end of a list denies all of it."""
    if not any(m.attribute == "defects" for m in s.at.get(k, ())):
        return False
    return any(s.scan.key(j) in ("or", "nor") for j in range(k, min(s.clause_end(k), k + 4)))


def _only_part(s: Sentence, begin: int) -> bool:
    """Whether a clause is nothing but one part of a list."""
    end = s.clause_end(begin)
    here = [m for m in s.marks(begin, end) if m.attribute not in ("brakes", "position", "hubs")]
    if not here or any(m.attribute != "part" for m in here) or end - begin > 4:
        return False
    return all(k in s.at or s.scan.key(k) in LINKS for k in range(begin, end))


def _but_included(s: Sentence, i: int) -> None:
    """``the ram is not included but the tie rod and drag link are``."""
    end = s.clause_end(i)
    if s.scan.key(i + 1) == "but" and s.scan.key(end - 1) in ("are", "is", "do", "does", "will"):
        for mark in s.marks(i + 2, end):
            if mark.attribute == "part":
                mark.attribute = "has"


def _teeth(s: Sentence, i: int) -> bool:
    """``missing two teeth``: no part that is missing."""
    if s.scan.key(i) in ("no", "without", "w/o", "minus", "less"):
        return False
    for k in range(i + 1, i + 5):
        if s.scan.key(k) in ("teeth", "tooth", "dientes", "dents"):
            s.scan.marks.append(Mark("defects", "damaged-gears", i, k + 1))
            return True
    return False


def denied(mark: Mark) -> None:
    """Turn a mark to its opposite where there are two choices; else drop it."""
    if mark.attribute in _OPPOSITES:
        mark.value = _OPPOSITES[mark.attribute].get(mark.value, mark.value)
    elif mark.attribute == "abs":
        mark.value = not mark.value
    elif mark.attribute == "brakes" and mark.value == "disc":
        mark.dropped = "denied"
    elif mark.attribute == "has":
        mark.attribute = "missing"
    elif mark.attribute not in OFFER - {"price_terms"}:
        mark.dropped = mark.dropped or "denied"


_OPPOSITES = {
    "rear_wheels": {"single": "dual", "dual": "single"}, "float": {"full": "semi", "semi": "full"},
    "pinion": {"high": "low", "low": "high"},
}  # fmt: skip
"""Attributes of which what is not the one is the other."""


def lacking(mark: Mark) -> None:
    """``no calipers``: a part is missing; of anything else it is a denial."""
    if mark.attribute in ("part", "has"):
        mark.attribute = "missing"
        mark.dropped = "denied" if mark.value == "differential" else mark.dropped
    elif mark.attribute == "missing":
        return  # everything but the shafts, which are gone
    elif mark.attribute == "hubs":
        mark.dropped = "missing"
    elif mark.attribute == "brakes" and "with-part" in mark.flags:
        return
    else:
        denied(mark)
