"""Step 12: the nouns that name things: which of them are on offer, and which only stand beside."""

from dataclasses import dataclass

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.draft import GEARED
from donorbase.reading.scan import Mark, Scan

_BESIDE = frozenset({"for", "fits", "source"})
_NO_ORIGIN = frozenset({"de", "donor", "ex", "take off", "takeoff", "takeoffs", "take offs", "para"})
_BETWEEN = frozenset({"-", ",", "assy", "assembly", ":", "|", "(", "are", "is", "complete", "the"})
_VERBS = frozenset({"is", "has", "are", "have", "was", "got", "s", "has a", "is a", "with", "w/", "i"})
_BOTH = ("front", "rear")
_OF_AXLES_ALONE = frozenset({"ratio", "pinion", "drop", "width_in", "differential"})


@dataclass(slots=True, eq=False)
class Head:
    """A noun at ``begin`` to ``end`` with the positions said of it; ``bare`` if only the position stands there."""

    kind: str
    part: str
    positions: tuple[str, ...]
    begin: int
    end: int
    bare: bool = False
    beside: bool = False
    spans: tuple[int, ...] = ()
    mark: Mark | None = None
    """What says that it only comes along (``plus 2 hubs``), where something does."""

    @property
    def is_axle(self) -> bool:
        """Whether it names an axle or its housing."""
        return self.kind in ("axle", "housing")


def find_heads(scan: Scan) -> list[Head]:
    """The living nouns in the order of the text."""
    said = _Said(scan)
    heads: list[Head] = []
    for i, noun in sorted(said.nouns.items()):
        if not said.only_modifies(i, noun):
            heads.append(said.head(i, noun))
    heads += [said.bare(i) for i in said.free_positions(heads)]
    heads.sort(key=lambda h: h.begin)
    return heads


class _Said:
    """What each piece says of nouns and positions, from the living marks."""

    def __init__(self, scan: Scan) -> None:
        self.scan = scan
        self.nouns: dict[int, tuple[str, str]] = {}
        self.positions: dict[int, tuple[str, ...]] = {}
        self.owned: set[int] = set()
        self.added: dict[int, Mark] = {m.begin: m for m in scan.marks if "plus" in m.flags and m.attribute == "has"}
        dead = {m.begin for m in scan.marks if m.attribute in ("position", "item") and not m.live}
        for mark in scan.marks:
            if mark.live and (mark.attribute == "part" or self.added.get(mark.begin) is mark):
                self.nouns.setdefault(mark.begin, ("part", str(mark.value)))
            elif mark.attribute == "item" and mark.live:
                self.nouns[mark.begin] = (str(mark.value), "")
            elif mark.attribute == "position" and mark.live and mark.begin not in dead:
                self.positions[mark.begin] = (str(mark.value),)
        self._centers()
        for i, piece in enumerate(scan.pieces if ("cue", "both-ends") in scan.roles else ()):
            if piece.roles.get("cue") == "both-ends" and _names_both(piece.raw):
                self.positions[i] = _BOTH

    def _centers(self) -> None:
        """``Front pumpkin out of a 2008, 8.25 ring``: the center alone, where no axle is named."""
        scan = self.scan
        if ("hump", "diff") not in scan.roles or any(kind in ("axle", "housing") for kind, _ in self.nouns.values()):
            return
        hung = {k for m in scan.marks if m.attribute == "drop" for k in range(m.begin, m.end)}
        for i in range(len(scan.pieces)):
            alone = scan.key(i) == "pumpkin" and i not in hung and i not in self.nouns
            opens = i - 1 in self.positions or scan.key(i - 1) in ("the", "just", "just the", "a")
            goes_on = scan.role(i + 1, "cue") in ("source", "with") or scan.key(i + 1) in ("and", "&")
            if alone and opens and goes_on:
                self.nouns[i] = ("part", "third-member")
                return

    def only_modifies(self, i: int, noun: tuple[str, str]) -> bool:
        """``rear axle shafts``: the axle is told of the shafts; ``unit bearing front axle``: the other way about."""
        following = self.nouns.get(i + 1)
        if noun[0] == "axle" and following and following[0] in ("part", "housing", "other"):
            return True
        if noun[0] == "axle" and announces_parts(self.scan, i):
            return True
        if noun[0] == "part" and following and following[0] == "other":
            return True
        if noun[0] != "part":
            return False
        for k in range(i + 1, i + 4):
            if is_clause_end(self.scan, k) or self.scan.role(k, "cue"):
                return False
            if k in self.nouns:
                return self.nouns[k][0] == "axle" and k > i
        return False

    def head(self, i: int, noun: tuple[str, str]) -> Head:
        where, at = self._position_of(i)
        self.owned.update(at)
        return Head(noun[0], noun[1], where, i, i + 1, beside=self._beside(i), spans=(*at, i), mark=self.added.get(i))

    def _position_of(self, i: int) -> tuple[tuple[str, ...], tuple[int, ...]]:
        if i in self.positions:
            return self.positions[i], (i,)
        return self._position_before(i) or self._position_after(i) or ((), ())

    def _position_before(self, i: int) -> tuple[tuple[str, ...], tuple[int, ...]] | None:
        for k in range(i - 1, max(i - 8, -1), -1):
            if is_clause_end(self.scan, k) and not (
                self.scan.key(k) in (",", "/") and k == i - 2 and i - 1 in self.positions
            ):
                return None
            if k in self.positions and k not in self.owned:
                if self._labels_more(k, i):
                    return None
                other = k - 2
                joined = self.scan.key(k - 1) in ("and", "&", "+", "n", "/")
                if joined and other in self.positions and other not in self.owned:
                    return _BOTH, (other, k)
                return self.positions[k], (k,)
            if self.scan.role(k, "cue") in ("with", "no", "for", "source", "fits"):
                return None
            if k in self.nouns:
                return (self.positions[k], ()) if k in self.positions else None
        return None

    def _position_after(self, i: int) -> tuple[tuple[str, ...], tuple[int, ...]] | None:
        for k in range(i + 1, i + 4):
            if k in self.nouns or self.scan.role(k, "cue") in ("mine", "with"):
                return None
            one_of_several = self._plural(i) and len(self.positions.get(k, ())) == 1
            if k in self.positions and k + 1 not in self.nouns and self._closes(k) and not one_of_several:
                return None if self._opens_the_next(k) else (self.positions[k], (k,))
            if self.scan.key(k) not in _BETWEEN and not self.scan.at(k).facts:
                return None
        return None

    def _labels_more(self, k: int, i: int) -> bool:
        """``R: full float drums``, ``front 3.55 unit bearings``: an end with more to tell is of an axle, not a part."""
        kind, part = self.nouns[i]
        if kind != "part" or part in GEARED:
            return False
        if self.scan.key(k + 1) in (":", "="):
            return any(self.scan.at(j).facts or self.scan.at(j).kind == "num" for j in range(k + 2, i))
        return any(m.attribute in _OF_AXLES_ALONE for m in self.scan.within(k + 1, i))

    def _opens_the_next(self, k: int) -> bool:
        """``manual hubs, rear full float``: behind a comma, with more to tell, an end is no word of the noun before."""
        following = self.scan.at(k + 1)
        told = any(name not in ("position", "price_terms") for name, _ in following.facts)
        verb = following.key in _VERBS or following.key in (":", "=")
        before = k - 1 - (self.scan.key(k - 1) == "the")
        return self.scan.key(before) in (",", ".", "|") and (told or verb or following.kind == "num")

    def _plural(self, i: int) -> bool:
        return self.scan.key(i).endswith("s") and self.nouns[i][0] in ("axle", "housing")

    def _closes(self, k: int) -> bool:
        return True if self.positions[k] == _BOTH else not (self.scan.key(k + 1) in ("and", "&") or k + 2 in self.nouns)

    def _beside(self, i: int) -> bool:
        """Whether the noun follows ``for``, ``fits`` or ``off``: named to say where the thing goes or came from."""
        bare = i in self.positions and i not in self.nouns
        reach = 3 if bare and not any(self.scan.role(k, "cue") == "fits" for k in range(i - 7, i)) else 7
        for k in range(i - 1, max(i - reach, -1), -1):
            cue = self.scan.role(k, "cue")
            if cue == "with" and self.nouns.get(i, ("", ""))[0] == "other":
                return True
            if cue in _BESIDE and not (self.scan.key(k) in _NO_ORIGIN and (k == 0 or self._only_sized(k + 1, i))):
                return self.scan.key(k + 1) not in ("sale", "this", "these")
            if is_clause_end(self.scan, k) or self.scan.key(k) in (":", "-") or k in self.nouns:
                return False
        return False

    def _only_sized(self, begin: int, end: int) -> bool:
        """``take off 18 in steel wheels``: nothing but a size stands before the noun."""
        return all(self.scan.at(k).kind == "num" or self.scan.role(k, "unit") for k in range(begin, end))

    def free_positions(self, heads: list[Head]) -> list[int]:
        free = (i for i in self.positions if i not in self.owned)
        return [i for i in free if i not in self.nouns or announces_parts(self.scan, i)]

    def bare(self, i: int) -> Head:
        return Head("axle", "", self.positions[i], i, i + 1, bare=True, beside=self._beside(i), spans=(i,))


def announces_parts(scan: Scan, i: int) -> bool:
    """``Front end parts``, ``rear axle bits``: a noun that only says of what the parts are that follow."""
    return scan.key(i + 1) in _PIECES_OF and scan.key(i + 2) not in ("or", "truck")


_PIECES_OF = frozenset({"parts", "pieces", "bits", "stuff", "leftovers", "internals", "guts", "spares", "components"})


def _names_both(raw: str) -> bool:
    words = raw.replace("/", " ").replace("&", " ").replace("+", " ").split()
    return any(w.startswith(("front", "fr", "f", "delant", "adelan", "avant")) for w in words) and any(
        w.startswith(("rear", "rr", "r", "back", "tras", "atr", "arr")) for w in words
    )


def line_bounds(scan: Scan) -> list[tuple[int, int]]:
    """(begin, end) of every line that holds something."""
    bounds, begin = [], 0
    for i in (*(k for k, p in enumerate(scan.pieces) if p.kind == "line"), len(scan.pieces)):
        if i > begin:
            bounds.append((begin, i))
        begin = i + 1
    return bounds


__all__ = ["Head", "find_heads", "is_sentence_end", "line_bounds"]
