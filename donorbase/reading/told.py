"""Step 11c: what a thing and a word about it tell together: ``yoke sits above the tube``, ``chewed the teeth``.

Which pairs tell something stands in ``data/tellings.csv``; which words name the things and traits, in the vocabulary.
"""

from functools import cache

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.tokens import Piece
from donorbase.reference.tellings import Telling, tellings

_CUES = frozenset({"manual", "selects", "sealed"})
"""Cues that are traits too."""
_BEARINGS = ("bearing", "bearings", "brg", "brgs")
_REACH = 9
_BESIDE = 2
"""``chewed up the teeth``: so near behind a trait, a thing is its own rather than one before."""
_SMALL = frozenset(
    {"the", "a", "an", "its", "up", "on", "of", "both", "some", "two", "few", "my", "all", "-", "pinion"}
)
_PLACES = frozenset({"on", "in", "at", "of", "to"})
_ACTS = frozenset({"locking"})
"""What is only done: the thing that does it is looked for beyond."""
_TURNS = frozenset({"but", "though", "although", "except", "if", "or"})
"""What stands beyond is told of something else, or not at all."""
_RELATIVE = frozenset({"one", "ones", "kind", "type", "style", "that", "which"})


def told(scan: Scan) -> None:
    """Mark what things and traits tell together."""
    traits = _traits()
    if all(trait not in scan.roles for trait in traits):
        return
    for i, piece in enumerate(scan.pieces):
        trait = _trait(piece)
        if not trait:
            continue
        found = _owner(scan, i, trait)
        if found is not None:
            for meaning in found.says:
                if not any(m.attribute == meaning.name and m.begin <= i < m.end for m in scan.marks):
                    scan.marks.append(Mark(meaning.name, meaning.value, i, i + 1))


@cache
def _traits() -> frozenset[tuple[str, str]]:
    return frozenset({(role, trait) for _, trait in tellings() for role in ("trait", "cue")})


def _trait(piece: Piece) -> str:
    if not piece.roles:
        return ""
    trait = piece.roles.get("trait", "")
    cue = piece.roles.get("cue", "")
    return trait or (cue if cue in _CUES else "")


def things_at(piece: Piece) -> frozenset[str]:
    """What a piece names, in the words of the tellings."""
    found = {piece.roles["thing"]} if "thing" in piece.roles else set()
    if "hump" in piece.roles:
        found.add("diff")
    if piece.roles.get("hand") == "center":
        found.add("center")
    item = piece.roles.get("item", "")
    if item:
        found.add("wheel" if item == "wheels-tires" else item)
    if piece.key.endswith(_BEARINGS):
        found.add("bearing")
    for name, value in piece.facts:
        if name == "part":
            found.add("hub" if value == "locking-hub" else str(value))
        elif name == "differential":
            found.add("locker" if value == "locker" else "diff")
        elif name in ("knuckle", "hubs", "brakes"):
            found.add({"knuckle": "joint", "hubs": "hub", "brakes": "brakes"}[name])
    return frozenset(found)


def _owner(scan: Scan, i: int, trait: str) -> Telling | None:
    """The telling of the thing whose trait it is: right behind it, else the nearest before, else the nearest behind."""
    k = i + 1
    while k < i + 1 + _BESIDE and scan.key(k) in _SMALL and not things_at(scan.at(k)):
        k += 1
    return (
        _telling(scan, k, i, trait)
        or _nearest(scan, i, trait, range(i - 1, i - 1 - _REACH, -1))
        or _nearest(scan, i, trait, range(i + 1, i + 1 + _REACH))
    )


def _nearest(scan: Scan, i: int, trait: str, places: range) -> Telling | None:
    for k in places:
        if k < 0 or k >= len(scan.pieces):
            return None
        if scan.key(k) in _TURNS or (is_clause_end(scan, k) and not (k < i and _told_on(scan, k))):
            return None
        if things_at(scan.at(k)) - _ACTS:
            told_of = _telling(scan, k, i, trait)
            if told_of is not None or scan.key(k - 1) not in _PLACES:
                return told_of
    return None


def _told_on(scan: Scan, k: int) -> bool:
    """``a locker, the kind that clicks``: the clause behind the comma goes on about the same thing."""
    following = k + 1 + (scan.key(k + 1) in ("the", "a"))
    return scan.key(k) == "," and scan.key(following) in _RELATIVE


def _telling(scan: Scan, k: int, i: int, trait: str) -> Telling | None:
    """What the thing at ``k`` tells with the trait at ``i``, where what it needs besides is named beside them.

    Of two nouns in a row (``carrier bearing``) the last is the thing.
    """
    while k > i and things_at(scan.at(k)) and things_at(scan.at(k + 1)) - _ACTS:
        k += 1
    for thing in things_at(scan.at(k)):
        found = tellings().get((thing, trait))
        if found is not None and (not found.needs or _named(scan, found.needs, min(i, k), max(i, k))):
            return found
    return None


def _named(scan: Scan, things: tuple[str, ...], begin: int, end: int) -> bool:
    """Whether one of some things is named between two places or in the rest of their clause."""
    for k in range(begin + 1, end + _REACH):
        if k > end and is_clause_end(scan, k):
            return False
        if not things_at(scan.at(k)).isdisjoint(things):
            return True
    return False
