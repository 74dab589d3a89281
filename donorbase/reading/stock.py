"""Step 14b: how many there are, told apart from the thing's name: ``have 2``, ``3 avail``, ``QTY 4``, ``$70/pr``."""

from collections.abc import Iterator

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import Draft
from donorbase.reading.scan import Mark, Scan

_MOST, _NEAR = 24, 8
_HAVING = frozenset({"have", "i have", "got", "i got", "ive got", "i've", "we have", "tengo", "hay", "jen ai", "ai"})
_LABELS = frozenset(
    {
        "qty",
        "quantity",
        "qty on hand",
        "on hand",
        "qte",
        "cant",
        "cantidad",
        "count",
        "stock",
        "hand",
        "set of",
        "a set of",
    }
)
_BEHIND = frozenset({
    "of them", "of these", "of em", "avail", "available", "in stock", "on hand", "pcs", "pieces", "pc", "total",
    "lefts", "rights", "available now", "units", "identical",
})  # fmt: skip
_ALL = frozenset({"all", "for all"})
_PIECES = frozenset({"pcs", "pieces", "pc", "total"})
_PAIRS = frozenset({"pr", "pair", "paire", "par"})
_FILL = frozenset({"about", "still", "all", "just", "only", "exactly", ":", "-", "="})
_WORDS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "dos": 2, "tres": 3, "deux": 2, "trois": 3}
_TELLING = _HAVING | _LABELS | _ALL | _BEHIND | _PAIRS | _WORDS.keys() | {"of", "(", "wheels", "rims", "tires"}
"""Where none of these stands, nothing is counted apart from its name."""
_LOOSE = frozenset({"part", "wheels-tires", "other"})


def stock(scan: Scan, drafts: list[Draft]) -> None:
    """Give the drafts that no count stands beside the one that is told elsewhere."""
    bare = [d for d in drafts if not any(m.attribute == "quantity" for m in d.marks)]
    if not bare or _TELLING.isdisjoint(scan.keys):
        return
    for count, place, pieces in _told(scan):
        parts = [d for d in bare if d.kind in _LOOSE]
        if pieces and len(drafts) == 1 and (_kinds(scan) > 1 or drafts[0].part == "driveshaft"):
            continue  # 4 pieces of two kinds; a driveshaft in two pieces
        if pieces and len(parts) == len(drafts) > 1 and count % len(parts) == 0 and _of_all(scan, place):
            for draft in parts:
                _give(draft, count // len(parts), place)
            return
        meant = _meant(scan, drafts, place)
        if meant is not None and meant in bare and (meant.kind in _LOOSE or scan.key(place - 2) != "set"):
            _give(meant, count, place)
            bare.remove(meant)
    for draft in [d for d in bare if d.kind == "wheels-tires"]:
        count, place = _in_a_list(scan, draft)
        _give(draft, count, place)
        bare.remove(draft)
    _pairs_of_rows(scan, bare)
    if len(drafts) == 1 and bare and bare[0].kind in _LOOSE:
        ends = (m.end for m in scan.marks if m.attribute == "price" and _by_the_pair(scan, m))
        place = min(next(ends, -1) + 1, len(scan.pieces) - 1)
        if place:
            _give(bare[0], 2, place)


def _pairs_of_rows(scan: Scan, bare: list[Draft]) -> None:
    """``knuckles $150 pr, tie rod $30``: each row by its own price."""
    for draft in [d for d in bare if d.part and d.rows and not any(m.attribute == "quantity" for m in d.marks)]:
        inside = [m for b, e in draft.rows for m in scan.within(b, e) if m.attribute == "price"]
        for price in [m for m in inside if _by_the_pair(scan, m)][:1]:
            _give(draft, 2, price.end)


def _kinds(scan: Scan) -> int:
    return len({m.value for m in scan.marks if m.attribute == "part" and m.live})


def _of_all(scan: Scan, place: int) -> bool:
    """``all 4 pieces``, ``4 pieces total``."""
    return scan.key(place - 1) in _ALL or "total" in (scan.key(place + 1), scan.key(place + 2))


def _give(draft: Draft, count: int, place: int) -> None:
    if count > 1:
        draft.marks.append(Mark("quantity", count, place, place + 1))


def _number(scan: Scan, k: int) -> int:
    piece = scan.at(k)
    if piece.kind == "num" and piece.raw.isdigit() and piece.raw[0] != "0" and not scan.used[k]:
        return int(piece.raw) if 2 <= int(piece.raw) <= _MOST else 0
    return _WORDS.get(piece.key, 0)


def _told(scan: Scan) -> Iterator[tuple[int, int, bool]]:
    """Every count told apart from a name: how many, where, and whether of all pieces together."""
    for k, piece in enumerate(scan.pieces):
        count = _number(scan, k) if piece.kind == "num" or piece.key in _WORDS else 0
        if not count:
            continue
        before = k - 1
        while scan.key(before) in _FILL:
            before -= 1
        behind = scan.key(k + 1) if scan.key(k + 1) != "of" else f"of {scan.key(k + 2)}"
        closed = is_clause_end(scan, k + 1) or k + 1 >= len(scan.pieces)
        had = scan.key(before) in _HAVING and (closed or behind in _BEHIND)
        labelled = scan.key(before) in _LABELS or (scan.key(before) == "of" and scan.key(before - 1) == "set")
        of_all = scan.key(k - 1) in _ALL and (closed or behind in _PIECES)
        if had or labelled or of_all or (behind in _BEHIND and scan.key(k - 1) not in ("$", "x")):
            yield count, k, behind in _PIECES or of_all


def _meant(scan: Scan, drafts: list[Draft], place: int) -> Draft | None:
    """The draft a count is told of: the only one, or the one named last in the same sentence."""
    if len(drafts) == 1:
        return drafts[0]
    begin = next((k + 1 for k in range(place - 1, -1, -1) if is_sentence_end(scan, k)), 0)
    named = [d for d in drafts if begin <= d.begin < place]
    if not named and place <= begin + 1:
        named = [d for d in drafts if d.begin < place]
    return max(named, key=lambda d: d.begin) if named else None


def _in_a_list(scan: Scan, wheels: Draft) -> tuple[int, int]:
    """``wheels: six, steel``, ``wheels 16 in., 4, 8x6.5``: a number that stands alone behind the name."""
    end = max((wheels.begin, *wheels.spans)) + 1
    for k in range(end, end + _NEAR):
        if scan.key(k) == "." and scan.key(k + 1) != ",":
            break
        if _number(scan, k) and is_clause_end(scan, k + 1) and (is_clause_end(scan, k - 1) or scan.key(k - 1) == ":"):
            return _number(scan, k), k
    return 0, 0


def _by_the_pair(scan: Scan, price: Mark) -> bool:
    """``$70/pr``, ``110 the pair``."""
    link = scan.key(price.end) in ("/", "per", "a", "the")
    return (link and scan.key(price.end + 1) in _PAIRS) or scan.key(price.end) in _PAIRS
