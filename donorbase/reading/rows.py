"""Step 13b: things listed one by one: yard boards, ``(A) ... (B) ...``, part-outs with prices."""

from bisect import bisect_left

from donorbase.reading.clauses import is_clause_end
from donorbase.reading.draft import AXLE_FACTS, Draft
from donorbase.reading.heads import Head, line_bounds
from donorbase.reading.scan import Scan

_LEADING = frozenset({
    "•", "-", "*", "(", ")", "|", "#", ":", "1", "2", "3", "4", "a", "b", "c", "d", ".", "loc", "stk", "row",
    "lot", "item",
})  # fmt: skip
_LETTERS = frozenset("abcdef1234")


def listed_rows(scan: Scan, living: list[Head], kind: str) -> list[Draft]:
    """Things listed one by one: lines of a yard board, ``(A) ... (B) ...``, or pieces of a part-out with prices."""
    lettered = _lettered(scan)
    for bounds in (line_bounds(scan), lettered):
        rows = [(b, e, _row_head(scan, living, b, e)) for b, e in bounds]
        rows = [r for r in rows if r[2] is not None]
        if len(rows) >= 2 and _is_list(scan, rows):
            return [_row(head, b, e) for b, e, head in rows if head is not None]
    announced = [h for h in living if lettered and h.end <= lettered[0][0] and len(h.positions) <= 1]
    if announced and not any(h.is_axle and h.begin >= lettered[0][0] for h in living):
        return [_row(announced[-1], b, e) for b, e in lettered]
    if kind == "vehicle":
        return _priced(scan, living)
    pieces = _priced(scan, [h for h in living if h.kind in ("part", "other")])
    return pieces if len({d.part for d in pieces}) >= 2 and kind in ("part", "axle") and not _whole_price(scan) else []


def _whole_price(scan: Scan) -> bool:
    return any(m.attribute == "price" and "whole" in m.flags for m in scan.marks)


def _row(head: Head, begin: int, end: int) -> Draft:
    where = head.positions[0] if len(head.positions) == 1 else ""
    return Draft(head.kind, head.part, where, head.begin, head.spans, [(begin, end)])


def _row_head(scan: Scan, living: list[Head], begin: int, end: int) -> Head | None:
    """The noun that a row is about: the first that has nothing but figures before it."""
    at = bisect_left(living, begin, key=lambda h: h.begin)
    for head in living[at : at + 1]:
        if head.begin < end:
            front = min((head.begin, *head.spans))
            lead = [k for k in range(begin, front) if not scan.used[k] and _says_something(scan, k)]
            return head if len(lead) <= 2 else None
    return None


def _says_something(scan: Scan, k: int) -> bool:
    """Whether a piece is a word of its own, no shelf mark, label or fact."""
    piece = scan.at(k)
    return piece.kind == "word" and not piece.facts and piece.key not in _LEADING and "label" not in piece.roles


def _is_list(scan: Scan, rows: list[tuple[int, int, Head | None]]) -> bool:
    heads = [h for _, _, h in rows if h is not None]
    priced = sum(scan.priced(b, e) is not None for b, e, _ in rows)
    same = len({(h.kind, h.part, h.positions) for h in heads}) < len(heads)
    both = any(len(h.positions) > 1 for h in heads)
    full = all(sum(m.attribute in AXLE_FACTS for m in scan.within(b, e)) >= 2 for b, e, _ in rows)
    return not both and (priced >= 2 or (same and priced == 0 and full) or _board(scan, rows))


def _board(scan: Scan, rows: list[tuple[int, int, Head | None]]) -> bool:
    return all(any(scan.key(k) == "|" for k in range(b, e)) for b, e, _ in rows)


def _lettered(scan: Scan) -> list[tuple[int, int]]:
    """The stretches that begin with ``(A)``, or with ``1)``."""
    if ")" not in scan.keys:
        return []
    size = len(scan.pieces)
    starts = [k - 1 for k in range(1, size) if scan.key(k) in _LETTERS and scan.key(k - 1) == "(" and _closed(scan, k)]
    if len(starts) < 2:
        starts = [k for k in range(size) if scan.key(k) in _LETTERS and scan.key(k - 1) != "(" and _closed(scan, k)]
    ends = [*starts[1:], size]
    return list(zip(starts, ends, strict=True)) if len(starts) >= 2 else []


def _closed(scan: Scan, k: int) -> bool:
    return scan.key(k + 1) == ")"


def _priced(scan: Scan, living: list[Head]) -> list[Draft]:
    """The pieces of a part-out that have a price each."""
    if sum(m.attribute == "price" for m in scan.marks) < 2:
        return []
    found: list[Draft] = []
    begin = 0
    for i in range(len(scan.pieces) + 1):
        if i < len(scan.pieces) and not _parts_pieces(scan, i):
            continue
        price = scan.priced(begin, i)
        first, last = (bisect_left(living, k, key=lambda h: h.begin) for k in (begin, i))
        head = next((h for h in living[first:last] if h.kind != "vehicle"), None)
        if price is None and head is not None and scan.key(i) == ",":
            continue
        if price is not None and head is not None:
            vehicle = any(h.kind == "vehicle" for h in living[first:last])
            found.append(_row(head, min((head.begin, *head.spans)) if vehicle else begin, i))
        elif price is not None and found and 0 < price.begin - begin <= 4:
            found.append(Draft("other", begin=begin, rows=[(begin, i)]))
        begin = i + 1
    return found if len(found) >= 2 else []


def _parts_pieces(scan: Scan, i: int) -> bool:
    """Whether a piece of the text ends here: at a stop, comma or colon, but not at a dash before a price."""
    return scan.key(i) == ":" or (is_clause_end(scan, i) and scan.key(i) not in ("-", "(", ")"))
