"""A condition on one value: what a build file writes, and how far a value meets it.

``equal`` (a bare value), ``any_of`` (a list), ``none_of``, ``at_least``, ``at_most``, ``between``, ``near``
with ``percent``; several together must all hold.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import Attribute, Kind
from donorbase.facts import Value
from donorbase.reference.wording import plain_text

OPERATORS = ("equal", "any_of", "none_of", "at_least", "at_most", "between", "near")
ORDERED = frozenset({"at_least", "at_most", "between", "near"})

RATIO_MATCH = 0.005
"""Two quoted ratios within half a percent run together (4.10 and 4.11): common practice, F3's first band."""

_EPS = 1e-6
_LAST_YEAR = 2030  # an open end of model years; beyond every axle that the attribute believes in


@dataclass(frozen=True, slots=True)
class Test:
    """One comparison: an operator and what it compares with (for ``near``: the value and the percent)."""

    operator: str
    values: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class Condition:
    """Comparisons that must all hold."""

    tests: tuple[Test, ...]

    def share(self, value: Value, subject: Attribute) -> float:
        """How far a value meets the condition, 0 to 1; between them only where a span straddles a limit."""
        return min(_share(test, value, subject) for test in self.tests)

    def share_of_set(self, values: Sequence[Value], subject: Attribute) -> float:
        """The same for a thing that holds several values at once (defects, hubs): any of them may meet
        ``equal`` and ``any_of``, none may break ``none_of``."""
        met = [_set_share(test, values, subject) for test in self.tests]
        return min(met)

    @property
    def forbids(self) -> frozenset[Value]:
        """The words that ``none_of`` names."""
        return frozenset(v for t in self.tests if t.operator == "none_of" for v in t.values)

    @property
    def only_forbids(self) -> bool:
        """Whether the condition asks for the absence of something and nothing else."""
        return all(t.operator == "none_of" for t in self.tests)

    @property
    def wanted(self) -> Value | None:
        """The one value that is asked for, None where a span or several will do."""
        equals = [t.values[0] for t in self.tests if t.operator == "equal"]
        return equals[0] if equals else None

    def words(self, subject: str = "", unit: str = "") -> str:
        """The condition as a person would say it: ``at least 35``."""
        return " and ".join(_words(test, unit) for test in self.tests)

    def plain(self) -> Any:
        """The condition in the form of a build file."""
        if len(self.tests) == 1 and self.tests[0].operator == "equal":
            return _plain(self.tests[0].values[0])
        found: dict[str, Any] = {}
        for test in self.tests:
            found.update(_plain_test(test))
        return found


def _plain(value: Value) -> Any:
    return list(value) if isinstance(value, tuple) else value


def _plain_test(test: Test) -> dict[str, Any]:
    if test.operator == "near":
        return {"near": test.values[0], "percent": test.values[1]}
    if test.operator in {"any_of", "none_of", "between"}:
        return {test.operator: [_plain(v) for v in test.values]}
    return {test.operator: _plain(test.values[0])}


def _share(test: Test, value: Value, subject: Attribute) -> float:
    if isinstance(value, tuple):
        return _span_share(test, value, subject)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(_number_holds(test, float(value), subject))
    found = value in test.values
    return float(found is not (test.operator == "none_of"))


def _set_share(test: Test, values: Sequence[Value], subject: Attribute) -> float:
    if test.operator == "none_of":
        return min((_share(test, value, subject) for value in values), default=1.0)
    return max((_share(test, value, subject) for value in values), default=0.0)


def _number_holds(test: Test, value: float, subject: Attribute) -> bool:
    limits = [float(v) for v in test.values if isinstance(v, (int, float))]
    holds: dict[str, Callable[[], bool]] = {
        "equal": lambda: same(value, limits[0], subject),
        "any_of": lambda: any(same(value, limit, subject) for limit in limits),
        "none_of": lambda: not any(same(value, limit, subject) for limit in limits),
        "at_least": lambda: value >= limits[0] - _EPS,
        "at_most": lambda: value <= limits[0] + _EPS,
        "between": lambda: limits[0] - _EPS <= value <= limits[1] + _EPS,
        "near": lambda: abs(value - limits[0]) <= abs(limits[0]) * limits[1] / 100 + _EPS,
    }
    return bool(limits) and holds[test.operator]()


def same(one: float, other: float, subject: Attribute) -> bool:
    """Whether two figures are the same as far as the attribute can be measured."""
    if subject.kind is Kind.RATIO:
        return math.isclose(one, other, rel_tol=RATIO_MATCH)
    if subject.kind is Kind.LENGTH:
        return abs(one - other) <= max(subject.sd, _EPS)
    return abs(one - other) <= _EPS


def _span_share(test: Test, span: tuple[Any, Any], subject: Attribute) -> float:
    first, last = span[0], span[1]
    if subject.kind is Kind.YEARS:
        years = range(first if first else 1940, (last if last else _LAST_YEAR) + 1)
        return sum(_year_holds(test, year, subject) for year in years) / max(len(years), 1)
    ends = [float(first), float(last if last is not None else first)]
    return sum(_number_holds(test, end, subject) for end in ends) / 2


def _year_holds(test: Test, year: int, subject: Attribute) -> bool:
    spans = [v for v in test.values if isinstance(v, tuple)]
    if spans:
        inside = any((a or 1940) <= year <= (b or _LAST_YEAR) for a, b in spans)
        return inside is not (test.operator == "none_of")
    return _number_holds(test, float(year), subject)


def _words(test: Test, unit: str) -> str:
    said = [plain_text(v, unit) for v in test.values]
    if test.operator == "between":
        return f"{plain_text(test.values[0])} to {said[1]}"
    if test.operator == "near":
        return f"within {plain_text(test.values[1])} percent of {said[0]}"
    lead = {"at_least": "at least ", "at_most": "at most ", "none_of": "not "}.get(test.operator, "")
    return lead + " or ".join(said)
