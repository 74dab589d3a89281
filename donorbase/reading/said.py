"""Step 11: what words and phrases say, where their neighbours do not make them mean something else."""

from collections.abc import Callable, Mapping

from donorbase.reading.clauses import is_sentence_end, sentence_bounds
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.told import told


def words_said(scan: Scan) -> None:
    """Mark the facts that words and phrases give, where their neighbours do not make them mean something else."""
    ends_by_letter = {"f", "r"} <= set(scan.keys)
    for i, piece in enumerate(scan.pieces):
        lettered = ends_by_letter and _end_by_letter(scan, i)
        if scan.used[i] and "unit" in piece.roles and piece.facts:  # 35 spline shafts
            scan.marks += [Mark(name, value, i, i + 1) for name, value in piece.facts if name == "part"]
        if piece.facts and not scan.used[i] and (lettered or not _homograph(scan, i)):
            both = len(piece.facts) > 1 and any(name == "part" for name, _ in piece.facts)
            flags = frozenset({"with-part"}) if both else frozenset()
            scan.marks += [Mark(name, value, i, i + 1, flags=flags) for name, value in piece.facts]
        if piece.roles and "item" in piece.roles and not scan.used[i]:
            scan.marks.append(Mark("item", piece.roles["item"], i, i + 1))
    _brackets(scan)
    _joints(scan)
    scan.said = frozenset([(m.attribute, m.value) for m in scan.marks if m.attribute == "offer"])
    _kinds(scan, "hubs", _HUBS, _HUB_KINDS)
    _kinds(scan, "differential", _LOCKERS, _LOCKER_KINDS)
    told(scan)
    scan.sentences = sentence_bounds(scan)
    scan.marks.sort(key=lambda m: (m.begin, m.end))


_BRACKETS = frozenset({"brackets", "bracket", "brkts", "brkt"})
_BRAKE_PARTS = frozenset({("part", "caliper"), ("part", "rotor")})


def _brackets(scan: Scan) -> None:
    """``calipers, brackets, rotors``: those that hold the calipers."""
    if _BRACKETS.isdisjoint(scan.keys):
        return
    for i, piece in enumerate(scan.pieces):
        if piece.key in _BRACKETS and not piece.facts and not scan.used[i]:
            before, behind = i - 1, i + 1
            before -= scan.key(before) in ("and", "&", ",", "+", "w/", "/")
            behind += scan.key(behind) in ("and", "&", ",", "+", "/")
            if scan.key(i - 1) in ("with", "w/", "w"):
                before = _part_before(scan, i - 1)
            if any(not _BRAKE_PARTS.isdisjoint(scan.at(k).facts) for k in (before, behind)):
                scan.marks.append(Mark("part", "caliper-bracket", i, i + 1))


def _part_before(scan: Scan, i: int) -> int:
    """``calipers, 2, single piston, with brackets``: the nearest part named before in the sentence."""
    for k in range(i - 1, max(i - _NEAR, -1), -1):
        if is_sentence_end(scan, k):
            break
        if any(name == "part" for name, _ in scan.at(k).facts):
            return k
    return i


_NEAR = 12
_SHAFTS = frozenset({("part", "axle-shaft"), ("part", "inner-shaft"), ("part", "outer-shaft")})


_BEFORE_JOINTS = frozenset({"with", "w/", "w", "new", "good", "and", "&", "+", "fresh"})


def _joints(scan: Scan) -> None:
    """``shafts complete with joints``: those between inner and outer shaft, where nothing else has joints."""
    if "joints" not in scan.keys:
        return
    facts = {fact for piece in scan.pieces for fact in piece.facts}
    if _SHAFTS.isdisjoint(facts) or any(name == "knuckle" for name, _ in facts):
        return
    for i, piece in enumerate(scan.pieces):
        before = scan.key(i - 1).rpartition(" ")[2]
        if piece.key == "joints" and not piece.facts and not scan.used[i] and before in _BEFORE_JOINTS:
            scan.marks.append(Mark("part", "u-joint", i, i + 1))


_HUBS = frozenset({("part", "hub"), ("part", "locking-hub")})
_HUB_KINDS = {
    "manual": "manual-locking", "automatic": "automatic-locking", "selects": "automatic-locking",
    "sealed": "unit-bearing",
}  # fmt: skip
_LOCKERS = frozenset({("differential", "locker")})
_LOCKER_KINDS = {"selects": "selectable-locker", "automatic": "automatic-locker", "twist": "automatic-locker"}
_MANNER = frozenset({
    "operated", "actuated", "activated", "controlled", "switched", "style", "type", "locking", "shift", "rear",
    "front", "factory",
    "lock", "selectable", "wheeling", "wheel", "locker", "kind", "ones", "actuator", "turned", "engaging", "powered",
    "engaged",
})  # fmt: skip
_SHORT = 4
_REACH = 5


def _kinds(scan: Scan, attribute: str, nouns: frozenset[tuple[str, object]], kinds: Mapping[str, str]) -> None:
    """``hubs (manual)``, ``air locking diff``, and over a chat's lines ``hubs? manual ones``."""
    for i, piece in enumerate(scan.pieces):
        if not piece.facts or nouns.isdisjoint(piece.facts):
            continue
        back = 3 if attribute == "hubs" else 2 * _SHORT
        for k in (*range(i - 1, i - 1 - back, -1), *range(i + 1, i + 1 + _REACH)):
            kind = kinds.get(scan.role(k, "cue"))
            if kind is not None and _of_one(scan, min(i, k) + 1, max(i, k), k > i):
                scan.marks.append(Mark(attribute, kind, k, k + 1))
                break


def _of_one(scan: Scan, begin: int, end: int, behind: bool) -> bool:
    """Whether nothing but words of manner, short words and (behind the noun) signs stands between noun and kind."""
    for k in range(begin, end):
        piece = scan.at(k)
        if piece.kind in ("sym", "line"):
            if not behind and piece.key not in ("-", "."):
                return False
        elif piece.facts or (len(piece.key) > _SHORT and piece.key not in _MANNER):
            return False
    return True


_LETTERS = frozenset({"f", "r", "ft", "fr", "fa", "bk", "b"})
_TALK = frozenset({"to", "for", "till", "from", "until", "house", "mon", "sundays", "on", "at", "daily"})
_DAILY = frozenset(
    {"a", "my", "his", "her", "the", "for", "as", "your", "our", "was", "old", "truck", "new", "$", "on"}
)
"""Beside ``dd``: a daily driver, not a driver's drop."""
_METALWORK = frozenset({
    "on", "to", "bracket", "brackets", "tube", "tubes", "truss", "perch", "perches", "mounts", "mount",
    "plates", "plate", "brkt", "brkts", "crack", "back", "steering", "in",
})  # fmt: skip


def _homograph(scan: Scan, i: int) -> bool:
    """Whether a word of two meanings has the one that is none of the trade's here."""
    piece = scan.at(i)
    key, name = piece.key, piece.facts[0][0]
    if key not in _TWOFOLD and not key.startswith("welded"):
        return False
    if key in _LETTERS and name == "position":
        return not (scan.role(i + 1, "item") or _cell(scan, i))
    if key.startswith("welded") or key in ("spool", "weld"):
        around = {scan.key(k) for k in (i + 1, i + 2, i - 1, i - 2, i - 3)}
        return key == "welded" and (bool(around & _METALWORK) or _mends_a_crack(scan, i))
    if name == "pinion" and key in ("hp", "lp"):
        powerful = scan.at(i - 1).kind == "num" and (scan.at(i - 1).value or 0) >= 60
        return powerful and not any(m.attribute == "years" and m.end == i for m in scan.marks)
    if key == "free":
        opens = i == 0 and ("item" in scan.at(1).roles or any(n == "position" for n, _ in scan.at(1).facts))
        return name == "price_terms" and not opens and any(m.attribute == "price" for m in scan.marks)
    return key in _ELSEWHERE and _ELSEWHERE[key](scan, i)


def _mends_a_crack(scan: Scan, i: int) -> bool:
    """``cracked, sleeved and welded``, ``I V'd it and welded it``, ``welded the bore``: no differential."""
    if scan.key(i + 1) in ("it", "by", "back") or (scan.key(i + 1) == "the" and not scan.at(i + 2).roles.get("thing")):
        return True
    for k in range(i - 1, max(i - _FAR, -1), -1):
        if is_sentence_end(scan, k):
            return False
        if ("defects", "cracked") in scan.at(k).facts:
            return True
    return False


_FAR = 12


def _back(scan: Scan, i: int) -> bool:
    of_an_axle = scan.role(i + 1, "item") == "axle" or scan.key(i + 1) == "one"
    told = (scan.key(i + 1) in ("is", "has", ":", "=", "one's") or scan.at(i + 1).kind == "num") and (
        "front" in scan.keys or "frt" in scan.keys
    )
    opens = scan.at(i - 1).kind in ("sym", "line", "") or scan.key(i - 1) == "the"
    return not (of_an_axle or scan.key(i - 1) in ("and", "front", "n") or (told and opens) or _out_back(scan, i))


def _out_back(scan: Scan, i: int) -> bool:
    """``spool out back``, ``drums in the back``: where something of an axle is; not ``parked out back``."""
    k = i - 1 - (scan.key(i - 1) == "the")
    return scan.key(k) in ("out", "in", "in the") and any(name not in _NO_PLACE for name, _ in scan.at(k - 1).facts)


def _parked(scan: Scan, i: int) -> bool:
    """``parked out back``: no end of a truck."""
    return scan.used[i - 1] == 0 and all(name in _NO_PLACE for name, _ in scan.at(i - 1).facts)


_NO_PLACE = frozenset({"offer", "price_terms", "defects", "position"})


def _open(scan: Scan, i: int) -> bool:
    closed = any(("knuckle", "closed") in scan.at(k).facts for k in range(max(0, i - _SOON), i))
    if closed and any(name == "knuckle" for name, _ in scan.at(i + 2).facts):
        return True  # closed knuckle no, open w/ ball joints
    return scan.key(i + 1) in _TALK or scan.key(i - 1) in ("wide", "were", "we")


def _counted_tons(scan: Scan, i: int) -> bool:
    return scan.at(i - 1).kind == "num"


def _slang(scan: Scan, i: int) -> bool:
    return scan.key(i + 1) not in (",", ".", "", "member") and scan.role(i - 1, "unit") != "inch"


def _daily(scan: Scan, i: int) -> bool:
    """``my dd``: a daily driver, not a driver's drop."""
    return scan.key(i - 1) in _DAILY or scan.key(i + 1) in _DAILY


def _lorry(scan: Scan, i: int) -> bool:
    """``off a semi``, ``semi trailer``: a lorry, not a float."""
    lorry = scan.role(i + 1, "cue") == "truck" or scan.role(i + 1, "item") in ("other", "vehicle")
    rather = any(name == "defects" for name, _ in scan.at(i + 1).facts)  # semi rusty
    return (
        lorry
        or rather
        or scan.key(i + 1) in _LORRIES
        or scan.key(i - 1) in ("a", "the", "my", "his", "by", "on", "your")
    )


_LORRIES = frozenset(
    {
        "truck",
        "trucks",
        "trailer",
        "tractor",
        "driver",
        "gloss",
        "annual",
        "load",
        "retired",
        "flat",
        "local",
        "clean",
        "new",
        "complete",
        "straight",
        "decent",
        "greasy",
        "dirty",
        "rust",
        "worn",
    }
)


def _hubs_of(scan: Scan, i: int) -> bool:
    """``selectable hubs``: no locker."""
    return not _HUBS.isdisjoint(scan.at(i + 1).facts)


def _held(scan: Scan, i: int) -> bool:
    """``with the other wheel locked``; ``locked up with a limited slip``, which is no locker."""
    slips = any(("differential", "limited-slip") in scan.at(k).facts for k in range(i + 1, i + 1 + _SOON))
    return slips or scan.key(i - 1) in ("other", "wheel", "one", "door", "brake", "held", "gate")


_SOON = 9


def _never(scan: Scan, i: int) -> bool:
    return True


_ELSEWHERE: dict[str, Callable[[Scan, int], bool]] = {
    "back": _back, "open": _open, "tons": _counted_tons, "full ton": _counted_tons, "third": _slang, "pig": _slang,
    "chunk": _slang, "kings": _slang, "first": _never, "3rd": _never, "dd": _daily, "pd": _daily,
    "semi": _lorry, "selectable": _hubs_of, "locked": _held, "locked up": _held,
    "out back": _parked, "in back": _parked,
}  # fmt: skip
"""When each word means something else."""


_TWOFOLD = _LETTERS | _ELSEWHERE.keys() | {"spool", "weld", "hp", "lp", "free"}
"""Words of the trade that mean something else as well."""


def _end_by_letter(scan: Scan, i: int) -> bool:
    """``91 F 3.54 ... - 91 R 3.54``, ``F $900, R $700``: letters for both ends, each before something said of it."""
    named = scan.key(i + 1) == ":"
    if scan.key(i) not in ("f", "r") or scan.at(i).glued or (scan.at(i + 1).glued and not named):
        return False
    before, after = scan.at(i - 1), scan.at(i + 1 + named)
    opens = before.kind in ("line", "num") or bool(before.facts) or before.key in (",", ".", ";", "-", "|", ":", "")
    return opens and (named or after.kind == "num" or after.key in ("$", "=") or bool(after.facts))


def _cell(scan: Scan, i: int) -> bool:
    if scan.at(i + 1).kind == "num" and scan.at(i + 1).glued:
        return False
    edges = scan.at(i - 1).kind == "line" or scan.key(i - 1) in (
        "|",
        "",
        ":",
        ",",
        ";",
        "pos",
        "position",
        "end",
        "axle",
        "f/r",
    )
    return edges and (scan.key(i + 1) in ("|", "") or scan.at(i + 1).kind in ("line", "num"))
