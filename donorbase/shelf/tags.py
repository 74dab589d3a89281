"""Short tags for a paint marker: ``AAAA``, ``AAKM`` ... of signs that paint, rust and turning do not make alike.

The last sign is a check: the signs, weighed by their places, sum to nothing modulo 17. As 17 is prime and every weight
is another one, a tag with one sign misread, or with two signs changed over, is never another part's tag. It is the
principle of the check digit of ISBN-10 (ISO 2108:1992).
"""

from donorbase.errors import BadInput

SIGNS = "ACEFHJKMNPRTXY347"
"""No 0/O/Q/D, 1/I/L, 2/Z, 5/S, 8/B, 6/G/9, U/V; no W, which is an M on a part that lies upside down."""

_MODULUS = len(SIGNS)
_SHORTEST = 4


def tag_of(number: int) -> str:
    """The tag of the part of that number, counted from 1: three signs and the check, more from 17 cubed on.

    >>> tag_of(1), tag_of(2), tag_of(4912)
    ('AAC4', 'AAEY', '777P')
    """
    if number < 1:
        raise ValueError(f"parts are counted from 1, not {number}")
    digits: list[int] = []
    while number or len(digits) < _SHORTEST - 1:
        number, digit = divmod(number, _MODULUS)
        digits.append(digit)
    check = -sum(weight * digit for weight, digit in enumerate(digits, 2)) % _MODULUS
    return "".join(SIGNS[digit] for digit in reversed(digits)) + SIGNS[check]


def number_of(tag: str) -> int:
    """The number of the part with that tag, in capitals or not; BadInput where no part can have it.

    >>> number_of("aac4")
    1
    """
    plain = tag.strip().upper()
    strange = sorted({sign for sign in plain if sign not in SIGNS})
    if strange or not _SHORTEST <= len(plain) <= 12:
        told = f"its {', '.join(strange)} is in no tag" if strange else f"a tag has {_SHORTEST} signs"
        raise BadInput(f"{tag!r} is no tag of a part: {told}", f"Tags are written with {SIGNS}.")
    digits = [SIGNS.index(sign) for sign in reversed(plain)]
    if sum(weight * digit for weight, digit in enumerate(digits, 1)) % _MODULUS:
        raise BadInput(
            f"{tag!r} is no part's tag: one of its signs is misread, or two are changed over",
            "Read it again. `donorbase part list` shows the tags there are.",
        )
    number = 0
    for digit in reversed(digits[1:]):
        number = number * _MODULUS + digit
    return number
