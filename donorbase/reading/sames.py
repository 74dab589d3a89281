"""Step 14b: what things share by a word of theirs: ``same truck``, ``same pattern``, ``same thing but 3.54``."""

import itertools

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import Draft
from donorbase.reading.scan import Scan

_LEADING = frozenset({"-", "*", "•", "the", "and", "also", "#", "1", "2", "3", "4", ")", ".", "(", "another"})
_NOUNS = frozenset({"thing", "axle", "one", "as", "but", "except", "deal", "rear", "front", "unit", "with", "w/", ","})
_REACH = 4
_NOT_SHARED = frozenset({"quantity", "defects", "rebuilt"})
DONOR = ("years", "load_class")
"""What two axles of one truck have in common."""


def share(scan: Scan, drafts: list[Draft]) -> None:
    """Give each of several drafts the marks that it shares with another."""
    _same_pattern(scan, drafts)
    _same_figure(scan, drafts)
    _same_truck(scan, drafts)
    _added_end(scan, drafts)
    _added_thing(scan, drafts)
    _same_thing(scan, drafts)


def says_the_same(scan: Scan, begin: int) -> bool:
    """Whether a row that begins here only tells how it differs from the row before it."""
    for k in range(begin, begin + _REACH):
        if scan.key(k) in ("same", "ditto", "same thing", "same as"):
            return scan.key(k) != "same" or scan.key(k + 1) in _NOUNS
        if scan.key(k) not in _LEADING:
            return False
    return False


def _same_truck(scan: Scan, drafts: list[Draft]) -> None:
    """``same truck``, ``from same``: what is told of the donor of one thing holds for those that share it."""
    places = [
        k
        for k, p in enumerate(scan.pieces)
        if p.roles.get("cue") == "one-truck" or (p.key == "same" and _names_the_donor(scan, k))
    ]
    if not places or len(drafts) < 2:
        return
    sharing = drafts
    if any(d.rows for d in drafts):
        inside = [n for n, d in enumerate(drafts) if any(b <= k < e for k in places for b, e in d.rows)]
        sharing = [d for n, d in enumerate(drafts) if n in inside or n + 1 in inside] if inside else drafts
    for name in DONOR:
        said = [m for d in sharing for m in d.marks if m.attribute == name]
        if said and len({m.value for m in said}) == 1:
            for draft in sharing:
                if all(m.attribute != name for m in draft.marks):
                    draft.marks.append(said[0])


def _added_end(scan: Scan, drafts: list[Draft]) -> None:
    """``rear axle from my 99 (3.73) and the front (3.73)``: ``the`` other end came from the same truck."""
    first = drafts[0]
    for draft in drafts[1:]:
        the = scan.key(draft.begin - 1) == "the" and scan.key(draft.begin - 2) in ("and", "&", "plus", "+")
        matching = scan.role(draft.begin - 1, "cue") == "identical"
        if (
            (the or matching)
            and first.kind == draft.kind == "axle"
            and not draft.rows
            and all(m.attribute not in DONOR for m in draft.marks)
        ):
            draft.marks += [m for m in first.marks if m.attribute in DONOR]


def _added_thing(scan: Scan, drafts: list[Draft]) -> None:
    """``Rear axle & rear driveshaft, 1999 3/4 ton``, ``master off an 08, booster too``: of one truck."""
    for before, draft in itertools.pairwise(drafts):
        front, end = min((draft.begin, *draft.spans)), draft.begin + 1
        near = not any(is_sentence_end(scan, k) for k in range(before.begin, front))
        joined = scan.key(front - 1) in ("and", "&", "+") and front - before.begin <= _REACH
        if draft.kind != "part" or draft.rows or not near or not (joined or scan.key(end) in ("too", "as well")):
            continue
        for one, other in ((before, draft), (draft, before)):
            for name in DONOR:
                said = [m for m in one.marks if m.attribute == name]
                if said and all(m.attribute not in (name, f"fits_{name}") for m in other.marks):
                    other.marks += said


def _same_thing(scan: Scan, drafts: list[Draft]) -> None:
    """``same thing but 3.54``: all that the row before told, where this one says nothing else."""
    for before, draft in itertools.pairwise(drafts):
        if draft.rows and says_the_same(scan, draft.rows[0][0]):
            own = {m.attribute for m in draft.marks}
            draft.marks += [m for m in before.marks if m.attribute not in own and m.attribute not in _NOT_SHARED]


_BY_LABEL = {
    "ratio": ("ratio",), "lugs": ("lugs", "bolt_circle_mm"), "circle": ("lugs", "bolt_circle_mm"),
    "splines": ("splines",), "ring": ("ring_gear_in",), "year": ("years",), "width": ("width_in",),
}  # fmt: skip


def _same_figure(scan: Scan, drafts: list[Draft]) -> None:
    """``same ratio in the front``, ``same gear``: the figure of the first axle that tells one is the others' too."""
    if ("cue", "identical") not in scan.roles:
        return
    axles = [d for d in drafts if d.kind in ("axle", "housing")]
    for k in range(len(scan.pieces)):
        if scan.role(k, "cue") != "identical":
            continue
        own = [d for d in axles if any(b <= k < e for b, e in d.rows)] or axles
        listed = (k + 1, k + 3) if scan.key(k + 2) in ("and", "&") else (k + 1,)
        for name in (n for j in listed for n in _BY_LABEL.get(scan.role(j, "label"), ())):
            said = next((m for d in axles for m in d.marks if m.attribute == name), None)
            for draft in own:
                if said is not None and all(m.attribute != name for m in draft.marks):
                    draft.marks.append(said)


def _names_the_donor(scan: Scan, k: int) -> bool:
    behind = scan.role(k + 1, "cue") == "truck" or scan.key(k + 1) in ("donor", "vehicle", "one", "year")
    source = any(scan.role(j, "cue") == "source" for j in (k - 1, k - 2))
    return behind or (source and (is_clause_end(scan, k + 1) or k + 1 >= len(scan.pieces)))


def _same_pattern(scan: Scan, drafts: list[Draft]) -> None:
    """``wheels, same pattern``: the lugs of the axle are theirs."""
    if all(d.kind != "wheels-tires" for d in drafts):
        return
    said = any(
        (p.key == "same" and scan.role(k + 1, "label") in ("circle", "lugs")) or p.key == "matching"
        for k, p in enumerate(scan.pieces)
    )
    axles = [d for d in drafts if d.kind in ("axle", "housing")]
    for draft in drafts:
        if said and axles and draft.kind == "wheels-tires" and not any(m.attribute == "lugs" for m in draft.marks):
            draft.marks += [m for m in axles[0].marks if m.attribute in ("lugs", "bolt_circle_mm")]
