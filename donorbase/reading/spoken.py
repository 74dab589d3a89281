"""Numbers in words: what each word counts, and the digits that a row of them means."""

from collections.abc import Sequence

HUNDRED, THOUSAND = -100, -1000
"""Signs of the words that multiply what stands before them."""
_SMALL = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
NUMBER_WORDS = {
    **{word: value for value, word in enumerate(_SMALL)},
    **{word: 10 * value for value, word in enumerate(_TENS, 2)},
    "oh": 0, "fourty": 40, "ninty": 90,
}  # fmt: skip
PLURALS = {
    "sixes": 6,
    **{word[:-1] + "ies": 10 * value for value, word in enumerate(_TENS, 2)},
    **{word + "s": value for word, value in NUMBER_WORDS.items() if word != "one"},
}
_SPANISH = {
    "cero": 0, "uno": 1, "dos": 2, "tres": 3, "cuatro": 4, "cinco": 5, "seis": 6, "siete": 7, "ocho": 8, "nueve": 9,
    "diez": 10, "doce": 12, "trece": 13, "catorce": 14, "quince": 15, "dieciseis": 16, "dieciséis": 16,
    "diecisiete": 17, "dieciocho": 18, "diecinueve": 19, "veinte": 20, "veintiuno": 21, "veintidos": 22,
    "veintidós": 22, "veintitres": 23, "veintitrés": 23, "veinticuatro": 24, "veinticinco": 25, "veintiseis": 26,
    "veintiséis": 26, "veintisiete": 27, "veintiocho": 28, "veintinueve": 29, "treinta": 30, "cuarenta": 40,
    "cincuenta": 50, "sesenta": 60, "setenta": 70, "ochenta": 80, "noventa": 90, "cien": 100, "ciento": 100,
    **{f"{word}cient{end}s": 100 * value for end in "oa"
       for word, value in (("dos", 2), ("tres", 3), ("cuatro", 4), ("seis", 6), ("sete", 7), ("ocho", 8), ("nove", 9))},
    "quinientos": 500, "quinientas": 500,
}  # fmt: skip
_FRENCH = {
    "deux": 2, "trois": 3, "quatre": 4, "cinq": 5, "sept": 7, "huit": 8, "dix": 10, "onze": 11, "douze": 12,
    "treize": 13, "quatorze": 14, "quinze": 15, "vingt": 20, "trente": 30, "quarante": 40, "cinquante": 50,
    "soixante": 60, "quatrevingt": 80, "quatrevingts": 80,
}  # fmt: skip
FOREIGN = {**_SPANISH, **_FRENCH}
AMONG_FOREIGN = {
    "six": 6, "neuf": 9, "once": 11, "seize": 16, "un": 1, "mil": THOUSAND, "mille": THOUSAND, "cent": HUNDRED,
    "cents": HUNDRED,
}  # fmt: skip
"""Words that count only beside another foreign number: alone they are English, or mean something else."""
FOREIGN_AND = frozenset({"y", "et"})
_MULTIPLIERS = {"hundred": HUNDRED, "hunderd": HUNDRED, "hunnert": HUNDRED, "thousand": THOUSAND}
SPOKEN = NUMBER_WORDS.keys() | PLURALS.keys() | FOREIGN.keys()


def value_of(key: str) -> int | None:
    """What a word counts by itself; a sign where it multiplies; None where it is no number."""
    value = NUMBER_WORDS.get(key)
    if value is None:
        value = PLURALS.get(key, FOREIGN.get(key, _MULTIPLIERS.get(key)))
    return value


def goes_on(values: Sequence[int], value: int, following: int) -> bool:
    """Whether a word carries a number on, or begins another: ``two hundred | four thirty``, ``2011 | four tens``."""
    factor = next((k for k in range(len(values) - 1, -1, -1) if values[k] < 0), None)
    if factor is None or value < 0:
        return True
    tail = values[factor + 1 :]
    if not tail:
        return not (1 <= value <= 9 and 10 <= following < -HUNDRED)
    return tail[-1] in (0, *range(-HUNDRED, -THOUSAND)) or _adds(tail[-1], value) or _ends_a_teen((tail[-1], value), 0)


def written(values: Sequence[int]) -> str:
    """The digits a speaker means: 3, 70, 3 is 373; 12, hundred is 1200; 0, 8 is 08; 1, 75, thousand is 175000."""
    if any(value < 0 or value >= -HUNDRED for value in values):
        return str(_multiplied(values))
    digits, at = "", 0
    while at < len(values):
        value = values[at]
        following = values[at + 1] if at + 1 < len(values) else 0
        if _adds(value, following):
            value += following
            at += 1
            if value in _TEENS_ADD and at + 1 < len(values) and _ends_a_teen(values, at):
                at += 1
                value += values[at]
        digits += str(value)
        at += 1
    return digits


_TEENS_ADD = frozenset({70, 90})
"""``soixante dix`` and ``quatre vingt dix``, to which a French speaker adds once more."""


def _ends_a_teen(values: Sequence[int], at: int) -> bool:
    return values[at] == 10 and 7 <= values[at + 1] <= 9


def _adds(value: int, following: int) -> bool:
    """``twenty five``; French ``soixante treize`` and ``dix sept`` too."""
    if value % 10 == 0 and value >= 20 and 1 <= following <= 9:
        return True
    return value in (60, 80) and 10 <= following <= 19


def _multiplied(values: Sequence[int]) -> int:
    total = current = 0
    run: list[int] = []
    for value in values:
        if value == THOUSAND:
            total += max(current + _whole(run), 1) * 1000
            current, run = 0, []
        elif value == HUNDRED:
            current += max(_whole(run), 1) * 100
            run = []
        elif value >= -HUNDRED:
            current, run = current + _whole(run) + value, []
        else:
            run.append(value)
    return total + current + _whole(run)


def _whole(run: Sequence[int]) -> int:
    return int(written(run)) if run else 0
