"""Step 12b: which parts come along: those listed after ``comes with`` or before ``all there``."""

from donorbase.reading.sentence import LINKS, Sentence
from donorbase.reading.sizes import SERIES

_WEAK = frozenset({"w", "w/", "with", "has", "have", "got", "con", "avec", "it has"})
_MODIFIERS = frozenset({
    "new", "good", "all", "both", "brand", "nice", "fresh", "heavy", "duty", "themselves", "set", "of", "rebuilt",
    "the", "working", "decent", "newer", "extra", "hd", "complete", "its", "original", "big", "a", "my", "steel",
    "iron",
    "aluminum", "inner", "outer", "with",
})  # fmt: skip
_BETWEEN = frozenset({"are", "is", "still", "+", "w/", "will", "be", "x", "in", "of", "(", ")"})


def included_after(s: Sentence, i: int) -> None:
    """``comes with calipers and rotors``: parts listed after it are included."""
    if s.scan.key(i) in ("have", "has", "got") and not _owns(s, i):
        return
    k = i + 1
    listed = False
    while k < s.end:
        here = [m for m in s.at.get(k, ()) if m.attribute == "part"]
        if here and here[0].live and not _no_list_part(s, k, listed or s.scan.key(i) not in _WEAK):
            here[0].attribute = "has"
            here[0].flags |= {"plus"} if s.scan.key(i) == "plus" else frozenset()
            listed = True
        elif s.scan.key(k) not in LINKS and s.scan.at(k).kind != "num" and not modifier(s, k):
            break
        if s.scan.key(k) in (",", "/") and not _next_part(s, k + 1):
            break
        k += 1


def included_before(s: Sentence, i: int) -> None:
    """``rotors, knuckles, tie rod all there``: parts listed before it are included."""
    k = i - 1
    while k >= s.begin:
        parts = [m for m in s.at.get(k, ()) if m.live and m.attribute == "part"]
        if parts and not _no_list_part(s, k, True):
            parts[0].attribute = "has"
        if not parts and _ends_list(s, k):
            break
        k -= 1


def _ends_list(s: Sentence, k: int) -> bool:
    """Whether a list of parts, read backwards, does not go on beyond a piece."""
    key, here = s.scan.key(k), [m for m in s.at.get(k, ()) if m.live]
    if key in ("but", "no", "not") or s.scan.role(k, "cue") in ("no", "not", "gone"):
        return True
    if key == ",":
        return not any(m.attribute in ("part", "has") for m in s.at.get(k - 1, ()))
    if key in LINKS or key in _BETWEEN or modifier(s, k):
        return False
    return not (here and all(m.attribute in ("position", "brakes", "caliper_pistons") for m in here))


def _owns(s: Sentence, i: int) -> bool:
    """Whether ``has`` speaks of a thing (``front has hubs``), not of the seller (``I also have a yoke``)."""
    if "also" in (s.scan.role(i - 1, "cue"), s.scan.role(i + 1, "cue")):
        return False
    return s.scan.key(i) == "has" or s.scan.key(i - 1) in ("both", "they", "axles", "all", "each", "it") or i == 0


def _no_list_part(s: Sentence, k: int, strong: bool) -> bool:
    """Whether a part is told by another field (hubs), or only named to tell something else of it."""
    piece = s.scan.at(k)
    names = dict(piece.facts)
    series = s.scan.at(k - 1).raw in SERIES and not strong
    return (
        "hubs" in names
        or names.get("part") == "differential"
        or series
        or (not strong and names.get("part") == "brake-drum")
        or any("fits" in m.flags for m in s.at.get(k, ()))
    )


def modifier(s: Sentence, k: int) -> bool:
    """Whether a piece only tells more of the part that follows it (``new``, ``front``, ``dual piston``)."""
    piece = s.scan.at(k)
    names = {n for n, _ in piece.facts}
    return piece.key in _MODIFIERS or (bool(names) and names <= {"position", "caliper_pistons", "rebuilt"})


def _next_part(s: Sentence, k: int) -> bool:
    while s.scan.key(k) in LINKS or modifier(s, k):
        k += 1
    return any(m.attribute == "part" for m in s.at.get(k, ()))
