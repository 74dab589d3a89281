"""Step 12b: which parts come along: those listed after ``comes with`` or before ``all there``."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.lists import after_a_label, bracket_end, modifies, next_part, opens_a_list, option_at_a_price
from donorbase.reading.scan import Mark
from donorbase.reading.sentence import LINKS, Sentence
from donorbase.reading.sizes import SERIES

_WEAK = frozenset({"w", "w/", "with", "has", "have", "got", "con", "avec", "it has"})
_BETWEEN = frozenset({
    "are", "is", "still", "+", "w/", "will", "be", "x", "in", "of", "(", ")", "go", "goes", "come", "comes", "also",
    "they", "both", "all", ":", "do", "does", "can", "and", "out",
})  # fmt: skip


def included_after(s: Sentence, i: int) -> None:
    """``comes with calipers and rotors``: parts listed after it are included."""
    if (
        s.scan.role(i - 1, "cue") == "not"
        or (s.scan.key(i) in ("have", "has", "got") and not _owns(s, i))
        or _a_choice(s, i)
        or _unsure(s, i)
    ):
        return
    k = i + 1
    owning = s.scan.key(i) in ("has", "have", "got", "it has")
    if (not opens_a_list(s, k) and _ends_here(s, k) and not owning) or (
        s.scan.key(i).startswith("incl") and not next_part(s, k)
    ):
        included_before(s, i)
        return
    label = next((j for j in range(k, min(k + _LABEL, s.end)) if opens_a_list(s, j) or s.at.get(j)), k)
    if opens_a_list(s, label):
        _along(s, after_a_label(s, label + 1), strong=not owning)
        return
    _along_from(s, k, s.scan.key(i) not in _WEAK)


def _a_choice(s: Sentence, i: int) -> bool:
    """``$250, or with the housing $400``: more that the buyer could have; what is named is no thing of its own."""
    if not option_at_a_price(s, i):
        return False
    for mark in s.marks(i + 1, s.clause_end(i)) if s.scan.key(i - 1) == "or" else ():
        if mark.attribute == "item":
            mark.dropped = "a choice"
    return True


def _along_from(s: Sentence, k: int, strong: bool) -> None:
    """Turn the parts listed from a place on into facts; ``strong`` where the word before says that they come along."""
    named, plus, first = False, s.scan.key(k - 1) == "plus", k
    while k < s.end:
        k = bracket_end(s, k) if named else k
        here = [m for m in s.at.get(k, ()) if m.attribute == "part"] or _axles_of_an_axle(s, k, first)
        if here and s.scan.key(k + 1) in _OFF:
            break
        if here and here[0].live and not _no_list_part(s, k, strong):
            here[0].attribute = "has"
            here[0].flags |= {"plus"} if plus else frozenset()
            strong = named = True
        elif here and "hubs" in dict(s.scan.at(k).facts):
            named = True
        elif s.scan.key(k) not in LINKS and s.scan.at(k).kind != "num" and not modifies(s, k) and not _unknown(s, k):
            break
        if s.scan.key(k) in (",", "/") and not next_part(s, k + 1):
            break
        k += 1


def _axles_of_an_axle(s: Sentence, k: int, first: int) -> list[Mark]:
    """``rear axle complete w/ axles, drums``: the shafts, which many call axles too."""
    items = [m for m in s.at.get(k, ()) if m.attribute == "item" and m.live]
    ends = s.scan.key(k + 1) in LINKS or is_clause_end(s.scan, k + 1) or k + 1 >= s.end
    if s.scan.key(k) != "axles" or not items or not ends:
        return []
    if not any(m.attribute in ("item", "position") and m.value != "vehicle" for m in s.marks(s.begin, first)):
        return []
    items[0].attribute, items[0].value = "part", "axle-shaft"
    return items


def _unknown(s: Sentence, k: int) -> bool:
    """``with hoses, calipers``: a thing of the list that has no field of its own."""
    piece = s.scan.at(k)
    plain = piece.kind == "word" and not piece.facts and not piece.roles and piece.key.endswith("s")
    return plain and s.scan.key(k + 1) in LINKS and next_part(s, k + 1)


def included_before(s: Sentence, i: int) -> None:
    """``rotors, knuckles, tie rod all there``: parts listed before it are included."""
    if s.scan.key(i + 1) == ":":
        _along(s, after_a_label(s, i + 2))
        return
    if s.scan.key(i) == "there" and not _ends_here(s, i + 1):
        return  # over there in the barn
    if _they(s, i):
        return
    k = i - 1
    while s.scan.key(k) in _POINTING and k > s.begin:
        k -= 1
    k = _subject_end(s, k) if s.scan.key(k) in ("but", "though") else i - 1
    while k >= s.begin:
        parts = [m for m in s.at.get(k, ()) if m.live and m.attribute == "part"]
        if parts and not _no_list_part(s, k, True):
            parts[0].attribute = "has"
            parts[0].flags |= {"stays"} if s.scan.key(i) in _STAYS else frozenset()
        if not parts and _ends_list(s, k):
            break
        k -= 1


_POINTING = frozenset({"they", "theyre", "those", "these", "its", "it", "are", "is", "all", "both", "still"})
_SUBJECT = 8


def _subject_end(s: Sentence, but: int) -> int:
    """``calipers are seized but they're there``: where the subject ends that is told of before the ``but``."""
    for k in range(but - 1, max(but - _SUBJECT, s.begin - 1), -1):
        if any(m.attribute == "part" for m in s.at.get(k, ())):
            return k
        if is_clause_end(s.scan, k) and k < but - 1:
            break
    return but - 1


def listed_alone(s: Sentence) -> None:
    """``Both rotors, both knuckles, tie rod.``: a sentence that is nothing but parts tells what is there.

    So does a part that is ``on``, where nothing follows: ``with drums on``.
    """
    _along(s, [m for m in s.marks(s.begin, s.end) if m.attribute == "part" and _is_on(s, m)])
    if _axle_told(s):
        _counted_parts(s)
    if s.begin == 0 or s.end - s.begin > _LONGEST_LIST:
        return
    parts = [m for m in s.marks(s.begin, s.end) if m.attribute == "part"]
    if len(parts) < _LIST or not _axle_before(s):
        return
    if all(k in {m.begin for m in parts} or s.scan.key(k) in LINKS or modifies(s, k) for k in range(s.begin, s.end)):
        _along(s, parts)


def _is_on(s: Sentence, mark: Mark) -> bool:
    """``brake drums on, 3.73``; not ``67 with the drums on``, which tells how it was measured."""
    measured = s.scan.key(mark.begin - 1) == "the" or "'" in s.scan.at(mark.begin).raw
    return s.scan.key(mark.end) == "on" and _ends_here(s, mark.end + 1) and not measured


_STAYS = frozenset({"stay", "stays", "staying"})
"""Of a part of an axle that it stays on it; beside another part, that it is kept."""
_LIST, _LONGEST_LIST = 2, 24


def _axle_before(s: Sentence) -> bool:
    axles = ("axle", "housing")
    return any(m.attribute == "position" or m.value in axles for m in s.scan.within(0, s.begin)) and s.begin > 0


def _axle_told(s: Sentence) -> bool:
    return any(m.attribute in ("cover_bolts", "ratio", "float") or m.value == "axle" for m in s.marks(s.begin, s.end))


def _along(s: Sentence, marks: list[Mark], strong: bool = True) -> None:
    """Turn parts that come along into facts."""
    for mark in marks:
        if mark.attribute == "part" and not _no_list_part(s, mark.begin, strong):
            mark.attribute = "has"


def _counted_parts(s: Sentence) -> None:
    """``2 hubs 2 drums 2 shafts``: at least three parts in a row, each with its count, tell what is there."""
    run: list[Mark] = []
    for mark in [m for m in s.marks(s.begin, s.end) if m.attribute == "part"]:
        counted = s.scan.at(mark.begin - 1).kind == "num" and s.scan.at(mark.begin - 1).raw in ("1", "2", "4")
        close = not run or mark.begin - run[-1].end <= _APART
        run = [*run, mark] if counted and close else [mark] if counted else []
        if len(run) >= _COUNTED:
            _along(s, run)


_APART, _COUNTED = 2, 3


def _they(s: Sentence, i: int) -> bool:
    """``calipers on the shelf, they come along``: whether only a ``they`` stands before; its parts then come along."""
    begin = s.clause_begin(i - 1)
    subject = [s.scan.key(k) for k in range(begin, i)]
    if (
        begin <= s.begin
        or not subject
        or not {"they", "theyre", "those", "these", "both", "all", "also"}.issuperset(subject)
    ):
        return False
    told = [m for m in s.marks(s.clause_begin(begin - 1), begin - 1) if m.attribute in ("part", "missing")]
    for mark in told:
        mark.attribute = "part" if mark.attribute == "missing" else mark.attribute
    _along(s, told)
    return bool(told)


def _ends_here(s: Sentence, k: int) -> bool:
    """``calipers incl.``, ``drag link goes with it``: nothing follows that could come along."""
    k += s.scan.key(k) in ("it", "them", "axle", "the", "this")
    k += s.scan.key(k) in ("axle", "deal", "price")
    return k >= s.end or is_clause_end(s.scan, k)


def _unsure(s: Sentence, i: int) -> bool:
    """``maybe I throw in the track bar``."""
    return any(s.scan.key(k) in _MAYBE for k in range(max(s.begin, i - 3), i))


_MAYBE = frozenset({"maybe", "might", "could", "may", "if", "possibly"})
_OFF = frozenset({"off", "removed", "out", "apart", "cut", "gone", "missing"})
_LABEL = 6


def _ends_list(s: Sentence, k: int) -> bool:
    """Whether a list of parts, read backwards, does not go on beyond a piece."""
    key, here = s.scan.key(k), [m for m in s.at.get(k, ()) if m.live]
    if key in ("but", "no", "not") or s.scan.role(k, "cue") in ("no", "not", "gone"):
        return True
    if key == ",":
        return not any(m.attribute in ("part", "has") for m in s.at.get(k - 1, ()))
    if key in LINKS or key in _BETWEEN or modifies(s, k):
        return False
    return not (here and all(m.attribute in ("position", "brakes", "caliper_pistons") for m in here))


def _owns(s: Sentence, i: int) -> bool:
    """Whether ``has`` speaks of a thing (``front has hubs``), not of the seller (``I also have a yoke``)."""
    if "also" in (s.scan.role(i - 1, "cue"), s.scan.role(i + 1, "cue")):
        return False
    return s.scan.key(i) == "has" or s.scan.key(i - 1) in ("both", "they", "axles", "all", "each", "it") or i == 0


def _kind_told(s: Sentence, k: int) -> bool:
    """``hubs (manual)``: the kind is a field of its own."""
    opened = s.scan.key(k + 1) == "("
    return opened and (s.scan.role(k + 2, "cue") in ("manual", "automatic") or s.scan.key(k + 2) == "unit")


_RELATIVE = frozenset({"that", "which", "whose"})
"""``has hubs that look dry``: what is told of a part, not that it comes along."""


def _no_list_part(s: Sentence, k: int, strong: bool) -> bool:
    """Whether a part is told by another field (hubs), or only named to tell something else of it."""
    piece = s.scan.at(k)
    names = dict(piece.facts)
    series = s.scan.at(k - 1).raw in SERIES and not strong
    return (
        "hubs" in names
        or (names.get("part") == "hub" and _kind_told(s, k))
        or names.get("part") in ("differential", "carrier")
        or series
        or (not strong and (names.get("part") == "brake-drum" or s.scan.key(k + 1) in _RELATIVE))
        or (not strong and s.scan.role(k + 1, "trait") == "sticks-out")
        or any("fits" in m.flags for m in s.at.get(k, ()))
    )
