"""Lists of parts: what stands in them besides the parts, how far one goes, and when it is only a choice at a price."""

from donorbase.reading.scan import Mark
from donorbase.reading.sentence import LINKS, Sentence

_MODIFIERS = frozenset({
    "new", "good", "all", "both", "brand", "nice", "fresh", "heavy", "duty", "themselves", "set", "of", "rebuilt",
    "the", "working", "decent", "newer", "extra", "hd", "complete", "its", "original", "big", "a", "my", "steel",
    "iron", "aluminum", "inner", "outer", "with", "pair", "two", "four", "one", "stock", "loaded", "used",
    "factory", "single", "dual", "twin", "left", "right", "driver side", "drivers side", "passenger side",
    "passengers side", "pass side", "old", "matching", "vented", "slotted", "chrome", "finned", "thick", "other",
    "usable",
})  # fmt: skip
_STOPS = frozenset({"not", "no", "gone", "fits", "source", "for", "was", "included", "mine", "taken"})
_LONGEST_BRACKET = 9


def modifies(s: Sentence, k: int) -> bool:
    """Whether a piece only tells more of the part that follows it (``new``, ``front``, ``dual piston``, ``2``)."""
    piece = s.scan.at(k)
    names = {n for n, _ in piece.facts}
    told = bool(names) and names <= {"position", "caliper_pistons", "rebuilt", "abs"}
    return piece.key in _MODIFIERS or told or (piece.kind == "num" and not s.scan.used[k])


def bracket_end(s: Sentence, k: int) -> int:
    """The place behind a short bracket that opens at ``k``; ``k`` where none does."""
    if s.scan.key(k) != "(":
        return k
    return next((j + 1 for j in range(k + 1, min(k + _LONGEST_BRACKET, s.end)) if s.scan.key(j) == ")"), k)


def opens_a_list(s: Sentence, k: int) -> bool:
    """``missing:``, ``what is on it -``."""
    dash = s.scan.key(k) == "-" and not s.scan.at(k).glued and not s.scan.at(k + 1).glued
    return s.scan.key(k) == ":" or dash


def after_a_label(s: Sentence, k: int) -> list[Mark]:
    """The parts listed behind ``missing:`` or ``includes:``, to the end of the sentence."""
    found = []
    while k < s.end:
        if s.scan.key(k) == ")" or s.scan.role(k, "cue") in _STOPS:
            break
        skipped = bracket_end(s, k)
        if skipped > k:
            k = skipped
            continue
        found += [m for m in s.at.get(k, ()) if m.live and m.attribute in ("part", "has", "missing")]
        k += 1
    return found


def option_at_a_price(s: Sentence, i: int) -> bool:
    """``$350 with the driveshaft`` behind ``$325``: a choice that the buyer has, nothing that is or is not there."""
    if s.scan.at(i - 1).kind == "num" and s.scan.key(i - 2 - (s.scan.key(i - 2) == "$")) == "or":
        return True
    prices = [m for m in s.marks(s.begin, s.end) if m.attribute == "price"]
    if _more_for_it(s, i, prices):
        return True
    priced = [m for m in prices if i - 3 <= m.begin < i]
    if not priced:
        return False
    return "or" in priced[0].flags or any(
        m.attribute == "price" and m.end <= priced[0].begin - 1 for m in s.marks(s.begin, priced[0].begin)
    )


def _more_for_it(s: Sentence, i: int, prices: list[Mark]) -> bool:
    """``with calipers add $80``; ``$500 without, $600 with``: the buyer chooses."""
    behind = s.clause_end(i)
    added = [m for m in prices if m.begin < i and s.scan.key(m.begin - 1) == "add"]
    if added:
        return True
    if any(s.scan.key(k) in ("add", "extra", "more") for k in range(i + 1, behind)):
        return any(i < m.begin < behind for m in prices)
    choices = [k for k in range(s.begin, s.end) if s.scan.role(k, "cue") in ("with", "no") and _sum_before(s, k)]
    if len(choices) > 1 and i in choices:
        return True
    cues = {s.scan.role(k, "cue") for k in range(s.begin, s.end) if s.scan.role(k, "cue") in ("with", "no")}
    return len(prices) > 1 and len(cues) > 1 and any(i - 3 <= m.begin < i or i < m.begin <= i + 5 for m in prices)


def _sum_before(s: Sentence, k: int) -> bool:
    piece = s.scan.at(k - 1)
    return piece.kind == "num" and (piece.value or 0) >= _LEAST_SUM


_LEAST_SUM = 50


def next_part(s: Sentence, k: int) -> bool:
    """Whether a part stands behind links and what only tells more of it."""
    while k < s.end and (s.scan.key(k) in LINKS or modifies(s, k)):
        k += 1
    return any(m.attribute in ("part", "has") for m in s.at.get(k, ()))
