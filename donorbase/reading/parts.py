"""Step 13c: which of the parts named are things for sale of their own."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import Draft
from donorbase.reading.heads import Head
from donorbase.reading.scan import Scan

_LINKS = frozenset({"&", "and", "+", ",", "/", "n", "y", "et", "w/"})
_SMALL = frozenset({"the", "2", "two", "both", "a", "set of", "pair of", "set", "pair"})
_PARTING = frozenset({",", ";", ":", "+", "plus", "&", "and", "•", "|"})
_BEFORE_A_NOUN = frozenset(
    {"the", "a", "an", "new", "good", "used", "nice", "spare", "set of", "complete", "of", "(", ")", "x"}
)
_NOT_SOLD = frozenset({"is", "are", "was", "were", "has", "have", "look", "looks", "good", "shot", "worn", "froze"})


def parts(scan: Scan, living: list[Head], positions: list[Head]) -> list[Draft]:
    """The first part, and those listed with it."""
    nouns = [h for h in living if h.kind == "part"]
    first = nouns[0]
    drafts = [part_draft(first, positions)]
    previous = first
    for head in nouns[1:]:
        beside = adjacent(scan, previous, head)
        if any(d.part == head.part and (not head.positions or d.position in ("", *head.positions)) for d in drafts):
            previous = head if beside else previous
            continue
        if beside or starts_anew(scan, head) or _counted(scan, head) or _alone(scan, head):
            _no_longer_included(head)
            drafts.append(part_draft(head, []))
            drafts[-1].position = drafts[-1].position or (drafts[0].position if beside else "")
            previous = head
    return drafts


def part_draft(head: Head, positions: list[Head]) -> Draft:
    """The part of a noun; where it has no position of its own, the one that all of ``positions`` name."""
    where = head.positions[0] if len(head.positions) == 1 else ""
    draft = Draft("part", head.part, where, head.begin, head.spans)
    if not where and len({p.positions for p in positions}) == 1 and len(positions[0].positions) == 1:
        draft.position, draft.spans = positions[0].positions[0], (*draft.spans, positions[0].begin)
    return draft


def adjacent(scan: Scan, previous: Head, head: Head) -> bool:
    """Whether nothing but links stands between two nouns."""
    gap = range(previous.end, head.begin)
    return len(gap) <= 5 and all(scan.key(k) in _LINKS or k in head.spans or scan.key(k) in _SMALL for k in gap)


def starts_anew(scan: Scan, head: Head) -> bool:
    """Whether a noun opens a segment of its own: after ``also``, or after a semicolon or line end."""
    k = head.spans[0] - 1 if head.spans else head.begin - 1
    for _ in range(6):
        if scan.role(k, "cue") == "also":
            return True
        if scan.key(k) == ";" or scan.at(k).kind == "line":
            return True
        if k < 0 or is_clause_end(scan, k):
            return False
        k -= 1
    return False


def added(scan: Scan, head: Head) -> bool:
    """``+ pair of rotors``."""
    return _counted(scan, head, frozenset({"+"}))


def _counted(scan: Scan, head: Head, behind: frozenset[str] = _PARTING) -> bool:
    """``, 2 calipers``, ``plus 1 caliper``, ``pair of shafts``: a number of them opens the segment."""
    k = min((head.begin, *head.spans)) - 1
    count = False
    while k >= 0 and (
        scan.key(k) in _BEFORE_A_NOUN or scan.at(k).facts or scan.role(k, "count") or scan.at(k).kind == "num"
    ):
        count = count or bool(scan.role(k, "count")) or (scan.at(k).raw.isdigit() and int(scan.at(k).raw) < 13)
        k -= 1
    return count and (scan.key(k) in behind or (behind is _PARTING and (k < 0 or is_sentence_end(scan, k))))


def _alone(scan: Scan, head: Head) -> bool:
    """``Cover.``: the noun is all that its sentence says."""
    begin = min((head.begin, *head.spans))
    return is_sentence_end(scan, begin - 1) and is_sentence_end(scan, head.end) and scan.key(head.end) != "?"


def _no_longer_included(head: Head) -> None:
    if head.mark is not None:
        head.mark.attribute = "part"
