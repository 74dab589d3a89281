"""Step 5b: the differential's side, where a seller names the side and leaves out what is on it."""

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.scan import Scan
from donorbase.reading.tokens import Piece

_OF_FRONTS = ("knuckle", "position", "load_class")
"""What may stand between the side and the axle that it is said of: ``passenger side kingpin front``."""
_MOST_BETWEEN = 3


def bare_sides(scan: Scan) -> None:
    """``kingpin front, driver side, 8x6.5``; ``driver side front axle``: not of a tube, a shaft or a joint."""
    named = [i for i, piece in enumerate(scan.pieces) if _side(piece) and not scan.used[i]]
    if not named or not any(("position", "front") in piece.facts for piece in scan.pieces):
        return
    for i in named:
        if _alone(scan, i) or _of_a_front(scan, i):
            scan.mark("drop", _side(scan.at(i)), i, i + 1)


def _side(piece: Piece) -> str:
    """``driver`` or ``passenger`` for a side named in full; empty for anything else."""
    hand = piece.roles.get("hand", "") if piece.roles else ""
    return hand if hand != "center" and piece.key.endswith(" side") else ""


def _alone(scan: Scan, i: int) -> bool:
    """Whether nothing else stands between the two commas; after a list of parts it is a side of theirs."""
    before = i - 1
    begins = before < 0 or is_clause_end(scan, before)
    ends = i + 1 >= len(scan.pieces) or is_clause_end(scan, i + 1)
    return begins and ends and not _tells_of_a_part(scan, before - 1)


def _tells_of_a_part(scan: Scan, k: int) -> bool:
    """Whether the clause that ends at ``k`` names a part or a defect: ``bent tube, driver side``."""
    joints = plain = False
    while k >= 0 and not is_clause_end(scan, k):
        facts = dict(scan.at(k).facts)
        joints, plain = joints or facts.get("knuckle") == "ball-joint", plain or not (facts or scan.at(k).roles)
        if joints and plain:
            return True  # ball joint worn, passenger side
        if facts.keys() & {"part", "defects", "missing", "has"} or "part" in scan.at(k).roles.values():
            return True
        k -= 1
    return False


def _of_a_front(scan: Scan, i: int) -> bool:
    """``passenger side kingpin front, ...``: a front axle is named right behind, and nothing of it alone."""
    for k in range(i + 1, i + 2 + _MOST_BETWEEN):
        facts = dict(scan.at(k).facts)
        if not facts or not facts.keys() <= {*_OF_FRONTS}:
            return False
        if facts.get("position") == "front":
            named = scan.role(k, "item") == "axle"
            behind = k + 1
            return named or behind >= len(scan.pieces) or is_clause_end(scan, behind)
    return False
