"""Step 3b: on which side the differential hangs: noun, link and side, in either order -> one piece that says so."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.draft import AXLE_FACTS
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.tokens import Piece

_VERBS = frozenset({
    "is", "are", "was", "its", "s", "sits", "sit", "sitting", "sets", "set", "hangs", "hang", "hung", "hanging",
    "mounted",
    "located", "placed", "offset", "offsets", "off", "over", "out", "drops", "drop", "comes", "goes", "points", "lands",
    "side", "location", "position", "that", "which", "way", "all", "more", "both", "up", "kind", "style", "down",
    "lives", "in it",
    "esta", "está", "queda", "va", "cae", "sale", "se", "du", "est", "cargado", "positioned", "there", "one",
    "shifted", "toward", "same", "as",
    "still", "here",
})  # fmt: skip
_PLACES = frozenset({
    "on", "to", "at", "in", "toward", "towards", "by", "near", "over", "a", "al", "del", "de", "en", "por", "au", "à",
    "sur",
    "under",
})  # fmt: skip
_ARTICLES = frozenset({"the", "your", "el", "la", "le", "his", "lado", "côté", "cote", "mano", "hacia", "il"})
_NAMING = frozenset({":", "=", "-", "(", "."})
_SIDE_WORDS = frozenset({"side", "hand", "sided", "seat", "door", "foot", "offset", "hand side", "rear", "front"})
_LONGEST_LINK = 7
_ABBREVIATED = frozenset({"pass", "pas", "psgr", "psngr", "drv", "drvr", "dr", "diff", "lh", "rh"})
_EITHER_HAND = frozenset({"left", "right", "l", "r"})
"""Words of a side that stand beside many other nouns: they want ``side`` or a link."""


def hung(pieces: list[Piece]) -> list[Piece]:
    """The same pieces, with each ``pumpkin is on the driver side`` or ``pass. drop`` as one that says ``drop``."""
    nouns = [i for i, piece in enumerate(pieces) if piece.roles and "hump" in piece.roles]
    pieces = _beside_a_pinion(pieces) if not nouns else pieces
    if not nouns:
        return pieces
    out: list[Piece] = []
    taken = 0
    for i in nouns:
        begin, end, hand = _behind(pieces, i)
        if not hand:
            begin, end, hand = _before(pieces, i)
        if not hand or begin < taken:
            continue
        out += pieces[taken:begin]
        out.append(_one(pieces, begin, end, hand))
        taken = end
    return out + pieces[taken:]


def _beside_a_pinion(pieces: list[Piece]) -> list[Piece]:
    """``low pinion pass side``, ``driver, HP``: a side that stands alone beside the height of the pinion."""
    for i, piece in enumerate(pieces):
        if not any(name == "pinion" for name, _ in piece.facts):
            continue
        behind = i + 1 + (_at(pieces, i + 1).key == ",")
        before = i - 1 - (_at(pieces, i - 1).key in (",", "side"))
        before -= _at(pieces, before).key == "side"
        for begin, end in ((behind, _whole_side(pieces, behind)), (before, _whole_side(pieces, before))):
            side = _at(pieces, begin)
            hand = side.roles.get("hand", "")
            stopped = _at(pieces, begin - 1).kind in ("line", "sym", "num") or begin == i + 1
            ends = _at(pieces, end).kind in ("line", "sym", "num") or end == i
            if hand and stopped and ends and side.key not in _EITHER_HAND:
                return [*pieces[:begin], _one(pieces, begin, end, hand), *pieces[end:]]
    return pieces


def _one(pieces: list[Piece], begin: int, end: int, hand: str) -> Piece:
    first = pieces[begin]
    raw = " ".join(p.raw for p in pieces[begin:end])
    piece = Piece("word", raw, first.begin, pieces[end - 1].end, first.glued)
    piece.key = " ".join(p.key for p in pieces[begin:end])
    piece.facts = (("drop", hand),)
    return piece


_NOTHING = Piece("line", "", 0, 0, False)
_FOUND = tuple[int, int, str]
_NONE: _FOUND = (0, 0, "")


def _at(pieces: list[Piece], i: int) -> Piece:
    return pieces[i] if 0 <= i < len(pieces) else _NOTHING


def _behind(pieces: list[Piece], i: int) -> _FOUND:
    """``pumpkin hangs on the driver side``, ``drop: right``, ``diff passenger side``."""
    noun = pieces[i].roles["hump"]
    k, placed, named = i + 1, False, False
    while k <= i + _LONGEST_LINK:
        key = _at(pieces, k).key
        if "hand" in _at(pieces, k).roles:
            break
        if key == "." and _at(pieces, k - 1).key not in _ABBREVIATED:
            return _NONE
        placed, named = placed or key in _PLACES, named or key in (":", "=")
        if not (key in _PLACES or key in _NAMING or key in _VERBS or key in _ARTICLES):
            return _NONE
        k += 1
    hand = _at(pieces, k).roles.get("hand", "")
    end = _whole_side(pieces, k)
    if not hand or (not placed and not named and not _stands(pieces, noun, k, end)):
        return _NONE
    return i, end + ("hump" in _at(pieces, end).roles and not placed), hand


def _stands(pieces: list[Piece], noun: str, k: int, end: int) -> bool:
    """Whether a side without a word of place before it is the noun's: ``diff left,`` but not ``diff, left shaft``."""
    following = _at(pieces, end)
    ends = following.kind in ("line", "num", "sym") or following.key in ("and", "&", "w", "w/", "with")
    return noun != "lump" and (ends or end > k + 1 or pieces[k].key not in _EITHER_HAND)


def _before(pieces: list[Piece], i: int) -> _FOUND:
    """``passenger side diff``, ``left hand drop``, ``center pumpkin``."""
    noun, k = pieces[i].roles["hump"], i - 1
    while k > i - 4 and (_at(pieces, k).key in _SIDE_WORDS or _at(pieces, k).key in ("-", ".")):
        k -= 1
    side = _at(pieces, k)
    hand = side.roles.get("hand", "")
    stopped = _at(pieces, i - 1).key == "." and side.key not in _ABBREVIATED
    bare = k == i - 1 and side.key in _EITHER_HAND and noun != "drop"
    if not hand or noun == "lump" or stopped or bare or _elsewhere(_at(pieces, i + 1)):
        return _NONE
    return k, i + 1, hand


def _elsewhere(following: Piece) -> bool:
    """``driver side diff seal``: the noun only tells where something else is."""
    part = dict(following.facts).get("part")
    return following.key.partition(" ")[0] in _PARTS_OF_IT or part in ("axle-shaft", "diff-cover")


_PARTS_OF_IT = frozenset({
    "seal", "seals", "bearing", "bearings", "shaft", "bolt", "bolts", "cap", "caps", "off", "me", "price", "bracket",
    "brackets", "mount", "mounts", "leg", "spring",
})  # fmt: skip


def _whole_side(pieces: list[Piece], k: int) -> int:
    """Where the words of a side end: ``driver``, ``left hand side``."""
    k += 1
    while _at(pieces, k).key in ("side", "hand", "hand side", "sided", "lado") or (
        _at(pieces, k).key in ("-", ".") and _at(pieces, k + 1).key in ("side", "hand")
    ):
        k += 1
    return k


# ---------------------------------------------------------------- a side by itself

_TRAITS = frozenset({*AXLE_FACTS, "load_class", "rear_wheels", "years", "position", "brakes"})
"""What a side stands among where it is that of the axle: ``one ton front, passenger side, 8x6.5``."""
_OF_A_PIECE = frozenset({"part", "defects", "missing", "has", "rebuilt"})
_BETWEEN = frozenset({"knuckle", "suspension", "load_class", "pinion"})
_FAR = 12


def sides_alone(scan: Scan) -> None:
    """Mark the side of the differential where a side is a clause of its own among what the axle is, or leads it."""
    if all(name != "hand" for name, _ in scan.roles) or ("position", "front") not in _said(scan):
        return
    told = {m.begin: m for m in scan.marks if m.live}
    for i, piece in enumerate(scan.pieces):
        hand = piece.roles.get("hand", "")
        if hand not in ("driver", "passenger") or piece.facts:
            continue
        end = _whole_side(scan.pieces, i)
        named = end > i + 1 or piece.key.endswith(" side")
        if named and (_among_traits(scan, told, i, end) or _leads_a_front(scan, end) or _behind_a_front(scan, i, end)):
            scan.marks.append(Mark("drop", hand, i, end))


def _said(scan: Scan) -> set[tuple[str, object]]:
    return {(m.attribute, m.value) for m in scan.marks if m.live and isinstance(m.value, str)}


def _among_traits(scan: Scan, told: dict[int, Mark], begin: int, end: int) -> bool:
    """``kingpin front, driver side, 8x6.5``: the clause before tells of the axle, none beside it of a piece or harm."""
    if not (is_clause_end(scan, begin - 1) and is_clause_end(scan, end)):
        return False
    first, last = begin - 1, end
    while first > max(0, begin - _FAR) and not is_clause_end(scan, first - 1):
        first -= 1
    while last < end + _FAR and not is_clause_end(scan, last + 1):
        last += 1
    before = {m.attribute for k, m in told.items() if first <= k < begin}
    behind = {m.attribute for k, m in told.items() if end <= k <= last}
    return bool(before & _TRAITS) and not (before | behind) & _OF_A_PIECE


def _leads_a_front(scan: Scan, k: int) -> bool:
    """``passenger side kingpin front``: a trait and the axle follow."""
    begin = k
    while any(name in _BETWEEN for name, _ in scan.at(k).facts):
        k += 1
    front = ("position", "front") in scan.at(k).facts
    ends = is_clause_end(scan, k + 1) or scan.role(k + 1, "item") in ("axle", "housing")
    return k > begin and front and ends


def _behind_a_front(scan: Scan, begin: int, end: int) -> bool:
    """``kingpin front axle pass side, 8x6.5``: the axle stands right before, and what it is is told elsewhere."""
    before = scan.at(begin - 1)
    axle = before.roles.get("item") == "axle" or ("position", "front") in before.facts
    told = {m.attribute for m in scan.marks if m.live and m.attribute in AXLE_FACTS}
    return axle and is_clause_end(scan, end) and len(told) >= _ENOUGH


_ENOUGH = 3
"""So many facts of an axle are not told of a shaft of its driver's side."""
