"""Step 12c: whose damage it is: a cracked drum, rust in the bed and an unknown noise are none of the axle's."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.mends import of_the_past
from donorbase.reading.scan import Mark, Scan
from donorbase.reference.word_sets import word_set

_LOOSE = frozenset({
    "tie-rod", "drag-link", "track-bar", "rotor", "brake-drum", "diff-cover", "yoke", "driveshaft", "caliper",
    "caliper-bracket", "master-cylinder", "booster", "locking-hub", "u-joint", "axle-shaft", "inner-shaft",
    "outer-shaft",
})  # fmt: skip
"""Parts whose damage is none of the axle they come with."""
_OF_A_THING = frozenset({"bent", "cracked", "rusty", "leaking", "worn-bearing"})
"""Damage that is told of anything; the rest names what it is of by itself."""
_FOREIGN = word_set("foreign")
_OWN = word_set("own")
_LINKING = word_set("linking")
_KINDS = word_set("thing-kinds")
_PLACES = word_set("places")
_SIDES = word_set("place-words")
_BEARING = ("bearing", "brg", "brng", "balero", "roulement", "hub")
_PAST = word_set("past-faults")
_YES = word_set("some")
_POINTING = word_set("pointing")
_SOMEBODYS = word_set("possessive")
"""``bent my loading ramp``, ``broke his back``: what they have is none of the axle's unless it is a piece of one."""
_HARDLY = word_set("hardly")
_FIXED = word_set("fixtures")
_REACH, _FAR, _LONGEST_QUESTION = 9, 16, 6
OF_NOTHING = "of no known part"
"""Why a noise or a play is no fact: nobody says what makes it."""


def damage(scan: Scan) -> None:
    """Drop the defects that are another thing's, mended, asked for, or only feared of something sought."""
    marks = [m for m in scan.marks if m.attribute == "defects" and m.live]
    if not marks:
        return
    alone = _only_parts(scan)
    for mark in marks:
        if scan.wanted:
            mark.dropped = "not wanted"
        elif any(scan.role(k, "cue") == "believed" for k in range(mark.begin - 3, mark.begin)):
            mark.dropped = "believed"  # I thought it leaked
        elif _asked(scan, mark):
            mark.dropped = "asked"
        elif (
            scan.at(mark.begin - 1).value == 0
            or scan.key(mark.begin - 1) in _HARDLY
            or scan.key(mark.end) in ("nothing", "none")
        ):
            mark.dropped = "denied"
        elif mark.value in _OF_A_THING and not _tells_of_oil(scan, mark) and is_anothers(scan, mark, alone):
            mark.dropped = "another's"
        elif mark.value == "worn-bearing" and not _of_a_bearing(scan, mark):
            mark.dropped = OF_NOTHING
        elif _mended(scan, mark):
            mark.dropped = "as it was"


def _tells_of_oil(scan: Scan, mark: Mark) -> bool:
    """``oil on the inside of the left wheel``: the place it is found is not what leaks."""
    return scan.key(mark.begin).startswith(("oil", "gear oil", "puddle", "grease"))


def repairs(scan: Scan) -> None:
    """Drop ``rebuilt`` where it is told of a part (``rebuilt kingpins``), or is only needed or meant."""
    alone = _only_parts(scan)
    for mark in scan.marks:
        if mark.attribute != "rebuilt" or not mark.live:
            continue
        if not alone and _of_the_thing_before(scan, mark):
            mark.dropped = "another's"
        elif any(scan.key(k) in _TO_COME for k in (mark.begin - 1, mark.begin - 2)) or _only_meant(scan, mark):
            mark.dropped = "not stated"
        elif scan.key(mark.begin) in _TELLING and (_joints_beside if alone else _part_beside)(scan, mark):
            mark.dropped = "another's"
        elif alone and scan.key(mark.begin).startswith("reman"):
            mark.dropped = "as new"  # a remanufactured part was never in a truck since


_OF_AN_AXLE = frozenset({"position", "float", "cover_bolts"})
"""What only a whole axle is told to have: ``semi float 14 bolt, one drum cracked``."""
_TELLING = word_set("rebuilt")
_TO_COME = word_set("to-come")
_FOR_REPAIR = word_set("for-repair")
_NO_SUBJECT = frozenset({"third-member", "differential", "carrier"})


def _of_the_thing_before(scan: Scan, mark: Mark) -> bool:
    """``hubs manual, rebuilt``, ``one caliper is seized the other was rebuilt``."""
    if any(scan.key(k) == "other" for k in range(max(0, mark.begin - 4), mark.begin)):
        return True
    begin = mark.begin - 1
    while begin > 0 and begin > mark.begin - _REACH and not is_clause_end(scan, begin - 1):
        begin -= 1
    closed = scan.key(mark.begin - 1) == "," and scan.key(mark.begin) in _TELLING
    return closed and any(name in ("part", "hubs") for name, _ in scan.at(begin).facts)


def _only_meant(scan: Scan, mark: Mark) -> bool:
    """``rebuild kit``, ``rebuild it``."""
    return scan.key(mark.begin).startswith("rebuild") and scan.key(mark.end) in _FOR_REPAIR


def _part_beside(scan: Scan, mark: Mark) -> bool:
    """``rebuilt kingpins``, ``calipers rebuilt last fall``."""
    k = mark.begin - 1
    while k > mark.begin - _REACH and scan.key(k) in _LINKING and not is_clause_end(scan, k):
        k -= 1
    return any(
        name in ("part", "knuckle", "hubs") and value not in _NO_SUBJECT
        for place in (mark.end, k)
        for name, value in scan.at(place).facts
    )


def _joints_beside(scan: Scan, mark: Mark) -> bool:
    """``rebuilt kingpins``, where only their name tells of an axle."""
    return any(name == "knuckle" for name, _ in scan.at(mark.end).facts) and "part" not in dict(scan.at(mark.end).facts)


def _only_parts(scan: Scan) -> bool:
    """Whether no axle is spoken of: then the damage of a part is the thing's own."""
    return not any(
        m.live and (m.attribute in _OF_AN_AXLE or (m.attribute == "item" and m.value in ("axle", "housing")))
        for m in scan.marks
    ) or _opens_with_a_part(scan)


def _opens_with_a_part(scan: Scan) -> bool:
    naming = {"part", "has", "item"} | _OF_AN_AXLE
    first = min((m for m in scan.marks if m.live and m.attribute in naming), key=lambda m: m.begin, default=None)
    return first is not None and first.attribute == "part" and not scan.at(first.end).roles.get("item")


def is_anothers(scan: Scan, mark: Mark, alone: bool = False, *, guessing: bool = True) -> bool:
    """Whether damage is told of something else than the axle: by the noun behind it or, else, the one before it.

    A place behind it says where, not of what: ``the knuckle is cracked at the arm``. ``guessing`` takes a noun that
    the vocabulary does not know for another thing.
    """
    before = _noun_before(scan, mark, guessing) if scan.key(mark.end) in _PLACES else ""
    owner = before or _noun_behind(scan, mark) or _noun_before(scan, mark, guessing)
    return owner == "foreign" or (owner == "loose" and not alone)


def _what(scan: Scan, k: int) -> str:
    """``own``, ``loose`` or ``foreign`` where a piece names a thing; empty where it names none."""
    piece = scan.at(k)
    if piece.key.rpartition(" ")[2] in ("seal", "seals"):
        return "own"
    if any(name == "part" and value in _LOOSE for name, value in piece.facts):
        return "loose"
    if ("brakes", "drum") in piece.facts or ("brakes", "disc") in piece.facts:
        return "loose"
    if piece.roles.get("item") in ("axle", "housing") or piece.key in _OWN:
        return "own"
    if piece.roles.get("item") or piece.roles.get("cue") == "truck" or piece.key.rpartition(" ")[2] in _FOREIGN:
        return "foreign"
    if any(name in ("part", "position", "knuckle", "hubs") for name, _ in piece.facts):
        return "own"
    return ""


def _noun_behind(scan: Scan, mark: Mark) -> str:
    """``cracked drum``, ``rust in the bed``: the thing named behind the damage."""
    k = mark.end
    if scan.key(k) == ":":
        return _listed_behind(scan, k + 1)
    k += scan.key(k) == "back"  # peeled back, bent back
    placed = scan.key(k) in _PLACES
    if scan.key(k) in _SOMEBODYS:
        return "" if "own" in (_what(scan, k + 1), _what(scan, k + 2)) else "foreign"
    if not placed:
        following, next_one = _what(scan, k), _what(scan, k + 1)
        if is_clause_end(scan, k):
            return ""
        return "" if "own" in (following, next_one) else following or (next_one if scan.key(k) in _KINDS else "")
    for k in range(mark.end + 1, mark.end + 6):
        if is_clause_end(scan, k) or scan.key(k) in ("and", "&", "but"):
            return ""
        if scan.key(k) in _SIDES and _what(scan, k + 1):
            continue
        what = _what(scan, k)
        if what:
            following = _what(scan, k + 1)
            return following or what
    return ""


def _listed_behind(scan: Scan, k: int) -> str:
    """``Rust: cab corners, some on the bed``."""
    said: list[str] = []
    while k < len(scan.pieces) and not is_sentence_end(scan, k) and len(said) < _FAR:
        said.append("" if scan.key(k) in _POINTING else _what(scan, k))
        k += 1
    return "foreign" if "foreign" in said and "own" not in said else ""


def _noun_before(scan: Scan, mark: Mark, guessing: bool) -> str:
    """``the frame is bent``, ``park brake arm on the left is bent``: the subject of what is told."""
    linked = False
    k = mark.begin - 1
    first = max(0, mark.begin - _REACH)
    while k >= first:
        key = scan.key(k)
        if is_clause_end(scan, k):
            return ""
        if key in _LINKING or any(name == "defects" for name, _ in scan.at(k).facts):
            linked = linked or key in ("is", "are", "was", "were", "has", "have", "got")
        elif scan.role(k, "cue") == "source" and scan.key(k - 1) in _POINTING:
            k -= 1  # the frame it came out of was rotted
        elif key in _SIDES and _behind_a_place(scan, k, first):
            k = _behind_a_place(scan, k, first) - 1
            continue
        else:
            what = _what(scan, k)
            if what == "own" and key in _FIXED and _what(scan, k - 1) in ("foreign", "loose"):
                return _what(scan, k - 1)  # the hose bracket, the axle shaft flange
            return what if what else "foreign" if guessing and linked and _unknown_noun(scan, k) else ""
        k -= 1
    return ""


def _behind_a_place(scan: Scan, k: int, first: int) -> int:
    """Where ``on the left`` begins; 0 if the words are no place."""
    while k > first and scan.key(k) in _SIDES:
        k -= 1
    return k if scan.key(k) in _PLACES else 0


def _unknown_noun(scan: Scan, k: int) -> bool:
    """Whether a word that the vocabulary does not know stands behind an article: some other thing."""
    piece, before = scan.at(k), scan.key(k - 1)
    plain = piece.kind == "word" and not piece.facts and not piece.roles and len(piece.key) > 2
    return plain and before in ("the", "a", "my", "one", "its", "his", "our")


def _of_a_bearing(scan: Scan, mark: Mark) -> bool:
    """Whether a noise or a play is told of a bearing: named in the words, the sentence, or just before."""
    if any(word in scan.key(mark.begin) for word in (*_BEARING, "pinion")):
        return True
    begin = next((k for k in range(mark.begin - 1, mark.begin - _FAR, -1) if k < 0 or is_sentence_end(scan, k)), 0)
    end = next((k for k in range(mark.end, mark.end + _FAR) if is_sentence_end(scan, k)), mark.end + _FAR)
    return _guessed(scan, end) or any(
        _names_a_bearing(scan, k) for k in range(max(begin, 0), min(end, len(scan.pieces)))
    )


def _guessed(scan: Scan, end: int) -> bool:
    """``It howls. I'd guess carrier bearings.``: what makes the noise is guessed in a sentence behind it."""
    for k in range(end + 1, min(end + 2 * _FAR, len(scan.pieces))):
        guess = range(k - 1, max(k - 4, end), -1)
        if _names_a_bearing(scan, k) and any(scan.role(j, "cue") in ("hedge", "possible") for j in guess):
            return True
    return False


def _names_a_bearing(scan: Scan, k: int) -> bool:
    key = scan.key(k)
    return any(word in key for word in _BEARING) or ("hubs", "unit-bearing") in scan.at(k).facts


def _asked(scan: Scan, mark: Mark) -> bool:
    """``bent? the pipe is straight``."""
    for k in range(mark.end, mark.end + _LONGEST_QUESTION):
        if scan.key(k) == "?":
            return all(scan.key(j) not in _YES for j in range(k + 1, k + 4))
        if is_clause_end(scan, k):
            return False
    return False


def _mended(scan: Scan, mark: Mark) -> bool:
    """``leaked so I replaced it``, ``ball joints: made noise, replaced all four``."""
    past = any(scan.key(k).rpartition(" ")[2] in _PAST for k in range(mark.begin, mark.end))
    if not past and not of_the_past(scan, mark):
        return False
    for k in range(mark.end, mark.end + _FAR):
        if is_sentence_end(scan, k):
            return False
        if scan.role(k, "doubt") == "mended" or scan.key(k).startswith(("replaced", "resealed", "fixed")):
            return True
    return False
