"""Step 13b: things listed one by one: yard boards, bulleted lines, lots, ``(A) ... (B) ...``, part-outs with prices."""

import itertools
from bisect import bisect_left
from collections.abc import Iterator

from donorbase.reading.clauses import is_sentence_end
from donorbase.reading.draft import AXLE_FACTS, Draft
from donorbase.reading.heads import Head, line_bounds
from donorbase.reading.priced import MANY, Bounds, by_ends, priced_things, told_apart
from donorbase.reading.sames import says_the_same
from donorbase.reading.scan import Scan

_LEADING = frozenset({
    "•", "-", "*", "(", ")", "|", "#", ":", "1", "2", "3", "4", "a", "b", "c", "d", ".", "loc", "stk", "row",
    "lot", "item", "fs", "st",
})  # fmt: skip
_LETTERS = frozenset("abcdef123456")
_BULLETS = frozenset({"•", "-", "*", "—", "–", "+", "~"})
_LOTS = frozenset({"lot", "item", "fs", "for sale"})
_ARTICLES = frozenset({"a", "an", "one", "1", "the first", "the other", "other", "another", "una", "un"})
_Rows = list[tuple[int, int, Head]]


def listed_rows(scan: Scan, living: list[Head], kind: str) -> list[Draft]:
    """Things listed one by one; nothing where the listing does not list so."""
    for bounds, marked in _partings(scan):
        rows = _headed(scan, living, bounds)
        if len(rows) >= 2 and (_bulleted_things(scan, living, rows) if marked else _is_list(scan, rows)):
            for begin, _ in bounds if marked and scan.key(bounds[0][0]) == "(" else ():
                scan.use(begin, begin + 2)  # (3) counts nothing
            return [_row(head, b, e) for b, e, head in _the_only_lot(scan, _things(scan, rows))]
    for stretches in (_lettered(scan), _numbered(scan)):
        announced = _announced(scan, living, stretches)
        if announced is not None:
            return [_one_of(announced, living, b, e) for b, e in stretches]
    counted = _counted_off(scan, living) or _told_in_turn(scan, living)
    if counted:
        return by_ends(living, counted)
    return priced_things(scan, living, kind)


def _partings(scan: Scan) -> Iterator[tuple[Bounds, bool]]:
    """The ways a listing may be parted into rows, each with whether its rows carry a mark of their own."""
    lines = line_bounds(scan)
    bulleted = [(b, e) for b, e in lines if _marked(scan, b)]
    if len(bulleted) >= 2:
        yield bulleted, True
    lots = _openings(scan, [k for k in range(len(scan.pieces)) if _opens_a_lot(scan, k)])
    if len(lots) >= 2:
        yield lots, True
    yield lines, False
    for stretches in (_lettered(scan), _numbered(scan)):
        if stretches:
            yield stretches, True
    dashed = _dashed(scan)
    if len(dashed) >= 2:
        yield dashed, False


def _marked(scan: Scan, k: int) -> bool:
    if scan.key(k) in _BULLETS:
        return not (scan.at(k + 1).kind == "num" and scan.at(k + 1).glued)
    return scan.at(k).kind == "num" and scan.key(k + 1) in (")", ".") and scan.at(k + 1).glued


def _opens_a_lot(scan: Scan, k: int) -> bool:
    """``Lot 12:``, ``FS:`` at the head of a sentence."""
    if scan.key(k) not in _LOTS or not (k == 0 or is_sentence_end(scan, k - 1)):
        return False
    return scan.key(k + 1) == ":" or (scan.at(k + 1).kind == "num" and scan.key(k + 2) in (":", "-", ".", ")"))


def _openings(scan: Scan, starts: list[int]) -> Bounds:
    """From each start to the next; the last one goes on for as many sentences as the longest before it."""
    if len(starts) < 2:
        return []
    bounds = list(itertools.pairwise(starts))
    most = max(sum(is_sentence_end(scan, k) for k in range(b, e)) for b, e in bounds)
    end, seen = starts[-1], 0
    while end < len(scan.pieces):
        seen += is_sentence_end(scan, end)
        if seen and seen >= most:
            break
        end += 1
    return [*bounds, (starts[-1], end)]


def _dashed(scan: Scan) -> Bounds:
    """``91 F 3.54 $250 - 91 R 3.54 $200``: what free dashes part."""
    size = len(scan.pieces)
    cuts = [k for k in range(size) if scan.key(k) == "-" and not scan.at(k).glued and not scan.at(k + 1).glued]
    cuts = [k for k in cuts if scan.key(k + 1) != "$" and scan.priced(k + 1, k + 2) is None]
    bounds = _openings(scan, [0, *(k + 1 for k in cuts)])
    return [(b, e - (e < size and scan.key(e - 1) == "-")) for b, e in bounds]


def _headed(scan: Scan, living: list[Head], bounds: Bounds) -> _Rows:
    rows: _Rows = []
    for begin, end in bounds:
        head = _row_head(scan, living, begin, end)
        if rows and says_the_same(scan, begin) and (head is None or (head.is_axle and not head.positions)):
            head = rows[-1][2]
        if head is not None:
            rows.append((begin, end, head))
    return rows


def _things(scan: Scan, rows: _Rows) -> _Rows:
    """The rows that are things: not the heading with the truck, nor what is said of things that have rows."""
    if sum(scan.priced(b, e) is not None for b, e, _ in rows) < 2:
        return rows
    named = {(h.kind, h.part, h.positions) for b, e, h in rows if scan.priced(b, e) is not None}
    return [
        (b, e, h)
        for b, e, h in rows
        if scan.priced(b, e) is not None
        or (h.kind != "vehicle" and not _of_several(scan, h, named) and not _mere_title(scan, h, b, e))
    ]


def _mere_title(scan: Scan, head: Head, begin: int, end: int) -> bool:
    """``axle list`` above rows with prices: a name, and nothing told of it."""
    told = [m for m in scan.within(begin, end) if m.attribute not in ("item", "part")]
    return head.is_axle and not head.positions and not told


def _the_only_lot(scan: Scan, rows: _Rows) -> _Rows:
    """``this listing is for lot 13 only``."""
    for k in range(len(scan.pieces)):
        if scan.key(k) == "lot" and scan.key(k + 2) == "only" and not _opens_a_lot(scan, k):
            own = [(b, e, h) for b, e, h in rows if scan.at(b + 1).raw == scan.at(k + 1).raw]
            return own or rows
    return rows


def _of_several(scan: Scan, head: Head, named: set[tuple[str, str, tuple[str, ...]]]) -> bool:
    return head.is_axle and (scan.key(head.begin).endswith("s") or (head.kind, head.part, head.positions) in named)


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
            if len(lead) > 2:
                return None
            following = living[at + 1] if at + 1 < len(living) else head
            titled = head.is_axle and not head.positions and following.bare and following.begin < end
            return following if titled else head  # ``AXLE SALE: 91 F 3.54``
    return None


def _says_something(scan: Scan, k: int) -> bool:
    """Whether a piece is a word of its own, no shelf mark, label or fact."""
    piece = scan.at(k)
    return piece.kind == "word" and not piece.facts and piece.key not in _LEADING and "label" not in piece.roles


def _bulleted_things(scan: Scan, living: list[Head], rows: _Rows) -> bool:
    """Whether marked rows name different things, rather than the facts or the parts of one."""
    if any(len(h.positions) > 1 for _, _, h in rows):
        return False
    opening = [(b, e, h) for b, e, h in rows if _opens(scan, b, h)]
    priced = sum(scan.priced(b, e) is not None for b, e, _ in rows)
    if len(opening) < len(rows) or len(opening) < 2:
        return priced >= 2 and _is_list(scan, rows)
    announced = rows[0][2].is_axle or any(h.is_axle and h.begin < rows[0][0] for h in living)
    if priced < 2 and announced and all(h.kind == "part" for _, _, h in rows[1:]):
        return False
    return priced >= 2 or len({(h.kind, h.part, h.positions) for _, _, h in rows}) >= 2


def _opens(scan: Scan, begin: int, head: Head) -> bool:
    """Whether a row begins with its noun, and that is no label of what follows (``brakes: disc, rotors new``)."""
    front = min((head.begin, *head.spans))
    told = any(m.attribute in AXLE_FACTS or m.attribute == "brakes" for m in scan.within(begin, front))
    return not told and (head.is_axle or scan.key(head.end) not in (":", "="))


def _is_list(scan: Scan, rows: _Rows) -> bool:
    heads = [h for _, _, h in rows]
    priced = sum(scan.priced(b, e) is not None for b, e, _ in rows)
    same = len({(h.kind, h.part, h.positions) for h in heads}) < len(heads)
    both = any(len(h.positions) > 1 for h in heads)
    full = all(sum(m.attribute in AXLE_FACTS for m in scan.within(b, e)) >= 2 for b, e, _ in rows)
    both = both or any(_prices_two_ends(scan, b, e) for b, e, _ in rows)
    return not both and (priced >= 2 or (same and priced == 0 and full) or _board(scan, rows))


def _prices_two_ends(scan: Scan, begin: int, end: int) -> bool:
    """``F 750 R 750`` in one line: the lines are no rows."""
    ends = [m for m in scan.within(begin, end) if m.attribute == "position"]
    priced = {m.value for m in ends if scan.priced(m.end, m.end + 2) is not None}
    return len(priced) > 1


def _board(scan: Scan, rows: _Rows) -> bool:
    return all(any(scan.key(k) == "|" for k in range(b, e)) for b, e, _ in rows)


def _lettered(scan: Scan) -> Bounds:
    """The stretches that begin with ``(A)``, or with ``1)``."""
    if ")" not in scan.keys:
        return []
    size = len(scan.pieces)
    starts = [k - 1 for k in range(1, size) if scan.key(k) in _LETTERS and scan.key(k - 1) == "(" and _closed(scan, k)]
    if len(starts) < 2:
        starts = [k for k in range(size) if scan.key(k) in _LETTERS and scan.key(k - 1) != "(" and _closed(scan, k)]
    own = [scan.key(k + (scan.key(k) == "(")) for k in starts]
    return _openings(scan, starts) if len(set(own)) == len(own) else []  # (1) front axle, (1) rear axle


def _closed(scan: Scan, k: int) -> bool:
    return scan.key(k + 1) == ")"


def _numbered(scan: Scan) -> Bounds:
    """The stretches that begin with ``#1``, ``#2`` ...: they count up from one."""
    if "#" not in scan.keys:
        return []
    signs = [k for k in range(len(scan.pieces)) if scan.key(k) == "#" and scan.at(k + 1).raw.isdigit()]
    starts: list[int] = []
    for k in signs:
        if scan.at(k + 1).raw == str(len(starts) + 1):
            starts.append(k)
    return _openings(scan, starts)


def _announced(scan: Scan, living: list[Head], stretches: Bounds) -> Head | None:
    """``3 fronts``: what stretches that count things are of, where none of them names another end or axle itself."""
    before = [h for h in living if stretches and h.end <= stretches[0][0] and len(h.positions) <= 1]
    if not before or (scan.key(stretches[0][0]) == "#" and not scan.key(before[-1].begin).endswith("s")):
        return None  # buyer #1 never came
    later = [h for h in living if h.is_axle and stretches[0][0] <= h.begin < stretches[-1][1]]
    one_by_one = all(sum(b <= h.begin < e for h in later) < len(_TWO) for b, e in stretches)
    own = all((h.kind == "housing" or h.bare) and h.positions in ((), before[-1].positions) for h in later)
    return before[-1] if one_by_one and own else None


_TWO = ("front", "rear")


def _one_of(announced: Head, living: list[Head], begin: int, end: int) -> Draft:
    """``#4: bare housing``: one of those announced, which may be a housing alone."""
    draft = _row(announced, begin, end)
    if announced.is_axle and any(h.kind == "housing" and begin <= h.begin < end for h in living):
        draft.kind = "housing"
    return draft


def _counted_off(scan: Scan, living: list[Head]) -> list[Draft]:
    """``Three rears: a 10 bolt 3.08, a 12 bolt 3.73 and a 14 bolt 4.10``: told apart by one of their facts."""
    for head in living:
        if len(head.positions) > 1 or not scan.key(head.begin).endswith("s"):
            continue
        end = next((k for k in range(head.end, len(scan.pieces)) if is_sentence_end(scan, k)), len(scan.pieces))
        for opens in (_opens_one, _opens_a_cell):
            starts = [k for k in range(head.end, end) if opens(scan, k)]
            bounds = list(itertools.pairwise([*starts, end]))
            if len(bounds) >= 2 and told_apart(scan, bounds):
                return [_row(head, b, e) for b, e in bounds]
        return []
    return []


_IN_TURN = frozenset(
    {"1", "one", "first", "second", "other", "another", "the other", "the first", "the second", "third"}
)


def _told_in_turn(scan: Scan, living: list[Head]) -> list[Draft]:
    """``Two rears. 1999: 3.73 ... 2004: 4.10 ...``: a sentence for each, which opens with its year or its turn."""
    head = next((h for h in living if len(h.positions) <= 1 and h.is_axle and scan.key(h.begin).endswith("s")), None)
    if head is None:
        return []
    starts = [b for b, _ in scan.sentences if b >= head.end and _opens_in_turn(scan, b)]
    bounds = _openings(scan, _without_again(scan, starts)) if len(starts) > 1 else _by_years(scan, head)
    if not 2 <= len(bounds) < MANY or not told_apart(scan, bounds):
        return []
    return [_row(head, b, e) for b, e in bounds]


def _by_years(scan: Scan, head: Head) -> Bounds:
    """``Two rears. 2010 10.5 and 2006 10.5, both 3.73``: so many years in one sentence as there are axles."""
    count = next(
        (scan.at(k).value or 0 for k in range(head.begin - 1, max(head.begin - 3, -1), -1) if scan.at(k).kind == "num"),
        0,
    )
    for begin, end in scan.sentences:
        years = [m.begin for m in scan.within(begin, end) if m.attribute == "years" and "span" not in m.flags]
        opening = [k for k in years if k == begin or scan.key(k - 1) in ("and", "&", ",", "a", "the", "one")]
        if begin >= head.end and len(opening) == count > 1:
            until = next((k for k in range(opening[-1], end) if scan.key(k) in ("both", "all", "each")), end)
            return list(itertools.pairwise([*opening, until]))
    return []


def _without_again(scan: Scan, starts: list[int]) -> list[int]:
    """The starts up to the first that opens with a year told before: ``2003 is $300`` names one that is known."""
    for number, start in enumerate(starts):
        opening = [m.value for m in scan.within(start, start + 2) if m.attribute == "years"]
        before = {m.value for m in scan.within(starts[0], start) if m.attribute == "years"}
        if number and opening and opening[0] in before:
            return starts[:number]
    return starts


def _opens_in_turn(scan: Scan, k: int) -> bool:
    if scan.key(k) in _IN_TURN or (
        scan.key(k) in ("no", "number", "#") and scan.at(k + 1 + (scan.key(k + 1) == ".")).kind == "num"
    ):
        return True
    k += scan.key(k) in ("the", "a", "-", "*", "•")
    return any(m.attribute == "years" for m in scan.within(k, k + 1))


def _opens_a_cell(scan: Scan, k: int) -> bool:
    """``3 rears: 12 bolt 3.73 / 14 bolt 4.10``: what stands behind the colon and behind each free stroke."""
    before = scan.at(k - 1)
    return before.key in (":", "|", ";") or (before.key == "/" and not before.glued and not scan.at(k).glued)


def _opens_one(scan: Scan, k: int) -> bool:
    opened = scan.key(k - 1) in (":", ",", "and", "&", "-", "(", "y")
    return opened and scan.key(k) in _ARTICLES
