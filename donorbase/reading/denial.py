"""Step 12a: what is denied, lacking or gone."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Mark
from donorbase.reading.sentence import LINKS, OFFER, Sentence

_BREAKS = frozenset(
    {"but", "just", "only", "however", "though", "although", "so", "because", "since", "which", "while", "still"}
)
_SIDES = frozenset({
    "driver side", "drivers side", "passenger side", "passengers side", "pass side", "ds", "lh", "rh", "left", "right",
    "driver", "passenger", "long side", "short side", "left side", "right side",
})  # fmt: skip


def deny(s: Sentence, i: int) -> None:
    """``not a dually``: what the denial reaches is turned or dropped."""
    if s.scan.key(i + 1) == "only" or (
        s.scan.key(i) == "nothing" and s.scan.key(i + 1) in ("wrong", "fancy", "special")
    ):
        return
    offered = next((m for m in s.marks(i + 1, i + 3) if m.attribute == "offer" and m.value == "for-sale"), None)
    if offered is not None:
        offered.dropped = "denied"
        gone(s, i)
        return
    end = _reach(s, i, False) if s.scan.role(i, "cue") != "neither" else s.end
    if s.scan.key(i) in ("dont", "do not") and s.scan.key(i + 1) == "want":
        end = s.end
    for mark in s.marks(i + 1, end):
        denied(mark)


def lack(s: Sentence, i: int) -> None:
    """``no calipers, rotors or hubs``: the parts listed after it are missing."""
    if _teeth(s, i) or (s.scan.key(i) == "no" and s.scan.key(i - 1) == "?"):
        return
    end = _reach(s, i, True)
    found = [m for m in s.marks(i + 1, end) if m.attribute not in OFFER]
    if not found and s.scan.key(i) in ("missing", "missin", "falta", "faltan", "manque"):
        gone(s, i)
        return
    for mark in found:
        if mark.attribute != "item" or mark.begin == i + 1 or s.scan.key(mark.begin - 1) in LINKS:
            lacking(mark)


def gone(s: Sentence, i: int) -> None:
    """``calipers are gone``: the parts named before it are missing."""
    if _teeth(s, i):
        return
    begin = s.clause_begin(i)
    found = [m for m in s.marks(begin, i) if m.attribute not in OFFER]
    if not found and s.scan.key(begin - 1) == "(":
        begin = s.clause_begin(begin - 1)
        found = [m for m in s.marks(begin, i) if m.attribute == "part"]
    begin_list = begin
    while s.scan.key(begin_list - 1) == "," and _only_part(s, begin_list) and begin_list - 1 > s.begin:
        previous = s.clause_begin(begin_list - 1)
        if not _only_part(s, previous):
            break
        begin_list = previous
    _but_included(s, i)
    for mark in [*s.marks(begin_list, begin), *found]:
        if mark.attribute in ("position", "item-head") and any(m.attribute == "part" for m in found):
            continue
        lacking(mark)


def _reach(s: Sentence, i: int, parts_only: bool) -> int:
    """How far a denial at ``i`` reaches: over one thing and those listed with it."""
    k, seen, linked = i + 1, False, False
    while k < s.end:
        key = s.scan.key(k)
        here = s.at.get(k, ())
        if key in _BREAKS or (s.scan.role(k, "cue") in ("with", "included", "only", "source") and seen):
            break
        if key in ("(", ")", "|", "-") or (key == ":" and k > i + 1) or s.scan.role(k, "cue") in ("not", "no"):
            break
        if key == "," and not (seen and _lists_on(s, k + 1, parts_only)):
            break
        if here and any(m.attribute not in OFFER for m in here):
            if seen and not linked and not (parts_only and any(m.attribute == "part" for m in here)):
                break
            seen, linked = True, False
            k = max(m.end for m in here)
            continue
        if key in _SIDES:
            pass
        elif key in LINKS:
            linked = True
        elif seen or k > i + 5:
            break
        k += 1
    return k


def _lists_on(s: Sentence, k: int, parts_only: bool) -> bool:
    while s.scan.key(k) in LINKS - {","}:
        k += 1
    if not parts_only:
        return s.scan.key(k - 1) in ("nor", "or")
    here = s.at.get(k, ())
    if not any(m.attribute in ("part", "has") for m in here):
        return False
    ends = k + 1
    return s.scan.key(ends) in LINKS or is_clause_end(s.scan, ends) or ends >= s.end


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
    for k in range(i + 1, i + 5):
        if s.scan.key(k) in ("teeth", "tooth", "dientes", "dents"):
            s.scan.marks.append(Mark("defects", "damaged-gears", i, k + 1))
            return True
    return False


def denied(mark: Mark) -> None:
    """Turn what has an opposite, drop the rest."""
    if mark.attribute == "rear_wheels":
        mark.value = "single" if mark.value == "dual" else "dual"
    elif mark.attribute == "abs":
        mark.value = not mark.value
    elif mark.attribute == "brakes" and mark.value == "disc":
        mark.dropped = "denied"
    elif mark.attribute == "has":
        mark.attribute = "missing"
    elif mark.attribute not in OFFER - {"price_terms"}:
        mark.dropped = "denied"


def lacking(mark: Mark) -> None:
    """``no calipers``: a part is missing; of anything else it is a denial."""
    if mark.attribute in ("part", "has"):
        mark.attribute = "missing"
    elif mark.attribute == "hubs":
        mark.dropped = "missing"
    elif mark.attribute == "brakes" and "with-part" in mark.flags:
        return
    else:
        denied(mark)
