"""Step 2a: a line of column heads over lines of cells -> each cell with its head beside it."""

from donorbase.reading.tokens import Piece

_HEADS = frozenset({
    "pos", "position", "yr", "year", "ton", "class", "ratio", "gear", "gears", "lug", "lugs", "brk", "brake",
    "brakes", "price", "diff", "drop",
    "spline", "splines", "miles", "mi", "mileage", "axle", "item", "desc", "description", "loc", "row", "stk",
    "stock", "part", "bolt", "wms", "width", "qty",
    "cond", "grade", "end", "f/r", "wheels", "srw/drw", "donor", "hubs", "knuckle", "susp", "suspension", "abs",
    "float", "ask", "asking", "side", "type", "usd", "$", "locker", "circle", "pattern", "tag", "id", "no",
})  # fmt: skip
_AFTER = frozenset({"ton", "lug", "lugs", "drop", "spline", "splines", "miles", "mi"})
_UNSAID = frozenset(
    {"pos", "position", "end", "f/r", "diff", "wheels", "srw/drw", "axle", "item", "desc", "description"}
)
_WHEELS = {"single": "srw", "dual": "drw", "singles": "srw", "duals": "drw", "s": "srw", "d": "drw"}
_COMMAS = frozenset({",", ";"})
_GAP, _LEAST = 2, 3


def columns(pieces: list[Piece]) -> list[Piece]:
    """The same pieces, with the head of its column put beside each cell of a table."""
    pieces = _by_end(pieces)
    head_end = _head_line(pieces)
    if head_end is None:
        return pieces
    begin, end = head_end
    heads = _cells(pieces[begin:end])
    by_comma = len(heads) == 1 and sum(p.key in _COMMAS for p in pieces[begin:end]) >= _LEAST
    if by_comma:
        heads = _cells(pieces[begin:end], _COMMAS)
    out = pieces[:begin]
    line: list[Piece] = []
    for piece in [*pieces[end:], Piece("line", "", 0, 0, False)]:
        if piece.kind != "line":
            line.append(piece)
            continue
        out += _headed(line, heads, _COMMAS if by_comma else frozenset())
        if piece.end:
            out.append(piece)
        line = []
    return out


def _head_line(pieces: list[Piece]) -> tuple[int, int] | None:
    begin = 0
    for i, piece in enumerate(pieces):
        if piece.kind != "line":
            continue
        words = [p for p in pieces[begin:i] if p.kind == "word"]
        named = sum(p.key in _HEADS for p in words)
        if named >= 3 and named * 2 > len(words) and not any(p.kind == "num" for p in pieces[begin:i]):
            return begin, i
        begin = i + 1
    return None


def _cells(line: list[Piece], parting: frozenset[str] = frozenset()) -> list[list[Piece]]:
    """The pieces of a line by cells, parted by a stroke, by at least two spaces or by one of ``parting``."""
    cells: list[list[Piece]] = []
    fresh = True
    for k, piece in enumerate(line):
        if piece.key == "|" or piece.key in parting:
            fresh = True
            continue
        if k and piece.begin - line[k - 1].end >= _GAP:
            fresh = True
        if fresh:
            cells.append([])
        cells[-1].append(piece)
        fresh = False
    return cells


def _headed(line: list[Piece], heads: list[list[Piece]], parting: frozenset[str]) -> list[Piece]:
    cells = _cells(line, parting)
    if len(cells) != len(heads):
        return line
    out: list[Piece] = []
    for head, cell in zip(heads, cells, strict=True):
        if head[0].key in _UNSAID:
            out += _told_by_itself(cell)
        else:
            out += [*cell, *head] if head[0].key in _AFTER else [*head, *cell]
        out.append(Piece("sym", "|", cell[-1].end, cell[-1].end, False))
    return out


def _told_by_itself(cell: list[Piece]) -> list[Piece]:
    """A cell that needs no head; ``single`` under ``wheels`` in the words of the trade."""
    if len(cell) == 1 and cell[0].key in _WHEELS:
        cell[0].key = _WHEELS[cell[0].key]
    return cell


_ENDS = {
    **dict.fromkeys(("front", "f", "frt", "fr", "frnt", "delantero", "avant"), "front"),
    **dict.fromkeys(("rear", "r", "rr", "back", "trasero", "arrière", "arriere"), "rear"),
}


def _by_end(pieces: list[Piece]) -> list[Piece]:
    """The same pieces, with a table of a column for each end turned into ``front year 05 | rear year 05``."""
    lines = _lines(pieces)
    head = next((n for n, line in enumerate(lines) if _heads_ends(line)), None)
    if head is None:
        return pieces
    ends = [cell[0] for cell in _cells(lines[head])[-2:]]
    if not any(len(_cells([p for p in line if p.kind != "line"])) == len(ends) + 1 for line in lines[head + 1 :]):
        return pieces  # two words with a gap, no table
    out: list[Piece] = []
    for n, line in enumerate(lines):
        cells = _cells([p for p in line if p.kind != "line"]) if n > head else []
        if len(cells) == len(ends) + 1 and n > head:
            for end, cell in zip(ends, cells[1:], strict=True):
                out += [_called(end), *cells[0], *cell, Piece("sym", ";", cell[-1].end, cell[-1].end, False)]
            out += [p for p in line if p.kind == "line"]
        elif n != head:
            out += line
    return out


def _called(end: Piece) -> Piece:
    piece = Piece("word", end.raw, end.begin, end.end, False)
    piece.key = _ENDS[end.key]
    return piece


def _heads_ends(line: list[Piece]) -> bool:
    """``item | front | rear``: a line whose last two cells are the two ends, and which tells nothing else."""
    cells = _cells([p for p in line if p.kind != "line"])
    if len(cells) not in (2, 3) or any(p.kind == "num" for p in line):
        return False
    last = [cell[0].key for cell in cells[-2:] if len(cell) == 1]
    return len(last) == 2 and {_ENDS.get(key) for key in last} == {"front", "rear"}


def _lines(pieces: list[Piece]) -> list[list[Piece]]:
    """The pieces line by line, each with the piece that ends it."""
    lines: list[list[Piece]] = [[]]
    for piece in pieces:
        lines[-1].append(piece)
        if piece.kind == "line":
            lines.append([])
    return lines
