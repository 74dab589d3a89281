"""Go, stop or unclear: one thing judged over all that an axle may be. Unclear never becomes go."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from donorbase.facts import Known, Value
from donorbase.reference.catalogue import Variant
from donorbase.reference.judging import Known as Limits
from donorbase.verdict.prospect import Prospect

Chance = tuple[float, float]
"""``(holds, unknown)``; the rest fails."""
HOLDS: Chance = (1.0, 0.0)
FAILS: Chance = (0.0, 0.0)
OPEN: Chance = (0.0, 1.0)
_EVENS = 0.5


class Light(StrEnum):
    """What a line says; the worst of several lines stands for all."""

    GO = "go"
    UNCLEAR = "unclear"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that was looked at: ``why`` with its figures, ``basis`` of these, and what would settle it.

    ``settle`` is a question or a measurement, empty where nothing is open.
    """

    topic: str
    light: Light
    why: str
    basis: str
    settle: str = ""

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "topic": self.topic, "light": str(self.light), "why": self.why, "basis": self.basis,
            "settle": self.settle,
        }  # fmt: skip


def light_of(chance: Chance, known: Limits) -> Light:
    """Go where it holds almost surely, stop where it almost surely fails, else unclear."""
    holds, unknown = chance
    if holds >= known.high:
        return Light.GO
    return Light.STOP if holds + unknown <= known.low else Light.UNCLEAR


def over_worlds(axle: Prospect, chance_in: Callable[[Variant], Chance]) -> Chance:
    """The chance over all that the axle may be; an axle of no known kind is unknown."""
    chances = [(w.weight, chance_in(w.variant) if w.variant else OPEN) for w in axle.worlds()]
    return sum(w * holds for w, (holds, _) in chances), sum(w * unknown for w, (_, unknown) in chances)


def measured(axle: Prospect, name: str) -> tuple[Value, ...]:
    """What was measured or seen of an attribute; empty where nobody looked."""
    return tuple(fact.value for fact in axle.facts_of(name) if fact.known is Known.MEASURED)


def light_on(axle: Prospect, name: str, holds: Callable[[Value], bool]) -> Light:
    """The light of one attribute of the axle. What was measured goes before its kind; against its kind it leaves it
    open, and what the seller says never goes where it fails.
    """
    chance = over_worlds(axle, lambda variant: axle.belief(name, variant).chance(holds))
    seen = [holds(value) for value in measured(axle, name)]
    if seen and len(set(seen)) == 1:
        agrees = chance[0] > _EVENS if seen[0] else chance[0] < _EVENS
        return (Light.GO if seen[0] else Light.STOP) if agrees else Light.UNCLEAR
    light = light_of(chance, axle.rules.known)
    said_no = not all(holds(value) for value in axle.all(name))
    return Light.UNCLEAR if light is Light.GO and said_no else light


def counted(axle: Prospect, name: str) -> str:
    """``, measured 30`` where somebody measured; empty where nobody did."""
    found = measured(axle, name)
    return f", measured {' and '.join(map(str, found))}" if found else ""


def worst(lines: Iterable[Line]) -> Light:
    """The light of several lines together: one stop stops all, one unclear leaves all unclear."""
    found = {line.light for line in lines}
    return Light.STOP if Light.STOP in found else Light.UNCLEAR if Light.UNCLEAR in found or not found else Light.GO
