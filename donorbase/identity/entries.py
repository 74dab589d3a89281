"""One attribute's value as a person writes it down beside an axle -> values, in the attribute's own unit."""

from collections.abc import Sequence
from typing import Any

from donorbase.attributes import NUMBERS, Attribute, Kind, attribute, attributes
from donorbase.errors import BadInput
from donorbase.facts import Value
from donorbase.reference.units import MM_PER_IN, parse_length, parse_length_mm, parse_number

Told = str | float | int | list[Any] | tuple[Any, ...]


def written(name: str, told: Told) -> tuple[str, list[Value]]:
    """(attribute, values) of an entry: the attribute by its name or alias, a length in the other unit too.

    Raises BadInput, with what would be right, for a name that is none and for a value that cannot be read.
    """
    known, unit = _attribute(name)
    if known is None:
        raise BadInput(f"{name} is not known", "Names are those of the attributes; see their list.")
    if isinstance(told, list | tuple):
        return known.name, _listed(known, name, told)
    if known.kind is Kind.LENGTH:
        length = length_in_unit(told, unit)
        factor = 1.0 if unit == known.unit else (MM_PER_IN if known.unit == "mm" else 1.0 / MM_PER_IN)
        return known.name, [round(length * factor, 4)]
    return known.name, _values(known, told)


def _listed(known: Attribute, name: str, told: Sequence[Told | None]) -> list[Value]:
    """A list from JSON: first and last years, or the several values of an attribute that can have several."""
    if known.kind is Kind.YEARS and 1 <= len(told) <= 2:
        first, last = (told[0], told[-1]) if len(told) == 2 else (told[0], told[0])
        return [_years("-".join("" if end is None else str(end) for end in (first, last)))]
    if len(told) != 1 and not known.many:
        raise BadInput(f"{name} has one value, not {list(told)}", "Give the one that was found, or leave it out.")
    return [value for one in told if one is not None for value in written(name, one)[1]]


def length_in_unit(told: Told, unit: str) -> float:
    """A length in ``mm`` or ``in``; a bare number is taken in that unit. Raises BadInput."""
    parse = parse_length_mm if unit == "mm" else parse_length
    return parse(str(told), unit)


def _attribute(name: str) -> tuple[Attribute | None, str]:
    try:
        known = attribute(name)
    except KeyError:
        stem, _, unit = name.rpartition("_")
        other = {"in": "mm", "mm": "in"}.get(unit, "")
        found = attributes().get(f"{stem}_{other}")
        return (found, unit) if found and found.kind is Kind.LENGTH else (None, "")
    return (known, known.unit) if known.scope == "axle" else (None, "")


def _values(known: Attribute, told: Told) -> list[Value]:
    text = str(told).strip()
    if known.kind is Kind.YEARS:
        return [_years(text)]
    if known.kind is Kind.FLAG:
        return [_flag(known.name, text)]
    if known.kind is Kind.COUNT:
        return [whole_number(known.name, told)]
    if known.kind in NUMBERS:
        return [parse_number(text)]
    if known.kind is Kind.RANGE:
        raise BadInput(f"{known.name} is a range of its kind, not measured", "Leave it out.")
    words = [word.strip().lower() for word in text.split(",")] if known.values else [text]
    for word in words:
        if known.values and word not in known.values:
            raise BadInput(f"{known.name} {word!r} is not known", f"Say {', '.join(known.values)}.")
    return list(words)


def whole_number(name: str, told: Told) -> int:
    """A count, which may come out negative so that the check of what can be names it. Raises BadInput."""
    number = parse_number(str(told).strip().lstrip("-")) if str(told).strip() else 0.0
    if number != int(number):
        raise BadInput(f"{name} {told} is no whole number", "Count again.")
    return -int(number) if str(told).strip().startswith("-") else int(number)


def _years(text: str) -> Value:
    first, dash, last = (part.strip() for part in text.partition("-"))
    years = [int(part) if part.isascii() and part.isdigit() and len(part) <= 4 else None for part in (first, last)]
    if years[0] is None and years[1] is None:
        raise BadInput(f"years {text!r} are not years", "Write 2011 or 2005-2007.")
    return (years[0], years[1]) if dash else (years[0], years[0])


def _flag(name: str, text: str) -> bool:
    word = text.lower()
    if word in ("yes", "true", "1", "y"):
        return True
    if word in ("no", "false", "0", "n"):
        return False
    raise BadInput(f"{name} {text!r} is neither yes nor no", "Say yes or no.")
