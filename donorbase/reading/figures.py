"""Step 4: numbers in words, fractions and numbers with a gap -> one number each."""

from donorbase.reading.tokens import Piece

_SMALL = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
NUMBER_WORDS = {
    **{word: value for value, word in enumerate(_SMALL)},
    **{word: 10 * value for value, word in enumerate(_TENS, 2)},
    "oh": 0, "fourty": 40, "ninty": 90,
}  # fmt: skip
_PLURALS = {"sixes": 6, **{word + "s": value for word, value in NUMBER_WORDS.items() if word != "one"}}
_MULTIPLIERS = {"hundred": 100, "thousand": 1000}
_DENOMINATORS = frozenset({2, 4, 8, 16, 32, 64})
_LONGEST = 16


def compose(pieces: list[Piece]) -> list[Piece]:
    """The same pieces with each written-out, fractional or spaced number as one number piece."""
    out: list[Piece] = []
    at, size = 0, len(pieces)
    while at < size:
        piece = pieces[at]
        end, value, raw, plural = at, None, "", False
        if piece.kind == "num":
            end, value, raw = _digits(pieces, at)
        elif piece.kind == "word" and (piece.key in NUMBER_WORDS or piece.key in _PLURALS) and not piece.facts:
            end, value, raw, plural = _in_words(pieces, at)
        if value is not None and end > at:
            out.append(_number(pieces, at, end, value, raw, plural))
            at = end
        else:
            out.append(piece)
            at += 1
    return out


def _number(pieces: list[Piece], begin: int, end: int, value: float, raw: str, plural: bool) -> Piece:
    first = pieces[begin]
    piece = Piece("num", raw, first.begin, pieces[end - 1].end, first.glued)
    piece.value, piece.plural, piece.words = value, plural, first.kind == "word"
    return piece


def _digits(pieces: list[Piece], at: int) -> tuple[int, float | None, str]:
    fraction = _fraction(pieces, at)
    if fraction is not None:
        return at + 3, fraction, pieces[at].raw + "/" + pieces[at + 2].raw
    whole = pieces[at]
    halves = not whole.raw.startswith("0") or [p.raw for p in pieces[at + 1 : at + 4]] == ["1", "/", "2"]
    if whole.raw.isdigit() and len(whole.raw) <= 3 and halves:
        for gap in (1, 2):
            if gap == 2 and not (at + 1 < len(pieces) and pieces[at + 1].key == "-"):
                break
            fraction = _fraction(pieces, at + gap)
            if fraction is not None:
                return (
                    at + gap + 3,
                    (whole.value or 0) + fraction,
                    f"{whole.raw} {pieces[at + gap].raw}/{pieces[at + gap + 2].raw}",
                )
        if _thousands(pieces, at):
            return at + 2, (whole.value or 0) * 1000 + (pieces[at + 1].value or 0), whole.raw + pieces[at + 1].raw
        if _and_a_half(pieces, at + 1):
            return at + 4, (whole.value or 0) + 0.5, whole.raw + " 1/2"
    return at, None, ""


def _fraction(pieces: list[Piece], at: int) -> float | None:
    if at + 2 >= len(pieces) or pieces[at + 1].key != "/":
        return None
    over, under = pieces[at], pieces[at + 2]
    if not (over.raw.isdigit() and under.raw.isdigit() and pieces[at + 1].glued and under.glued):
        return None
    if over.raw.startswith("0") or under.value not in _DENOMINATORS or not over.value or over.value >= under.value:
        return None
    return over.value / under.value


def _thousands(pieces: list[Piece], at: int) -> bool:
    """``180 000``: a gap where others write a comma, before a unit of distance or three noughts."""
    if at + 1 >= len(pieces):
        return False
    rest = pieces[at + 1]
    if len(rest.raw) != 3 or not rest.raw.isdigit() or rest.glued or pieces[at].raw.startswith("0"):
        return False
    unit = pieces[at + 2].roles.get("unit") if at + 2 < len(pieces) else ""
    return rest.raw == "000" or unit == "km"


def _and_a_half(pieces: list[Piece], at: int) -> bool:
    return [p.key for p in pieces[at : at + 3]] == ["and", "a", "half"]


def _in_words(pieces: list[Piece], at: int) -> tuple[int, float | None, str, bool]:
    values: list[int] = []
    end, plural = at, False
    while end < len(pieces) and len(values) < _LONGEST:
        key = pieces[end].key
        if key == "-" and values and end + 1 < len(pieces) and pieces[end + 1].key in NUMBER_WORDS:
            end += 1
            continue
        if key == "and" and values and values[-1] in (-100, -1000) and _is_number_word(pieces, end + 1):
            end += 1
            continue
        value = -_MULTIPLIERS.get(key, 0) or NUMBER_WORDS.get(key, _PLURALS.get(key))
        if value is None or (pieces[end].facts and key not in NUMBER_WORDS):
            break
        plural = key in _PLURALS
        values.append(value)
        end += 1
        if plural:
            break
    raw = _written(values)
    if end < len(pieces) and pieces[end].key == "point" and _is_number_word(pieces, end + 1):
        rest_end, _, rest, plural = _in_words(pieces, end + 1)
        return rest_end, float(f"{raw}.{rest}"), f"{raw}.{rest}", plural
    if _and_a_half(pieces, end):
        return end + 3, float(raw) + 0.5, raw + " 1/2", False
    return end, float(raw), raw, plural


def _is_number_word(pieces: list[Piece], at: int) -> bool:
    return at < len(pieces) and pieces[at].key in NUMBER_WORDS


def _written(values: list[int]) -> str:
    """The digits a speaker means: 3, 70, 3 is 373; 12, hundred is 1200; 0, 8 is 08; 20, 5 is 25."""
    if any(value < 0 for value in values):
        return str(_multiplied(values))
    digits = ""
    at = 0
    while at < len(values):
        value = values[at]
        if value >= 20 and at + 1 < len(values) and 1 <= values[at + 1] <= 9:
            value += values[at + 1]
            at += 1
        digits += str(value)
        at += 1
    return digits


def _multiplied(values: list[int]) -> int:
    total = current = 0
    for value in values:
        if value == -1000:
            total, current = total + max(current, 1) * 1000, 0
        elif value == -100:
            current = max(current, 1) * 100
        else:
            current += value
    return total + current
