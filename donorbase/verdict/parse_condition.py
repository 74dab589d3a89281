"""What a build file writes -> Condition; what is wrong with it is said in a sentence without a place."""

import math
from collections.abc import Mapping
from typing import Any

from donorbase.attributes import NUMBERS, PAIRS, Attribute, Kind
from donorbase.facts import Value
from donorbase.verdict.condition import OPERATORS, ORDERED, Condition, Test


def parse_condition(raw: Any, subject: Attribute) -> Condition:
    """A condition as a build file writes it; ValueError says what is wrong, as a sentence without a place."""
    if isinstance(raw, Mapping):
        return _parse_table(raw, subject)
    if isinstance(raw, list):
        return Condition((Test("any_of", tuple(_value(v, subject, "any_of") for v in _full(raw))),))
    return Condition((Test("equal", (_value(raw, subject, "equal"),)),))


def _full(raw: Any) -> list[Any]:
    if not isinstance(raw, list) or not raw:
        raise ValueError(f"a list with at least one value is wanted, not {raw!r}")
    return raw


def _parse_table(raw: Mapping[str, Any], subject: Attribute) -> Condition:
    unknown = [key for key in raw if key not in OPERATORS and key != "percent"]
    if unknown:
        raise ValueError(f"no condition is called {unknown[0]!r}; there are {', '.join(OPERATORS[1:])}")
    if ("near" in raw) is not ("percent" in raw):
        raise ValueError("near goes with percent: { near = 4.10, percent = 2 }")
    tests = tuple(_parse_test(key, raw, subject) for key in raw if key != "percent")
    if not tests:
        raise ValueError("the condition is empty")
    condition = Condition(tests)
    _check_possible(condition)
    return condition


def _parse_test(operator: str, raw: Mapping[str, Any], subject: Attribute) -> Test:
    if operator in ORDERED and subject.kind not in NUMBERS | PAIRS:
        raise ValueError(f"{operator} wants a number, and {subject.name} is none")
    given = raw[operator]
    if operator == "near":
        return Test("near", (_value(given, subject, operator), _percent(raw["percent"])))
    if operator in {"any_of", "none_of"}:
        return Test(operator, tuple(_value(v, subject, operator) for v in _full(given)))
    if operator == "between":
        if len(_full(given)) != 2:
            raise ValueError(f"between wants two values, not {given!r}")
        return Test(operator, tuple(_value(v, subject, operator) for v in given))
    return Test(operator, (_value(given, subject, operator),))


def _percent(raw: Any) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)) or not 0 < raw <= 100:
        raise ValueError(f"percent is a number over 0 and up to 100, not {raw!r}")
    return float(raw)


def _value(raw: Any, subject: Attribute, operator: str) -> Value:
    if subject.name == "parking_brake" or subject.kind is Kind.FLAG:
        return _flag(raw)
    if subject.kind in NUMBERS:
        return _number(raw, subject)
    if subject.kind in PAIRS:
        return _pair(raw, subject) if isinstance(raw, list) else _number(raw, subject)
    return _word(raw, subject)


def _flag(raw: Any) -> bool:
    if not isinstance(raw, bool):
        raise ValueError(f"true or false is wanted, not {raw!r}")
    return raw


def _number(raw: Any, subject: Attribute) -> float | int:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)) or not math.isfinite(raw):
        unit = {"in": " of inches", "mm": " of millimetres", "lb": " of pounds"}.get(subject.unit, "")
        raise ValueError(f"a number{unit} is wanted, not {raw!r}")
    if (subject.low is not None and raw < subject.low) or (subject.high is not None and raw > subject.high):
        raise ValueError(
            f"{raw:g} is outside what is believable, {subject.low:g} to {subject.high:g}{_unit_hint(raw, subject)}"
        )
    return raw


def _unit_hint(raw: float, subject: Attribute) -> str:
    low, high = subject.low or -math.inf, subject.high or math.inf
    if subject.unit == "mm" and low <= raw * 25.4 <= high:
        return f" mm; in inches? then write {raw * 25.4:.1f}"
    if subject.unit == "in" and low <= raw / 25.4 <= high:
        return f" in; in millimetres? then write {raw / 25.4:.2f}"
    return f" {subject.unit}" if subject.unit else ""


def _pair(raw: list[Any], subject: Attribute) -> tuple[Any, Any]:
    if len(raw) != 2:
        raise ValueError(f"first and last are wanted, not {raw!r}")
    first, last = (_number(v, subject) for v in raw)
    if first > last:
        raise ValueError(f"{first} comes after {last}")
    return (first, last)


def _word(raw: Any, subject: Attribute) -> str:
    if not isinstance(raw, str):
        raise ValueError(f"a word is wanted, not {raw!r}")
    if subject.values and raw not in subject.values:
        raise ValueError(f"{raw!r} is no value of {subject.name}; there are {', '.join(subject.values)}")
    return raw


def _check_possible(condition: Condition) -> None:
    low, high = -math.inf, math.inf
    for test in condition.tests:
        limits = [float(v) for v in test.values if isinstance(v, (int, float)) and not isinstance(v, bool)]
        if test.operator in {"at_least", "between"} and limits:
            low = max(low, limits[0])
        if test.operator in {"at_most", "between"} and limits:
            high = min(high, limits[-1])
    if low > high:
        raise ValueError(f"nothing can be at least {low:g} and at most {high:g}")
    wanted = {v for t in condition.tests if t.operator in {"equal", "any_of"} for v in t.values}
    if wanted and wanted <= condition.forbids:
        raise ValueError(f"the same is wanted and forbidden: {', '.join(map(str, sorted(map(str, wanted))))}")
