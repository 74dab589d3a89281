"""Sets of numbers as bits of one whole number: met, or not met, of all listings at once by one operation.

A set is kept in pieces of ``PIECE`` numbers, so that a new listing changes small ones; a piece with few numbers is a
list of them. Whole numbers of things (prices, days) are kept by their binary digits, a set for each digit, and compared
digit by digit (O'Neil and Quass, "Improved query performance with variant indexes", 1997).
"""

import sys
from array import array
from collections.abc import Iterable, Iterator, Sequence

PIECE = 16_384
"""Numbers in a piece; 2 kB as bits."""
_BYTES = PIECE // 8
_SPARSE = 40
_ONE = ord("1")
_FEW = 100
"""Up to so many numbers a list takes no more room than a tenth of the bits."""


def packed(bits: int) -> bytes:
    """The bytes of a piece: a set of numbers from 0 below ``PIECE``."""
    if bits.bit_count() > _FEW:
        return b"\1" + bits.to_bytes(_BYTES, "little")
    listed = array("H", numbers_of(bits))
    if sys.byteorder == "big":
        listed.byteswap()
    return b"\0" + listed.tobytes()


def unpacked(piece: bytes) -> int:
    """The set that a piece is."""
    return int.from_bytes(piece[1:], "little") if piece[0] else set_of(_listed(piece))


def _listed(piece: bytes) -> "array[int]":
    listed = array("H", bytes(piece[1:]))
    if sys.byteorder == "big":
        listed.byteswap()
    return listed


def joined(pieces: Iterable[tuple[int, bytes]]) -> int:
    """The set whose pieces these are, each with its place from 0."""
    parts = list(pieces)
    buffer = bytearray((max((place for place, _ in parts), default=-1) + 1) * _BYTES)
    for place, piece in parts:
        begin = place * _BYTES
        if piece[0]:
            buffer[begin : begin + _BYTES] = piece[1:]
        else:
            for number in _listed(piece):
                buffer[begin + (number >> 3)] |= 1 << (number & 7)
    return int.from_bytes(buffer, "little")


def set_of(numbers: Iterable[int]) -> int:
    """The set of numbers from 0 on.

    >>> bin(set_of([0, 3]))
    '0b1001'
    """
    listed = list(numbers)
    top = max(listed, default=0)
    if len(listed) * _SPARSE > top:  # many: a sign for each place, read as a binary number
        signs = bytearray(b"0") * (top + 1)
        for number in listed:
            signs[number] = _ONE
        return int(signs[::-1], 2)
    buffer = bytearray((top >> 3) + 1)
    for number in listed:
        buffer[number >> 3] |= 1 << (number & 7)
    return int.from_bytes(buffer, "little")


def numbers_of(bits: int) -> list[int]:
    """The numbers of a set, the least first."""
    held = bits.to_bytes((bits.bit_length() + 7) // 8, "little")
    return [place * 8 + bit for place, byte in enumerate(held) if byte for bit in _SET_BITS[byte]]


_SET_BITS = tuple(tuple(bit for bit in range(8) if byte >> bit & 1) for byte in range(256))


def digits(number: int) -> Iterator[int]:
    """The places of the binary digits of a number that are 1.

    >>> list(digits(10))
    [1, 3]
    """
    return (place for place in range(number.bit_length()) if number >> place & 1)


def at_most(slices: Sequence[int], known: int, bound: int) -> int:
    """Of the set ``known`` those whose number is at most ``bound``; ``slices`` are their digits, the least first."""
    if bound < 0:
        return 0
    if bound >> len(slices):
        return known
    less, equal = 0, known
    for place in reversed(range(len(slices))):
        if bound >> place & 1:
            less |= equal & ~slices[place]
            equal &= slices[place]
        else:
            equal &= ~slices[place]
    return less | equal


def greatest(slices: Sequence[int], among: int, count: int, *, least: bool = False) -> tuple[int, int]:
    """Of ``among`` those with the greatest numbers (or the ``least``), fewer than ``count``; and those that are next
    and alike, of which there are enough to make up the count."""
    chosen, missing = 0, count
    if among.bit_count() <= count:
        return 0, among
    for digit in reversed(slices):
        ahead = among & ~digit if least else among & digit
        number = ahead.bit_count()
        if number >= missing:
            among = ahead
        else:
            chosen, missing, among = chosen | ahead, missing - number, among & ~ahead
    return chosen, among


def written(slices: Sequence[int], numbers: Iterable[int]) -> dict[int, int]:
    """What the digits of each of the numbers are together."""
    held = [digit.to_bytes((digit.bit_length() + 7) // 8, "little") for digit in slices]
    return {
        one: sum(
            1 << place for place, digit in enumerate(held) if one >> 3 < len(digit) and digit[one >> 3] >> (one & 7) & 1
        )
        for one in numbers
    }


def counted(sets: Iterable[int]) -> list[int]:
    """How many of the sets hold each number, by its binary digits, the least first."""
    slices: list[int] = []
    for carry in sets:
        for place, digit in enumerate(slices):
            slices[place], carry = digit ^ carry, digit & carry
        if carry:
            slices.append(carry)
    return slices


def exactly(slices: Sequence[int], number: int, among: int) -> int:
    """Of ``among`` those whose number is this one."""
    if number >> len(slices):
        return 0
    for place, digit in enumerate(slices):
        among &= digit if number >> place & 1 else ~digit
    return among
