"""The catalogue as chances: for each attribute P(true value | variant), as made and once changed.

A vector holds one weight for each atom (a value that the catalogue knows), then one for OTHER (a value that it
does not know) and one for NOT_THERE (the attribute does not exist at that end).
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from operator import mul

from donorbase.attributes import Attribute, Kind
from donorbase.facts import Value
from donorbase.reference.catalogue import Variant

Vector = tuple[float, ...]

OTHER, NOT_THERE = -2, -1
ENDS = ("front", "rear")
FIRST_YEAR, LAST_YEAR = 1940, 2030

_THREAD = re.compile(r"M\d+x[\d.]+|\d+/\d+-\d+")
_OF_ITS_KIND = 0.2
"""A value counts as a variant's own where it is at least this often made as its commonest."""


@dataclass(frozen=True, slots=True)
class Trait:
    """One attribute over all variants.

    ``factory`` and ``changed`` give each variant's vector by its place in ``vectors``; ``ends_of`` the end
    that a vector belongs to; ``known`` whether the variant's own figure is there; ``broad`` what an axle
    outside the catalogue may have. Of each vector ``filled`` says from where to where it is not zero, ``usual`` the
    places of its common values.
    """

    attribute: Attribute
    atoms: tuple[Value, ...]
    place: Mapping[Value, int]
    vectors: tuple[Vector, ...]
    ends_of: tuple[str, ...]
    filled: tuple[tuple[int, int], ...]
    usual: tuple[tuple[int, ...], ...]
    factory: tuple[int, ...]
    changed: tuple[int, ...]
    known: tuple[bool, ...]
    broad: Mapping[str, Vector]

    def dots(self, by_value: Mapping[str, Vector]) -> list[float]:
        """The product of each vector with its end's likelihoods by value."""
        pairs = zip(self.vectors, self.ends_of, self.filled, strict=True)
        return [sum(map(mul, vector[a:b], by_value[end][a:b])) for vector, end, (a, b) in pairs]

    @property
    def numeric(self) -> bool:
        """Whether its values are measured on a scale without steps."""
        return self.attribute.kind in (Kind.LENGTH, Kind.RATIO)


def figures_of(attribute: Attribute, variant: Variant) -> tuple[Value, ...]:
    """A variant's values of one attribute as atoms; threads are picked out of their wording."""
    if attribute.name in ("family", "variant"):
        return (variant.family.key if attribute.name == "family" else variant.key,)
    values = variant.all(attribute.name)
    if attribute.name == "splines":
        # Of a front, a count of which nobody says the end is the inner's or the outer's.
        values = values or (*variant.all("inner_splines"), *variant.all("outer_splines"))
    if attribute.name == "stud":
        return tuple(dict.fromkeys(t for text in values for t in _THREAD.findall(str(text))))
    if attribute.kind in (Kind.LENGTH, Kind.RATIO):
        return tuple(float(v) for v in values if isinstance(v, int | float))
    return values


def mixed(a: Vector, b: Vector, share_of_b: float) -> Vector:
    """``a`` with a share of ``b`` in it."""
    return tuple(x * (1.0 - share_of_b) + y * share_of_b for x, y in zip(a, b, strict=True))


def filled(vector: Vector) -> tuple[int, int]:
    """From where to where a vector is not zero."""
    places = [i for i, weight in enumerate(vector) if weight]
    return (places[0], places[-1] + 1) if places else (0, 0)


def usual(vector: Vector) -> tuple[int, ...]:
    """The places of its common values: those at least so often made as a fifth of the commonest."""
    least = max(vector) * _OF_ITS_KIND
    return tuple(i for i, weight in enumerate(vector) if weight >= least)
