"""What cannot be, whatever the axle: values outside all belief, and pairs that geometry or the trade
forbids."""

from collections.abc import Iterable

from donorbase.attributes import PAIRS, Attribute, attribute
from donorbase.engineering.bolt_circle import KNOWN_PATTERNS
from donorbase.facts import Fact, Known, Value

_NEAR_MM = 2.0
"""A circle this near to a known one is that one, measured by tape."""


def fault_of(name: str, value: Value) -> str:
    """Why a value cannot be right, in words for the person who gave it; empty where it can."""
    known = attribute(name)
    for number in _numbers(known, value):
        said = f"{known.title} {number:g}{_unit(known)}"
        if number <= 0:
            return f"{said}: must be above 0; look again"
        if known.low is not None and number < known.low:
            return f"{said}: below anything known ({known.low:g}); {_hint(known)}"
        if known.high is not None and number > known.high:
            return f"{said}: above anything known ({known.high:g}); {_hint(known)}"
    if known.kind in PAIRS and isinstance(value, tuple) and None not in value and value[0] > value[1]:
        return f"{known.title} {value[0]}-{value[1]}: the first is after the last"
    return ""


def _numbers(known: Attribute, value: Value) -> list[float]:
    parts = value if isinstance(value, tuple) else (value,)
    return [float(p) for p in parts if isinstance(p, int | float) and not isinstance(p, bool)]


def _unit(known: Attribute) -> str:
    return f" {known.unit}" if known.unit else ""


def _hint(known: Attribute) -> str:
    """What was probably meant."""
    if known.unit in ("in", "mm"):
        return f"measure again, in {'inches' if known.unit == 'in' else 'millimetres'}"
    return "count again" if known.tool == "counting" else "look again"


def check_observations(facts: Iterable[Fact]) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    """(facts that can be used, a clear word on each that cannot or that does not go with another).

    A value outside all belief is dropped. Seven studs on 170 mm are two facts that no hub has together: both
    are kept, hedged, and the word says which circles go with which count.
    """
    kept, words = [], []
    for fact in facts:
        fault = fault_of(fact.attribute, fact.value)
        words.append(fault) if fault else kept.append(fact)
    pattern = _pattern_fault(kept)
    if pattern:
        words.append(pattern)
        kept = [_doubted(fact) if fact.attribute in ("lugs", "bolt_circle_mm") else fact for fact in kept]
    return tuple(kept), tuple(words)


def _doubted(fact: Fact) -> Fact:
    return Fact(fact.attribute, fact.value, Known.HEDGED, fact.spans, fact.sd)


def _pattern_fault(facts: Iterable[Fact]) -> str:
    found = {f.attribute: f.value for f in facts if f.attribute in ("lugs", "bolt_circle_mm")}
    lugs, circle = found.get("lugs"), found.get("bolt_circle_mm")
    if not isinstance(lugs, int) or not isinstance(circle, int | float):
        return ""
    near = [n for n, d in KNOWN_PATTERNS if abs(d - circle) <= _NEAR_MM]
    if lugs in near or not near:
        return ""
    counts = " or ".join(str(n) for n in sorted(set(near)))
    circles = ", ".join(f"{d:g}" for n, d in KNOWN_PATTERNS if n == lugs) or "no known circle"
    return (
        f"{lugs} studs on {circle:g} mm: no hub has that; {circle:g} mm goes with {counts} studs, "
        f"{lugs} studs with {circles} mm: count the studs and measure again"
    )
