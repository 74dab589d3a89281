"""Step 11b: wear told of a part that can wear: ``left unit bearing has some play``, ``lowers shot``."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.tokens import Piece
from donorbase.reference.word_sets import word_set

_BAD = word_set("bad")
_BAD_BRAKES = word_set("bad-brakes")
_BAD_GEARS = word_set("bad-gears")
_NEED = word_set("need")
_NEEDED = word_set("needed")
_FILLING = word_set("filling")
_ADJECTIVES = word_set("before-a-part")
_ATTRIBUTES = word_set("bad-before")
_PADS = word_set("pads")
_BAD_SEALS = word_set("bad-seals")
_GEARS = word_set("gears")
_IN_TWO_WORDS = word_set("bad-in-two-words")
_NAMED = (
    _PADS | {"seal", "seals", "axle seals"} | _GEARS | {"ball joint", "ball joints", "uppers", "lowers", "brg", "brgs"}
)
_ANY_BAD = (
    _BAD
    | _BAD_BRAKES
    | _BAD_GEARS
    | _BAD_SEALS
    | _NEED
    | _ATTRIBUTES
    | {p.partition(" ")[0] for p in _IN_TWO_WORDS}
    | {"done", "wobble", "noise"}
)
"""Where none of these stands, nothing is told to be worn."""
_NONE = word_set("none")
_REPAIRED = word_set("repaired")
"""``unit bearings were done at 80k``: they are new."""
_REACH = 7


def wear(scan: Scan) -> None:
    """Mark the wear told of bearings, ball joints, seals, brakes and gears."""
    if _ANY_BAD.isdisjoint(scan.keys):
        return
    told = {m.begin for m in scan.marks if m.attribute == "defects"}
    for i, piece in enumerate(scan.pieces):
        named = piece.facts or piece.key in _NAMED or "bearing" in piece.key
        defect = _wears(scan, i, piece) if named and i not in told else ""
        if not defect:
            continue
        at = _told_behind(scan, i, defect) or _told_before(scan, i, defect)
        if at and at - 1 not in told:
            scan.marks.append(Mark("defects", defect, at - 1, at))
            told.add(at - 1)


def _wears(scan: Scan, i: int, piece: Piece) -> str:
    """The defect that wear of the part at a place is; empty for what does not wear."""
    if piece.key in _PADS:
        return "worn-brakes"
    if piece.roles.get("thing") == "seal" or piece.key.rpartition(" ")[2] in ("seal", "seals"):
        return "leaking"
    if piece.key in _GEARS:
        return "damaged-gears"
    if ("knuckle", "ball-joint") in piece.facts or piece.key in ("ball joint", "ball joints"):
        return "worn-ball-joint"
    if piece.key in ("uppers", "lowers") and any(
        ("knuckle", "ball-joint") in scan.at(k).facts for k in range(max(0, i - _REACH), i)
    ):
        return "worn-ball-joint"
    if "bearing" in piece.key or piece.key in ("brg", "brgs") or ("hubs", "unit-bearing") in piece.facts:
        return "worn-bearing"
    return ""


def _is_bad(scan: Scan, k: int, defect: str) -> bool:
    key = scan.key(k)
    if f"{key} {scan.key(k + 1)}" in _IN_TWO_WORDS:
        return defect != "damaged-gears"
    extra = _BAD_BRAKES if defect == "worn-brakes" else _BAD_GEARS if defect == "damaged-gears" else frozenset()
    if key == "done":
        return is_clause_end(scan, k + 1) and scan.key(k - 1) not in _REPAIRED
    if defect == "leaking":
        return key in _BAD_SEALS
    if defect == "damaged-gears":
        return key in extra or key in ("shot", "toast", "junk", "trashed", "fried")
    return key in _BAD or key in extra


def _told_behind(scan: Scan, i: int, defect: str) -> int:
    """The place behind ``shot`` in ``ball joints: uppers ok, lowers shot``; 0 where nothing bad is told."""
    for k in range(i + 1, i + 1 + _REACH):
        if scan.key(k) in _NEED:
            return k + 2 if scan.key(k + 1) in _NEEDED else 0
        if _is_bad(scan, k, defect):
            return 0 if _only_a_name(scan, k) else k + 1
        stop = is_sentence_end(scan, k) or (
            scan.key(k) == "," and scan.key(k + 1) not in ("they", "theyre", "both", "all")
        )
        if stop or scan.role(k, "cue") in ("no", "not") or not _fills(scan, k):
            return 0
    return 0


def _fills(scan: Scan, k: int) -> bool:
    return (
        scan.key(k) in _FILLING
        or scan.role(k, "hand") != ""
        or scan.role(k, "unit") in ("mm", "percent", "inch")
        or scan.unit(k) in ("mm", "percent")
    )


def _only_a_name(scan: Scan, k: int) -> bool:
    """``bearings. Rough cut``: the word opens what follows."""
    return scan.at(k + 1).kind == "num" and scan.key(k) in ("play",)


def _told_before(scan: Scan, i: int, defect: str) -> int:
    """The place behind ``worn`` in ``worn lower ball joints``, behind ``needs`` in ``needs a left wheel bearing``."""
    k = i - 1
    while k > i - _REACH and scan.key(k) in _ADJECTIVES:
        k -= 1
    if scan.key(k) in _ATTRIBUTES and defect not in ("damaged-gears", "leaking"):
        return k + 1
    if (
        scan.key(k) in ("needs", "need", "needing")
        and not scan.wanted
        and scan.key(k - 1) not in ("you", "will", "i", "we", "who")
    ):
        return k + 1
    if scan.key(k - 2) in _NONE or scan.at(k - 2).value == 0:
        return 0
    in_it = scan.key(k) in ("in", "on") and scan.key(k - 1) in ("play", "slop", "noise", "wobble")
    return k if in_it and defect in ("worn-bearing", "worn-ball-joint") else 0
