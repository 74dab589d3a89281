"""Step 11a: questions with their answers, and lists of yes and no: what is asked is no fact by itself."""

from donorbase.reading.clauses import is_clause_end, is_sentence_end
from donorbase.reading.denial import denied, lacking
from donorbase.reading.scan import Mark, Scan
from donorbase.reading.sentence import OFFER

_MARKS = frozenset({"n", "y"})
"""Letters that answer only behind a sign, or where several of them stand in a row: else they join."""
_ONLY_LABELLED = frozenset(
    {"gone", "missing", "sold", "none", "never", "not", "in", "here", "both", "correct", *_MARKS}
)
_BEFORE_AN_ANSWER = frozenset({"?", ">", ":", "a", "-", '"', "'", "*", "—", "–", "!", "•"})
_LEADING = frozenset({"it", "its", "is", "they", "are", "theyre", "no", "sir", "thats"})
_ASKING = frozenset({"is", "are", "does", "do", "did", "has", "have", "was", "can", "could", "will", "would", "any",
    "isnt", "what", "whats", "which", "how", "its"})  # fmt: skip
_PRICED = 4
_LONGEST_QUESTION, _LONGEST_ANSWER = 40, 60
_NEAR_THE_SIGN, _SHORT_QUESTION, _MANY, _A_ROW = 1, 6, 3, 2


def questions(scan: Scan) -> None:
    """Turn or drop what is asked and answered otherwise; turn what a list answers with yes or no."""
    if "?" in scan.keys or ">" in scan.keys:
        _answered(scan)
    _either_or(scan)
    told = [i for i, piece in enumerate(scan.pieces) if "answer" in piece.roles]
    in_a_row = sum(scan.key(i) in _MARKS and is_clause_end(scan, i + 1) for i in told) >= _A_ROW
    for i in told:
        if scan.key(i) not in _ONLY_LABELLED or (in_a_row and scan.key(i) in _MARKS) or _sign_before(scan, i):
            _ticked(scan, i, no=scan.role(i, "answer") == "no")


def _answered(scan: Scan) -> None:
    asked = [i for i, p in enumerate(scan.pieces) if (p.key == "?" and scan.key(i + 1) != "?") or _quoted(scan, i)]
    begins = [_question_begin(scan, i) for i in asked]
    for number, i in enumerate(asked):
        following = begins[number + 1] if number + 1 < len(asked) else len(scan.pieces)
        begin = _answer_begin(scan, i)
        if begin < following:
            _answer(scan, begins[number], i, begin, min(following, begin + _LONGEST_ANSWER))


def _quoted(scan: Scan, i: int) -> bool:
    """The end of a line that begins with ``>``: what the other one wrote."""
    if scan.at(i).kind != "line" or scan.key(i - 1) == "?":
        return False
    begin = next((k for k in range(i, max(i - _LONGEST_QUESTION, 0), -1) if scan.at(k - 1).kind == "line"), 0)
    return scan.key(begin) == ">"


def _question_begin(scan: Scan, i: int) -> int:
    """Where a question begins: at ``is``, ``does``, ``any`` ..., or at the last thing said before the sign."""
    k = i
    while scan.key(k - 1) == "?":
        k -= 1
    last = k
    while k > 0 and i - k < _LONGEST_QUESTION and not is_sentence_end(scan, k - 1):
        k -= 1
        if scan.key(k) in _ASKING and _opens(scan, k):
            return k
    said = [m for m in scan.within(k, last) if m.attribute not in OFFER]
    near = [m for m in said if m.end >= last - _NEAR_THE_SIGN]
    whole = last - k <= _SHORT_QUESTION or "or" in (scan.key(j) for j in range(max(k, last - _SHORT_QUESTION), last))
    return k if whole and len(said) < _MANY else min((m.begin for m in near), default=last)


def _opens(scan: Scan, k: int) -> bool:
    """Whether a word opens its clause: ``does it leak``; not ``wheels have 8 studs``, which asks nothing."""
    if scan.key(k - 1) == "also" and k > 1 and not is_clause_end(scan, k - 2):
        return False  # I also have the front, kingpin?
    return k == 0 or is_clause_end(scan, k - 1) or scan.key(k - 1) in _BEFORE_ASKING or scan.at(k - 1).kind == "sym"


_BEFORE_ASKING = frozenset(
    {"so", "and", "but", "or", "also", "ok", "hey", "well", "yes", "no", "a", "q", "then", "now", "what"}
)


def _answer_begin(scan: Scan, i: int) -> int:
    k = i + 1
    while k < len(scan.pieces) and (scan.at(k).kind == "line" or scan.key(k) in _BEFORE_AN_ANSWER or _speaker(scan, k)):
        k += 1
    return k


def _speaker(scan: Scan, k: int) -> bool:
    """``me:`` at the head of a line."""
    opens = scan.at(k - 1).kind == "line" and scan.key(k + 1) == ":"
    return opens and scan.at(k).kind == "word" and not scan.at(k).facts and not scan.at(k).roles


def _answer(scan: Scan, asked: int, mark_at: int, begin: int, end: int) -> None:
    """Set what stands from ``asked`` to ``mark_at`` against the answer from ``begin`` to ``end``."""
    said = [m for m in scan.within(asked, mark_at) if m.attribute not in OFFER]
    if not said:
        return
    no, asking = _says_no(scan, begin), scan.key(asked) in _ASKING
    answer = scan.within(begin, _reach(scan, begin, end))
    told = {m.attribute for m in answer} - {"part", "item", "defects"}
    told -= set() if asking else {"position"}
    sign = mark_at
    while scan.key(sign - 1) == "?":
        sign -= 1
    last = max((m.end for m in said if m.end >= sign - _NEAR_THE_SIGN), default=-1)
    values = {name: {m.value for m in said if m.attribute == name} for name in {m.attribute for m in said}}
    for mark in said:
        name = mark.attribute
        if name in told or (len(values[name]) > 1 and name != "part"):
            mark.dropped = "asked"
        elif no and (asking or mark.end == last) and not _another_value(mark, answer):
            _no_to(mark)
        elif name == "part" and mark.end == last and scan.role(begin, "answer") == "yes" and not asking:
            _yes_to(scan, mark)


def _says_no(scan: Scan, begin: int) -> bool:
    """Whether an answer opens with a no: ``no``, ``it is not``, ``they never were``."""
    k = begin
    while scan.key(k) in _LEADING and scan.role(k, "answer") != "no" and k < begin + 3:
        k += 1
    doubted = scan.key(k) == "dont" and scan.key(k + 1).startswith(("think", "believe"))
    return doubted or scan.role(k, "answer") == "no" or (k > begin and scan.role(k, "cue") == "not")


def _reach(scan: Scan, begin: int, end: int) -> int:
    """How far an answer speaks of its question: a sentence, or the one behind a mere yes or no."""
    for k in range(begin, end):
        if is_sentence_end(scan, k):
            if k - begin > 2 or scan.at(k).kind == "line":
                return k
            begin = k
    return end


def _another_value(mark: Mark, answer: list[Mark]) -> bool:
    return any(m.attribute == mark.attribute and m.value == mark.value for m in answer)


def _no_to(mark: Mark) -> None:
    if mark.attribute in ("part", "has"):
        lacking(mark)
    else:
        denied(mark)


def _yes_to(scan: Scan, mark: Mark) -> None:
    """Parts come along; the kind of hubs is told by another field."""
    if not any(name == "hubs" for name, _ in scan.at(mark.begin).facts):
        mark.attribute = "has"


def _ticked(scan: Scan, i: int, no: bool) -> None:
    """``kingpins no, ball joints yes``; ``duals: no``; ``LSD=yes``; ``hubs - none``."""
    if not (is_clause_end(scan, i + 1) or i + 1 >= len(scan.pieces) or _ticks_on(scan, i + 1)):
        return
    if not no and scan.priced(i + 1, i + _PRICED) is not None:
        return  # driveshafts: both, $150
    k = i - 1
    while scan.role(k, "hand") and k > i - _SIDES:
        k -= 1  # hubs: left no
    k -= _sign_before(scan, k + 1)
    for mark in scan.within(k - 2, k + 1):
        if mark.end != k + 1 or mark.attribute in OFFER:
            continue
        if no:
            _no_to(mark)
        elif mark.attribute == "part":
            _yes_to(scan, mark)


_SIDES = 3


def _sign_before(scan: Scan, i: int) -> bool:
    return scan.key(i - 1) in (":", "=", "-")


def _ticks_on(scan: Scan, k: int) -> bool:
    """``calipers yes rotors no``, ``ABS-Y DUALS-N``: the next thing of the list follows at once."""
    signed = scan.key(k + 1) in (":", "=", "-")
    named = any(name == "part" or signed for name, _ in scan.at(k).facts)
    return named and scan.role(k + 1 + signed, "answer") != ""


def _either_or(scan: Scan) -> None:
    """``drum or disc: disc``, ``DRUM/DISC: DISC``: what is asked by a label is told behind it."""
    for i, piece in enumerate(scan.pieces):
        if piece.key not in (":", "=") or i < _LEAST_LABEL:
            continue
        told = [m for m in scan.within(i + 1, i + 2) if m.attribute not in ("part", "item")]
        first, second = scan.within(i - 3, i - 2), scan.within(i - 1, i)
        names = {m.attribute for m in told} & {m.attribute for m in first} & {m.attribute for m in second}
        if names and scan.key(i - 2) in ("or", "/", "-"):
            for mark in (*first, *second):
                mark.dropped = "asked"


_LEAST_LABEL = 3
