"""Step 12d: what is said of another thing than the one on offer: the seller's truck, a neighbour's, the next build."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.draft import part_may_have
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sentence import OFFER, Sentence

_HANDS = frozenset({"my", "mi", "mis", "mon", "ma", "our", "mine", "his", "her", "their", "ours"})
_KIN = frozenset(
    {"buddys", "neighbors", "brothers", "my brothers", "my sons", "my son", "my wifes", "my buddy", "buddy"}
)
_SOFT = frozenset({"i have", "ive got", "i've", "i got a", "i found a", "he has", "we run", "going to",
    "going with", "to run", "i put", "i drive", "already have", "i already have",
                   "ordered", "neighbor", "buddy", "brother in law", "i bought", "bought a", "i run",
                   "next build", "building a", "was going to use", "mine has"})  # fmt: skip
_ITS_OBJECT_BEFORE = frozenset({"going in", "going into", "going in it", "swapped in", "other truck", "the rig i have"})
_INTO_IT = frozenset({"in it", "in this", "in this one", "in that"})
_USING = frozenset({"i drive", "i run", "we run"})
"""What is told so in the first sentence is his own, not on offer."""
_WHOLE_THINGS = frozenset({"position", "item", "cover_bolts", "ring_gear_in", "lugs"})
_HAVING = frozenset({"have", "got", "i have", "ive got", "with", "trade", "both"})
"""``have my 3.73 rear to trade``: what a seeker has is not what he seeks."""
_SAYING = frozenset({"says", "said", "told me", "swears", "thinks", "claims", "tells me", "claimed", "thought"})
_FAR, _REACH = 5, 8


def somebodys(s: Sentence, i: int) -> None:
    """``my other truck has``, ``I have 5.13s going in``: what is said of another thing."""
    key = s.scan.key(i)
    if any(s.scan.key(k) in _SAYING or s.scan.role(k, "cue") == "hedge" for k in (i + 1, i + 2)):
        return  # my neighbor says: what is said may be of the thing on offer
    if _donors(s, i) or (key.startswith(("mine", "ours")) and ("offer", "trade") in s.scan.said):
        return
    if key.partition(" ")[0] in _HANDS and key not in _KIN:
        _his_own(s, i)
        return
    if key in _USING and any(s.scan.key(k) in _INTO_IT for k in range(i + 1, s.clause_end(i))):
        return  # I run 3.92s in it
    opens = s.begin == 0 and key not in _USING
    if key in _SOFT and (has_head(s, s.begin, s.end) or opens) and not s.scan.wanted:
        if key in _GETTING:
            _his_new_one(s, i)
        return
    begin = s.clause_begin(i) if key in _ITS_OBJECT_BEFORE or not _verb(key) else i
    marks = [m for m in s.marks(begin, s.clause_end(i)) if m.attribute not in OFFER - {"mileage_mi"}]
    if key == "i put" and not any(m.attribute in _WHOLE_THINGS for m in marks):
        return  # ``I put 4.10s back``: into the axle that is told of
    for mark in marks:
        if mark.attribute not in ("fits_years", "missing"):
            mark.dropped = _ANOTHERS


def what_he_has(scan: Scan) -> None:
    """``Have 3.25 chunk & 28 spline shafts already``, in the advert of a seeker: what he does not seek."""
    for begin, end in scan.sentences if scan.wanted else ():
        if scan.key(begin) in ("have", "got", "i have", "ive got") and begin:
            for mark in scan.within(begin, end):
                if mark.attribute not in OFFER:
                    mark.dropped = _ANOTHERS


def of_a_sold_truck(scan: Scan) -> None:
    """``Sold the crawler Friday, it had 4.88s under it``: a sentence that opens with the truck that is gone."""
    if ("cue", "truck") not in scan.roles or not any(key.startswith("sold") for key in scan.keys):
        return
    for begin, end in scan.sentences:
        opens = scan.key(begin).startswith("sold") or scan.key(begin + 1).startswith("sold")
        if begin and opens and any(scan.role(k, "cue") == "truck" for k in range(begin + 1, min(begin + 4, end))):
            for mark in scan.within(begin, end):
                if mark.attribute not in OFFER:
                    mark.dropped = _ANOTHERS


def not_from_that(scan: Scan) -> None:
    """``the truck is a 2010 dually, the axle is NOT from it``: what was told just before is of that truck alone."""
    if ("cue", "not") not in scan.roles or ("cue", "source") not in scan.roles:
        return
    for number, (begin, end) in enumerate(scan.sentences):
        for k in range(begin, end):
            denied = scan.role(k, "cue") == "not" and scan.role(k + 1, "cue") == "source"
            if denied and scan.key(k + 2) in _THAT:
                clause = next((j for j in range(k, begin, -1) if is_clause_end(scan, j)), begin)
                first = begin if clause > begin else scan.sentences[max(number - 1, 0)][0]
                for mark in scan.within(first, clause):
                    if mark.attribute not in OFFER:
                        mark.dropped = _ANOTHERS


_THAT = frozenset({"that", "it", "this", "them", "those", "that one", "mine"})


def only_thing(scan: Scan) -> None:
    """``I've a 14 bolt rear. It's full floating, 4.56``: where no axle is named but one, it is the one on offer."""
    others = [m for m in scan.marks if m.dropped == _ANOTHERS and _names_axle(m)]
    if not others or scan.wanted or any(m.live and _names_axle(m) for m in scan.marks):
        return
    parts = {str(m.value) for m in scan.marks if m.attribute == "part" and m.live}
    if not any(m.live and not any(part_may_have(p, m.attribute) for p in parts) for m in scan.marks):
        return
    begin, end = next(((b, e) for b, e in scan.sentences if b <= others[0].begin < e), (0, 0))
    for mark in scan.marks:
        if mark.dropped == _ANOTHERS and begin <= mark.begin < end:
            mark.dropped = ""


def _names_axle(mark: Mark) -> bool:
    return mark.attribute == "position" or (mark.attribute == "item" and mark.value in ("axle", "housing"))


_ANOTHERS = "another's"


_GETTING = frozenset({"bought a", "i bought", "i bought a", "i found a", "ordered", "going with"})


def _his_new_one(s: Sentence, i: int) -> None:
    """``Bought a 14 bolt for my project, so the old 10 bolt rear goes``: another value of what is sold."""
    end = s.clause_end(i)
    here = list(s.marks(i + 1, end))
    for mark in here:
        if mark.attribute in _WHOLE_THINGS and mark.attribute != "item":
            others = [m for m in s.scan.marks if m.live and m.attribute == mark.attribute and m.begin >= end]
            if others and all(m.value != mark.value for m in others):
                for told in here:
                    if told.attribute not in OFFER:
                        told.dropped = _ANOTHERS
                return


def _verb(key: str) -> bool:
    """Whether what it speaks of stands behind it: ``swapped to a 14 bolt``."""
    return key.endswith((" to", " with", " by", " a", " put", "ordered"))


def _donors(s: Sentence, i: int) -> bool:
    """``out of my late brother's tow truck``, ``in the front of my 2014``: where the thing on offer came from."""
    if s.scan.key(i - 1) == "of" and any(m.attribute == "position" for m in s.at.get(i - 2, ())):
        return True
    if s.scan.key(i) in _KIN and any(s.scan.role(k, "cue") == "source" for k in range(max(i - _REACH, s.begin), i)):
        return True
    owned = range(i - 1, max(i - _FAR, s.begin - 1), -1)
    hand = next((k for k in owned if s.scan.key(k) in _HANDS), i)
    return s.scan.role(hand - 1, "cue") == "source" and s.scan.role(i, "cue") == "mine" and hand >= s.begin


_BACK = frozenset({"this", "this one", "these", "mine"})
"""``his front is 3.55 and this is 3.73``: what is sold is spoken of again."""


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
    his = s.scan.wanted and s.scan.key(i - 1) in _HAVING
    if (
        head
        and not his
        and s.scan.key(i) in ("my", "mi", "our")
        and s.scan.key(i + 1) not in ("other", "new", "truck", "old")
    ):
        return
    end = next((k for k in range(i + 1, end) if s.scan.key(k) in _BACK and s.scan.key(k - 1) in ("and", "but")), end)
    origin = next((k for k in range(i + 1, end) if s.scan.role(k, "cue") == "source"), end)
    other = "other" in s.scan.key(i) or s.scan.key(i + 1) in ("other", "new")
    if other and s.scan.key(i - 1) in ("in", "on", "under"):  # a kingpin front with 4.56s in my other rig
        _drop_before(s, i)
    untouched = OFFER - {"mileage_mi"} if other else OFFER
    for mark in s.marks(i + 1, origin):
        if mark.attribute not in untouched and mark.attribute != "fits_years":
            mark.dropped = _ANOTHERS


def _drop_before(s: Sentence, i: int) -> None:
    for mark in s.marks(s.clause_begin(i), i):
        if mark.attribute not in OFFER:
            mark.dropped = "another's"


def has_head(s: Sentence, begin: int, end: int) -> bool:
    """Whether a thing is named between two places."""
    named = (m.attribute in ("position", "part") for k in range(begin, end) for m in s.at.get(k, ()))
    return any(named) or any(s.scan.role(k, "item") in ("axle", "housing") for k in range(begin, end))
