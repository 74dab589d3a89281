"""What measuring an attribute would show, for each true value: the answers and their chances."""

from collections.abc import Sequence

from donorbase.facts import Fact, Known, Value
from donorbase.identity.traits import NOT_THERE, OTHER, Trait, Vector
from donorbase.identity.weighing import weights
from donorbase.reference.odds import Rates

_KEPT = 400
"""Distributions whose answers are kept: those of silence come again and again, those after a statement do not."""


class Noise:
    """True values of one attribute at one end -> answers, as the tool and the hand err.

    ``values`` are the answers: the values that the catalogue knows; every row of chances has one more place
    at its end, for an answer that the catalogue does not know.
    """

    def __init__(self, trait: Trait, end: str, rates: Rates) -> None:
        self.values = trait.atoms
        self._rows = _rows(trait, end, rates)
        self._kept: dict[Vector, Vector] = {}

    def answers(self, true: Vector) -> Vector:
        """P(answer) where the true value has that distribution."""
        found = self._kept.get(true)
        if found is None:
            mass = [0.0] * (len(self.values) + 1)
            for share, row in zip(true, self._rows, strict=True):
                if share > 0.0:
                    mass = [m + share * r for m, r in zip(mass, row, strict=True)]
            found = tuple(mass)
            if len(self._kept) < _KEPT:
                self._kept[true] = found
        return found


def as_told(trait: Trait, value: Value) -> Value:
    """An answer as the value of a fact: a single year is a pair."""
    return (value, value) if trait.attribute.name == "years" else value


def _rows(trait: Trait, end: str, rates: Rates) -> tuple[Vector, ...]:
    """For each true value the chance of each answer."""
    name = trait.attribute.name
    measured = (Fact(name, as_told(trait, value), Known.MEASURED) for value in trait.atoms)
    columns = [weights(trait, [fact], end, rates) for fact in measured]
    found = [_closed([column[i] for column in columns]) for i in range(len(trait.atoms) + 2)]
    found[OTHER] = found[NOT_THERE] = (*(0.0,) * len(trait.atoms), 1.0)
    return tuple(found)


def _closed(row: Sequence[float]) -> Vector:
    total = sum(row)
    return (*(value / total for value in row), 0.0)
