"""Step 4: numbers in words, fractions and numbers with a gap -> one number each."""

from donorbase.reading.spoken import (
    AMONG_FOREIGN,
    FOREIGN,
    FOREIGN_AND,
    HUNDRED,
    NUMBER_WORDS,
    PLURALS,
    SPOKEN,
    THOUSAND,
    goes_on,
    value_of,
    written,
)
from donorbase.reading.tokens import Piece

_DENOMINATORS = frozenset({2, 4, 8, 16, 32, 64})
_AND = frozenset({"and", "&", "n", "y"})
_ONE = frozenset({"a", "an"})
_PARTS = {"half": 2, "halves": 2, "quarter": 4, "quarters": 4, "eighth": 8, "eighths": 8, "sixteenth": 16,
          "sixteenths": 16, "media": 2, "medio": 2}  # fmt: skip
_SOUNDS = {"for": 4, "fore": 4, "ate": 8}
"""Words that sound like a number, and are one where nothing else fits (``ate lug``, ``fore tens``)."""
_LONGEST = 16


def compose(pieces: list[Piece]) -> list[Piece]:
    """The same pieces with each written-out, fractional or spaced number as one number piece."""
    _unquote(pieces)
    out: list[Piece] = []
    at, size = 0, len(pieces)
    while at < size:
        piece = pieces[at]
        end, value, raw, plural = at, None, "", False
        if piece.kind == "num" and _dotted_thousands(pieces, at):
            raw = piece.raw.replace(".", "")
            end, value = at + 1, float(raw)
        elif piece.kind == "num":
            end, value, raw = _digits(pieces, at)
        elif piece.key in _SOUNDS and _sounds(pieces, at):
            end, value, raw, plural = _in_words(pieces, at + 1, [_SOUNDS[piece.key]])
        elif _begins(pieces, at):
            end, value, raw, plural = _in_words(pieces, at)
        elif piece.key in ("hundred", "thousand") and _opens_a_number(pieces, at):
            end, value, raw, plural = _in_words(pieces, at, [1])
        elif piece.key in _ONE and _hundred_and_more(pieces, at + 1):
            end, value, raw, plural = _in_words(pieces, at + 1, [1])
        if value is not None and end > at:
            out.append(_number(pieces, at, end, value, raw, plural))
            at = end
        else:
            out.append(piece)
            at += 1
    return out


def _sounds(pieces: list[Piece], at: int) -> bool:
    """Whether a word that sounds like a number stands where only a number can."""
    following = pieces[at + 1 + (pieces[at + 1].key == "-")] if at + 2 < len(pieces) else pieces[-1]
    if pieces[at].key == "ate":
        return following.roles.get("unit") == "lug"
    tens = following.key in PLURALS and following.key not in ("ones", "sixes") and PLURALS[following.key] >= 10
    return pieces[at].key in ("for", "fore") and (
        tens or (pieces[at].key == "fore" and value_of(following.key) is not None)
    )


_QUOTE = "\u201d"
_LONGEST_QUOTED = 15


def _unquote(pieces: list[Piece]) -> None:
    """Tell the signs of a quotation (``"4.63" on a brass tag``) from those of inches."""
    opened = -1
    for i, piece in enumerate(pieces):
        if piece.kind == "line" or i - opened > _LONGEST_QUOTED:
            opened = -1
        if piece.key != '"':
            continue
        if opened >= 0:
            pieces[opened].key = piece.key = _QUOTE
            opened = -1
        elif i + 1 < len(pieces) and pieces[i + 1].glued and not (piece.glued and i and pieces[i - 1].kind == "num"):
            opened = i


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
    if _letters_for_noughts(pieces, at + 1):
        raw = whole.raw + "0" * len(pieces[at + 1].raw)
        return at + 2, float(raw.replace(",", "")), raw
    halves = not (whole.raw.startswith("0") or (at and pieces[at - 1].key == "'" and len(whole.raw) == 2)) or [
        p.raw for p in pieces[at + 1 : at + 4]
    ] == ["1", "/", "2"]
    year_and_half = len(whole.raw) == 4 and [p.raw for p in pieces[at + 1 : at + 4]] == ["1", "/", "2"]
    if whole.raw.isdigit() and (len(whole.raw) <= 3 or year_and_half) and halves:
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
        spoken = _spoken_on(pieces, at)
        if spoken:
            return spoken
        if _thousands(pieces, at):
            return at + 2, (whole.value or 0) * 1000 + (pieces[at + 1].value or 0), whole.raw + pieces[at + 1].raw
        size, over, under = _and_a_part(pieces, at + 1)
        if size:
            return at + 1 + size, (whole.value or 0) + over / under, f"{whole.raw} {over}/{under}"
    return at, None, ""


def _spoken_on(pieces: list[Piece], at: int) -> tuple[int, float, str] | None:
    """``2 fifty``, ``3 point 9 2``: a digit that goes on in words."""
    if len(pieces[at].raw) != 1 or at + 1 >= len(pieces) or pieces[at].raw == "0":
        return None
    if pieces[at + 1].key == "point":
        end = at + 2
        while end < at + 4 and end < len(pieces) and len(pieces[end].raw) == 1 and pieces[end].raw.isdigit():
            end += 1
        raw = pieces[at].raw + "." + "".join(p.raw for p in pieces[at + 2 : end])
        return (end, float(raw), raw) if end > at + 2 else None
    tens = pieces[at + 1].kind == "word" and 20 <= NUMBER_WORDS.get(pieces[at + 1].key, 0) <= 90
    if not tens:
        return None
    end, _, rest, plural = _in_words(pieces, at + 1)
    raw = pieces[at].raw + rest
    return (end, float(raw), raw) if not plural and rest.isdigit() and len(rest) == 2 else None


def _letters_for_noughts(pieces: list[Piece], at: int) -> bool:
    """``$8OO``."""
    if at >= len(pieces) or not pieces[at].glued or pieces[at].raw not in ("o", "oo", "ooo"):
        return False
    return at + 1 >= len(pieces) or pieces[at + 1].roles.get("unit") != "spline"  # 35i/30o splines


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
    following = pieces[at + 2] if at + 2 < len(pieces) else rest
    wide = following.roles.get("unit") == "mm" and pieces[at].raw in ("1", "2")
    return rest.raw == "000" or following.roles.get("unit") == "km" or wide or following.key == "$"


def _dotted_thousands(pieces: list[Piece], at: int) -> bool:
    """``1.250 $``: a point where others write a comma, before money."""
    whole, dot, rest = pieces[at].raw.partition(".")
    following = pieces[at + 1] if at + 1 < len(pieces) else None
    paid = following is not None and (following.key == "$" or following.roles.get("unit") == "dollar")
    return bool(dot) and len(rest) == 3 and 1 <= len(whole) <= 3 and whole != "0" and paid


def _and_a_part(pieces: list[Piece], at: int) -> tuple[int, int, int]:
    """``and a half``, ``and three eighths``, ``& 3/8`` after a whole number: how many pieces, and the fraction."""
    hyphens = [k for k in range(at, min(at + 5, len(pieces))) if pieces[k].key == "-"]
    if hyphens and hyphens[0] == at:  # three-and-a-half
        plain = [p for p in pieces[at : at + 6] if p.key != "-"]
        size, over, under = _and_a_part(plain, 0)
        return (size + sum(k < at + 2 * size for k in hyphens) if size else 0), over, under
    if at + 2 >= len(pieces) or pieces[at].key not in _AND:
        return 0, 0, 1
    if pieces[at + 1].key in ("three quarters", "three quarter"):  # one piece: of tons it is a class
        return 2, 3, 4
    if _fraction(pieces, at + 1) is not None:
        return 4, int(pieces[at + 1].raw), int(pieces[at + 3].raw)
    over = 1 if pieces[at + 1].key in _ONE else (value_of(pieces[at + 1].key) or 0)
    part = _PARTS.get(pieces[at + 2].key, 0)
    if 0 < over < part:
        return 3, over, part
    part = _PARTS.get(pieces[at + 1].key, 0)  # cinco y media
    return (2, 1, part) if part else (0, 0, 1)


def _opens_a_number(pieces: list[Piece], at: int) -> bool:
    """``want a | hundred and a quarter``, ``Hundred fifty.``."""
    tens = at + 1 < len(pieces) and NUMBER_WORDS.get(pieces[at + 1].key, 0) >= 10
    alone = at == 0 or pieces[at - 1].kind in ("sym", "line")
    return _and_a_part(pieces, at + 1)[0] > 0 or (tens and alone)


def _hundred_and_more(pieces: list[Piece], at: int) -> bool:
    """``a hundred and sixty``, ``a hundred and a quarter``: the ``a`` begins a number."""
    if at + 1 >= len(pieces) or pieces[at].key not in ("hundred", "thousand"):
        return False
    counted = _is_number_word(pieces, at + 1) or (pieces[at + 1].key == "and" and _is_number_word(pieces, at + 2))
    return counted or _and_a_part(pieces, at + 1)[0] > 0


def _in_words(pieces: list[Piece], at: int, begun: list[int] | None = None) -> tuple[int, float | None, str, bool]:
    values: list[int] = begun or []
    end, plural = at, False
    while end < len(pieces) and len(values) < _LONGEST and not plural:
        if values and _joins(pieces, end, values[-1]):
            end += 1
            continue
        twenties = _four_twenties(pieces, end)
        value = 80 if twenties else 0 if values and _nought(pieces, end) else _counts(pieces, end)
        if value is None or (pieces[end].facts and pieces[end].key not in NUMBER_WORDS):
            break
        if not goes_on(values, value, _counts(pieces, end + 1) or 0 if end + 1 < len(pieces) else 0):
            break
        plural = pieces[end].key in PLURALS
        values.append(value)
        end += twenties or 1
    raw = written(values)
    if end < len(pieces) and pieces[end].key == "point" and _is_number_word(pieces, end + 1):
        rest_end, _, rest, plural = _in_words(pieces, end + 1)
        return rest_end, float(f"{raw}.{rest}"), f"{raw}.{rest}", plural
    size, over, under = _and_a_part(pieces, end)
    if size and not plural:
        if values[-1] in (HUNDRED, THOUSAND):  # a hundred and a quarter
            whole = int(raw) - values[-1] * over // under
            return end + size, float(whole), str(whole), False
        return end + size, float(raw) + over / under, f"{raw} {over}/{under}", False
    return end, float(raw), raw, plural


def _begins(pieces: list[Piece], at: int) -> bool:
    """Whether a word at a place is a number, or the first word of one."""
    piece = pieces[at]
    if piece.key in AMONG_FOREIGN:
        return piece.kind == "word" and _counts(pieces, at) is not None
    return piece.key in SPOKEN and piece.kind == "word" and not piece.facts


def _nought(pieces: list[Piece], k: int) -> bool:
    """``three o eight``."""
    following = NUMBER_WORDS.get(pieces[k + 1].key, 0) if k + 1 < len(pieces) else 0
    return pieces[k].key == "o" and pieces[k - 1].key in NUMBER_WORDS and 1 <= following <= 9


def _four_twenties(pieces: list[Piece], k: int) -> int:
    """How many pieces ``quatre vingt`` or ``quatre-vingts`` takes at a place; 0 where it does not stand there."""
    second = k + 1 + (k + 1 < len(pieces) and pieces[k + 1].key == "-")
    said = pieces[k].key == "quatre" and second < len(pieces) and pieces[second].key in ("vingt", "vingts")
    return second + 1 - k if said else 0


def _joins(pieces: list[Piece], k: int, last: int) -> bool:
    """Whether a hyphen or an ``and`` at a place carries a number on: ``two hundred and ten``, ``noventa y ocho``."""
    key = pieces[k].key
    if key == "-":
        counted = k + 1 < len(pieces) and pieces[k + 1].kind == "word"
        return counted and (_counts(pieces, k + 1) is not None or _joins(pieces, k + 1, last))
    if key == "and":
        following = k + 1 + (k + 1 < len(pieces) and pieces[k + 1].key == "-")
        century = last == 19 and _is_number_word(pieces, following) and NUMBER_WORDS[pieces[following].key] >= 20
        return century or (last in (HUNDRED, THOUSAND) and _is_number_word(pieces, following))
    if key in FOREIGN_AND and 20 <= last < -HUNDRED and pieces[k - 1].key in FOREIGN:
        return k + 1 < len(pieces) and 1 <= (_counts(pieces, k + 1) or 0) <= 11 and pieces[k + 1].kind == "word"
    return False


def _counts(pieces: list[Piece], k: int) -> int | None:
    """What a word counts; a word that is a number in another language only counts beside one that is nothing else."""
    key = pieces[k].key
    value = value_of(key)
    if value is not None and key not in AMONG_FOREIGN:
        return value
    foreign = pieces[k].kind == "word" and key in AMONG_FOREIGN and _beside_foreign(pieces, k)
    return AMONG_FOREIGN[key] if foreign else value


def _beside_foreign(pieces: list[Piece], k: int) -> bool:
    before = k - 1 - (pieces[k - 1].key == "-")
    around = [pieces[j].key for j in (before, k + 1) if 0 <= j < len(pieces)]
    over = [pieces[j].key for j in (k - 2, k + 2) if 0 <= j < len(pieces)]
    return any(key in FOREIGN for key in around) or any(
        key in FOREIGN and near in AMONG_FOREIGN for near, key in zip(around, over, strict=False)
    )


def _is_number_word(pieces: list[Piece], at: int) -> bool:
    return at < len(pieces) and pieces[at].key in NUMBER_WORDS
