"""Step 15: the marks of one thing -> its facts: parts turned to what they imply, corrections and contradictions."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import attributes
from donorbase.facts import Fact, Item, Known, Span
from donorbase.reading.clauses import is_sentence_end
from donorbase.reading.clean import Clean
from donorbase.reading.draft import WHEEL_FACTS, Draft, part_may_have
from donorbase.reading.scan import Mark, Scan
from donorbase.reference.word_sets import word_set

_IMPLIED = {
    "caliper": ("brakes", "disc"),
    "rotor": ("brakes", "disc"),
    "brake-drum": ("brakes", "drum"),
    "caliper-bracket": None,
}
_LISTS = frozenset({"has", "missing", "defects", "price_terms"})
_GENERIC = {"locker": frozenset({"selectable-locker", "automatic-locker", "spool"}),
            "locking": frozenset({"manual-locking", "automatic-locking"})}  # fmt: skip
_PART_SPLINES = {"outer-shaft": "outer_splines", "inner-shaft": "inner_splines"}
_PART_HUBS = frozenset({"locking-hub", "hub"})
_LOCK = frozenset({"manual-locking", "automatic-locking", "locking"})
_BOLTS_AND_SPLINES = frozenset({"lugs", "bolt_circle_mm", "splines", "inner_splines", "outer_splines"})
_FIGURES = _BOLTS_AND_SPLINES | {"ring_gear_in", "cover_bolts", "tube_in", "shaft_dia_in", "hubs", "knuckle"}
_NEVER_OF = {
    "driveshaft": _FIGURES | {"suspension"}, "tie-rod": _FIGURES - {"knuckle"}, "drag-link": _FIGURES,
    "track-bar": _FIGURES, "booster": _FIGURES, "master-cylinder": _FIGURES, "diff-cover": _BOLTS_AND_SPLINES,
    "caliper": _BOLTS_AND_SPLINES,
}  # fmt: skip
"""What no such part has besides what ``part_may_have`` knows: it is told of the axle it came from."""


@dataclass(frozen=True, slots=True)
class Places:
    """Turns pieces into spans of the original text."""

    scan: Scan
    clean: Clean

    def span(self, begin: int, end: int) -> Span:
        """The span of the pieces ``begin`` to ``end``."""
        pieces = self.scan.pieces
        return self.clean.original(pieces[begin].begin, pieces[end - 1].end)


def settle(draft: Draft, places: Places) -> Item:
    """The item with its facts, ``kind`` first."""
    if draft.part == "hub" and any(m.attribute == "hubs" and m.value in _LOCK for m in draft.marks):
        draft.part = "locking-hub"  # front hubs, manual locking
    facts = _naming(draft, places)
    own = [m for m in draft.marks if draft.kind != "part" or not _another_part(places.scan, m)]
    marks = [m for m in (_turned(draft, m, places.scan.wanted) for m in own) if m is not None]
    marks = _one_of_two(_without_other_brakes(_without_other_hubs(marks)))
    marks += _implied(draft, marks)
    by_name: dict[str, list[Mark]] = {}
    for mark in marks:
        if mark.attribute in attributes() or mark.attribute in ("family", "variant"):
            by_name.setdefault(mark.attribute, []).append(mark)
    for name, said in by_name.items():
        if _belongs(draft, name):
            facts += _listed(said, places) if name in _LISTS else _single(name, said, places)
    return Item(tuple(facts))


def _another_part(scan: Scan, mark: Mark) -> bool:
    """``Spindles are promised.``, ``Track bar stays.``: beside parts, a sentence about a part that is not for sale."""
    if mark.attribute not in ("has", "missing") or ("part", mark.value) not in scan.at(mark.begin).facts:
        return False
    begin, end = next((b, e) for b, e in scan.sentences if mark.begin < e)
    opens = begin == mark.begin - (scan.key(begin) in _BEFORE_A_PART)
    return opens and any(word in _NOT_FOR_SALE for k in range(mark.end, end) for word in scan.key(k).split(" "))


_BEFORE_A_PART = frozenset({"the", "my", "a", "front", "rear"})
_NOT_FOR_SALE = word_set("not-for-sale")


def _naming(draft: Draft, places: Places) -> list[Fact]:
    where = tuple(places.span(k, k + 1) for k in sorted(set(draft.spans)))
    facts = [Fact("kind", draft.kind, Known.STATED if draft.spans else Known.INFERRED, where)]
    if draft.part:
        facts.append(Fact("part", draft.part, Known.STATED, where))
    if draft.position:
        facts.append(Fact("position", draft.position, Known.STATED, where))
    return facts


def _belongs(draft: Draft, name: str) -> bool:
    if draft.kind in ("wheels-tires", "other"):
        return name in WHEEL_FACTS
    if draft.kind == "part":
        return name not in _NEVER_OF.get(draft.part, frozenset())
    return not (draft.kind == "vehicle" and name in ("has", "missing"))


def _turned(draft: Draft, mark: Mark, sought: bool) -> Mark | None:
    """A mark as it is meant of this draft; None where it says nothing of it."""
    name = mark.attribute
    if "fits" in mark.flags and draft.kind in ("axle", "housing", "vehicle") and name != "fits_years":
        return None
    if name == "part":
        implied = _IMPLIED.get(str(mark.value))
        if draft.kind == "part" or implied is None:
            return None
        return Mark(implied[0], implied[1], mark.begin, mark.end, mark.hedged)
    if draft.kind == "part":
        return _of_part(draft, mark, sought)
    if name == "years" and "open" in mark.flags and draft.kind == "part":
        return Mark("fits_years", mark.value, mark.begin, mark.end, mark.hedged)
    if "throughout" in mark.flags and draft.position == "rear":  # its shafts are of one piece
        return Mark("splines", mark.value, mark.begin, mark.end, mark.hedged) if name == "inner_splines" else None
    return mark


def _of_part(draft: Draft, mark: Mark, sought: bool) -> Mark | None:
    name = mark.attribute
    if name == "splines":
        return Mark(_PART_SPLINES.get(draft.part, name), mark.value, mark.begin, mark.end, mark.hedged)
    if name == "years" and ("open" in mark.flags or (sought and "span" not in mark.flags)):
        return Mark("fits_years", mark.value, mark.begin, mark.end, mark.hedged)
    if name in ("brakes", "load_class", "suspension") and (mark.flags & {"fits", "aim"} or name == "brakes"):
        return None
    if not part_may_have(draft.part, name):
        return None
    if name == "hubs":
        if mark.value == "unit-bearing":
            return mark if draft.part == "knuckle" else None
        return mark if draft.part in _PART_HUBS else None
    if name == "has" and (mark.value == draft.part or "stays" in mark.flags):
        return None
    return mark


def _without_other_brakes(marks: list[Mark]) -> list[Mark]:
    """``No drums on it, those are discs``: parts of the other kind of brakes are no parts that are missing."""
    kinds = {m.value for m in marks if m.attribute == "brakes" and "with-part" not in m.flags}
    lacking = [m for m in marks if m.attribute == "missing" and _IMPLIED.get(str(m.value))]
    other = {m.begin for m in lacking if len(kinds) == 1 and (_IMPLIED[str(m.value)] or ("", ""))[1] not in kinds}
    return [m for m in marks if m.begin not in other]


def _without_other_hubs(marks: list[Mark]) -> list[Mark]:
    """``slugs (no lockouts)``: where flanges drive the hubs, no locking hubs are missing."""
    flanged = any(m.attribute == "hubs" and m.value == "drive-flange" for m in marks)
    return [m for m in marks if not (flanged and m.attribute == "missing" and m.value == "locking-hub")]


def _one_of_two(marks: list[Mark]) -> list[Mark]:
    """``minus one shaft, the other one is there``: of a pair of which one is missing, that is what counts."""
    lacking = {m.value for m in marks if m.attribute == "missing"}
    return [m for m in marks if not (m.attribute == "has" and m.value in lacking)]


def _implied(draft: Draft, marks: list[Mark]) -> list[Mark]:
    """Brakes implied by parts that come along or are missing."""
    if draft.kind not in ("axle", "housing", "vehicle"):
        return []
    found = []
    for mark in marks:
        implied = _IMPLIED.get(str(mark.value)) if mark.attribute in ("has", "missing") else None
        if mark.attribute == "caliper_pistons":
            implied = _IMPLIED["caliper"]
        if implied and not any(m.attribute == "brakes" for m in marks):
            found.append(Mark(implied[0], implied[1], mark.begin, mark.end, mark.hedged))
    return found


def _listed(said: list[Mark], places: Places) -> list[Fact]:
    """One fact for each different value; ``as is`` says nothing beside a defect that is named."""
    if len({m.value for m in said}) > 1:
        said = [m for m in said if places.scan.key(m.begin) not in ("as is", "asis")]
    marks: dict[Any, list[Mark]] = {}
    for mark in said:
        marks.setdefault(mark.value, []).append(mark)
    return [_of_list(value, those, places) for value, those in marks.items()]


def _of_list(value: Any, said: list[Mark], places: Places) -> Fact:
    """A fault that the seller only suspects is hedged; whatever else stands in lists is told plainly."""
    unsure = said[0].attribute == "defects" and all(m.hedged for m in said)
    where = tuple(places.span(m.begin, m.end) for m in said)
    return Fact(said[0].attribute, value, Known.HEDGED if unsure else Known.STATED, where)


def _single(name: str, said: list[Mark], places: Places) -> list[Fact]:
    said = _rounded([m for m in said if name != "years" or places.scan.key(m.end) != "style"] or said)
    if len(said) == 1:
        return [_fact(name, said, places, Known.HEDGED if said[0].hedged else Known.STATED)]
    said = _sharper(said)
    values = _distinct(said)
    if len(values) > 1:
        sure = [m for m in said if not m.hedged]
        if sure and len(_distinct(sure)) < len(values):
            said = sure
    if len(_distinct(said)) > 1 and all(_telling(places.scan, m) >= 0 for m in said):
        return []  # one sticker says 4.10, the other 3.73
    if len(_distinct(said)) > 1:
        said = [m for m in said if not _hearsay(places.scan, m)] or said
    if len(_distinct(said)) > 1:
        corrected = _after_correction(said, places.scan)
        said = [corrected] if corrected is not None else said
    if len(_distinct(said)) > 1:
        return [_fact(name, [m for m in said if m.value == v], places, Known.CONTRADICTED) for v in _distinct(said)]
    known = Known.HEDGED if all(m.hedged for m in said) else Known.STATED
    return [_fact(name, said, places, known)]


def _rounded(said: list[Mark]) -> list[Mark]:
    """``6-11/16 so it's 170mm``: of two measures of the same length, the one that was said last."""
    lengths = [m for m in said if isinstance(m.value, float)]
    return (
        [m for m in said if not any(_hardly_differs(m, n) for n in lengths[lengths.index(m) + 1 :])]
        if lengths == said
        else said
    )


def _hardly_differs(first: Mark, second: Mark) -> bool:
    return bool(first.value != second.value and abs(first.value - second.value) <= _LITTLE * first.value)


def _fact(name: str, said: list[Mark], places: Places, known: Known) -> Fact:
    return Fact(name, said[0].value, known, tuple(dict.fromkeys(places.span(m.begin, m.end) for m in said)))


def _distinct(said: Iterable[Mark]) -> list[Any]:
    return list(dict.fromkeys(m.value for m in said))


def _sharper(said: list[Mark]) -> list[Mark]:
    """Without the values that only say less than another one (``locker`` beside ``air locker``)."""
    values = {m.value for m in said}
    kept = [m for m in said if not (m.value in _GENERIC and values & _GENERIC[str(m.value)])]
    unnamed = [m for m in kept if "named" not in m.flags and "od" not in m.flags]
    return unnamed or kept


_WRITTEN = 3
_LITTLE = 0.0015


def _hearsay(scan: Scan, mark: Mark) -> bool:
    """Whether somebody else said it: ``said to be 4.88 by the PO``,
    ``semi-float says the guy``; not ``tag said 4.56``."""
    k = _telling(scan, mark)
    if k >= 0:
        return not any(scan.role(j, "label") == "tag" for j in range(max(0, k - _WRITTEN), k))
    for k in range(mark.end, mark.end + _BEHIND):
        if is_sentence_end(scan, k):
            break
        if scan.role(k, "doubt") == "told":
            return True
    return False


def _telling(scan: Scan, mark: Mark) -> int:
    """Where it is said right before that somebody, or a label, tells it; -1 where the seller does."""
    for k in range(mark.begin - 1, max(mark.begin - 1 - _SAYING, -1), -1):
        if scan.role(k, "doubt") == "told":
            return k
        if is_sentence_end(scan, k) or (scan.used[k] and scan.at(k).kind == "num") or scan.key(k) in ("but", ","):
            return -1
    return -1


_SAYING, _BEHIND = 8, 4


def _after_correction(said: list[Mark], scan: Scan) -> Mark | None:
    """The last value, where the seller takes back what he said before it."""
    last = said[-1]
    if ("cue", "correct") not in scan.roles:
        return None
    for k in range(said[0].end, last.begin):
        if scan.role(k, "cue") == "correct":
            return last
    return None
