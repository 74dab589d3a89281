"""Step 11b: wear told of a part that can wear: ``left unit bearing has some play``, ``lowers shot``."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.tokens import Piece

_BAD = frozenset({
    "shot", "bad", "toast", "toasted", "junk", "junked", "worn", "wore", "wore out", "worn out", "loose", "sloppy",
    "rough", "trashed", "fried", "roasted", "wasted", "going out", "gritty", "crunchy", "clunks", "clunk", "kaput",
    "finished", "play", "slop", "wobbly", "wobble", "noisy", "howls", "growls", "hums", "rumbles", "whines",
    "roars", "grinds", "grumbles", "squeals", "screams", "sings", "singing", "making noise", "makes noise",
    "finies", "finis", "usées", "usés", "usees", "mortes", "morts", "gastadas", "gastados", "malas", "malos",
    "acabadas", "acabados", "tronadas", "tronados", "whirrs", "whirs", "no good", "questionable", "tired",
    "failing", "dead",
})  # fmt: skip
_BAD_BRAKES = frozenset({
    "thin", "gone", "gouged", "scored", "warped", "low", "grooved", "bald", "rivets", "metal to metal", "chewed",
    "cooked",
})  # fmt: skip
_BAD_GEARS = frozenset({"chipped", "broken", "scored", "pitted", "stripped", "missing", "chewed", "galled", "spalled"})
_NEED = frozenset({"need", "needs", "needing", "could use"})
_NEEDED = frozenset({
    "replaced", "replacing", "replacement", "replace", "work", "help", "attention", "rebuilt", "renewed", "to",
    "new", "changed", "changing", "done", "love", "rebuild", "service",
})  # fmt: skip
_FILLING = frozenset({
    "is", "are", "was", "were", "has", "have", "had", "got", "a", "an", "the", "some", "little", "bit", "of",
    "both", "all", "also", "look", "looks", "feel", "feels", "seem", "seems", "sound", "sounds", "pretty", "really",
    "kinda", "kind", "very", "just", "about", "getting", "starting", "to", "get", "be", "too", "(", ":", "they",
    "theyre", "its", "it", "one", "on", "left", "right", "side", "upper", "lower", "uppers", "lowers", "two",
    "four", "slightly", "much", "in", "them", "that", "each", "there", "there's", "theres", "still", "starts",
    "makes", "lot", "probably", "likely", "maybe", "definitely", "driver", "passenger", "drivers", "passengers",
    "driver side", "drivers side", "passenger side", "passengers side", "pass side", "ds", "ps", "lh", "rh", "so",
    "-", "=", "and", "ok", ",", "good", "fine",
})  # fmt: skip
_ADJECTIVES = frozenset({
    "a", "an", "new", "both", "all", "four", "two", "upper", "lower", "left", "right", "front", "rear", "inner",
    "outer", "wheel", "pinion", "carrier", "unit", "axle", "side", "driver", "passenger", "the", "drivers",
    "passengers", "some", "driver side", "drivers side", "passenger side", "passengers side", "hub", "brake",
    "parking", "set", "of", "fresh",
})  # fmt: skip
_ATTRIBUTES = frozenset({
    "bad", "worn", "loose", "shot", "noisy", "wore out", "worn out", "toasted", "rough", "junk", "sloppy",
    "failing", "tired",
})  # fmt: skip
_PADS = frozenset({"pads", "pad", "shoes", "shoe", "brake shoes", "brake pads", "linings"})
_BAD_SEALS = frozenset({
    "let go", "shot", "bad", "blown", "gone", "toast", "wet", "junk", "failed", "failing", "pouring", "weak",
    "weepy", "damp", "soaked", "dribbles", "dribbling", "torn", "ripped",
})  # fmt: skip
_GEARS = frozenset({"teeth", "tooth", "ring gear", "gears", "pinion gear", "ring and pinion"})
_IN_TWO_WORDS = frozenset(
    {
        "going out",
        "wore out",
        "worn out",
        "had it",
        "no good",
        "on borrowed",
        "past it",
        "make noise",
        "makes noise",
        "making noise",
        "have noise",
        "has noise",
    }
)
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
_NONE = frozenset({"no", "zero", "without", "any", "0", "not", "hardly", "little", "minimal", "nil"})
_REPAIRED = frozenset({"were", "was", "been", "got", "just", "had", "all", "both", "get"})
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
