"""The catalogue as the pure rooms see it: families, variants, gear sets, what fits and converts, what wears.

Plain frozen values: ``reference.load`` makes them from ``data/``, ``store`` from the database, both alike.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fnmatch import fnmatchcase

from donorbase.facts import Value


@dataclass(frozen=True, slots=True)
class Figure:
    """What is known of one attribute of a variant or family.

    ``values`` holds every value that was fitted; a (low, high) or (first, last) pair counts as one.
    ``confidence`` is high, medium or low; ``basis`` says where the figure comes from.
    """

    attribute: str
    values: tuple[Value, ...]
    confidence: str
    basis: str


@dataclass(frozen=True, slots=True)
class Family:
    """Axles of one design. ``figures`` are those that all its variants share unless they say otherwise."""

    key: str
    name: str
    position: str
    donor_ok: bool
    housing: str
    recognise: tuple[str, ...]
    pinion_support: str
    carrier_splits: tuple[str, ...]
    torque_class: str
    tire_guide_in: float | None
    strengths: tuple[str, ...]
    weaknesses: tuple[str, ...]
    faults: tuple[str, ...]
    refuse_reason: str
    confidence: str
    basis: str
    figures: Mapping[str, Figure] = field(repr=False)


@dataclass(frozen=True, slots=True)
class Variant:
    """One generation or option of a family, ``key`` being ``family/variant``.

    A figure that is absent is not known.
    """

    key: str
    title: str
    family: Family
    figures: Mapping[str, Figure] = field(repr=False)
    notes: tuple[str, ...] = ()
    brake_note: str = ""
    hub_note: str = ""

    def all(self, name: str) -> tuple[Value, ...]:
        """Every value that was fitted; empty where it is not known."""
        figure = self.figures.get(name)
        return figure.values if figure else ()

    def get(self, name: str) -> Value | None:
        """The value where exactly one is known, else None."""
        values = self.all(name)
        return values[0] if len(values) == 1 else None


@dataclass(frozen=True, slots=True)
class GearSet:
    """A generation of ring and pinion and the ratios sold for it; two generations do not interchange."""

    key: str
    position: str
    ring_gear_in: float | None
    cut: str
    ratios_sold: tuple[float, ...]
    deepest: float | None
    carrier_split: str
    needs: str
    note: str
    confidence: str
    basis: str

    @property
    def case_limits(self) -> tuple[float, float] | None:
        """The deepest ratio of the one differential case and the shallowest of the other; None where no split is
        told."""
        found = [float(word) for word in re.findall(r"\d+\.\d+", self.carrier_split)]
        return (found[0], found[1]) if len(found) == 2 else None

    @property
    def one_case(self) -> bool:
        """Whether it is told that a single case takes every ratio; false also where nothing is told."""
        return self.carrier_split.startswith(("none", "one case"))

    def case_side(self, ratio: float) -> str:
        """``shallow`` or ``deep``: which of the two cases a ratio is bolted to; empty between them or without a
        split."""
        if self.case_limits is None:
            return ""
        low, high = self.case_limits
        if ratio <= low + _RATIO_ROUNDING:
            return "shallow"
        return "deep" if ratio >= high - _RATIO_ROUNDING else ""

    @property
    def has_thick(self) -> bool:
        """Whether ring gears are told of that are thick enough for the case of the shallow ratios."""
        return "thick" in self.needs


_RATIO_ROUNDING = 0.02
"""4.11 stands for 4.10, 3.54 for 3.55: ratios are quoted loosely."""


@dataclass(frozen=True, slots=True)
class Interchange:
    """One row of what fits what, what a conversion takes, or what can be bought.

    Money is in USD, labour in hours, both as (low, high).
    """

    id: str
    kind: str
    part: str
    source: str
    target: str
    fits: str
    condition: str
    parts_needed: str
    cost_usd: tuple[float, float] | None
    labor_h: tuple[float, float] | None
    note: str
    confidence: str
    basis: str
    work: str = ""
    """The word a build file uses for this conversion (``single-wheel-hubs``), empty where there is none."""

    def applies_to(self, variant_key: str) -> bool:
        """Whether the row speaks of that variant as its source (``*`` stands for any text)."""
        return fnmatchcase(variant_key, self.source)

    def fits_onto(self, variant_key: str) -> bool:
        """Whether that variant is among its targets; of a conversion the target is words, not variants."""
        return fnmatchcase(variant_key, self.target)


@dataclass(frozen=True, slots=True)
class WearPoint:
    """What to measure on a used part, and the limit."""

    id: str
    part: str
    applies_to: str
    what_to_measure: str
    new_value: str
    limit: str
    unit: str
    tool: str
    how: str
    meaning_if_out: str
    confidence: str
    basis: str


@dataclass(frozen=True, slots=True)
class DonorLine:
    """One maker's run of trucks, told by what a person sees; ``sights`` are (heading, text) rows."""

    key: str
    sights: tuple[tuple[str, str], ...]
    basis: str


@dataclass(frozen=True, slots=True)
class SightNote:
    """What to know when telling donor lines by sight: ``sight_order`` says what to look at first, ``trap`` warns."""

    kind: str
    text: str
    basis: str


@dataclass(frozen=True, slots=True)
class Work:
    """A word of work in a build file, with the shipped range of cost and hours."""

    word: str
    title: str
    cost_usd: tuple[float, float] | None
    labor_h: tuple[float, float] | None
    confidence: str
    basis: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All of it, by key."""

    families: Mapping[str, Family]
    variants: Mapping[str, Variant]
    gear_sets: Mapping[str, GearSet]
    interchange: tuple[Interchange, ...] = ()
    wear: tuple[WearPoint, ...] = ()
    lines: Mapping[str, DonorLine] = field(default_factory=dict)
    works: Mapping[str, Work] = field(default_factory=dict)
    sight_notes: tuple[SightNote, ...] = ()

    def of_position(self, position: str) -> Iterator[Variant]:
        """The variants of one end."""
        return (v for v in self.variants.values() if v.family.position == position)
