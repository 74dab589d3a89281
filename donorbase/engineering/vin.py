"""Vehicle numbers (VIN): check digit, model year, and what a mistyped one may have been. 49 CFR 565.

The check digit is compulsory in the United States and Canada only: a number that fails may belong to a
vehicle built for another market. One that passes is not proved right: one wrong character in eleven passes,
and characters of equal value (A and 1, B and 2, S and 2, H and 8) are never told apart.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from donorbase.errors import BadInput

SOURCE = "49 CFR 565.15 (c), (d): tables of values, weights and years; position 7 rule, 73 FR 23367 (2008)"
LENGTH = 17
YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789"
"""Position 10, from 1980 on and again from 2010 on; I, O, Q, U, Z and 0 are not used."""

_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_VALUES = dict(zip("0123456789ABCDEFGHJKLMNPRSTUVWXYZ", map(int, "012345678912345678123457923456789"), strict=True))

_NEVER_USED = {"I": "1", "O": "0", "Q": "09"}
"""Letters that no number has, and what was meant."""

_LOOK_ALIKE = {
    "5": "S", "S": "5", "8": "B", "B": "8", "6": "G", "G": "6", "2": "Z", "Z": "2", "0": "D", "D": "0",
    "U": "V", "V": "U", "1": "7", "7": "1", "M": "N", "N": "M",
}  # fmt: skip
"""Slips of eye and hand that the check digit catches, tried where it fails."""

_SEPARATORS = re.compile(r"[\s\-.*]+")


@dataclass(frozen=True, slots=True)
class Repair:
    """A number that the written one may have been, and what was changed."""

    vin: str
    change: str


@dataclass(frozen=True, slots=True)
class VinReading:
    """What a number says. ``years`` are the model years it can be, oldest first, with ``years_why``.

    ``check_holds`` is False for a wrong check digit; ``faults`` say what else no number has; ``repairs`` are
    numbers that pass and differ by one slip.
    """

    vin: str
    check_expected: str
    check_found: str
    check_holds: bool
    years: tuple[int, ...]
    years_why: str
    faults: tuple[str, ...]
    repairs: tuple[Repair, ...]


def compact(text: str) -> str:
    """The number in capitals without spaces, dashes, dots and stars."""
    return _SEPARATORS.sub("", text.strip().upper())


def check_digit(vin: str) -> str:
    """The check digit that position 9 must hold: the weighted sum modulo 11, X for ten.

    Raises BadInput where a character has no value (I, O, Q, signs) or the length is not 17. Source: SOURCE.
    """
    remainder = weighted_sum(vin) % 11
    return "X" if remainder == 10 else str(remainder)


def weighted_sum(vin: str) -> int:
    """The sum of value x weight over the seventeen characters."""
    if len(vin) != LENGTH or not set(vin) <= _VALUES.keys():
        raise BadInput(f"{vin[:40]!r} is not a vehicle number", "It has 17 characters: digits and letters but I, O, Q.")
    return sum(_VALUES[sign] * weight for sign, weight in zip(vin, _WEIGHTS, strict=True))


def check_holds(vin: str) -> bool:
    """Whether position 9 is right. A pass proves nothing, a fail only for the US and Canada."""
    return check_digit(vin) == vin[8]


def model_years(vin: str, latest: int, light: bool | None = None) -> tuple[int, ...]:
    """Model years that position 10 can mean, up to ``latest``, oldest first; empty where it means none.

    ``light`` says whether the vehicle is a car, or a truck or multipurpose vehicle of at most 10,000 lb GVWR:
    there position 7 decides, a digit meaning 1980-2009, a letter 2010-2039. Heavier trucks, buses and
    trailers have no such rule (False), and where the weight is not known (None) both years stay open. A
    one-ton truck may be over 10,000 lb.
    """
    index = YEAR_CODES.find(vin[9])
    if index < 0:
        return ()
    first = 1980 + index
    cycles = [first, first + 30]
    if light:
        cycles = cycles[:1] if vin[6].isdigit() else cycles[1:]
    return tuple(year for year in cycles if year <= latest)


def read_vin(text: str, latest: int, light: bool | None = None) -> VinReading:
    """What a written number says: check digit, model years up to ``latest``, faults, likely repairs.

    Raises BadInput where the text is not 17 characters long once spaces and dashes are gone. Source: SOURCE.
    """
    vin = compact(text)
    if len(vin) != LENGTH or not vin.isascii() or not vin.isalnum():
        raise BadInput(
            f"{text[:40]!r} has {len(vin)} characters; a vehicle number since 1981 has {LENGTH}",
            "Read it again from the dash or the door label; older numbers are the maker's own and say less.",
        )
    faults = tuple(
        f"position {at} is {sign}, which no number has" for at, sign in enumerate(vin, 1) if sign in _NEVER_USED
    )
    expected = "" if faults else check_digit(vin)
    holds = not faults and expected == vin[8]
    years = model_years(vin, latest, light)
    if not years and not faults:
        faults = (f"position 10 is {vin[9]}, which is no model year up to {latest}",)
    return VinReading(
        vin=vin,
        check_expected=expected,
        check_found=vin[8],
        check_holds=holds,
        years=years,
        years_why=_years_why(vin, years, light),
        faults=faults,
        repairs=() if holds else tuple(repairs(vin)),
    )


def repairs(vin: str) -> Iterator[Repair]:
    """Numbers that pass and differ from a 17-character one by slips people make, likeliest first.

    First the letters that no number has (I, O, Q), all at once; then one look-alike; then two neighbours
    swapped.
    """
    never = [at for at, sign in enumerate(vin) if sign in _NEVER_USED]
    if never:
        for choice in product(*(_NEVER_USED[vin[at]] for at in never)):
            changed = list(vin)
            for at, sign in zip(never, choice, strict=True):
                changed[at] = sign
            if check_holds(meant := "".join(changed)):
                yield Repair(meant, ", ".join(f"{vin[at]} -> {meant[at]} at {at + 1}" for at in never))
        return
    yield from _look_alikes(vin)
    yield from _swaps(vin)


def _look_alikes(vin: str) -> Iterator[Repair]:
    for at, sign in enumerate(vin):
        other = _LOOK_ALIKE.get(sign)
        if other and check_holds(meant := vin[:at] + other + vin[at + 1 :]):
            yield Repair(meant, f"{sign} -> {other} at {at + 1}")


def _swaps(vin: str) -> Iterator[Repair]:
    for at in range(LENGTH - 1):
        one, two = vin[at], vin[at + 1]
        # Letters and digits keep to their places in a number, so only like is swapped with like.
        if one != two and one.isdigit() == two.isdigit():
            meant = vin[:at] + two + one + vin[at + 2 :]
            if check_holds(meant):
                yield Repair(meant, f"{one}{two} -> {two}{one} at {at + 1}")


def _years_why(vin: str, years: tuple[int, ...], light: bool | None) -> str:
    if not years:
        return f"position 10 ({vin[9]}) is no model year"
    if light:
        kind = "a digit: 1980-2009" if vin[6].isdigit() else "a letter: 2010-2039"
        return f"position 10 is {vin[9]}; position 7 is {kind}, as for vehicles up to 10,000 lb"
    weight = "over 10,000 lb" if light is False else "of unknown weight"
    return f"position 10 is {vin[9]}; for a vehicle {weight} position 7 does not decide the cycle"
