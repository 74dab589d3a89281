"""Step 11: what the words speak of: denied, only fitted, somebody else's, wanted in return, or in doubt."""

from collections.abc import Iterator

from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sizes import SERIES

SENTENCE = frozenset({".", "!", "?", ";", "•"})
CLAUSE = SENTENCE | frozenset({",", "(", ")", "|", "[", "]", "~~"})
_SHORT = frozenset({"conv", "approx", "insp", "wt", "cond", "meas", "incl", "assy", "gd", "st", "dr", "mr", "no", "pass", "diff", "susp", "temp", "orig", "frt", "rr", "hwy", "jr"})
_LINKS = frozenset({"or", "and", "nor", "&", ",", "/", "y", "o", "et", "ou", "the", "a", "an", "any", "its", "n", "+", "no", "ni"})
_BREAKS = frozenset({"but", "just", "only", "however", "though", "although", "so", "because", "since", "which", "while", "still"})
_PARTS = frozenset({"part"})
_OFFER = frozenset({"price", "contact", "zip", "mileage_mi", "distance_mi", "vin", "offer", "price_terms"})
_WEAK = frozenset({"w", "w/", "with", "has", "have", "got", "con", "avec", "it has"})
_HANDS = frozenset({"my", "mi", "mis", "mon", "ma", "our", "mine", "his", "her", "their", "ours"})
_SOFT = frozenset({"i have", "ive got", "i've", "i got a", "i found a", "he has", "we run", "going to", "going with", "to run", "i put", "i drive", "already have", "i already have",
                   "ordered", "neighbor", "buddy", "brother in law", "i bought", "bought a", "i run", "next build", "building a", "was going to use", "mine has"})  # fmt: skip


def is_sentence_end(scan: Scan, i: int) -> bool:
    """Whether a piece ends a sentence: a stop that is not inside a number or name, or the end of a line."""
    piece = scan.at(i)
    if piece.key == "." and scan.key(i - 1) in _SHORT:
        return False
    return piece.kind == "line" or piece.key in SENTENCE or (piece.key == "-" and not piece.glued and scan.key(i + 1) == "-")


def is_clause_end(scan: Scan, i: int) -> bool:
    """Whether a piece parts two clauses."""
    piece = scan.at(i)
    if piece.key == "." and scan.key(i - 1) in _SHORT:
        return False
    return piece.kind == "line" or piece.key in CLAUSE or (piece.key in ("-", "/") and not piece.glued and not scan.at(i + 1).glued)


def sentence_bounds(scan: Scan) -> list[tuple[int, int]]:
    """(begin, end) of every sentence."""
    bounds, begin = [], 0
    for i in range(len(scan.pieces)):
        if is_sentence_end(scan, i):
            if i > begin:
                bounds.append((begin, i))
            begin = i + 1
    if begin < len(scan.pieces):
        bounds.append((begin, len(scan.pieces)))
    return bounds


def words_said(scan: Scan) -> None:
    """Mark the facts that words and phrases give, where their neighbours do not make them mean something else."""
    for i, piece in enumerate(scan.pieces):
        if piece.facts and not scan.used[i] and not _homograph(scan, i):
            both = len(piece.facts) > 1 and any(name == "part" for name, _ in piece.facts)
            flags = frozenset({"with-part"}) if both else frozenset()
            scan.marks += [Mark(name, value, i, i + 1, flags=flags) for name, value in piece.facts]
        if "item" in piece.roles and not scan.used[i]:
            scan.marks.append(Mark("item", piece.roles["item"], i, i + 1))
    _hub_kinds(scan)
    scan.marks.sort(key=lambda m: (m.begin, m.end))


_HUB_KINDS = {"manual": "manual-locking", "automatic": "automatic-locking"}


def _hub_kinds(scan: Scan) -> None:
    """``hubs (manual)``, and over a chat's lines ``hubs? manual ones``."""
    hubs = [i for i, p in enumerate(scan.pieces) if ("part", "hub") in p.facts or ("part", "locking-hub") in p.facts]
    for i in hubs:
        for k in (i - 1, i + 1, i + 2, i + 3, i + 4, i + 5):
            kind = _HUB_KINDS.get(scan.role(k, "cue"))
            if kind is not None and all(scan.at(j).kind in ("sym", "line") or len(scan.key(j)) <= 4 for j in range(min(i, k) + 1, max(i, k))):
                scan.marks.append(Mark("hubs", kind, k, k + 1))
                break


_LETTERS = frozenset({"f", "r", "ft", "fr", "fa", "bk", "b"})
_TALK = frozenset({"to", "for", "till", "from", "until", "house", "mon", "sundays", "on", "at", "daily"})
_METALWORK = frozenset({"on", "to", "bracket", "brackets", "tube", "tubes", "truss", "perch", "perches", "mounts", "mount", "plates", "plate", "back", "steering", "in"})


def _homograph(scan: Scan, i: int) -> bool:
    piece = scan.at(i)
    key, name = piece.key, piece.facts[0][0]
    if key in _LETTERS and name == "position":
        return not (scan.role(i + 1, "item") or _cell(scan, i))
    if key == "back":
        return not (scan.role(i + 1, "item") == "axle" or scan.key(i - 1) in ("and", "front", "n") or scan.key(i + 1) == "one")
    if key == "open":
        return scan.key(i + 1) in _TALK or scan.key(i - 1) in ("wide", "were", "we")
    if key.startswith("welded") or key in ("spool", "weld"):
        around = {scan.key(k) for k in (i + 1, i + 2, i - 1, i - 2)}
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


def _cell(scan: Scan, i: int) -> bool:
    if scan.at(i + 1).kind == "num" and scan.at(i + 1).glued:
        return False
    edges = scan.at(i - 1).kind == "line" or scan.key(i - 1) in ("|", "", "pos", "position", "end", "axle", "f/r")
    return edges and (scan.key(i + 1) in ("|", "") or scan.at(i + 1).kind in ("line", "num"))


def scopes(scan: Scan) -> None:
    """Drop, turn or doubt the marks that do not plainly speak of what is on offer."""
    at: dict[int, list[Mark]] = {}
    for mark in scan.marks:
        at.setdefault(mark.begin, []).append(mark)
    for begin, end in sentence_bounds(scan):
        _Sentence(scan, at, begin, end).read()
    _answered_no(scan, at)
    _choices(scan)
    _limits(scan)


class _Sentence:
    """One sentence with its marks; each rule looks for its cue words."""

    def __init__(self, scan: Scan, at: dict[int, list[Mark]], begin: int, end: int) -> None:
        self.scan, self.at, self.begin, self.end = scan, at, begin, end

    def read(self) -> None:
        """Apply every rule at every cue of the sentence."""
        rules = {"not": self._deny, "no": self._lack, "neither": self._deny, "gone": self._gone, "fits": self._fits,
                 "for": self._for, "mine": self._mine, "return": self._in_return, "hedge": self._hedge,
                 "with": self._with, "included": self._included, "was": self._was}  # fmt: skip
        for i in range(self.begin, self.end):
            self._sold_one(i)
            rule = rules.get(self.scan.role(i, "cue"))
            if rule is not None and not self.scan.used[i]:
                rule(i)

    def _sold_one(self, i: int) -> None:
        """``sold rear``: one of several is gone; the rest is still for sale."""
        here = [m for m in self.at.get(i, ()) if m.attribute == "offer" and m.value == "sold"]
        after = [m for m in self.at.get(i + 1 + (self.scan.key(i + 1) == "the"), ()) if m.attribute in ("position", "item")]
        if here and after and i > 2 and self.scan.key(i - 1) in (",", ".", "i", "already", "(", "just"):
            for mark in (*here, *after):
                mark.dropped = "sold"

    def marks(self, begin: int, end: int) -> Iterator[Mark]:
        """The live marks that begin between two places."""
        for i in range(begin, end):
            yield from (m for m in self.at.get(i, ()) if m.live)

    def clause_end(self, i: int) -> int:
        while i < self.end and not is_clause_end(self.scan, i):
            i += 1
        return i

    def clause_begin(self, i: int) -> int:
        while i > self.begin and not is_clause_end(self.scan, i - 1):
            i -= 1
        return i

    def _reach(self, i: int, parts_only: bool) -> int:
        """How far a denial at ``i`` reaches: over one thing and those listed with it."""
        k, seen, linked = i + 1, False, False
        while k < self.end:
            key = self.scan.key(k)
            here = self.at.get(k, ())
            if key in _BREAKS or self.scan.role(k, "cue") in ("with", "included", "only", "source") and seen:
                break
            if key in ("(", ")", "|", "-") or (key == ":" and k > i + 2) or self.scan.role(k, "cue") in ("not", "no"):
                break
            if key == "," and not (seen and self._lists_on(k + 1, parts_only)):
                break
            if here and any(m.attribute not in _OFFER for m in here):
                if seen and not linked:
                    break
                seen, linked = True, False
                k = max(m.end for m in here)
                continue
            if key in _LINKS:
                linked = True
            elif seen:
                break
            elif k > i + 5:
                break
            k += 1
        return k

    def _lists_on(self, k: int, parts_only: bool) -> bool:
        while self.scan.key(k) in _LINKS - {","}:
            k += 1
        if not parts_only:
            return self.scan.key(k - 1) in ("nor", "or")
        here = self.at.get(k, ())
        if not any(m.attribute in ("part", "has") for m in here):
            return False
        ends = k + 1
        return self.scan.key(ends) in _LINKS or is_clause_end(self.scan, ends) or ends >= self.end

    def _deny(self, i: int) -> None:
        if self.scan.key(i + 1) == "only" or self.scan.key(i) == "nothing" and self.scan.key(i + 1) in ("wrong", "fancy", "special"):
            return
        end = self._reach(i, False) if self.scan.role(i, "cue") != "neither" else self.end
        if self.scan.key(i) in ("dont", "do not") and self.scan.key(i + 1) == "want":
            end = self.end
        for mark in self.marks(i + 1, end):
            _denied(mark)

    def _lack(self, i: int) -> None:
        if self._teeth(i):
            return
        end = self._reach(i, True)
        found = [m for m in self.marks(i + 1, end) if m.attribute not in _OFFER]
        if not found and self.scan.key(i) in ("missing", "missin", "falta", "faltan", "manque"):
            self._gone(i)
            return
        for mark in found:
            _lacking(mark)

    def _gone(self, i: int) -> None:
        if self._teeth(i):
            return
        begin = self.clause_begin(i)
        found = [m for m in self.marks(begin, i) if m.attribute not in _OFFER]
        if not found and self.scan.key(begin - 1) == "(":
            begin = self.clause_begin(begin - 1)
            found = [m for m in self.marks(begin, i) if m.attribute == "part"]
        begin_list = begin
        while self.scan.key(begin_list - 1) == "," and self._only_part(begin_list) and begin_list - 1 > self.begin:
            previous = self.clause_begin(begin_list - 1)
            if not self._only_part(previous):
                break
            begin_list = previous
        self._but_included(i)
        for mark in [*self.marks(begin_list, begin), *found]:
            if mark.attribute in ("position", "item-head") and any(m.attribute == "part" for m in found):
                continue
            _lacking(mark)

    def _but_included(self, i: int) -> None:
        """``the ram is not included but the tie rod and drag link are``."""
        end = self.clause_end(i)
        if self.scan.key(i + 1) == "but" and self.scan.key(end - 1) in ("are", "is", "do", "does", "will"):
            for mark in self.marks(i + 2, end):
                if mark.attribute == "part":
                    mark.attribute = "has"

    def _teeth(self, i: int) -> bool:
        """``missing two teeth``: no part that is missing."""
        for k in range(i + 1, i + 5):
            if self.scan.key(k) in ("teeth", "tooth", "dientes", "dents"):
                self.scan.marks.append(Mark("defects", "damaged-gears", i, k + 1))
                return True
        return False

    def _only_part(self, begin: int) -> bool:
        end = self.clause_end(begin)
        here = [m for m in self.marks(begin, end) if m.attribute not in ("brakes", "position")]
        return bool(here) and all(m.attribute == "part" for m in here) and end - begin <= 4

    def _with(self, i: int) -> None:
        """``comes with calipers and rotors``: parts listed after it are included."""
        if self.scan.key(i) in ("have", "has", "got") and "also" in (self.scan.role(i - 1, "cue"), self.scan.role(i + 1, "cue")):
            return
        k = i + 1
        listed = False
        while k < self.end:
            here = [m for m in self.at.get(k, ()) if m.attribute == "part"]
            if here and here[0].live and not self._no_list_part(k, listed or self.scan.key(i) not in _WEAK):
                here[0].attribute = "has"
                listed = True
            elif self.scan.key(k) not in _LINKS and self.scan.at(k).kind != "num" and not self._modifier(k):
                break
            if self.scan.key(k) in (",", "/") and not self._next_part(k + 1):
                break
            k += 1

    def _no_list_part(self, k: int, strong: bool) -> bool:
        """Whether a part is told by another field (hubs), or only named to tell something else of it."""
        piece = self.scan.at(k)
        names = dict(piece.facts)
        series = self.scan.at(k - 1).raw in SERIES and not strong
        return "hubs" in names or series or (not strong and names.get("part") == "brake-drum") or any("fits" in m.flags for m in self.at.get(k, ()))

    def _modifier(self, k: int) -> bool:
        piece = self.scan.at(k)
        names = {n for n, _ in piece.facts}
        return piece.key in ("new", "good", "all", "both", "brand", "nice", "fresh", "heavy", "duty", "themselves", "set", "of", "rebuilt", "the", "working", "decent", "newer", "extra",
                             "hd", "complete", "its", "original", "big", "a", "my", "steel", "iron", "aluminum", "inner", "outer", "with") or (
            bool(names) and names <= {"position", "caliper_pistons", "rebuilt"}
        )  # fmt: skip

    def _next_part(self, k: int) -> bool:
        while self.scan.key(k) in _LINKS or self._modifier(k):
            k += 1
        return any(m.attribute == "part" for m in self.at.get(k, ()))

    def _included(self, i: int) -> None:
        """``rotors, knuckles, tie rod all there``: parts listed before it are included."""
        k = i - 1
        while k >= self.begin:
            here = [m for m in self.at.get(k, ()) if m.live]
            parts = [m for m in here if m.attribute == "part"]
            key = self.scan.key(k)
            if parts:
                if not self._no_list_part(k, True):
                    parts[0].attribute = "has"
            elif key in ("but", "no", "not") or self.scan.role(k, "cue") in ("no", "not", "gone"):
                break
            elif key not in _LINKS and not self._modifier(k) and key not in ("are", "is", "all", "still", "both", "+", "w/", "with", "will", "be", "x", "in", "of", "(", ")", "steel") and not (here and all(m.attribute in ("position", "brakes", "caliper_pistons") for m in here)):  # fmt: skip
                break
            elif key == "," and not any(m.attribute == "part" for m in self.at.get(k - 1, ())):
                break
            k -= 1

    def _fits(self, i: int) -> None:
        end = self.clause_end(i)
        if self.scan.key(i) in ("fit", "bolt in", "bolts in", "go in", "goes in") and not any(m.attribute in ("years", "load_class") for m in self.marks(i, end)):
            return
        for mark in self.marks(i + 1, end):
            if mark.attribute == "years":
                mark.attribute = "fits_years"
            elif mark.attribute not in _OFFER and mark.attribute not in ("position", "item"):
                mark.flags |= {"fits"}

    def _for(self, i: int) -> None:
        """``for my 2001``, ``for a 05+``; ``for 4.56 and up``."""
        k = i + 1
        while k < i + 5 and self.scan.key(k) in ("a", "an", "my", "the", "his", "'", "any", "all", "mi", "una", "un", "older", "most", "of"):
            k += 1
        while any(m.attribute in ("load_class", "lugs", "bolt_circle_mm", "rear_wheels", "part", "position") for m in self.at.get(k, ())):
            k = max(m.end for m in self.at[k])
        for mark in (*self.at.get(k, ()), *self.at.get(k - 1, ())):
            if mark.attribute == "years" and mark.live:
                mark.attribute = "fits_years"
                for rest in self.marks(mark.end, self.clause_end(mark.end)):
                    if rest.attribute in ("load_class", "rear_wheels") and not self._wanted_ad():
                        rest.flags |= {"fits"}

    def _mine(self, i: int) -> None:
        key = self.scan.key(i)
        if self.scan.key(i - 1) in _HANDS and self.scan.role(i - 2, "cue") == "source":
            return
        if key in _HANDS:
            self._his_own(i)
            return
        if key in _SOFT and (self._has_head(self.begin, self.end) or self.begin == 0):
            return
        for mark in self.marks(self.clause_begin(i), self.clause_end(i)):
            if mark.attribute not in _OFFER - {"mileage_mi"} and mark.attribute != "fits_years":
                mark.dropped = "another's"

    def _his_own(self, i: int) -> None:
        before = self.scan.role(i - 1, "cue") or self.scan.role(i - 2, "cue") * (self.scan.key(i - 1) in ("of", "in", "under"))
        vehicle = any(self.scan.role(k, "item") == "vehicle" for k in range(max(self.begin, i - 3), i))
        if before in ("source", "for", "fits") or vehicle or self.scan.role(i - 1, "offer"):
            return
        if any(m.attribute == "offer" for k in range(max(self.begin, i - 3), i) for m in self.at.get(k, ())):
            return
        end = self.clause_end(i)
        head = self._has_head(i + 1, min(end, i + 6))
        if head and self.scan.key(i) in ("my", "mi", "our") and self.scan.key(i + 1) not in ("other", "new", "truck", "old"):
            return
        origin = next((k for k in range(i + 1, end) if self.scan.role(k, "cue") == "source"), end)
        for mark in self.marks(i + 1, origin):
            if mark.attribute not in _OFFER and mark.attribute != "fits_years":
                mark.dropped = "another's"

    def _has_head(self, begin: int, end: int) -> bool:
        return any(self.scan.role(k, "item") in ("axle", "housing") or any(m.attribute in ("position", "part") for m in self.at.get(k, ()))
                   for k in range(begin, end))  # fmt: skip

    def _in_return(self, i: int) -> None:
        if self._wanted_ad() or (self.begin == 0 and i <= 2):
            return
        for mark in self.marks(i + 1, self.end):
            if mark.attribute not in _OFFER:
                mark.dropped = "wanted in return"

    def _wanted_ad(self) -> bool:
        return "wanted" in self.scan.heads

    def _hedge(self, i: int) -> None:
        near = [*self.marks(i + 1, min(i + 6, self.clause_end(i)))][:1]
        near = near or [*self.marks(max(self.clause_begin(i), i - 3), i)][-1:]
        for mark in near:
            mark.hedged = True

    def _was(self, i: int) -> None:
        if self.scan.key(i) in ("used to be", "originally", "previously"):
            for mark in self.marks(i + 1, self.clause_end(i)):
                if mark.attribute not in _OFFER:
                    mark.dropped = "as it was"


def _denied(mark: Mark) -> None:
    if mark.attribute == "rear_wheels":
        mark.value = "single" if mark.value == "dual" else "dual"
    elif mark.attribute == "abs":
        mark.value = not mark.value
    elif mark.attribute == "brakes" and mark.value == "disc":
        mark.dropped = "denied"
    elif mark.attribute == "has":
        mark.attribute = "missing"
    elif mark.attribute not in _OFFER - {"price_terms"}:
        mark.dropped = "denied"


def _lacking(mark: Mark) -> None:
    """``no calipers``: a part is missing; of anything else it is a denial."""
    if mark.attribute in ("part", "has"):
        mark.attribute = "missing"
    elif mark.attribute == "hubs":
        mark.dropped = "missing"
    elif mark.attribute == "brakes" and "with-part" in mark.flags:
        return
    else:
        _denied(mark)


def _answered_no(scan: Scan, at: dict[int, list[Mark]]) -> None:
    """``kingpins no, ball joints yes``; ``lsd? no``; over the line break of a chat as well."""
    for i, piece in enumerate(scan.pieces):
        if piece.key not in ("no", "nope", "nah"):
            continue
        k = i - 1
        asked = False
        while k >= 0 and (scan.at(k).kind == "line" or scan.key(k) in (":", "?", ",") or (asked is False and _speaker(scan, k))):
            asked = asked or scan.key(k) == "?"
            k -= 1
        if k == i - 1 and not (is_clause_end(scan, i + 1) or i + 1 >= len(scan.pieces)):
            continue
        if k != i - 1 and not asked:
            continue
        for mark in at.get(k, ()):
            if mark.attribute not in _OFFER and mark.live:
                mark.dropped = "denied"


def _speaker(scan: Scan, k: int) -> bool:
    return scan.key(k + 1) == ":" and scan.at(k).kind == "word" and not scan.at(k).facts


def _choices(scan: Scan) -> None:
    """``3.73 or 4.10``: two values of one attribute, one of which it must be, are no fact."""
    live = [m for m in scan.marks if m.live and m.attribute not in _OFFER and m.attribute not in ("part", "position", "years", "fits_years", "has", "missing", "defects")]
    for first, second in zip(live, live[1:], strict=False):
        if first.attribute == second.attribute and first.value != second.value and second.begin - first.end <= 3:
            between = {scan.key(k) for k in range(first.end, second.begin)}
            if between & {"or", "o", "ou"} and not between & {"is", "its", "not"}:
                first.dropped = second.dropped = "choice"
    for mark in scan.marks:
        if "choice" in mark.flags:
            mark.dropped = mark.dropped or "choice"


def _limits(scan: Scan) -> None:
    """``for 4.56 and up``, ``the 4.10 & down carrier``: the limit of a range, not a value."""
    for mark in scan.marks:
        if mark.attribute == "ratio" and mark.live:
            link = mark.end + (scan.key(mark.end) in ("and", "&", "n", "or", "-"))
            if scan.key(link) in ("up", "down", "numerically", "higher", "lower", "+", "deeper", "newer") and (link > mark.end or scan.key(link) == "+"):
                mark.dropped = "limit"
