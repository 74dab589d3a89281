"""Step 11: what words and phrases say, where their neighbours do not make them mean something else."""

from donorbase.reading.clauses import sentence_bounds
from donorbase.reading.scan import Mark, Scan


def words_said(scan: Scan) -> None:
    """Mark the facts that words and phrases give, where their neighbours do not make them mean something else."""
    ends_by_letter = {"f", "r"} <= set(scan.keys)
    for i, piece in enumerate(scan.pieces):
        lettered = ends_by_letter and _end_by_letter(scan, i)
        if piece.facts and not scan.used[i] and (lettered or not _homograph(scan, i)):
            both = len(piece.facts) > 1 and any(name == "part" for name, _ in piece.facts)
            flags = frozenset({"with-part"}) if both else frozenset()
            scan.marks += [Mark(name, value, i, i + 1, flags=flags) for name, value in piece.facts]
        if piece.roles and "item" in piece.roles and not scan.used[i]:
            scan.marks.append(Mark("item", piece.roles["item"], i, i + 1))
    _hub_kinds(scan)
    scan.said = frozenset([(m.attribute, m.value) for m in scan.marks if m.attribute == "offer"])
    scan.sentences = sentence_bounds(scan)
    scan.marks.sort(key=lambda m: (m.begin, m.end))


_HUBS = frozenset({("part", "hub"), ("part", "locking-hub")})
_HUB_KINDS = {"manual": "manual-locking", "automatic": "automatic-locking"}


def _hub_kinds(scan: Scan) -> None:
    """``hubs (manual)``, and over a chat's lines ``hubs? manual ones``."""
    hubs = [i for i, p in enumerate(scan.pieces) if p.facts and not _HUBS.isdisjoint(p.facts)]
    for i in hubs:
        for k in (i - 1, i + 1, i + 2, i + 3, i + 4, i + 5):
            kind = _HUB_KINDS.get(scan.role(k, "cue"))
            if kind is not None and all(
                scan.at(j).kind in ("sym", "line") or len(scan.key(j)) <= 4 for j in range(min(i, k) + 1, max(i, k))
            ):
                scan.marks.append(Mark("hubs", kind, k, k + 1))
                break


_LETTERS = frozenset({"f", "r", "ft", "fr", "fa", "bk", "b"})
_TWOFOLD = _LETTERS | {
    "back", "open", "spool", "weld", "hp", "lp", "tons", "full ton", "third", "pig", "chunk", "kings", "first", "3rd",
    "free",
}  # fmt: skip
"""Words of the trade that mean something else as well."""
_TALK = frozenset({"to", "for", "till", "from", "until", "house", "mon", "sundays", "on", "at", "daily"})
_METALWORK = frozenset({
    "on", "to", "bracket", "brackets", "tube", "tubes", "truss", "perch", "perches", "mounts", "mount",
    "plates", "plate", "brkt", "brkts", "crack", "back", "steering", "in",
})  # fmt: skip


def _homograph(scan: Scan, i: int) -> bool:
    piece = scan.at(i)
    key, name = piece.key, piece.facts[0][0]
    if key not in _TWOFOLD and not key.startswith("welded"):
        return False
    if key in _LETTERS and name == "position":
        return not (scan.role(i + 1, "item") or _cell(scan, i))
    if key == "back":
        return not (
            scan.role(i + 1, "item") == "axle" or scan.key(i - 1) in ("and", "front", "n") or scan.key(i + 1) == "one"
        )
    if key == "open":
        return scan.key(i + 1) in _TALK or scan.key(i - 1) in ("wide", "were", "we")
    if key.startswith("welded") or key in ("spool", "weld"):
        around = {scan.key(k) for k in (i + 1, i + 2, i - 1, i - 2, i - 3)}
        return key == "welded" and bool(around & _METALWORK)
    if name == "pinion" and key in ("hp", "lp"):
        return scan.at(i - 1).kind == "num" and (scan.at(i - 1).value or 0) >= 60
    if key in ("tons", "full ton") and scan.at(i - 1).kind == "num":
        return True
    if key in ("third", "pig", "chunk", "kings"):
        return scan.key(i + 1) not in (",", ".", "", "member") and scan.role(i - 1, "unit") != "inch"
    if key in ("first", "3rd"):
        return True
    return bool(key == "free" and name == "price_terms" and any(m.attribute == "price" for m in scan.marks))


def _end_by_letter(scan: Scan, i: int) -> bool:
    """``91 F 3.54 ... - 91 R 3.54``, ``F $900, R $700``: letters for both ends, each before something said of it."""
    if scan.key(i) not in ("f", "r") or scan.at(i).glued or scan.at(i + 1).glued:
        return False
    before, after = scan.at(i - 1), scan.at(i + 1)
    opens = before.kind in ("line", "num") or bool(before.facts) or before.key in (",", ".", ";", "-", "|", ":", "")
    return opens and (after.kind == "num" or after.key in ("$", "=") or bool(after.facts))


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
